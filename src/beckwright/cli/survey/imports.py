"""A survey file from somebody else, understood, told, and made the survey of a job."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.survey.given import REFUSED, UNREADABLE, refuse
from beckwright.cli.survey.preview import previewed, questions_in_words
from beckwright.cli.tell import Patience, complain, wrapped


class UnitOf(StrEnum):
    """What a file is in."""

    METRES = "m"
    MILLIMETRES = "mm"
    CENTIMETRES = "cm"
    FEET = "ft"
    US_SURVEY_FEET = "us-ft"
    INCHES = "in"


class Decimal(StrEnum):
    """What parts the whole from the fraction."""

    POINT = "point"
    COMMA = "comma"


class Axes(StrEnum):
    """Which of a file's three numbers are x, y and z."""

    AS_READ = "xyz"
    PLAN_TURNED = "yxz"
    X_AND_Z = "zyx"
    Y_AND_Z = "xzy"
    LEFT_ROUND = "yzx"
    RIGHT_ROUND = "zxy"


class Strays(StrEnum):
    """What to do with levels far off those around them."""

    KEEP = "keep"
    LEAVE_OUT = "leave-out"


class Which(StrEnum):
    """Which level of a place shot more than once holds."""

    FIRST = "first"
    LOWEST = "lowest"
    HIGHEST = "highest"
    MIDDLE = "middle"


def import_file(
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE", help="A list of points, a drawing (DXF), LandXML, a laser scan (LAS, LAZ), a GeoTIFF."
        ),
    ],
    *,
    into: Annotated[Path, typer.Option("--into", metavar="FILE", help="survey.csv to write; nothing is written over.")],
    columns: Annotated[
        str | None, typer.Option("--columns", metavar="NAMES", help='Columns in order: "id,y,x,z,code"; - passes over.')
    ] = None,
    unit: Annotated[UnitOf | None, typer.Option("--unit", help="Unit of the file.")] = None,
    level_unit: Annotated[UnitOf | None, typer.Option("--level-unit", help="Unit of the levels, if another.")] = None,
    decimal: Annotated[Decimal | None, typer.Option("--decimal", help="Decimal mark of a list.")] = None,
    axes: Annotated[Axes | None, typer.Option("--axes", help="yxz where x and y have changed places.")] = None,
    shift: Annotated[
        str | None, typer.Option("--shift", metavar="X,Y", help="Taken off every x and y, m; none to take none off.")
    ] = None,
    outliers: Annotated[Strays | None, typer.Option("--outliers", help="Levels far off those around.")] = None,
    duplicates: Annotated[Which | None, typer.Option("--duplicates", help="Level of a place shot twice.")] = None,
    layers: Annotated[str | None, typer.Option("--layers", metavar="NAMES", help="Layers to read.")] = None,
    surface: Annotated[str | None, typer.Option("--surface", metavar="NAME", help="Surface to read.")] = None,
    window: Annotated[
        str | None, typer.Option("--window", metavar="W,S,E,N", help="Part to read, in the file's coordinates.")
    ] = None,
    spacing_m: Annotated[
        float | None, typer.Option("--spacing-m", min=0.01, max=100, help="Thin a scan to this; else by --points.")
    ] = None,
    points: Annotated[int, typer.Option("--points", min=3, max=500_000, help="Points a scan is thinned to.")] = 20_000,
    join_lines: Annotated[
        bool, typer.Option("--join-lines", help="Join the points of a numbered edge, such as TOP1, into a breakline.")
    ] = False,
) -> None:
    """Make somebody's survey file the survey of a job, after telling what was understood.

    What is not sure is asked, with the option that answers it, and nothing is written until it is answered.
    Ends with 0, with 1 while a question is open, with 2 if the file cannot be read.
    """
    from beckwright.survey.marks import marks_beside
    from beckwright.survey.understood import understand
    from beckwright.survey.written import write_survey

    patience = Patience()
    try:
        understood = understand(
            file,
            columns=_listed(columns),
            unit=unit.value if unit else None,
            level_unit=level_unit.value if level_unit else None,
            decimal=decimal.value if decimal else None,
            axes=axes.value if axes else None,
            shift=(0.0, 0.0) if shift == "none" else _pair(shift),
            outliers=outliers.value if outliers else None,
            duplicates=duplicates.value if duplicates else None,
            layers=_listed(layers),
            surface=surface,
            window=_four(window),
            spacing=spacing_m,
            points=points,
            join_lines=join_lines,
            marks=marks_beside(into),
            progress=patience.say,
        )
        patience.hush()
        typer.echo(previewed(understood))
        if not understood.questions:
            patience.say("Writing ...")
            write_survey(understood, into)
    except JobError as error:
        patience.hush()
        refuse(error)
    finally:
        patience.hush()
    if understood.questions:
        typer.echo(f"\n{questions_in_words(understood)}")
        complain(wrapped("Nothing was written. Type the command again with the options that answer."))
        raise typer.Exit(REFUSED)
    if understood.offers:
        typer.echo(f"\nFor job.toml, if you want them there:\n\n{understood.offers}")
    typer.echo(f"\n{into}")


def _listed(words: str | None) -> tuple[str, ...] | None:
    return None if words is None else tuple(word.strip() for word in words.split(","))


def _pair(words: str | None) -> tuple[float, float] | None:
    if words is None:
        return None
    east, north = _numbers("--shift", words, 2)
    return east, north


def _four(words: str | None) -> tuple[float, float, float, float] | None:
    if words is None:
        return None
    west, south, east, north = _numbers("--window", words, 4)
    return west, south, east, north


def _numbers(option: str, words: str, count: int) -> tuple[float, ...]:
    """Numbers parted by commas."""
    from math import isfinite

    try:
        numbers = tuple(map(float, words.split(",")))
    except ValueError:
        numbers = ()
    if len(numbers) != count or not all(map(isfinite, numbers)):
        example = "451000,207000 or none" if count == 2 else "451000,207000,451200,207200"
        complain(f"{option} is {words}: write {count} numbers parted by commas, such as {example}.")
        raise typer.Exit(UNREADABLE)
    return numbers
