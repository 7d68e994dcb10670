"""A disk that fails, told as every other trouble with a job: in one sentence, with what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from beckwright.base.errors import JobError, Problem

_SLIPS = (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.InterfaceError)
"""What only a fault of the program raises."""


def refused(place: str, found: str, rule: str, remedy: str) -> JobError:
    """An error with one problem."""
    return JobError([Problem(place=place, found=found, rule=rule, remedy=remedy)])


@contextmanager
def disk(place: Path, rule: str, remedy: str) -> Iterator[None]:
    """Raise ``JobError`` where the disk or the database on it cannot do what is asked."""
    try:
        yield
    except _SLIPS:
        raise
    except sqlite3.Error as error:
        raise refused(place.name, f"it cannot be used ({error})", rule, remedy) from error
    except OSError as error:
        raise refused(place.name, f"it cannot be used ({error.strerror})", rule, remedy) from error


def whole(text: str, place: str) -> bytes:
    """The text in UTF-8. Raises ``JobError`` where it holds half a character, which no file can."""
    try:
        return text.encode()
    except UnicodeEncodeError as error:
        found, rule = "it holds half a character", "A text is made of whole characters"
        raise refused(place, found, rule, "Type that character again") from error
