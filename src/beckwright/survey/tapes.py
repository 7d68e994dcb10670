"""The tape book: lengths between points, offsets from lines, and on which side of a line a point lies.

A row without a point is a tape from one point to another. A row with a point speaks of the line from one point to
another and of the point beside it: how far along, how far off, on which side as one walks the line.
"""

from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.job.written.fields import FURTHEST
from beckwright.survey.quantities import EMPTY, amounts, row_problem

LONGEST_TAPE = 200.0
STEEPEST = 100.0
SIDES = ("left", "right")
HELD = ("level", "slope")

MARKS = (
    Column(name="point"),
    Column(name="x_m", low=-FURTHEST, high=FURTHEST),
    Column(name="y_m", low=-FURTHEST, high=FURTHEST),
    Column(name="note", other=""),
)
TAPES = (
    Column(name="from"),
    Column(name="to"),
    Column(name="distance_m", low=0.01, high=LONGEST_TAPE, other=EMPTY),
    Column(name="kind", other=""),
    Column(name="fall_m", low=-STEEPEST, high=STEEPEST, other=EMPTY),
    Column(name="point", other=""),
    Column(name="along_m", low=-LONGEST_TAPE, high=LONGEST_TAPE, other=EMPTY),
    Column(name="offset_m", low=0, high=LONGEST_TAPE, other=EMPTY),
    Column(name="side", other=""),
    Column(name="note", other=""),
)


@value
class Mark:
    """A point whose position was known before."""

    point: str
    x: Length
    y: Length


@value
class Tape:
    """One taped length.

    slope  pulled along the slope, so that it has to be reduced to plan; else held level
    fall   difference of level of its ends where it was measured with the tape
    """

    start: str
    end: str
    length: Length
    slope: bool
    fall: Length | None
    line: int


@value
class Offset:
    """One point set off a line: ``along`` from the line's start, ``left`` of it, negative to the right."""

    start: str
    end: str
    point: str
    along: Length
    left: Length
    line: int


@value
class Side:
    """On which side of the line from ``start`` to ``end`` a point lies, as one walks it."""

    start: str
    end: str
    point: str
    left: bool
    line: int


@value
class Tapes:
    """A tape book. Without marks the ends of the first tape make the system: from at 0, 0, and to on the x axis."""

    file: str
    marks: tuple[Mark, ...]
    tapes: tuple[Tape, ...]
    offsets: tuple[Offset, ...]
    sides: tuple[Side, ...]


def read_tapes(path: Path, marks: Path | None = None) -> Tapes:
    """Read a tape book, and the table of known marks if there is one.

    Columns of the book: from, to; distance_m for a tape, with kind ``slope`` if it was pulled along the slope and
    fall_m if the difference of level was measured; or point with along_m and offset_m and side (left or right) for an
    offset; or point and side alone to say on which side a point lies. Columns of the marks: point, x_m, y_m.

    JobError with every problem of both files.
    """
    problems: list[Problem] = []
    table = read_table(path, TAPES, problems)
    known = _marks(marks, problems) if marks else ()
    if table is None:
        raise JobError(problems)
    rows = _Rows(table)
    for row in range(len(table.lines)):
        problems += rows.problems(row)
    if not problems:
        problems += _anchored(table.file, rows, marks, known)
    if problems:
        raise JobError(problems)
    return Tapes(file=table.file, marks=known, tapes=rows.tapes(), offsets=rows.offsets(), sides=rows.sides())


def _marks(path: Path, problems: list[Problem]) -> tuple[Mark, ...]:
    table = read_table(path, MARKS, problems)
    if table is None:
        return ()
    marks: dict[str, Mark] = {}
    cells = zip(table.lines, table.texts["point"], table.numbers["x_m"], table.numbers["y_m"], strict=True)
    for line, point, x, y in cells:
        twin = next((mark.point for mark in marks.values() if (mark.x, mark.y) == (x, y)), None)
        if point in marks:
            rule, remedy = "A mark stands once", "Take one out"
            problems.append(row_problem(table.file, line, f"{shown(point)} stood before", rule, remedy))
        elif twin is not None:
            rule, remedy = "Marks lie apart", "Mend one of them"
            problems.append(row_problem(table.file, line, f"{shown(point)} lies on {shown(twin)}", rule, remedy))
        marks.setdefault(point, Mark(point=point, x=x, y=y))
    return tuple(marks.values())


