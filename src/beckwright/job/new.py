"""Begin a job: a commented folder that reads as it stands, to be written over with the person's own numbers."""

from collections.abc import Mapping
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
    today = datetime.now().astimezone().date().isoformat()
    return write_files(folder, {name: _blank(name).replace(BLANK_DATE, today, 1) for name in BLANKS})


def write_files(folder: Path | str, texts: Mapping[str, str]) -> tuple[Path, ...]:
    """Write a new job's files into a folder by their names, job.toml last: only then it is a job.

    As ``write_new`` does, nothing is ever written over. Raises ``JobError``.
    """
    folder = Path(folder)
    problems = [_taken(folder / name) for name in texts if (folder / name).exists()]
    if problems:
        raise JobError(problems)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return tuple(
            _written(folder / name, texts[name]) for name in sorted(texts, key=lambda name: name == "job.toml")
        )
    except OSError as error:
        found = f"it cannot be written ({error.strerror})"
        rule, remedy = "A new job needs a folder that can be written to", "Choose another folder"
        raise JobError([Problem(place=str(folder), found=found, rule=rule, remedy=remedy)]) from error


def _taken(path: Path) -> Problem:
    rule, remedy = "A new job writes over nothing", "Choose another folder, or move the file away"
    return Problem(place=path.name, found="it is there already", rule=rule, remedy=remedy)


def _blank(name: str) -> str:
    return (files("beckwright.job") / "blank" / name).read_text(encoding="utf-8")


def _written(path: Path, text: str) -> Path:
    with path.open("x", encoding="utf-8", newline="\n") as file:
        file.write(text)
    return path
