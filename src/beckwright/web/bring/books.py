"""A level book and a tape book from the same lot, joined into points."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.survey import (
    Joined,
    fix_points,
    join,
    level_findings,
    levels_by_point,
    read_level_book,
    read_tapes,
    reduce_book,
    tape_findings,
)
from beckwright.survey.gathered import refusal

What = Literal["points", "level book", "tapes", "marks"]
LOOKED_AT = 4096
LARGEST_BOOK = 200_000
"""Bytes of a field book: some thousand rows. All tapes are worked out together, and the work grows faster than they."""
BACK = {"back_m", "back_mm"}


@value
class Books:
    """What a level book and a tape book say, as far as they are there.

    joined  None while one is missing, does not close, or speaks against itself: then ``wants`` or ``findings`` say so
    levels  points of the level book with their levels, m
    wants   what is still to be brought, or empty
    """

    joined: Joined | None
    levels: tuple[tuple[str, float], ...]
    findings: tuple[Finding, ...]
    wants: Literal["", "level book", "tapes"]


def what_is(path: Path) -> What:
    """Tell a page of a field book from a file of points, by its heading."""
    with path.open("rb") as file:
        start = file.read(LOOKED_AT).decode("utf-8-sig", "replace")
    lines = (line.strip() for line in start.splitlines())
    heading = next((line for line in lines if line and not line.startswith("#")), "")
    for mark in ",;\t":
        heading = heading.replace(mark, " ")
    names = set(heading.lower().replace('"', "").split())
    if "point" in names and names & BACK:
        return "level book"
    if {"from", "to"} <= names and names & {"distance_m", "along_m"}:
        return "tapes"
    return "marks" if {"point", "x_m", "y_m"} <= names and "z_m" not in names else "points"


def read_books(files: Sequence[Path]) -> Books:
    """Read the books of a lot, the last of each kind. Raises ``JobError`` with every problem of one that is broken."""
    last = {what_is(path): path for path in files}
    for path in last.values():
        if path.stat().st_size > LARGEST_BOOK:
            rule, remedy = f"A field book may have {LARGEST_BOOK // 1000} kB", "Bring the pages of this site alone"
            raise refusal(path.name, "it is too large", rule, remedy)
    book, tapes = last.get("level book"), last.get("tapes")
    reduced = None if book is None else reduce_book(read_level_book(book))
    findings = [] if reduced is None else list(level_findings(reduced))
    known = None if reduced is None or reduced.refused else levels_by_point(reduced)
    levels = () if known is None else tuple(known.items())
    if reduced is not None and reduced.refused:
        return Books(joined=None, levels=(), findings=tuple(findings), wants="")
    if tapes is None:
        return Books(joined=None, levels=levels, findings=tuple(findings), wants="tapes")
    fixed = fix_points(read_tapes(tapes, last.get("marks")), known)
    findings += tape_findings(fixed)
    wants: Literal["", "level book"] = "level book" if reduced is None else ""
    joined = None if reduced is None or fixed.suspects else join(reduced, fixed)
    return Books(joined=joined, levels=levels, findings=tuple(findings), wants=wants)
