"""Sheets that show the whole: index, plan, level story, film, programme, calculation."""
