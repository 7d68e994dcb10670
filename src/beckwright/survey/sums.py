"""The sums a booker makes at the foot of the page, each two ways."""

import numpy as np

from beckwright.base.quantities import Lengths, Levels
from beckwright.base.values import value
from beckwright.survey.level_book import LevelBook

ROUNDING = 1e-9
"""Two sums of the same readings may differ by this, m."""


@value
class Check:
    """One sum of the book made two ways."""

    says: str
    one: float
    other: float

    @property
    def holds(self) -> bool:
        """Whether they agree but for rounding."""
        return abs(self.one - self.other) <= ROUNDING


def begins(book: LevelBook, row: int) -> bool:
    """Whether a run begins with a reading."""
    return row == 0 or bool(book.runs[row] != book.runs[row - 1])


def sums(
    book: LevelBook, collimations: Levels, levels: Levels, levels_by_rise: Levels, rises: Lengths
) -> tuple[Check, ...]:
    """Every sum of a book, over all its runs."""
    kinds = np.array(book.kinds)
    back, fore, reached = kinds == "back", kinds == "fore", kinds != "back"
    starts = np.array([begins(book, row) for row in range(len(kinds))])
    ends = np.append(starts[1:], True)  # The last reading ends the last run.
    climbed = float(levels[ends].sum() - levels[starts].sum())
    return (
        Check(
            says="ΣBS − ΣFS = last level − first",
            one=float(book.readings[back].sum() - book.readings[fore].sum()),
            other=climbed,
        ),
        Check(
            says="Σrises − Σfalls = last level − first",
            one=float(rises[rises > 0].sum() + rises[rises < 0].sum()),
            other=climbed,
        ),
        Check(
            says="ΣIS + ΣFS + Σlevels reached = Σcollimations of readings",
            one=float(book.readings[reached].sum() + levels_by_rise[reached].sum()),
            other=float(collimations[reached].sum()),
        ),
    )
