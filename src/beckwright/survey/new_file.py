"""A new file, whole or not at all; nothing is ever written over."""

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
