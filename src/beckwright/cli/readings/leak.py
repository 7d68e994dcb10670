"""A leak test at a terminal."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base import words
from beckwright.base.errors import JobError
from beckwright.cli.tell import complain, complain_of, wrapped
from beckwright.languages import say, tell_in

if TYPE_CHECKING:
    from beckwright.base.quantities import FloatArray
    from beckwright.compose import Design
    from beckwright.readings.leak import LeakTest

UNREADABLE = 2


def leak(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="Folder of the job.")],
    file: Annotated[
        Path | None, typer.Argument(metavar="FILE", help="Readings of the tests; leak_test.csv of the job if not said.")
    ] = None,
    *,
    when: Annotated[
        datetime | None,
        typer.Option("--when", formats=["%Y-%m-%d"], help="A day of the tests, for its evaporation, or its month's."),
    ] = None,
    meter: Annotated[
        str, typer.Option("--meter", metavar="LITRES", help="Filled up on like days, such as 172,181,169.")
    ] = "",
    flow: Annotated[str, typer.Option("--flow", metavar="NAME", help="Flow it ran at on those days.")] = "",
    hours: Annotated[float, typer.Option("--hours", min=0, max=24, help="Hours it ran on each of them.")] = 10.0,
    starts: Annotated[int, typer.Option("--starts", min=0, max=200, help="Starts on each of them.")] = 1,
) -> None:
    """Tell what a stream loses, beside evaporation and rain, and which part of it.

    \b
    A row of FILE has the columns
      test                            name of the test the reading belongs to
      condition                       pump off, or pump on with a flow; by-passed to ch and a chainage
      time_h                          hours since the test began
      reservoir_level_mm_above_floor  level read
      rain_mm_in_interval             fallen since the reading before; may be left out
      evaporation_mm_in_interval      off a pan beside the stream; may be left out
      top_up_l_in_interval            filled up since the reading before; may be left out
      water_temperature_c             of the water, at every reading of a test or at none
      read_at                         clock, such as 2026-09-02T17:40+01:00; its month is the evaporation's
    Ends with 1 where a loss was shown, with 2 where the file cannot be read. Readings are never changed.
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.compose import design
    from beckwright.job.read import read_job
    from beckwright.readings.leak import full_of, leak_test, read_leak_tests, report
    from beckwright.readings.leak.beside import TABLE, read_said
    from beckwright.readings.leak.sheet import asked

    table = file or job / TABLE
    try:
        designed = design(read_job(job))
        series, doubts, digest = read_leak_tests(
            table,
            flows=designed.water.names,
            full=full_of(designed),
            length=designed.course.length,
        )
    except JobError as error:
        complain_of(error)
        raise typer.Exit(UNREADABLE) from error
    words.tell_in(designed.job.title.units)
    tell_in(designed.job.title.language)
    if reads := read_said(table, typed=False):
        typer.echo(wrapped(say(reads)) + "\n")
    found = leak_test(designed, series, doubts, digest, when=when.date() if when else None)
    for paragraph in report(designed, found):
        typer.echo(wrapped(say(paragraph)) + "\n")
    for doubt in found.doubts:
        typer.echo(wrapped(say(asked(doubt)), rest="  "))
    if meter:
        typer.echo(wrapped(say(_metered(designed, found, meter, flow, hours, starts))))
    if any(part.shown for part in found.parts):
        raise typer.Exit(1)


def _metered(designed: "Design", found: "LeakTest", meter: str, flow: str, hours: float, starts: int) -> str:
    from beckwright.readings.leak import split_top_up

    try:
        litres = [float(each) for each in meter.split(",")]
    except ValueError:
        complain(f"--meter is {meter!r}: it takes litres with commas between, such as 172,181,169.")
        raise typer.Exit(UNREADABLE) from None
    given = [each * 1e-3 for each in litres]
    split = split_top_up(designed, found, given, flow=flow, hours=hours * 3600, starts=starts)
    if split is None:
        named = ", ".join(designed.water.names)
        complain(f"No test was made at --flow {flow or 'nothing'}. The flows are {named}.")
        raise typer.Exit(UNREADABLE)
    said = f"Filled up: {_litres(split.metered)} a day. Lost to leak and evaporation: {_litres(split.lost)}. "
    said += f"That leaves {_litres(split.shown)} for starts and stops; by the design they throw "
    said += f"{_litres(split.spilled)} over."
    return said if split.drained is None else f"{said} Water in motion is then {_litres(split.drained)}."


def _litres(band: "FloatArray") -> str:
    return words.band(float(band[0]), float(band[2]), 1, "L", scale=1000)
