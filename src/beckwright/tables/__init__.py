"""Published numbers and habits of the trade as data: amount, band, unit, grade, source, place. Imports the base only.

A row whose grade is common practice or assumed has no source; its ``place`` then gives the reason.
"""
