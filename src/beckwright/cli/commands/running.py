"""Commands about water in time: start and stop, the year, care, and what was shot on the works."""

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.commands.about import app
from beckwright.cli.commands.shared import (
    UNREADABLE,
    InUnits,
    JobFolder,
    designed_from,
    refuse_job,
    write_file,
)
from beckwright.cli.tell import Patience, complain

if TYPE_CHECKING:
    pass


class Told(StrEnum):
    """The stories a film can tell from the command line."""

    FIRST_FILL = "first-fill"
    RESTART = "restart"
    STOP = "stop"


@app.command()
def film(
    job: JobFolder,
    *,
    story: Annotated[Told, typer.Option("--story", help="All dry, a morning's restart, or what runs back.")],
    flow: Annotated[
        str | None, typer.Option("--flow", metavar="NAME", help="A named flow; the largest if not said.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="By all three laws, in SI, every frame.")] = False,
    as_csv: Annotated[bool, typer.Option("--csv", help="By the middle law, a row a frame.")] = False,
    as_svg: Annotated[bool, typer.Option("--svg", help="The whole start and stop sheet.")] = False,
    units: InUnits = None,
) -> None:
    """Tell the start or the stop of the whole loop, second by second.

    When the water comes over each lip and back, how low the reservoir sinks and when, whether the pump runs out.
    """
    from beckwright.cli import film as told
    from beckwright.film import STORIES, film_band

    designed, patience = designed_from(job, units), Patience()
    chosen = next(each for each in STORIES if each == story.value.replace("-", " "))
    try:
        if as_svg:
            typer.echo(told.as_svg(designed, flow))
            return
        band = film_band(designed, chosen, flow, progress=lambda seconds: patience.say(f"{seconds:.0f} s in ..."))
    except JobError as error:
        refuse_job(error)
    finally:
        patience.hush()
    words = told.as_json(band) if as_json else told.as_csv(band[1]) if as_csv else told.in_words(designed, band)
    typer.echo(words)


@app.command()
def season(
    job: JobFolder,
    *,
    year: Annotated[
        str | None,
        typer.Option("--year", metavar="NAME", help="One of the real years, such as 2025; the middle one if not said."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="In SI: every band as least, middle and most lost.")] = False,
    as_svg: Annotated[bool, typer.Option("--svg", help="The reservoir's level through the year, drawn.")] = False,
    units: InUnits = None,
) -> None:
    """Tell a year of water, month by month: rain, losses, filling up, how long a dry spell may last.

    Goes through the days of real years where season.days names a table of them: then also the longest dry spell and
    whether a full reservoir outlasts it, the wettest day, frost by date, the driest and the middle year. Else through a
    typical year made from the months. Ends with 2 where the job names neither.
    """
    import json

    from beckwright.cli.season import NOT_SAID, as_data, drawn, in_words, of_year
    from beckwright.compose import Works

    designed = designed_from(job, units)
    told = of_year(designed, Works(designed).season, year)
    if told is None:
        complain(NOT_SAID)
        raise typer.Exit(UNREADABLE)
    if isinstance(told, str):
        complain(told)
        raise typer.Exit(UNREADABLE)
    typer.echo(
        drawn(designed, told) if as_svg else json.dumps(as_data(told)) if as_json else in_words(told, designed.job)
    )


@app.command()
def care(
    job: JobFolder,
    *,
    month: Annotated[
        int | None,
        typer.Option("--month", metavar="M", min=1, max=12, help="Tell the tree for this month; else for today's."),
    ] = None,
    ics: Annotated[
        Path | None,
        typer.Option("--ics", metavar="FILE", help="Write the tasks as a calendar file that comes round again."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="As JSON, in SI.")] = False,
    service: Annotated[
        Path | None,
        typer.Option(
            "--service",
            metavar="FILE",
            help="The yearly record: rows of year, item, value; what changes, and when it matters.",
        ),
    ] = None,
    settling: Annotated[
        list[Path] | None,
        typer.Option(
            "--settling", metavar="SHOTS", help="Levels shot on several dates, a file each, its date in its name."
        ),
    ] = None,
    second_feature: Annotated[
        float | None,
        typer.Option(
            "--second-feature", metavar="L/H", min=1, help="Add a rill or a bubbling stone that takes this flow."
        ),
    ] = None,
    lift_m: Annotated[
        float,
        typer.Option(
            "--lift-m", min=0.0, max=100, help="Its outlet over the running level, what its hose loses added."
        ),
    ] = 1.0,
    holds_l: Annotated[
        str, typer.Option("--holds-l", metavar="LITRES", help="Its water in motion, such as 30 or 30-50.")
    ] = "30",
    units: InUnits = None,
) -> None:
    """Tell the owner what is normal, what to do when it is not, and what is due when.

    Levels are told from the lid down to the water, as a stick reads them. With --service, --settling or
    --second-feature only that is told. Items of the record: flow_l_h, watts, draw_down_mm, edge_low_mm, leak_l_h.
    Ends with 1 if a second feature does not work.
    """
    from datetime import date, datetime

    from beckwright import care as room
    from beckwright.care.visits import visits_of_files
    from beckwright.cli import care as told
    from beckwright.cli.findings import findings_in_words, worst_is_fail
    from beckwright.compose import Works

    designed = designed_from(job, units)
    works = Works(designed)
    usual = room.normal(designed, works)
    try:
        if service is not None:
            typer.echo(told.record_in_words(room.trends(room.read_service(service), designed, usual)))
            return
        if settling:
            typer.echo(told.settling_in_words(room.settling(designed, visits_of_files(settling, designed))))
            return
        if second_feature is not None:
            second = room.second_feature(designed, usual, told.flow_of(second_feature), lift_m, told.holds_of(holds_l))
            found = tuple(room.second_findings(second, usual))
            typer.echo(f"{told.second_in_words(second)}\n\n{findings_in_words(found)}")
            if worst_is_fail(found):
                raise typer.Exit(1)
            return
    except JobError as error:
        refuse_job(error)
    tasks = room.care_tasks(designed, works, usual)
    if ics is not None:
        from beckwright.papers.formats.ics import write_care_calendar

        title = designed.job.title
        write_file(ics, write_care_calendar(tasks, title.name, date.fromisoformat(title.date)))
    now = datetime.now().astimezone().month if month is None else month
    tree = room.fault_tree(designed.job, usual, now - 1)
    typer.echo(json.dumps(told.as_data(usual, tree, tasks), indent=1) if as_json else told.in_words(usual, tree, tasks))


@app.command(name="as-built")
def as_built(
    job: JobFolder,
    shots: Annotated[
        Path | None,
        typer.Argument(metavar="SHOTS", help="Levels shot on the works; as_built.csv of the job if not said."),
    ] = None,
    *,
    settled: Annotated[
        bool, typer.Option("--settled", help="The fill has done its sinking: shot after the first winters.")
    ] = False,
    into: Annotated[
        Path | None,
        typer.Option(
            "--into", metavar="FOLDER", help="Write a job whose levels are those shot: a repair begins there."
        ),
    ] = None,
    units: InUnits = None,
) -> None:
    """Hold levels shot on the works against the design.

    Edges and lips now too low, left and right, with the freeboard at each flow, the worst first. Levels in mm.

    \b
    A row of SHOTS has the columns
      place      a chainage such as 3.5, or a lip such as lip 1 or source
      left_m     level of the left edge, or of the lip's left end
      middle_m   level of the bed, or of the lip's middle
      right_m    level of the right edge, or of the lip's right end
      dig_m      level as dug, shot before the lining went in
      note       whatever should be remembered
    Leave out what was not shot. Ends with 1 if an edge must be cured.
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.cli import as_built as told
    from beckwright.readings import as_built as compare
    from beckwright.readings import read_shots

    designed = designed_from(job, units)
    try:
        found = compare(designed, read_shots(shots or job / "as_built.csv", designed.course), settled=settled)
        if into is not None:
            from beckwright.job.new import write_files
            from beckwright.readings.repair import repair_files

            for path in write_files(into, repair_files(job, found, settled=settled)):
                typer.echo(f"written {path}")
    except JobError as error:
        refuse_job(error)
    typer.echo(told.in_words(found))
    if told.anything_fails(found):
        raise typer.Exit(1)
