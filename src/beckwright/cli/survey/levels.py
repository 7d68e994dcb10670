"""The level book as a booker reads it: booked, reduced, checked."""

from typing import TYPE_CHECKING

import typer

from beckwright.base.errors import JobError
from beckwright.cli.survey.given import (
    REFUSED,
    Allowed,
    AllowedBy,
    Book,
    By,
    Instrument,
    ReadTo,
    With,
    reduced,
    refuse,
    ruled,
)
from beckwright.cli.tell import wrapped

if TYPE_CHECKING:
    from beckwright.survey import ReducedBook
    from beckwright.survey.reduction import Line

HEADS = ("point", "BS", "IS", "FS", "rise", "fall", "collim.", "level", "adjusted", "± mm")


def levels(
    book: Book,
    *,
    by: AllowedBy = By.SETUPS,
    tolerance_mm: Allowed = None,
    instrument: With = Instrument.LEVEL,
    reading_mm: ReadTo = None,
) -> None:
    """Reduce a level book, check it, and share out what it misses by.

    One row a place of the staff: point, and back_m, intermediate_m or fore_m; fore_m and back_m on a change point;
    level_m where the level is known. Optional: back_sight_m and fore_sight_m, code, breakline, note.
    Ends with 0, with 1 if a line does not close and a blunder is likely, with 2 if the book cannot be read.
    """
    from beckwright.cli.findings import findings_in_words
    from beckwright.survey import level_findings

    try:
        found = reduced(book, by, tolerance_mm, instrument, reading_mm)
    except JobError as error:
        refuse(error)
    typer.echo(ruled(HEADS, booked(found)))
    typer.echo(f"\n{_checks(found)}\n")
    for line in found.lines:
        typer.echo(wrapped(line_told(found, line), rest="  "))
    typer.echo(f"\n{findings_in_words(level_findings(found))}")
    if found.refused:
        raise typer.Exit(REFUSED)


def booked(found: "ReducedBook") -> list[list[str]]:
    """The rows of the booked form: a change point's two sights stand in one; refused levels are not adjusted."""
    book, rows = found.book, list[list[str]]()
    refused = {
        place for line in found.lines if line.standing == "refused" for place in range(line.first, line.last + 1)
    }
    for place, (point, kind) in enumerate(zip(book.points, book.kinds, strict=True)):
        reading = f"{book.readings[place]:.3f}"
        if kind == "back" and place and book.runs[place] == book.runs[place - 1]:
            rows[-1][1], rows[-1][6] = reading, f"{found.collimations[place]:.3f}"
            continue
        climbs = float(found.rises[place])
        rows.append(
            [
                point,
                reading if kind == "back" else "",
                reading if kind == "intermediate" else "",
                reading if kind == "fore" else "",
                f"{climbs:.3f}" if kind != "back" and climbs >= 0 else "",
                f"{-climbs:.3f}" if climbs < 0 else "",
                f"{found.collimations[place]:.3f}" if kind == "back" else "",
                f"{found.levels[place]:.3f}",
                "" if place in refused else f"{found.adjusted[place]:.3f}",
                "" if place in refused else f"{found.sigmas[place] * 1000:.1f}",
            ]
        )
    return rows


def _checks(found: "ReducedBook") -> str:
    holds = {True: "yes", False: "no"}
    rows = [(one.says, f"{one.one:.3f}", f"{one.other:.3f}", holds[one.holds]) for one in found.checks]
    return ruled(("check", "left", "right", "holds"), rows)


def line_told(found: "ReducedBook", line: "Line") -> str:
    """How one line closes, in words."""
    from beckwright.survey.level_findings import line_in_words, millimetres

    setups = f"{line.setups} set-up{'' if line.setups == 1 else 's'}"
    length = "" if line.length is None else f", {line.length:.0f} m of sights"
    name = f"{line_in_words(found, line)}, {setups}{length}"
    if line.misclosure is None:
        return f"{name}: open, nothing checks it."
    told = f"{name}: misses by {millimetres(line.misclosure)}, {millimetres(line.allowed)} allowed"
    if line.standing == "refused":
        return f"{told}: refused."
    return f"{told}: shared out, {millimetres(-line.misclosure / line.setups)} for each set-up."
