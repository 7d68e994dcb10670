"""Level books and tape books as a builder would type them, read back from a file."""

import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from beckwright.survey import LevelBook, Tapes, read_level_book, read_tapes

LEVELS = "point,back_m,intermediate_m,fore_m,level_m,back_sight_m,fore_sight_m"
TAPES = "from,to,distance_m,kind,fall_m,point,along_m,offset_m,side"

Row = tuple[object, ...]


def text(heads: str, rows: Iterable[Sequence[object]]) -> str:
    """A table with every number to its last digit: an empty cell for None."""
    return "\n".join([heads, *(",".join("" if cell is None else str(cell) for cell in row) for row in rows)])


def booked(*rows: Row, heads: str = LEVELS) -> LevelBook:
    """A level book: point, back, intermediate, fore, level, and lengths of the sights, as many as there are."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "levels.csv"
        path.write_text(text(heads, rows), encoding="utf-8")
        return read_level_book(path)


def taped(*rows: Row, marks: Iterable[Row] = ()) -> Tapes:
    """A tape book, and its marks: point, x, y."""
    with tempfile.TemporaryDirectory() as folder:
        path, known = Path(folder) / "tapes.csv", Path(folder) / "marks.csv"
        path.write_text(text(TAPES, rows), encoding="utf-8")
        known.write_text(text("point,x_m,y_m", marks), encoding="utf-8")
        return read_tapes(path, known if marks else None)


def tape(start: str, end: str, length: float) -> Row:
    return start, end, length


def slope(start: str, end: str, length: float, fall: float | None = None) -> Row:
    return start, end, length, "slope", fall


def offset(start: str, end: str, point: str, along: float, off: float, side: str) -> Row:
    return start, end, None, None, None, point, along, off, side


def side(start: str, end: str, point: str, way: str) -> Row:
    return start, end, None, None, None, point, None, None, way
