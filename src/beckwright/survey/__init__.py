"""From what a builder brings in from the ground to the survey of a job.

Levels and tapes from the field book: reduced, checked, and joined by the names of their points.
"""

from beckwright.survey.fixing import FixedPoints, fix_points
from beckwright.survey.join import Joined, join, write_joined
from beckwright.survey.level_book import LevelBook, read_level_book
from beckwright.survey.level_findings import level_findings
from beckwright.survey.levelled import levels_by_point, point_levels
from beckwright.survey.reduction import ReducedBook, Tolerance, largest_difference, reduce_book
from beckwright.survey.tape_findings import tape_findings
from beckwright.survey.tapes import Tapes, read_tapes
from beckwright.survey.two_peg import TwoPeg, two_peg

__all__ = [
    "FixedPoints",
    "Joined",
    "LevelBook",
    "ReducedBook",
    "Tapes",
    "Tolerance",
    "TwoPeg",
    "fix_points",
    "join",
    "largest_difference",
    "level_findings",
    "levels_by_point",
    "point_levels",
    "read_level_book",
    "read_tapes",
    "reduce_book",
    "tape_findings",
    "two_peg",
    "write_joined",
]
