"""Where a figure comes from, what moves it, and what nobody has measured."""
