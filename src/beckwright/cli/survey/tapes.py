"""Points fixed by tape, as a builder reads them: where, how sure, and which tape does not fit."""

import math
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.survey.given import (
    MILLIMETRE,
    REFUSED,
    Allowed,
    AllowedBy,
    By,
    Marks,
    TapeBook,
    TapedTo,
    reduced,
    refuse,
    ruled,
)
from beckwright.cli.tell import complain, wrapped

if TYPE_CHECKING:
    from beckwright.survey import FixedPoints

PLACES = ("point", "x", "y", "± x mm", "± y mm", "ellipse mm", "held by")
TAPED = ("line", "measured", "m", "adjusted", "residual mm", "test")


def tapes(
    book: TapeBook,
    *,
    marks: Marks = None,
    levels: Annotated[
        Path | None, typer.Option("--levels", metavar="BOOK", help="Level book, to reduce tapes along a slope.")
    ] = None,
    by: AllowedBy = By.SETUPS,
    tolerance_mm: Allowed = None,
    tape_mm: TapedTo = None,
) -> None:
    """Fix points by tape, and test every tape against the others.

    A row is a tape (from, to, distance_m; kind slope, fall_m), an offset from a line (from, to, point, along_m,
    offset_m, side) or a word on which side of a line a point lies (from, to, point, side).
    Ends with 0, with 1 if a tape is against the others, with 2 if the book cannot be read or a question is open.
    """
    from beckwright.cli.findings import findings_in_words
    from beckwright.survey import tape_findings

    try:
        found = fixed(book, marks, levels, by, tolerance_mm, tape_mm)
    except JobError as error:
        refuse(error)
    typer.echo(ruled(PLACES, _places(found)))
    typer.echo(f"\n{ruled(TAPED, _taped(found), words=2)}\n")
    typer.echo(_spare(found))
    typer.echo(f"\n{findings_in_words(tape_findings(found))}")
    if found.suspects:
        raise typer.Exit(REFUSED)


def fixed(
    book: Path, marks: Path | None, levels: Path | None, by: By, allowed: float | None, tape: float | None
) -> "FixedPoints":
    """Read a tape book and fix its points."""
    from beckwright.survey import fix_points, levels_by_point, read_tapes

    read = read_tapes(book, marks)
    known = None
    if levels:
        book_of_levels = reduced(levels, by, allowed)
        if book_of_levels.refused:
            complain(wrapped(f"The levels do not close: see beckwright survey levels {levels}, and mend it first."))
            raise typer.Exit(REFUSED)
        known = levels_by_point(book_of_levels)
    return fix_points(read, known, tape_sigma=None if tape is None else tape * MILLIMETRE)


def _places(found: "FixedPoints") -> list[list[str]]:
    # An offset holds the point beside the line, a tape both of its ends.
    held = [point for one in found.observations for point in (one.points[-1:] if one.points[2:] else one.points)]
    ties = {name: held.count(name) for name in found.names}
    return [
        [
            name,
            *(f"{number:.3f}" for number in found.places[row]),
            *(f"{error * 1000:.0f}" for error in found.errors[row]),
            _ellipse(found, row),
            "known" if found.marks[row] else f"{ties[name]} unchecked" if name in found.unchecked else str(ties[name]),
        ]
        for row, name in enumerate(found.names)
    ]


def _ellipse(found: "FixedPoints", row: int) -> str:
    one = found.ellipses[row]
    turn = math.degrees(one.turn) % 180
    return f"{one.major * 1000:.0f} × {one.minor * 1000:.0f} at {turn:.0f}°" if one.major else ""


def _taped(found: "FixedPoints") -> list[list[str]]:
    from beckwright.survey.tape_findings import observation_in_words

    rows = []
    for row, one in enumerate(found.observations):
        adjusted = one.amount + found.residuals[row]
        test = f"{abs(found.standardized[row]):.1f}" if found.standardized[row] else "-"
        mark = " !" if row in found.suspects else ""
        rows.append(
            [
                str(one.line),
                observation_in_words(one),
                f"{one.amount:.3f}",
                f"{adjusted:.3f}",
                f"{round(found.residuals[row] * 1000)}",
                f"{test}{mark}",
            ]
        )
    return rows


def _spare(found: "FixedPoints") -> str:
    if not found.freedom:
        return "Nothing is to spare: these points are only as good as every single tape."
    return f"{found.freedom} to spare; standard error of unit weight {found.sigma0:.2f}."
