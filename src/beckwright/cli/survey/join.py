"""Levels and tapes joined into survey.csv."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.survey.given import REFUSED, Allowed, AllowedBy, Book, By, Marks, TapeBook, TapedTo, reduced, refuse
from beckwright.cli.survey.tapes import fixed
from beckwright.cli.tell import complain, wrapped

if TYPE_CHECKING:
    from beckwright.survey import FixedPoints


def join(
    book: Book,
    tapes: TapeBook,
    *,
    into: Annotated[Path, typer.Option("--into", metavar="FILE", help="survey.csv to write; nothing is written over.")],
    marks: Marks = None,
    by: AllowedBy = By.SETUPS,
    tolerance_mm: Allowed = None,
    tape_mm: TapedTo = None,
) -> None:
    """Join a level book and a tape book into the survey of a job, by the names of their points.

    Ends with 0, with 1 if either has a likely blunder and nothing was written, with 2 if one cannot be read.
    """
    from beckwright.survey import join as joined_by_point
    from beckwright.survey import write_joined

    try:
        levels, places = reduced(book, by, tolerance_mm), fixed(tapes, marks, book, by, tolerance_mm, tape_mm)
        _stop_at_a_blunder(places, tapes)
        joined = joined_by_point(levels, places)
        write_joined(joined, into)
    except JobError as error:
        refuse(error)
    typer.echo(into)
    for names, what in (
        (joined.without_place, "Levelled and not taped"),
        (joined.without_level, "Taped and not levelled"),
    ):
        if names:
            typer.echo(wrapped(f"{what}: {', '.join(names)}.", rest="  "))
    count = len(joined.points)
    typer.echo(f"{count} point{'' if count == 1 else 's'} with place and level.")


def _stop_at_a_blunder(places: "FixedPoints", tapes: Path) -> None:
    from beckwright.cli.findings import findings_in_words
    from beckwright.survey import tape_findings

    if places.suspects:
        typer.echo(findings_in_words(tape_findings(places)))
        complain(wrapped(f"Nothing was written: mend {tapes} first."))
        raise typer.Exit(REFUSED)
