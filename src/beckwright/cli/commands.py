"""The commands. Each opens a job, asks the engine, and prints; the engine is imported inside, when it is needed."""

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from beckwright.base.errors import JobError
from beckwright.base.words import METRIC, Measure, tell_in, told_in
from beckwright.cli.readings import readings
from beckwright.cli.survey import survey
from beckwright.cli.tell import Patience, complain, complain_of
from beckwright.languages import tell_in as speak
from beckwright.languages import told_in as spoken_in

if TYPE_CHECKING:
    from beckwright.base.figures import Figure
    from beckwright.compose import Design
    from beckwright.stages.money import Estimate, Variations

UNREADABLE = 2
"""What a command ends with when what it was given cannot be used."""

app = typer.Typer(
    name="beckwright",
    invoke_without_command=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["--help", "-h"]},
)

JobFolder = Annotated[Path, typer.Argument(metavar="JOB", help="Folder of the job: job.toml and its tables.")]


class Units(StrEnum):
    """What numbers are told in."""

    METRIC = "metric"
    US = "us"


class Language(StrEnum):
    """What papers are told in."""

    ENGLISH = "en"
    GERMAN = "de"


InLanguage = Annotated[
    Language | None, typer.Option("--language", help="Tell the papers in this language; else as the job says.")
]
InUnits = Annotated[
    Units | None,
    typer.Option("--units", help="Tell numbers in these units, us for feet and US gallons; else as the job says."),
]


