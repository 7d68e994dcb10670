"""What was typed on the slope as tables of the job folder. A file that is there is never written over."""

from collections.abc import Iterator
from pathlib import Path
from threading import Lock

from beckwright.base.errors import JobError, Problem
from beckwright.readings import Shot
from beckwright.readings.against import against
from beckwright.readings.notebook import as_csv, cell, notebook, read_rows
from beckwright.readings.staff import shots_of
from beckwright.survey.new_file import write_new
from beckwright.web.desk.opened import Desk
from beckwright.web.slope.levels import books
from beckwright.web.slope.works import read_shots_of

MOST_FILES = 500
SHOTS_HEAD = "place,left_m,middle_m,right_m,dig_m,note"
_writing = Lock()


def write_levels(desk: Desk, book: str) -> str:
    """Write one level book and return the name of its file; written before, that of the file it is in.

    Raises JobError where the book is not there, does not read back, or is asked about.
    """
    rows = books(desk).get(book)
    if rows is None:
        rule, remedy = "A book has a row at least", "Write its first back sight"
        raise JobError([Problem(place="level book", found="there is no such book", rule=rule, remedy=remedy)])
    datum = desk.laid(desk.stands()).design.job.datum.level
    written = notebook(rows, datum).written
    text = as_csv(written)
    read_rows(written)
    title = rows[0].text("title")
    return _written(desk.folder, "levels", f"# Level book {title}, written on the slope ({book[:8]}).\n{text}")


def write_shots(desk: Desk) -> tuple[str, int]:
    """Write the shots that count: the name of their file, and how many rows are still asked about and left out.

    Written before, it is the file they are in.
    """
    designed = desk.laid(desk.stands()).design
    held = against(designed, read_shots_of(desk, designed)[1]).held
    shots = shots_of(each.staff for each in held if each.counted)
    if not shots:
        rule, remedy = "A table has a row at least", "Shoot a place first"
        raise JobError([Problem(place="shots", found="nothing was shot", rule=rule, remedy=remedy)])
    lines = ["# Levels shot on the works, written on the slope.", SHOTS_HEAD, *map(_line, shots)]
    left_out = sum(bool(each.asked) and not each.counted for each in held)
    return _written(desk.folder, "as_built", "\n".join(lines) + "\n"), left_out


def write_table(folder: Path, stem: str, text: str) -> str:
    """Write a table under the first free number; written before, it is the file it is in."""
    return _written(folder, stem, text)


def _line(shot: Shot) -> str:
    levels = (shot.left, shot.middle, shot.right, shot.dig)
    cells = ["" if level is None else f"{level:.4f}" for level in levels]
    return ",".join([shot.lip or f"{shot.chainage:.10g}", *cells, cell(shot.note)])


def _written(folder: Path, stem: str, text: str) -> str:
    """Write a new file under the first free number, unless one of them holds this very text."""
    with _writing:
        for path in _names(folder, stem):
            if not path.exists():
                write_new(text, path)
                return path.name
            if path.read_bytes() == text.encode():
                return path.name
    rule, remedy = f"At most {MOST_FILES} are kept side by side", "Put some of them elsewhere"
    raise JobError([Problem(place=stem, found="there are too many files of this name", rule=rule, remedy=remedy)])


def _names(folder: Path, stem: str) -> Iterator[Path]:
    yield folder / f"{stem}.csv"
    for number in range(2, MOST_FILES):
        yield folder / f"{stem}_{number}.csv"
