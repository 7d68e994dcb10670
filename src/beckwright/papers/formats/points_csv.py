"""Points as plain tables, to the millimetre.

Two manners: with a heading in the columns of ``survey.csv``, for spreadsheets and for reading back; and without one as
point, northing, easting, level, description, which is what most survey instruments take (common practice). A point
nobody shot a level of is left out of both: an instrument would take the empty cell for level 0.
"""

import csv
import io
from collections.abc import Iterable, Iterator

from beckwright.papers.handed_over.values import HandedOver, Point

COLUMNS = ("id", "x_m", "y_m", "z_m", "code")


def write_columns(handed: HandedOver) -> bytes:
    """Write the points under a heading as UTF-8, lines ended by a line feed; notes follow the last row."""
    without = ", ".join(point.name for point in handed.points if point.level is None)
    notes = (
        f"{handed.title.name}, revision {handed.title.revision}, {handed.title.date}. Metres on the site's own grid.",
        *(["Invented data: no real place, firm or person."] if handed.title.invented else []),
        *([f"Left out, for nobody shot a level: {without}."] if without else []),
    )
    rows = ((point.number, east, north, level, point.code) for point, east, north, level in _levelled(handed))
    return _table((COLUMNS, *rows)) + "".join(f"# {note}\n" for note in notes).encode()


def write_points(handed: HandedOver) -> bytes:
    """Write the points without a heading, northing first, as ASCII, lines ended as instruments expect them."""
    rows = (
        (point.number, north, east, level, f"{point.code} {point.number}")
        for point, east, north, level in _levelled(handed)
    )
    return _table(rows).replace(b"\n", b"\r\n")


def _levelled(handed: HandedOver) -> Iterator[tuple[Point, str, str, str]]:
    for point in handed.points:
        if point.level is not None:
            east, north, level = (_metres(amount) for amount in (*point.at, point.level))
            yield point, east, north, level


def _metres(length: float) -> str:
    # Adding nothing turns a minus nought into a nought.
    return f"{round(length, 3) + 0.0:.3f}"


def _table(rows: Iterable[Iterable[str]]) -> bytes:
    stream = io.StringIO()
    csv.writer(stream, lineterminator="\n").writerows(rows)
    return stream.getvalue().encode()
