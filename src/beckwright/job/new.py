"""Begin a job: a commented folder that reads as it stands, to be written over with the person's own numbers."""

from datetime import datetime
from importlib.resources import files
from pathlib import Path

from beckwright.base.errors import JobError, Problem

BLANK_DATE = "2026-01-01"
BLANKS = ("job.toml", "survey.csv", "pumps.csv", "hoses.csv")


def write_new(folder: Path | str) -> tuple[Path, ...]:
    """Write a small invented stream with one step into a folder, and return the files written.

    The folder is made where there is none. Nothing is ever written over: raises ``JobError`` when one of the files is
    already there, and then writes none of them.
    """
    folder = Path(folder)
    problems = [_taken(folder / name) for name in BLANKS if (folder / name).exists()]
    if problems:
        raise JobError(problems)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return tuple(_written(folder / name) for name in BLANKS)
    except OSError as error:
        found = f"it cannot be written ({error.strerror})"
        rule, remedy = "A new job needs a folder that can be written to", "Choose another folder"
        raise JobError([Problem(place=str(folder), found=found, rule=rule, remedy=remedy)]) from error


def _taken(path: Path) -> Problem:
    rule, remedy = "A new job writes over nothing", "Choose another folder, or move the file away"
    return Problem(place=path.name, found="it is there already", rule=rule, remedy=remedy)


def _written(path: Path) -> Path:
    text = (files("beckwright.job") / "blank" / path.name).read_text(encoding="utf-8")
    text = text.replace(BLANK_DATE, datetime.now().astimezone().date().isoformat(), 1)
    with path.open("x", encoding="utf-8", newline="\n") as file:
        file.write(text)
    return path
