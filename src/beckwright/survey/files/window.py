"""The part of a large file that is wanted, in the file's own coordinates."""

from pathlib import Path

from beckwright.base.errors import JobError
from beckwright.base.quantities import BoolArray, FloatArray, Length
from beckwright.base.words import grouped
from beckwright.job.tables import WIDEST
from beckwright.survey.gathered import refusal
from beckwright.survey.unsure import Question

EXAMPLE = 100.0
"""Half the width of the window given as an example."""


def inside(x: FloatArray, y: FloatArray, low: FloatArray, high: FloatArray) -> BoolArray:
    """Which points lie in the rectangle, its edges included."""
    wanted: BoolArray = (x >= low[0]) & (x <= high[0]) & (y >= low[1]) & (y <= high[1])
    return wanted


def ask_window(low: FloatArray, high: FloatArray, metre: Length) -> Question:
    """Ask for the part of a file that is wider than a survey may be. ``metre``: one unit of the file in metres."""
    wide = (high - low).max() * metre
    says = (
        f"The file covers {grouped(wide)} m, from {low[0]:.0f}, {low[1]:.0f} to {high[0]:.0f}, {high[1]:.0f}; "
        f"a survey may be {grouped(WIDEST)} m wide. Which part is wanted?"
    )
    middle = (low + high) / 2
    example = ",".join(f"{number:.0f}" for number in (*(middle - EXAMPLE), *(middle + EXAMPLE)))
    return Question(
        about="window",
        says=says,
        choices=((f"--window {example}", "west, south, east and north of the part, such as"),),
    )


def outside(path: Path, kind: str) -> JobError:
    """Return the error of a window that lies beside the file."""
    found, rule = "nothing of it lies in the window", f"The window lies in {kind.replace('a ', 'the ', 1)}"
    return refusal(path.name, found, rule, "Give the window in the file's own coordinates")
