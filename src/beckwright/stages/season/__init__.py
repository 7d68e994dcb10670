"""The year: what evaporates, splashes, rains in and runs over, and what must be filled up again."""

from beckwright.stages.season.make import go_through_year
from beckwright.stages.season.values import MONTHS, DayByDay, Frost, RealYear, RealYears, Season, Spell, Storm

__all__ = [
    "MONTHS",
    "DayByDay",
    "Frost",
    "RealYear",
    "RealYears",
    "Season",
    "Spell",
    "Storm",
    "go_through_year",
]
