"""What a library says of a broken file, turned into one sentence; and a part that is not installed."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from beckwright.base.errors import JobError
from beckwright.survey.gathered import refusal

LIBRARIES = ("ezdxf", "laspy", "rasterio")
SILENCE = logging.NullHandler()
"""What a library tells its log would otherwise come out among our own words."""

PANIC = "PanicException"
"""What the part that unpacks scans throws at bytes it did not foresee; it is no Exception."""


@contextmanager
def foreign(path: Path, kind: str) -> Iterator[None]:
    """Turn any error of a library that reads ``path`` into a JobError. Only calls of the library stand within.

    These libraries meet broken bytes with errors of every class, their own slips included.
    """
    for library in LIBRARIES:
        logging.getLogger(library).addHandler(SILENCE)
    try:
        yield
    except JobError:
        raise
    except BaseException as error:
        if not isinstance(error, Exception) and type(error).__name__ != PANIC:
            raise
        rule, remedy = f"It must be whole, and {kind}", "Export it again, or ask for another format"
        raise refusal(path.name, "it cannot be made sense of", rule, remedy) from error


def not_installed(path: Path, kind: str, extra: str) -> JobError:
    """Return the error of a file whose reader is an extra that is missing."""
    found, rule = f"it is {kind}", f"Reading {kind} needs a part that is not installed"
    return refusal(path.name, found, rule, f'Type pip install "beckwright[{extra}]"')
