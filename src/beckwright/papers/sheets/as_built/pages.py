"""What the as-built sheets share: how they are filled, and what they say of themselves."""

from beckwright.base.values import value
from beckwright.papers.seen import Seen
from beckwright.papers.sheets.shared.frame import (
    LOW,
    TITLE_HIGH,
    TOP,
)

READER = "for the next contractor"
NOTHING = "As designed, nothing shot yet"
STEP, HEIGHT = 4.5, 2.2
TOP_ROW, FOOT = TOP - 22.0, LOW + TITLE_HIGH + 3.0
ROWS = int((TOP_ROW - FOOT) // STEP) - 1
TALLEST = 8.0
"""Where there are few rows each is taller, to be written in, but no taller than this, mm."""


@value
class AsBuiltPages:
    """How the sheets are filled: rows of the level table, and photographs, page by page."""

    seen: Seen
    levels: int
    photographs: int

    @property
    def count(self) -> int:
        """All sheets, the plan first."""
        return 1 + self.levels + self.photographs


def state(seen: Seen) -> str:
    """What the sheets are drawn from, in words."""
    return f"Drawn from {len(seen.shots)} places shot, {seen.come}" if seen.shots else NOTHING
