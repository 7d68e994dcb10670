"""The year: what evaporates, splashes, rains in and runs over, and what must be filled up again."""

from beckwright.stages.season.make import go_through_year
from beckwright.stages.season.values import MONTHS, Season

__all__ = ["MONTHS", "Season", "go_through_year"]
