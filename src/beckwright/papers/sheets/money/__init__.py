"""Sheets of money: estimate, orders, what changed since the quote, running cost."""
