"""The papers: the only room that writes anything for people to hold."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from beckwright.beside import Beside
from beckwright.compose import Works
from beckwright.papers.forms import EVERY_FORM, USUAL_FORMS, Form
from beckwright.papers.parts import PARTS, Matter, Part, wanted
from beckwright.papers.readers import READERS, WHOLE, Reader, readers_named
from beckwright.papers.sheets.overview.index import Change, index_count, index_sheets
from beckwright.papers.written import Early, write_set

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.papers.drawing import Sheet
    from beckwright.papers.seen import Seen


def draw_sheets(
    design: "Design",
    works: "Works | None" = None,
    *,
    readers: Collection[Reader] = (),
    changes: Sequence[Change] = (),
    address: str | None = None,
    seen: "Seen | None" = None,
    progress: Callable[[int, int], None] | None = None,
    beside: Beside | None = None,
    drawn: "Callable[[Sheet], None] | None" = None,
) -> "tuple[Sheet, ...]":
    """The sheets of a job in the order of the set; with the numbers of the whole set, whoever they are for.

    works     where they have been worked out already
    readers   only the sheets of these; the whole set, with its index, where none is named
    changes   revisions the index tells, newest first
    address   of the page the job is served at just now, for the index
    seen      what came back from site, for the as-built sheets; what the job itself carries of it where none is given
    progress  told how many sheets are drawn, of how many: 0 of 0 until that is known; what it raises ends the drawing
    beside    where the films are worked out; here where there is none
    drawn     given each sheet as soon as it is drawn
    """
    tell = progress or (lambda *_: None)
    tell(0, 0)
    job = Matter(design, works or Works(design), beside or Beside(hands=0), seen)
    asked = [part for part in PARTS if wanted(part, readers)]
    if any(part.films for part in asked):
        _ = job.filming
    counts = {part.name: int(part.count(job)) for part in PARTS}
    index = index_count(sum(counts.values()))
    of, whole = index + sum(counts.values()), not readers or WHOLE in readers
    firsts = dict(zip(counts, _firsts(index + 1, counts.values()), strict=True))
    made: dict[str, tuple[Sheet, ...]] = {}
    ahead = sum(counts[part.name] for part in asked) + (index if whole else 0)
    for part in sorted(asked, key=lambda part: part.films):
        tell(sum(map(len, made.values())), ahead)
        made[part.name] = _of(part, part.draw(job, firsts[part.name], of) if counts[part.name] else ())
        for sheet in made[part.name] if drawn else ():
            drawn(sheet)  # type: ignore[misc]
    sheets = tuple(sheet for part in asked for sheet in made[part.name])
    if not whole:
        return sheets
    first = _index(design, sheets, changes, address)
    for sheet in first if drawn else ():
        drawn(sheet)  # type: ignore[misc]
    return (*first, *sheets)


def indexed(
    design: "Design", sheets: "Sequence[Sheet]", *, changes: Sequence[Change] = (), address: str | None = None
) -> "tuple[Sheet, ...]":
    """A whole set that has been drawn, with its index drawn again: for other ``changes`` or another ``address``."""
    rest = [sheet for sheet in sheets if WHOLE.key not in sheet.readers]
    return (*_index(design, rest, changes, address), *rest)


def _index(
    design: "Design", sheets: "Sequence[Sheet]", changes: Sequence[Change], address: str | None
) -> "tuple[Sheet, ...]":
    made = index_sheets(design, sheets, changes=changes, address=address)
    return tuple(replace(sheet, readers=(WHOLE.key,)) for sheet in made)


def _firsts(first: int, counts: Collection[int]) -> list[int]:
    return [first + sum(list(counts)[:row]) for row in range(len(counts))]


def _of(part: Part, sheets: "tuple[Sheet, ...]") -> "tuple[Sheet, ...]":
    keys = tuple(reader.key for reader in part.readers)
    return tuple(replace(sheet, readers=keys) for sheet in sheets)


def write_papers(
    design: "Design",
    folder: Path,
    *,
    readers: Collection[Reader] = (),
    forms: Collection[Form] = USUAL_FORMS,
    changes: Sequence[Change] = (),
    seen: "Seen | None" = None,
    progress: Callable[[str], None] | None = None,
    beside: Beside | None = None,
) -> tuple[Path, ...]:
    """Write sheets as PDF, SVG and DXF; workbook, calendar, and files for other programs.

    Gives back the files written.

    folder    made if it is not there; files of an earlier set are written over, each whole or not at all
    readers   only what these read, with a PDF for each; the whole set as one PDF where none is named
    forms     only these
    changes   revisions the index tells, newest first
    seen      what came back from site, for the as-built sheets
    progress  told in words what is being done; what it raises ends it
    beside    a second process, where one has been begun already
    Raises OSError where the folder cannot be written.
    """
    tell = progress or (lambda _: None)
    folder.mkdir(parents=True, exist_ok=True)
    works, helper = Works(design), beside or Beside()
    early = Early(helper, forms)
    try:
        tell("working out the ground")
        sheets = draw_sheets(
            design,
            works,
            readers=readers,
            changes=changes,
            seen=seen,
            progress=lambda done, of: tell(f"drawing sheet {done + 1} of {of}") if of else None,
            beside=helper,
            drawn=early.drawn,
        )
        return write_set(works, sheets, folder, readers=readers, forms=forms, early=early, progress=progress)
    finally:
        if beside is None:
            helper.close()


__all__ = [
    "EVERY_FORM",
    "READERS",
    "USUAL_FORMS",
    "WHOLE",
    "Beside",
    "Change",
    "Form",
    "Reader",
    "draw_sheets",
    "indexed",
    "readers_named",
    "write_papers",
    "write_set",
]
