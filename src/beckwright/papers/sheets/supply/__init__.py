"""Sheets of pump, hose and wiring."""
