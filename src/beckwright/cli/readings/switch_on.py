"""The first morning with a bucket and a stopwatch, at a terminal."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated
from uuid import uuid4

import typer

from beckwright.base import words
from beckwright.base.errors import JobError, Problem
from beckwright.cli.readings.leak import UNREADABLE
from beckwright.cli.tell import complain_of, table, wrapped
from beckwright.languages import say, tell_in

if TYPE_CHECKING:
    from beckwright.job.model import Job
    from beckwright.readings.switch_on import Beside, Morning


def switch_on(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="Folder of the job.")],
    file: Annotated[
        Path | None, typer.Argument(metavar="FILE", help="The readings; switch_on.csv of the job if not said.")
    ] = None,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="All of it as JSON, in SI units.")] = False,
    keep: Annotated[
        bool,
        typer.Option(
            "--keep", help="Write what was found into the keys of job.toml, as a revision of its own; tell the rest."
        ),
    ] = False,
) -> None:
    """Hold the first readings against the design: what it really gives, what is likely wrong, what to read next.

    \b
    A row of FILE has the columns kind, flow, place, amount, seconds, note. Kinds:
      bucket       litres caught where the hose lets go, in so many seconds
      reservoir    mm over its floor, so many seconds after the start
      draws air    seconds after the start at which the pump first draws air
      steady       mm over the reservoir's floor once all runs steadily; seconds since then may be told
      rest         mm over the reservoir's floor with the pump off
      watts        watts at the wall
      arrival      place a lip or reservoir: seconds from a morning start until the water is there
      dry arrival  the same at the first fill
      water level  place a chainage: metres on the job's zero, running
      still level  the same at rest
      dead head    metres over the reservoir's water at which the lifted hose stops
      chamber      mm that the chamber stands below the crates while it runs
      tilt         place a lip: mm of its right end over its left
    flow is one of the job's flows or flat out. A row that is asked about waits until its note begins with: checked.
    Ends with 1 where something out of the ordinary is the likelier, with 2 where the file cannot be read.
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.compose import design
    from beckwright.job.read import read_job
    from beckwright.readings.switch_on import as_data, read_switch_on, report
    from beckwright.readings.switch_on import switch_on as work_out

    try:
        given = read_job(job)
        designed = design(given)
        words.tell_in(designed.job.title.units)
        tell_in(designed.job.title.language)
        found = work_out(designed, read_switch_on(file or job / "switch_on.csv", designed))
        if as_json:
            typer.echo(json.dumps(as_data(found), indent=2, ensure_ascii=False))
        else:
            typer.echo(
                table(
                    [_row(each) for each in found.beside],
                    heads=tuple(map(say, ("Line", "Reading", "Expected", "Seen", ""))),
                )
                + "\n"
            )
            for paragraph in report(designed, found):
                typer.echo(wrapped(say(paragraph)) + "\n")
            for doubt in found.doubts:
                typer.echo(wrapped(say(f"Asked: line {doubt.line}: {doubt.found}. {doubt.asks}"), rest="  "))
        if keep:
            typer.echo(_kept(job, given, found), err=as_json)
    except JobError as error:
        complain_of(error)
        raise typer.Exit(UNREADABLE) from error
    if found.wrong:
        raise typer.Exit(1)


def _row(each: "Beside") -> tuple[str, ...]:
    from beckwright.readings.switch_on import wording

    mark = each.why_not or ("outside" if each.outside else "")
    seen = wording.one(each.row, each.seen)
    cells = (wording.what(each.row), wording.spread(each.row, each.expected), seen, mark)
    return str(each.row.line), *map(say, cells)


def _kept(folder: Path, given: "Job", found: "Morning") -> str:
    """Show what changes, then keep it as a revision."""
    from beckwright.job.edit import changes, edit
    from beckwright.job.read import read_job_text
    from beckwright.readings.switch_on import edits, proposals
    from beckwright.site import Conflict, Keeper

    made = edits(given, found)
    if found.wrong:
        typer.echo(
            wrapped(
                f"As it runs now, with this likely: {found.causes[0].name}. Put it right, read again, and keep that."
            )
        )
    for each in proposals(given, found):
        typer.echo(wrapped(f"For you to write, if you agree: {each}.", rest="  "))
    if not made:
        return "Nothing to write: nothing moved that job.toml has a key for."
    with Keeper(folder) as keeper:
        held = keeper.standing()
        text = held.text
        for change in made:
            text = edit(text, change)
        read_job_text(text, folder)
        told = "; ".join(str(each) for each in changes(held.text, text))
        typer.echo(wrapped(f"Changes job.toml: {told}."))
        saved = keeper.save(
            text, why=f"Read at switch-on: {told}"[:400], mark=uuid4().hex, based_on=held.revision.number
        )
    if isinstance(saved, Conflict):
        rule, remedy = "A correction is made on the job it was read on", "Work it out again and keep it then"
        raise JobError([Problem(place="job.toml", found="it was changed meanwhile", rule=rule, remedy=remedy)])
    return f"Kept as revision {saved.revision.number}. Undo takes it back: open the job in the browser."
