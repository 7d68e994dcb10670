"""The level book: staff readings in the order they were taken, and the levels that were known before.

A row is one place of the staff. A change point has its fore sight and the next back sight in one row, as books have
it, or in two rows that follow each other. A set-up may begin again on any point whose level is known.
"""

from itertools import pairwise
from pathlib import Path
from typing import Literal, get_args

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import IntArray, Lengths, Level
from beckwright.base.values import value
from beckwright.job.tables import DEEPEST, HIGHEST
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.wording.sentences import shown
from beckwright.survey.quantities import amounts, in_either, lengths, row_problem

Kind = Literal["back", "intermediate", "fore"]
KINDS: tuple[Kind, ...] = get_args(Kind)

LONGEST_READING = 10.0
"""Highest staff reading, m: a longer one is in another unit."""
LONGEST_SIGHT = 200.0

LEVELS = (
    Column(name="point"),
    *in_either("back", -LONGEST_READING, LONGEST_READING),
    *in_either("intermediate", -LONGEST_READING, LONGEST_READING),
    *in_either("fore", -LONGEST_READING, LONGEST_READING),
    Column(name="level_m", low=DEEPEST, high=HIGHEST, other=float("nan")),
    Column(name="back_sight_m", low=0.1, high=LONGEST_SIGHT, other=float("nan")),
    Column(name="fore_sight_m", low=0.1, high=LONGEST_SIGHT, other=float("nan")),
    Column(name="code", other=""),
    Column(name="breakline", other=""),
    Column(name="note", other=""),
)


@value
class KnownLevel:
    """A level that was known before: a bench mark or a peg given a level of its own."""

    point: str
    level: Level
    line: int


@value
class LevelBook:
    """n readings in the order they were taken. A change point is two of them, fore first.

    points, kinds, lines  each n: where the staff stood, which sight, line of the file
    readings              n, m; negative where the staff hung upside down
    sights                n, m, length of the sight; zeros for intermediate sights; None where none was measured
    setups                n, number of the set-up from 0
    runs                  n, number of the run from 0: a run begins on a known level and goes on by change points
    known                 levels known before
    codes, breaklines     each n, as the survey of a job has them
    """

    file: str
    points: tuple[str, ...]
    kinds: tuple[Kind, ...]
    lines: tuple[int, ...]
    readings: Lengths
    sights: Lengths | None
    setups: IntArray
    runs: IntArray
    known: tuple[KnownLevel, ...]
    codes: tuple[str, ...]
    breaklines: tuple[str, ...]

    @property
    def known_levels(self) -> dict[str, Level]:
        """Every known level by its point."""
        return {mark.point: mark.level for mark in self.known}


@value
class _Row:
    """One line as it was booked; ``first`` where a run begins on it."""

    line: int
    point: str
    back: float | None
    intermediate: float | None
    fore: float | None
    back_sight: float | None
    fore_sight: float | None
    code: str
    breakline: str

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """Which of the three columns are filled."""
        return tuple(kind for kind in KINDS if getattr(self, kind) is not None)


def read_level_book(path: Path) -> LevelBook:
    """Read a level book.

    Columns: point, and of back_m, intermediate_m and fore_m the one that was read (fore_m and back_m on a change
    point); level_m where a level is known; optional back_sight_m and fore_sight_m, the lengths of the sights, and
    code, breakline, note. Readings may be in columns named _mm. The last reading of a run counts as its fore sight.

    JobError with every problem of the file.
    """
    problems: list[Problem] = []
    table = read_table(path, LEVELS, problems)
    if table is None:
        raise JobError(problems)
    rows = _rows(table, problems)
    known = _known(table, problems)
    if not problems:
        problems += _order(table.file, rows, {mark.point for mark in known})
        problems += _sight_lengths(table.file, rows)
    if problems:
        raise JobError(problems)
    return _book(table.file, _joined(rows), known)


def _rows(table: Table, problems: list[Problem]) -> list[_Row]:
    back, intermediate, fore = (lengths(table, kind, problems) for kind in KINDS)
    back_sight, fore_sight = (amounts(table, name) for name in ("back_sight_m", "fore_sight_m"))
    return [
        _Row(
            line=line,
            point=table.texts["point"][row],
            back=back[row],
            intermediate=intermediate[row],
            fore=fore[row],
            back_sight=back_sight[row],
            fore_sight=fore_sight[row],
            code=table.texts["code"][row],
            breakline=table.texts["breakline"][row],
        )
        for row, line in enumerate(table.lines)
    ]


def _known(table: Table, problems: list[Problem]) -> tuple[KnownLevel, ...]:
    known: dict[str, KnownLevel] = {}
    for line, point, level in zip(table.lines, table.texts["point"], amounts(table, "level_m"), strict=True):
        if level is None:
            continue
        mark = known.setdefault(point, KnownLevel(point=point, level=level, line=line))
        if mark.level != level:
            found = f"level_m of {shown(point)} is {level:.3f} m, and {mark.level:.3f} m on line {mark.line}"
            problems.append(row_problem(table.file, line, found, "A point has one level", "Mend or empty one of them"))
    return tuple(known.values())