def _anchored(file: str, rows: "_Rows", path: Path | None, marks: tuple[Mark, ...]) -> list[Problem]:
    """Something must be measured, and two points held, or all would turn about one."""
    if path is not None and len(marks) < 2:
        rule = "Two known marks hold a survey: about one it could turn"
        remedy = "Write a second mark, or leave out the marks and let the first tape lie on the x axis"
        return [Problem(place=path.name, found="there is one mark", rule=rule, remedy=remedy)]
    if not rows.tapes() and (path is None or not rows.offsets()):
        rule, remedy = (
            "Without known marks the first tape is the base of all",
            "Tape between two points, or set one off two marks",
        )
        return [Problem(place=file, found="there is no taped length", rule=rule, remedy=remedy)]
    return []


class _Rows:
    """The rows of a tape book, by what each of them says."""

    def __init__(self, table: Table) -> None:
        self.table, self.texts = table, table.texts
        self.numbers = {name: amounts(table, name) for name in ("distance_m", "fall_m", "along_m", "offset_m")}

    def problems(self, row: int) -> list[Problem]:
        """Everything wrong with one row."""
        found = [*self._words(row), *(self._of_point(row) if self.texts["point"][row] else self._of_tape(row))]
        return [row_problem(self.table.file, self.table.lines[row], *words) for words in found]

    def _words(self, row: int) -> list[tuple[str, str, str]]:
        found = []
        for column, known in (("side", SIDES), ("kind", HELD)):
            word = self.texts[column][row]
            if word and word not in known:
                nearest = near_miss(word, known)
                remedy = f'Did you mean "{nearest}"' if nearest else "Write one of these, or leave it empty"
                found.append((f"{column} is {shown(word)}", f"It must be {' or '.join(known)}", remedy))
        names = [self.texts[column][row] for column in ("from", "to", "point") if self.texts[column][row]]
        if len(set(names)) < len(names):
            found.append(("a point is named twice", "A row speaks of different points", "Mend one of the names"))
        return found

    def _of_tape(self, row: int) -> list[tuple[str, str, str]]:
        length, fall = self.numbers["distance_m"][row], self.numbers["fall_m"][row]
        if length is None:
            rule = "A row without a point is a tape"
            return [("distance_m is empty", rule, "Write the length, or the point that lies beside the line")]
        if fall is not None and abs(fall) >= length:
            return [(f"it falls {abs(fall):g} m in {length:g} m", "A tape is longer than its fall", "Mend one of them")]
        if any(self.numbers[name][row] is not None for name in ("along_m", "offset_m")) or self.texts["side"][row]:
            rule = "Along, offset and side are of a point beside the line"
            return [("the row names no point", rule, "Write the point, or empty these cells")]
        return []

    def _of_point(self, row: int) -> list[tuple[str, str, str]]:
        along, off, side = self.numbers["along_m"][row], self.numbers["offset_m"][row], self.texts["side"][row]
        if self.numbers["distance_m"][row] is not None:
            rule = "A row is a tape or an offset"
            return [("distance_m stands beside a point", rule, "Give the tape a row of its own")]
        if (along is None) != (off is None):
            rule = "An offset has both along_m and offset_m"
            return [("one of along_m and offset_m is empty", rule, "Write the other, or empty both")]
        if not side and off != 0:
            point, start, end = (shown(self.texts[name][row]) for name in ("point", "from", "to"))
            rule = f"{point} lies left or right of the line as one walks from {start} to {end}"
            return [("side is empty", rule, "Write left or right")]
        return []

    def tapes(self) -> tuple[Tape, ...]:
        """Every taped length."""
        return tuple(
            Tape(
                start=self.texts["from"][row],
                end=self.texts["to"][row],
                length=length,
                slope=self._slope(row),
                fall=self.numbers["fall_m"][row],
                line=self.table.lines[row],
            )
            for row, length in enumerate(self.numbers["distance_m"])
            if length is not None
        )

    def _slope(self, row: int) -> bool:
        """A fall beside a length says that it was pulled along the slope, unless the row says otherwise."""
        kind = self.texts["kind"][row]
        return kind == "slope" or (not kind and self.numbers["fall_m"][row] is not None)

    def offsets(self) -> tuple[Offset, ...]:
        """Every offset."""
        return tuple(
            Offset(
                start=self.texts["from"][row],
                end=self.texts["to"][row],
                point=self.texts["point"][row],
                along=along,
                left=off if self.texts["side"][row] != "right" else -off,
                line=self.table.lines[row],
            )
            for row, (along, off) in enumerate(zip(self.numbers["along_m"], self.numbers["offset_m"], strict=True))
            if along is not None and off is not None
        )

    def sides(self) -> tuple[Side, ...]:
        """Every word of a side, those of offsets too."""
        return tuple(
            Side(
                start=self.texts["from"][row],
                end=self.texts["to"][row],
                point=self.texts["point"][row],
                left=side == "left",
                line=self.table.lines[row],
            )
            for row, side in enumerate(self.texts["side"])
            if side and self.numbers["offset_m"][row] != 0
        )