def _version(*, wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(version("beckwright"))
        raise typer.Exit


@app.callback()
def about(
    context: typer.Context,
    *,
    version: Annotated[
        bool, typer.Option("--version", help="Print the version and stop.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Design and build a recirculating garden stream with a covered reservoir.

    A job is a folder of plain files. Begin one with: beckwright new FOLDER
    """
    # What a command chooses to tell its numbers in ends with it.
    context.with_resource(told_in(METRIC))
    context.with_resource(spoken_in("en"))
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())


@app.command()
def check(
    job: JobFolder,
    *,
    cures: Annotated[
        bool, typer.Option("--cures", help="Also the changes that cure them, tried, with what else they change.")
    ] = False,
    take: Annotated[
        int | None, typer.Option("--take", metavar="N", min=1, help="Take the cure of that number into job.toml.")
    ] = None,
    units: InUnits = None,
) -> None:
    """Look a job over and say what is wrong with it.

    Findings come the gravest first: what must be cured, what wants a decision, what is good to know.
    Ends with 0, with 1 if anything must be cured before digging, with 2 if the job cannot be read.
    A cure taken is kept as a revision, and can be undone.
    """
    from beckwright.cli.findings import findings_in_words, worst_is_fail
    from beckwright.compose import Works
    from beckwright.film import all_findings, film_findings, film_set

    designed, patience = _design(job, units), Patience()
    if take is not None:
        _take(job, take)
        return
    films = film_set(designed, progress=lambda seconds: patience.say(f"Filming start and stop, {seconds:.0f} s in ..."))
    patience.hush()
    findings = all_findings(designed, film_findings(designed, films), Works(designed))
    typer.echo(findings_in_words(findings))
    if cures:
        typer.echo(f"\n{_cures(job)}")
    if worst_is_fail(findings):
        raise typer.Exit(1)


@app.command()
def figures(
    job: JobFolder,
    names: Annotated[
        list[str] | None,
        typer.Argument(metavar="NAMES", help="Only these figures; supply gives all of supply.flow, supply.head..."),
    ] = None,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="As JSON instead of a table.")] = False,
    ten: Annotated[bool, typer.Option("--ten", help="Only the ten that matter, in the units of the trade.")] = False,
    units: InUnits = None,
) -> None:
    """Print the numbers of a design.

    Every figure with its name, value, band, grade and source, in SI units.

    \b
    With --json: a list of objects, one for each figure, with
      name       dotted, such as supply.flow
      label      what a builder would call it
      amount     number; low and high are the ends of its band
      low, high  equal to amount where there is no band
      unit       SI; "1" for a ratio
      grade      measured here, published, common practice or assumed
      source     where it comes from
      equation   name of its equation, or null
      note       how the band was made, or how it was found
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.cli import figures as told

    designed = _design(job, units)
    if ten:
        from beckwright.figures.ten import ten_that_matter

        typer.echo(told.ten_in_words(ten_that_matter(designed)))
        return
    picked = _picked(designed, tuple(names or ()))
    typer.echo(json.dumps(told.as_objects(picked), indent=1, allow_nan=False) if as_json else told.as_table(picked))


@app.command()
def explain(
    job: JobFolder,
    name: Annotated[str, typer.Argument(metavar="FIGURE", help="Dotted name, such as supply.flow.")],
    *,
    units: InUnits = None,
) -> None:
    """Follow one figure by hand.

    Tells its equation, its inputs and where each came from, its source, and which inputs of the job move it most.
    """
    from beckwright.cli.explain import explained, moved_by
    from beckwright.cli.figures import near
    from beckwright.figures.influence import influences

    designed = _design(job, units)
    every = {figure.name: figure for figure in _every_figure(designed)}
    if name not in every:
        _refuse(name, near(name, tuple(every)))
    typer.echo(explained(every[name]))
    patience = Patience()
    found = influences(
        designed, name, progress=lambda done, count: patience.say(f"Trying input {done + 1} of {count} ...")
    )
    patience.hush()
    typer.echo(f"\n{moved_by(found, every[name].unit)}")


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

    designed, patience = _design(job, units), Patience()
    chosen = next(each for each in STORIES if each == story.value.replace("-", " "))
    try:
        if as_svg:
            typer.echo(told.as_svg(designed, flow))
            return
        band = film_band(designed, chosen, flow, progress=lambda seconds: patience.say(f"{seconds:.0f} s in ..."))
    except JobError as error:
        _refuse_job(error)
    finally:
        patience.hush()
    words = told.as_json(band) if as_json else told.as_csv(band[1]) if as_csv else told.in_words(designed, band)
    typer.echo(words)


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

    designed = _design(job, units)
    try:
        found = compare(designed, read_shots(shots or job / "as_built.csv", designed.course), settled=settled)
        if into is not None:
            from beckwright.job.new import write_files
            from beckwright.readings.repair import repair_files

            for path in write_files(into, repair_files(job, found, settled=settled)):
                typer.echo(f"written {path}")
    except JobError as error:
        _refuse_job(error)
    typer.echo(told.in_words(found))
    if told.anything_fails(found):
        raise typer.Exit(1)


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
    from beckwright.cli import care as told
    from beckwright.cli.findings import findings_in_words, worst_is_fail
    from beckwright.compose import Works

    designed = _design(job, units)
    works = Works(designed)
    usual = room.normal(designed, works)
    try:
        if service is not None:
            typer.echo(told.record_in_words(room.trends(room.read_service(service), designed, usual)))
            return
        if settling:
            typer.echo(told.settling_in_words(room.settling(designed, told.visits_of(settling, designed))))
            return
        if second_feature is not None:
            second = room.second_feature(designed, usual, told.flow_of(second_feature), lift_m, told.holds_of(holds_l))
            found = tuple(room.second_findings(second, usual))
            typer.echo(f"{told.second_in_words(second)}\n\n{findings_in_words(found)}")
            if worst_is_fail(found):
                raise typer.Exit(1)
            return
    except JobError as error:
        _refuse_job(error)
    tasks = room.care_tasks(designed, works, usual)
    if ics is not None:
        from beckwright.papers.formats.ics import write_care_calendar

        title = designed.job.title
        _write(ics, write_care_calendar(tasks, title.name, date.fromisoformat(title.date)))
    now = datetime.now().astimezone().month if month is None else month
    tree = room.fault_tree(designed.job, usual, now - 1)
    typer.echo(json.dumps(told.as_data(usual, tree, tasks), indent=1) if as_json else told.in_words(usual, tree, tasks))


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

    designed = _design(job, units)
    works = Works(designed)
    estimate, variations = works.estimate, works.variations
    problems = (*estimate.misfits, *(variations.misfits if variations else ()))
    if problems:
        _refuse_job(JobError(problems))
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

    designed = _design(job, units)
    try:
        plan = Works(designed).programme
    except JobError as error:
        _refuse_job(error)
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
def season(
    job: JobFolder,
    *,
    as_json: Annotated[bool, typer.Option("--json", help="In SI: every band as least, middle and most lost.")] = False,
    units: InUnits = None,
) -> None:
    """Tell a year of water, month by month: rain, losses, filling up, how long a dry spell may last.

    Ends with 2 where the job names no station of climate.csv.
    """
    import json

    from beckwright.cli.season import NOT_SAID, as_data, in_words
    from beckwright.compose import Works

    year = Works(_design(job, units)).season
    if year is None:
        complain(NOT_SAID)
        raise typer.Exit(UNREADABLE)
    typer.echo(json.dumps(as_data(year)) if as_json else in_words(year))


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
    Forms: pdf, svg, dxf, xlsx, ics (programme), other (files for other programs);
    png, a picture of each sheet, only where it is asked for.
    """  # noqa: D301  # The backspace is what keeps the lines of a help text apart.
    from beckwright.cli.papers import write

    written = write(job, into, lambda: _design(job, units, language), readers=readers or (), forms=forms or ())
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


def _keep_quote(job: Path, designed: "Design", estimate: "Estimate") -> None:
    from beckwright.stages.money import as_quote
    from beckwright.survey.new_file import write_new

    try:
        write_new(as_quote(estimate, designed.job.title.date), job / "quote.csv")
    except JobError as error:
        _refuse_job(error)


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
        _refuse_job(error)
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
        _refuse_job(error)


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


def _cures(folder: Path) -> str:
    from beckwright.cli.cures import bench_of, cures_in_words, sought

    patience = Patience()
    try:
        bench = bench_of((folder / "job.toml").read_text(encoding="utf-8"), folder)
        return cures_in_words(bench, tuple(sought(bench, patience)))
    except JobError as error:
        _refuse_job(error)
    finally:
        patience.hush()


def _take(folder: Path, number: int) -> None:
    from beckwright.cli.cures import taken

    patience = Patience()
    try:
        words = taken(folder, number, patience)
    except JobError as error:
        _refuse_job(error)
    finally:
        patience.hush()
    typer.echo(words)


def _design(folder: Path, units: Units | None = None, language: Language | None = None) -> "Design":
    """Design a job. What is told after this is told in units and language asked for, or else in those the job says."""
    from beckwright.compose import design
    from beckwright.job.read import read_job

    try:
        job = read_job(folder)
        tell_in(Measure(units.value) if units else job.title.units)
        speak(language.value if language else job.title.language)
        return design(job)
    except JobError as error:
        _refuse_job(error)


def _write_workbook(designed: "Design", estimate: "Estimate", variations: "Variations | None", path: Path) -> None:
    from beckwright.papers.formats.xlsx import write_workbook

    try:
        path.write_bytes(write_workbook(designed.job.title, estimate, variations))
    except OSError as error:
        complain(f"{path} cannot be written: {error.strerror}. Choose another place.")
        raise typer.Exit(UNREADABLE) from error


def _write(path: Path, content: bytes) -> None:
    try:
        path.write_bytes(content)
    except OSError as error:
        complain(f"{path} cannot be written: {error.strerror}. Choose another place.")
        raise typer.Exit(UNREADABLE) from error


def _picked(designed: "Design", names: tuple[str, ...]) -> "tuple[Figure, ...]":
    """The figures asked for, by their own names or by what their names begin with."""
    from beckwright.cli.figures import near, under

    every = _every_figure(designed)
    for name in names:
        if not any(under(figure.name, name) for figure in every):
            _refuse(name, near(name, tuple(figure.name for figure in every)))
    return tuple(figure for figure in every if not names or any(under(figure.name, name) for name in names))


def _every_figure(designed: "Design") -> "tuple[Figure, ...]":
    from beckwright.compose import Works
    from beckwright.figures import figures_of, figures_of_works

    return (*figures_of(designed), *figures_of_works(Works(designed)))


def _refuse(name: str, close: tuple[str, ...]) -> NoReturn:
    complain(f"This job has no figure called {name}.")
    if close:
        complain("Did you mean one of these?\n" + "\n".join(f"  {other}" for other in close))
    raise typer.Exit(UNREADABLE)


def _refuse_job(error: JobError) -> NoReturn:
    complain_of(error)
    raise typer.Exit(UNREADABLE)


app.add_typer(survey)
app.add_typer(readings)
