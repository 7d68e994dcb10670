"""What commands have in common: the job's folder, units and language to tell in, a job designed or refused."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from beckwright.base.errors import JobError
from beckwright.base.words import Measure, tell_in
from beckwright.cli.tell import complain, complain_of
from beckwright.languages import tell_in as speak

if TYPE_CHECKING:
    from beckwright.compose import Design

UNREADABLE = 2
"""What a command ends with when what it was given cannot be used."""


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


def designed_from(folder: Path, units: Units | None = None, language: Language | None = None) -> "Design":
    """Design a job. What is told after this is told in units and language asked for, or else in those the job says."""
    from beckwright.compose import design
    from beckwright.job.read import read_job

    try:
        job = read_job(folder)
        tell_in(Measure(units.value) if units else job.title.units)
        speak(language.value if language else job.title.language)
        return design(job)
    except JobError as error:
        refuse_job(error)


def refuse_job(error: JobError) -> NoReturn:
    """Say everything that is wrong with a job, and end."""
    complain_of(error)
    raise typer.Exit(UNREADABLE)


def write_file(path: Path, content: bytes) -> None:
    """Write a file a person asked for, or say why it cannot be and end."""
    try:
        path.write_bytes(content)
    except OSError as error:
        complain(f"{path} cannot be written: {error.strerror}. Choose another place.")
        raise typer.Exit(UNREADABLE) from error
