"""A level book as it is typed on the slope: reduced after each row, as far as its rows can be read."""

import re
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Level
from beckwright.base.values import value
from beckwright.readings.rows import Row
from beckwright.readings.typed import Typed, level, metric_note, staff_reading
from beckwright.survey import LevelBook, ReducedBook, read_level_book, reduce_book
from beckwright.survey.level_book import KINDS

HEAD = "point,back_m,intermediate_m,fore_m,level_m,note"
_LINE = re.compile(r" line (\d+)$")
_ROW = re.compile(r"^row (\d+)$")
_FIRST = 2
"""Line of the first row in a table whose first line is its heading."""


@value
class Booked:
    """One row and its numbers. ``level`` is None where none was typed."""

    row: Row
    reading: Typed
    level: Typed | None

    @property
    def asked(self) -> tuple[str, ...]:
        """All that a person is asked about this row, unless it was struck out or agreed to."""
        told = (self.reading.asked, self.level.asked if self.level else "", self.row.asked)
        return () if self.row.struck or (self.row.agreed and self.usable) else tuple(each for each in told if each)

    @property
    def usable(self) -> bool:
        """Whether its numbers are numbers."""
        return self.reading.amount is not None and (self.level is None or self.level.amount is not None)


@value
class Notebook:
    """A level book as far as it goes.

    rows      all rows, those struck out among them
    written   those that count, in order: line ``n + 2`` of the file is the n-th of them
    reduced   of the first ``as_far`` rows that count; None where none can be reduced
    waits     the last row is a back sight that nothing has followed yet
    problems  why it goes no farther; empty where it does
    """

    rows: tuple[Booked, ...]
    written: tuple[Booked, ...]
    reduced: ReducedBook | None
    as_far: int
    waits: bool
    problems: tuple[Problem, ...]


def notebook(rows: Iterable[Row], datum: Level) -> Notebook:
    """Read and reduce the rows of one book. A row whose number is no number stops it there, and is asked about."""
    booked = tuple(_booked(row, datum) for row in rows)
    written = tuple(each for each in booked if not each.row.struck)
    sound = next((place for place, each in enumerate(written) if not each.usable), len(written))
    as_far, problems = sound, list[Problem]()
    waits = as_far > 0 and written[as_far - 1].row.text("sight") == "back"
    as_far -= waits
    reduced = None
    while as_far > 0 and reduced is None:
        try:
            reduced = reduce_book(read_rows(written[:as_far]))
        except JobError as error:
            problems = list(error.problems)
            as_far = min(_row_of(problem) for problem in error.problems)
            while as_far and written[as_far - 1].row.text("sight") == "back":
                as_far -= 1
    if waits and not problems and as_far == 0:
        problems = _start(written[:1])
    return Notebook(rows=booked, written=written, reduced=reduced, as_far=as_far, waits=waits, problems=tuple(problems))


def as_csv(written: Sequence[Booked]) -> str:
    """Rows as a level book's table. Raises JobError where a number is none."""
    problems = [
        Problem(
            place=f"row {place}",
            found=" ".join(each.asked) or "it cannot be read",
            rule="A book that is written holds numbers only",
            remedy="Write the row anew, or strike it out",
        )
        for place, each in enumerate(written, 1)
        if not each.usable
    ]
    if problems:
        raise JobError(problems)
    return "\n".join([HEAD, *map(_line, written)]) + "\n"


def read_rows(written: Sequence[Booked]) -> LevelBook:
    """The rows as any level book is read. Raises JobError, its places the rows."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "levels.csv"
        path.write_text(as_csv(written), encoding="utf-8", newline="\n")
        try:
            return read_level_book(path)
        except JobError as error:
            raise JobError([_by_row(problem) for problem in error.problems]) from error


def cell(text: str) -> str:
    """A cell of a table: in quotation marks where it would be taken for something else."""
    plain = not any(mark in text for mark in ',;"#\t') and text == text.strip()
    return text if plain else '"' + text.replace('"', '""') + '"'


def _booked(row: Row, datum: Level) -> Booked:
    return Booked(
        row=row,
        reading=staff_reading(row.text("typed"), hung=row.content.get("hung") is True, measure=row.measure),
        level=level(row.text("level"), datum, measure=row.measure) if row.text("level").strip() else None,
    )


def _line(each: Booked) -> str:
    readings = [f"{each.reading.amount:.10g}" if each.row.text("sight") == kind else "" for kind in KINDS]
    known = "" if each.level is None else f"{each.level.amount:.10g}"
    typed = metric_note(each.reading.text, "m", each.row.measure)
    note = "; ".join(part for part in (each.row.text("note"), typed) if part)
    return ",".join([cell(each.row.text("point")), *readings, known, cell(note)])


def _row_of(problem: Problem) -> int:
    """Rows before the one a problem is about."""
    found = _ROW.match(problem.place)
    return int(found[1]) - 1 if found else 0


def _by_row(problem: Problem) -> Problem:
    line = _LINE.search(problem.place)
    return Problem(
        place=f"row {max(int(line[1]) - _FIRST, 0) + 1}" if line else "the book",
        found=problem.found,
        rule=problem.rule,
        remedy=problem.remedy,
    )


def _start(first: Sequence[Booked]) -> list[Problem]:
    """What is missing at the first back sight; the reader would only say that nothing follows it."""
    if not first or first[0].level is not None:
        return []
    point = first[0].row.text("point")
    return [
        Problem(
            place="row 1",
            found=f"the level of {point} is missing",
            rule="The levels hang on the first point's",
            remedy="Write the row anew with its level; 100.000 will do for a peg of your own",
        )
    ]
