"""Sheets of the ground: what lies there, what is dug, set out and cut."""