def _order(file: str, rows: list[_Row], known: set[str]) -> list[Problem]:
    """What is out of the order in which a book is kept."""
    first, last = rows[0], rows[-1]
    found = [problem for row in rows for problem in _filled(file, row)]
    if first.kinds != ("back",):
        rule = "A book begins with a back sight on a point of known level"
        found.append(row_problem(file, first.line, f"it begins on {shown(first.point)}", rule, "Write its back sight"))
    if first.point not in known:
        rule = "The levels hang on the first point's"
        remedy = "Write it in the column level_m; 100.000 will do for a peg of your own"
        found.append(row_problem(file, first.line, f"the level of {shown(first.point)} is missing", rule, remedy))
    if last.back is not None:
        rule, remedy = "A back sight has readings after it", "Take it out, or write the readings that followed"
        found.append(row_problem(file, last.line, "the book ends with a back sight", rule, remedy))
    for before, row in pairwise(rows):
        found += _step(file, before, row, known)
    return found


def _filled(file: str, row: _Row) -> list[Problem]:
    if row.kinds in {("back",), ("intermediate",), ("fore",), ("back", "fore")}:
        return []
    found = f"{' and '.join(row.kinds)} stand together" if row.kinds else f"{shown(row.point)} has no reading"
    rule = "A row has one reading, or a fore and a back sight on a change point"
    return [row_problem(file, row.line, found, rule, "Give each reading its own row, in the order they were taken")]


def _step(file: str, before: _Row, row: _Row, known: set[str]) -> list[Problem]:
    """What is wrong between two rows that follow each other."""
    begins = row.kinds == ("back",)
    if before.kinds == ("fore",) and not begins:
        found = f"after the fore sight on {shown(before.point)} there is no back sight"
        rule = "A fore sight ends a set-up, and the next begins with a back sight"
        remedy = f"Write the back sight on {shown(before.point)}, or move this fore sight to intermediate"
        return [row_problem(file, row.line, found, rule, remedy)]
    if begins and before.back is not None:
        rule, remedy = "A set-up has a back sight and readings after it", "Write the readings, or take one of them out"
        return [row_problem(file, row.line, "two back sights follow each other", rule, remedy)]
    if begins and row.point not in known and (before.kinds != ("fore",) or before.point != row.point):
        found = f"the back sight is on {shown(row.point)}, whose level is not known"
        rule = "A new set-up begins on the change point it came from, or on a point of known level"
        remedy = "Write the fore sight on it before the level was moved, or its level_m"
        return [row_problem(file, row.line, found, rule, remedy)]
    return []


def _sight_lengths(file: str, rows: list[_Row]) -> list[Problem]:
    """Lengths of sights are of use only when no back or fore sight lacks its own."""
    pairs = [(row, kind, getattr(row, f"{kind}_sight")) for row in rows for kind in row.kinds if kind != "intermediate"]
    if all(length is None for _, _, length in pairs):
        return []
    rule, remedy = "Every back and fore sight has its length, or none has", "Write it, or empty the two columns"
    return [
        row_problem(file, row.line, f"{kind}_sight_m is empty", rule, remedy)
        for row, kind, length in pairs
        if length is None
    ]


def _joined(rows: list[_Row]) -> list[tuple[_Row, Kind, bool]]:
    """Every reading in order, with whether a run begins with it; the last of a run is its fore sight."""
    order: tuple[Kind, ...] = ("intermediate", "fore", "back")
    flat = [(row, kind) for row in rows for kind in order if getattr(row, kind) is not None]
    read: list[tuple[_Row, Kind, bool]] = []
    for place, (row, kind) in enumerate(flat, 1):
        ends = place == len(flat) or flat[place][1] == "back"
        goes_on = bool(read) and read[-1][1] == "fore" and read[-1][0].point == row.point
        read.append((row, "fore" if kind == "intermediate" and ends else kind, kind == "back" and not goes_on))
    return read


def _book(file: str, read: list[tuple[_Row, Kind, bool]], known: tuple[KnownLevel, ...]) -> LevelBook:
    kinds = tuple(kind for _, kind, _ in read)
    column = [row.intermediate if row.fore is None and kind == "fore" else getattr(row, kind) for row, kind, _ in read]
    sights = [0.0 if kind == "intermediate" else getattr(row, f"{kind}_sight") for row, kind, _ in read]
    measured = any(row.back_sight is not None for row, _, _ in read)
    return LevelBook(
        file=file,
        points=tuple(row.point for row, _, _ in read),
        kinds=kinds,
        lines=tuple(row.line for row, _, _ in read),
        readings=np.array(column, dtype=float),
        sights=np.array([length or 0.0 for length in sights]) if measured else None,
        setups=np.cumsum([kind == "back" for kind in kinds]) - 1,
        runs=np.cumsum([begins for _, _, begins in read]) - 1,
        known=known,
        codes=tuple(row.code for row, _, _ in read),
        breaklines=tuple(row.breakline for row, _, _ in read),
    )
