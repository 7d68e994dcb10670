"""What the survey words have in common: how a book is read, what may be stated, how trouble and tables are told."""

from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from beckwright.base.errors import JobError
from beckwright.cli.tell import complain, complain_of, table

if TYPE_CHECKING:
    from beckwright.survey import ReducedBook, Tolerance

UNREADABLE = 2
"""What a command ends with when what it was given cannot be used."""
REFUSED = 1
"""What a command ends with when the book can be read and a blunder is likely."""
MILLIMETRE = 1e-3
ROOT_KILOMETRE = 1000**0.5


class By(StrEnum):
    """What a misclosure is allowed by."""

    SETUPS = "set-ups"
    LENGTH = "length"
    TOTAL = "total"


class Instrument(StrEnum):
    """What the staff was read with."""

    LEVEL = "level"
    LASER = "laser"


Book = Annotated[
    Path, typer.Argument(metavar="BOOK", help="Level book: point, back_m, intermediate_m, fore_m, level_m.")
]
TapeBook = Annotated[Path, typer.Argument(metavar="TAPES", help="Tape book: from, to, distance_m; point, along_m ...")]
Marks = Annotated[Path | None, typer.Option("--marks", metavar="FILE", help="Known marks: point, x_m, y_m.")]
AllowedBy = Annotated[By, typer.Option("--by", help="By the root of the set-ups, of the length, or the same for all.")]
Allowed = Annotated[
    float | None,
    typer.Option("--tolerance-mm", min=0.1, max=1000, help="Misclosure allowed: a set-up, a root km, or in all."),
]
With = Annotated[Instrument, typer.Option("--instrument", help="What the staff was read with.")]
ReadTo = Annotated[
    float | None,
    typer.Option("--reading-mm", min=0.1, max=100, help="Standard deviation of one staff reading, if you know it."),
]
TapedTo = Annotated[
    float | None, typer.Option("--tape-mm", min=0.1, max=1000, help="Standard deviation of one tape, if you know it.")
]


def reduced(
    book: Path, by: By, allowed: float | None, instrument: Instrument = Instrument.LEVEL, reading: float | None = None
) -> "ReducedBook":
    """Read a level book and reduce it."""
    from beckwright.survey import read_level_book, reduce_book
    from beckwright.tables.levelling import READING_SIGMAS

    sigma = READING_SIGMAS[instrument.value].amount if reading is None else reading * MILLIMETRE
    return reduce_book(read_level_book(book), _tolerance(by, allowed), reading_sigma=sigma)


def _tolerance(by: By, allowed: float | None) -> "Tolerance":
    from beckwright.survey import Tolerance
    from beckwright.survey.reduction import DEFAULTS

    if allowed is None and by is By.TOTAL:
        complain("Say how much is allowed: --by total goes with --tolerance-mm.")
        raise typer.Exit(UNREADABLE)
    root = ROOT_KILOMETRE if by is By.LENGTH else 1.0
    amount = DEFAULTS[by.value] if allowed is None else allowed * MILLIMETRE / root
    return Tolerance(basis=by.value, amount=amount)


def refuse(error: JobError) -> NoReturn:
    """Tell every problem, and end."""
    complain_of(error)
    raise typer.Exit(UNREADABLE)


def ruled(heads: Sequence[str], rows: Sequence[Sequence[str]], *, words: int = 1) -> str:
    """A table with its numbers under each other; the first ``words`` columns are words."""
    widths = [max(map(len, column)) for column in zip(heads, *rows, strict=True)]
    aligned = [
        [
            cell if place < words else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        for row in (heads, *rows)
    ]
    return table(aligned[1:], heads=aligned[0])
