"""Work done in a process of its own that ends with it: the page setter keeps what it has set, and forgets nothing.

Measured: 240 MB more after each set of 65 sheets, up to 3 GB. A server stays open for days.
"""

import signal
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import datetime
from multiprocessing import get_context
from threading import Lock
from typing import ParamSpec, TypeVar

from beckwright.papers.drawing import Sheet
from beckwright.papers.formats.pdf import sharpest, write_pdf, write_png
from beckwright.papers.formats.svg import write_svg

P = ParamSpec("P")
T = TypeVar("T")

_ONE_AT_A_TIME = Lock()


def set_pdf(
    sheets: Sequence[Sheet], *, title: str, author: str, written: datetime, drawn: Sequence[str] | None = None
) -> bytes:
    """Do ``write_pdf`` in its own process."""
    drawn = [write_svg(sheet) for sheet in sheets] if drawn is None else list(drawn)
    bare = [_bare(sheet) for sheet in sheets]
    return in_its_own(write_pdf, bare, title=title, author=author, written=written, drawn=drawn)


def set_png(sheet: Sheet) -> bytes:
    """Do ``write_png`` in its own process, as sharp as the paper's size allows."""
    return in_its_own(write_png, sheet, dots_per_inch=sharpest(sheet))


def in_its_own(work: Callable[P, T], *given: P.args, **more: P.kwargs) -> T:
    """Give what ``work`` gives, or raise what it raises; one such work at a time."""
    with (
        _ONE_AT_A_TIME,
        ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_leave_stopping_to_the_server) as pool,
    ):
        return pool.submit(work, *given, **more).result()


def _leave_stopping_to_the_server() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _bare(sheet: Sheet) -> Sheet:
    """A sheet without its marks: they are in its SVG, and would be carried over for nothing."""
    return replace(sheet, views=(), marks=())
