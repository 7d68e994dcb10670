"""Commands that begin a job or open it."""

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.commands.about import app
from beckwright.cli.commands.shared import (
    UNREADABLE,
    refuse_job,
)

if TYPE_CHECKING:
    pass


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Folder to begin; nothing is written over.")],
) -> None:
    """Begin a job with a small invented stream.

    It reads as it stands; write your own numbers over it.
    """
    from beckwright.job.new import write_new

    try:
        written = write_new(folder)
    except JobError as error:
        refuse_job(error)
    for path in written:
        typer.echo(path)
    typer.echo(f"\nWrite your own numbers over these, then type: beckwright check {folder}")


class Looks(StrEnum):
    """How lively the water is to be."""

    TRICKLE = "trickle"
    EVERYDAY = "everyday"
    FULL = "full"


@app.command()
def visit(
    *,
    length: Annotated[float | None, typer.Option("--length", metavar="M", help="Length of the stream.")] = None,
    fall: Annotated[float | None, typer.Option("--fall", metavar="M", help="Fall from source to foot.")] = None,
    width: Annotated[float | None, typer.Option("--width", metavar="M", help="Width of the water.")] = None,
    look: Annotated[Looks | None, typer.Option("--look", help="How lively it is to be.")] = None,
    flow: Annotated[
        float | None, typer.Option("--flow", metavar="L/H", help="Litres an hour, where they are known; before a look.")
    ] = None,
    access: Annotated[
        float | None, typer.Option("--access", metavar="M", help="Narrowest clear width of the way in.")
    ] = None,
    measured: Annotated[
        list[str] | None,
        typer.Option("--measured", metavar="NAME", help="length, fall, width or access was measured, not seen by eye."),
    ] = None,
    price: Annotated[
        list[str] | None,
        typer.Option("--price", metavar="NAME=AMOUNT", help="Your own: energy, day, digger, stone, lining, crates."),
    ] = None,
    currency: Annotated[str, typer.Option("--currency", metavar="NAME", help="Of these prices.")] = "GBP",
    into: Annotated[
        Path | None, typer.Option("--into", metavar="FOLDER", help="Make a job of it; nothing is written over.")
    ] = None,
) -> None:
    """Answer a first visit: how much water, how big a hole, what pump, how many days.

    Give what is known; the rest is taken as a band and said. Money is told at your own prices, never at others.
    """
    from datetime import datetime

    from beckwright.cli.visit import in_words
    from beckwright.job.new import write_files
    from beckwright.visit import estimate, job_text, visit_of

    given = {"length": length, "fall": fall, "width": width, "access": access, "flow": flow}
    try:
        told = visit_of(
            given, look=look, measured=frozenset(measured or ()), prices=_prices(price or []), currency=currency
        )
        typer.echo(in_words(estimate(told)))
        if into is not None:
            today = datetime.now().astimezone().date()
            for path in write_files(into, job_text(told, title=into.resolve().name[:80] or "First sketch", day=today)):
                typer.echo(path)
    except JobError as error:
        refuse_job(error)


def _prices(given: list[str]) -> dict[str, float]:
    """Prices by name. Raises ``JobError`` with every one that cannot be read."""
    from beckwright.base.errors import Problem

    read: dict[str, float] = {}
    problems = []
    for word in given:
        name, _, amount = word.partition("=")
        try:
            read[name.strip()] = float(amount)
        except ValueError:
            rule, remedy = "A price is a name, an equals sign and a number", "Write it as --price stone=120"
            problems.append(Problem(place="--price", found=f"it is {word[:40]}", rule=rule, remedy=remedy))
    if problems:
        raise JobError(problems)
    return read


@app.command(name="open")
def open_job(
    job: Annotated[
        Path | None,
        typer.Argument(metavar="[JOB]", help="Folder of the job; this one if not said, or a new one in it."),
    ] = None,
    *,
    port: Annotated[
        int,
        typer.Option(
            "--port", metavar="N", min=1, max=65535, help="Keep it the same: what waits on a telephone is sent there."
        ),
    ] = 8341,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Only say the address.")] = False,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let telephones in the same network in, by a code they scan.")
    ] = False,
) -> None:
    """Open a job in the browser.

    The whole job by mouse, finger or keyboard, on this machine: no account, no internet. The same files as ever.
    Where no job is named and none is here, it offers a new one, and an example to look round.
    """
    from beckwright.cli.open import folder_meant, serve

    if not serve(folder_meant(job), port=port, browser=not no_browser, lan=lan):
        raise typer.Exit(UNREADABLE)


@app.command()
def schema() -> None:
    """Print the JSON Schema of job.toml.

    Every key with its meaning, unit and bounds, for an editor that checks while you type.
    """
    from beckwright.job.schema import schema as schema_of_job

    typer.echo(json.dumps(schema_of_job(), indent=1))
