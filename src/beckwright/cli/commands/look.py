"""Commands that look a job over: what is wrong with it, its numbers, where one comes from."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from beckwright.base.errors import JobError
from beckwright.cli.commands.about import app
from beckwright.cli.commands.shared import (
    UNREADABLE,
    InUnits,
    JobFolder,
    designed_from,
    refuse_job,
)
from beckwright.cli.tell import Patience, complain

if TYPE_CHECKING:
    from beckwright.base.figures import Figure
    from beckwright.compose import Design


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

    designed, patience = designed_from(job, units), Patience()
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

    designed = designed_from(job, units)
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

    designed = designed_from(job, units)
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


def _cures(folder: Path) -> str:
    from beckwright.cli.cures import bench_of, cures_in_words, sought

    patience = Patience()
    try:
        bench = bench_of((folder / "job.toml").read_text(encoding="utf-8"), folder)
        return cures_in_words(bench, tuple(sought(bench, patience)))
    except JobError as error:
        refuse_job(error)
    finally:
        patience.hush()


def _take(folder: Path, number: int) -> None:
    from beckwright.cli.cures import taken

    patience = Patience()
    try:
        words = taken(folder, number, patience)
    except JobError as error:
        refuse_job(error)
    finally:
        patience.hush()
    typer.echo(words)


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
