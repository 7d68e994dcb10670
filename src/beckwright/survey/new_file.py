"""A new file, whole or not at all; nothing is ever written over: what stood there is kept under a number."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from beckwright.base.errors import JobError, Problem


def write_new(text: str, path: Path) -> None:
    """Write a file that is not there yet. JobError where it is, or where it cannot be written; then nothing is left."""
    if path.exists():
        rule, remedy = "Nothing is written over", "Choose another name, or put the old file elsewhere"
        raise JobError([Problem(place=path.name, found="it is there already", rule=rule, remedy=remedy)])
    with _draft(text, path) as draft:
        draft.replace(path)


def write_instead(text: str, path: Path) -> Path | None:
    """Write a file in the place of the one that is there, which is kept; gives back where, or None where none was.

    At every moment there is a whole file under the name, the old one or the new. Raises JobError where it cannot be
    written; then the old one still stands.
    """
    with _draft(text, path) as draft:
        kept = _kept(path) if path.exists() else None
        draft.replace(path)
    return kept


def name_to_keep(path: Path) -> Path:
    """Where the file of a name would be kept now: the first number that is free."""
    number = 1
    while (kept := path.with_stem(f"{path.stem}_before_{number}")).exists():
        number += 1
    return kept


def _kept(path: Path) -> Path:
    raw = path.read_bytes()
    while True:
        kept = name_to_keep(path)
        try:
            file = kept.open("xb")
        except FileExistsError:  # Somebody was quicker: the next number.
            continue
        try:
            with file:
                file.write(raw)
                _to_disk(file.fileno())
        except OSError:
            kept.unlink(missing_ok=True)
            raise
        return kept


def _to_disk(file: int) -> None:
    """Wait until the bytes are on the disk: a name must never lead to a file the power cut emptied."""
    os.fsync(file)


@contextmanager
def _draft(text: str, path: Path) -> Iterator[Path]:
    """The text on the disk beside its place, taken away again where it was not moved there."""
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".survey-") as folder:
            draft = Path(folder) / path.name
            with draft.open("w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                _to_disk(file.fileno())
            yield draft
    except OSError as error:
        found, rule = f"it cannot be written ({error.strerror})", "The folder must be there and yours to write in"
        raise JobError([Problem(place=path.name, found=found, rule=rule, remedy="Choose another place")]) from error
