"""A new file, whole or not at all; nothing is ever written over."""

import tempfile
from pathlib import Path

from beckwright.base.errors import JobError, Problem


def write_new(text: str, path: Path) -> None:
    """Write a file that is not there yet. JobError where it is, or where it cannot be written; then nothing is left."""
    if path.exists():
        rule, remedy = "Nothing is written over", "Choose another name, or put the old file elsewhere"
        raise JobError([Problem(place=path.name, found="it is there already", rule=rule, remedy=remedy)])
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".survey-") as folder:
            draft = Path(folder) / path.name
            draft.write_text(text, encoding="utf-8", newline="\n")
            draft.replace(path)
    except OSError as error:
        found, rule = f"it cannot be written ({error.strerror})", "The folder must be there and yours to write in"
        raise JobError([Problem(place=path.name, found=found, rule=rule, remedy="Choose another place")]) from error
