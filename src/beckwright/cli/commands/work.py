"""Commands for the work: money, programme, papers, plants."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.commands.about import app
from beckwright.cli.commands.shared import UNREADABLE, InLanguage, InUnits, JobFolder, designed_from, refuse_job
from beckwright.cli.tell import complain

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.stages.money import Estimate, Variations


@app.command()
def money(
    job: JobFolder,
    *,
    since_quote: Annotated[
        bool, typer.Option("--since-quote", help="What changed since quote.csv, at the rates of the quote.")
    ] = False,
    xlsx: Annotated[
        Path | None, typer.Option("--xlsx", metavar="FILE", help="Write bill and estimate as a workbook, too.")
    ] = None,
    keep_quote: Annotated[
        bool, typer.Option("--keep-quote", help="Keep this estimate as quote.csv of the job; nothing is written over.")
    ] = False,
    units: InUnits = None,
) -> None:
    """Tell what building it costs, and how sure that is.

    Prices are those of prices.csv; what has none is listed and in no sum. Ends with 2 if a price does not fit its item.
    """
    from beckwright.cli import money as told
    from beckwright.compose import Works

    designed = designed_from(job, units)
    works = Works(designed)
    estimate, variations = works.estimate, works.variations
    problems = (*estimate.misfits, *(variations.misfits if variations else ()))
    if problems:
        refuse_job(JobError(problems))
    if keep_quote:
        _keep_quote(job, designed, estimate)
    if since_quote and variations is None:
        complain("This job has no quote.csv. Write there what was quoted: item, amount, unit, rate.")
        raise typer.Exit(UNREADABLE)
    if xlsx is not None:
        _write_workbook(designed, estimate, variations, xlsx)
    if since_quote and variations is not None:
        typer.echo(told.since_in_words(variations, estimate.currency))
    else:
        typer.echo(told.in_words(estimate, designed.job.money.budget))


@app.command()
def programme(
    job: JobFolder,
    *,
    ics: Annotated[
        Path | None, typer.Option("--ics", metavar="FILE", help="Write a calendar file too, for telephones.")
    ] = None,
    units: InUnits = None,
) -> None:
    """Tell which task when, which may wait, and how sure the last day is.

    Durations come from the amounts of the design and the outputs of the trade; tasks.csv puts your own in their place.
    Ends with 2 where nobody said when the work begins.
    """
    from datetime import date

    from beckwright.cli.programme import NOT_SAID, in_words
    from beckwright.compose import Works
    from beckwright.papers.formats.ics import write_calendar

    designed = designed_from(job, units)
    try:
        plan = Works(designed).programme
    except JobError as error:
        refuse_job(error)
    if plan is None:
        complain(NOT_SAID)
        raise typer.Exit(UNREADABLE)
    typer.echo(in_words(plan))
    if ics is not None:
        title = designed.job.title
        try:
            ics.write_bytes(write_calendar(plan, title.name, date.fromisoformat(title.date)))
        except OSError as error:
            complain(f"{ics} cannot be written: {error.strerror}. Choose another place.")
            raise typer.Exit(UNREADABLE) from error


@app.command()
def papers(
    job: JobFolder,
    into: Annotated[Path, typer.Option("--into", metavar="FOLDER", help="Where the papers are to lie.")],
    *,
    readers: Annotated[
        list[str] | None, typer.Option("--for", metavar="READER", help="Only what this reader needs; may be repeated.")
    ] = None,
    forms: Annotated[
        list[str] | None, typer.Option("--form", metavar="FORM", help="Only files of this form; may be repeated.")
    ] = None,
    units: InUnits = None,
    language: InLanguage = None,
) -> None:
    """Write sheets, drawings and tables into a folder.

    Everything, with all sheets in papers.pdf, where nothing is chosen; a reader's own are in papers_READER.pdf.
    Sheets keep the numbers of the whole set, so that two people on the phone mean the same one.

    \b
    Readers: client, driver, crew, supplier, electrician, tree-officer, owner,
    next-contractor, checker, and whole for the whole set.
    Forms: pdf, svg, dxf, xlsx, ics (programme, care), other (files for other programs);
    png, a picture of each sheet, only where it is asked for.
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.cli.papers import write

    written = write(job, into, lambda: designed_from(job, units, language), readers=readers or (), forms=forms or ())
    for path in written:
        typer.echo(path)


class Zone(StrEnum):
    """How wet the soil is."""

    WET = "wet"
    DAMP = "damp"
    DRY = "dry"


class Light(StrEnum):
    """How much sun there is."""

    SUN = "sun"
    PART_SHADE = "part-shade"
    SHADE = "shade"


@app.command()
def plants(
    *,
    zone: Annotated[
        Zone | None, typer.Option("--zone", help="Wet inside the lining, damp, or ordinary soil: dry.")
    ] = None,
    light: Annotated[Light | None, typer.Option("--light", help="How much sun the place has.")] = None,
    height_to: Annotated[int | None, typer.Option("--height-to", metavar="MM", help="No taller than this.")] = None,
    flowers_in: Annotated[str | None, typer.Option("--flowers-in", metavar="MONTH", help="Such as June, or 6.")] = None,
    for_pollinators: Annotated[bool, typer.Option("--for-pollinators", help="Only those that feed them.")] = False,
    no_toxic: Annotated[bool, typer.Option("--no-toxic", help="None that harms people or animals.")] = False,
    native: Annotated[bool, typer.Option("--native", help="Only those native to Britain.")] = False,
    jurisdiction: Annotated[
        str | None, typer.Option("--jurisdiction", metavar="NAME", help="Leave out what the law there names.")
    ] = None,
) -> None:
    """Choose plants for the banks.

    A table of plants fit for a stream in a temperate climate, and what no bank may have.
    """
    from beckwright.cli import plants as told

    month = None if flowers_in is None else told.month_of(flowers_in)
    if flowers_in is not None and month is None:
        complain(f"{flowers_in} is no month. Write a name such as June, or a number from 1 to 12.")
        raise typer.Exit(UNREADABLE)
    place = next((each for each in told.PLACES if jurisdiction and each.lower() == jurisdiction.lower()), None)
    if jurisdiction is not None and place is None:
        complain(f"No list is known for {jurisdiction}. Known are {', '.join(told.PLACES)}.")
        raise typer.Exit(UNREADABLE)
    found = told.chosen(
        zone=zone.value if zone else None,
        light=light.value.replace("-", " ") if light else None,
        height_to=height_to,
        month=month,
        for_pollinators=for_pollinators,
        no_toxic=no_toxic,
        native=native,
        place=place,
    )
    typer.echo(told.in_words(found, place))


def _keep_quote(job: Path, designed: "Design", estimate: "Estimate") -> None:
    from beckwright.stages.money import as_quote
    from beckwright.survey.new_file import write_new

    try:
        write_new(as_quote(estimate, designed.job.title.date), job / "quote.csv")
    except JobError as error:
        refuse_job(error)


def _write_workbook(designed: "Design", estimate: "Estimate", variations: "Variations | None", path: Path) -> None:
    from beckwright.papers.formats.xlsx import write_workbook

    try:
        path.write_bytes(write_workbook(designed.job.title, estimate, variations))
    except OSError as error:
        complain(f"{path} cannot be written: {error.strerror}. Choose another place.")
        raise typer.Exit(UNREADABLE) from error
