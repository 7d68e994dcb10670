"""The stick an owner reads: from the lid down to overflow, rest, running water and the pump's least."""

from collections.abc import Callable, Iterator

from beckwright.base.quantities import Length
from beckwright.base.words import band, millimetres
from beckwright.care import Normal
from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, RED, Mark, Millimetres, Pen, Point, Polyline, Text, rectangle
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.spread import spread

BAND = "#DDDDDD"
LEAST_PEN = Pen(width=0.7, colour=RED)
SAME = 0.001
"""Levels closer than this are one mark."""


def stick(normal: Normal, corner: Point, size: Point) -> Iterator[Mark]:
    """Draw it into a rectangle: the stick at its left, each mark's number and name beside it."""
    (left, low), (wide, high) = corner, size
    deepest = normal.least * 1.12
    top = low + high - 6.0

    def up(dip: Length) -> Millimetres:
        return top - dip / deepest * (top - low)

    yield ruled((left, top), (left + 26.0, top), pens.LINER)
    yield Text(at=(left, top + 1.6), words="the lid", height=2.4, weight=600)
    yield Polyline(points=rectangle((left + 4, low), (5, top - low)), layer="stick", pen=pens.MEDIUM, closed=True)
    if normal.cuts_out is None:
        ends = (up(float(normal.running[-1])), up(float(normal.running[0])))
        area = rectangle((left + 4, ends[0]), (18, max(ends[1] - ends[0], 0.6)))
        yield Polyline(points=area, layer="stick", pen=pens.THIN, closed=True, fill=BAND)
    yield from _marked(normal, left, wide, up)


def _marked(
    normal: Normal, left: Millimetres, wide: Millimetres, up: Callable[[Length], Millimetres]
) -> Iterator[Mark]:
    rows = list(_rows(normal))
    ups = [up(dip) for dip, _, _, _ in rows]
    for (_, said, name, last), there, beside in zip(rows, ups, spread([-each for each in ups], 11.5), strict=True):
        pen = LEAST_PEN if last else pens.MEDIUM
        yield ruled((left + 4, there), (left + 22, there), pen, "stick")
        yield ruled((left + 22, there), (left + 26, -float(beside)), pens.THIN, "stick")
        yield fitted((left + 27, -float(beside) + 0.4), said, wide - 27, 5.0, weight=700, colour=RED if last else BLACK)
        yield fitted((left + 27, -float(beside) - 3.8), name, wide - 27, 2.2)


def _rows(normal: Normal) -> Iterator[tuple[Length, str, str, bool]]:
    """Dip, words, name, whether it is the one not to go below."""
    if abs(normal.overflow - normal.rested) < SAME:
        yield normal.rested, millimetres(normal.rested), "at rest, full; it overflows there", False
    else:
        yield normal.overflow, millimetres(normal.overflow), "overflow", False
        yield normal.rested, millimetres(normal.rested), "at rest, full", False
    if normal.cuts_out is None:
        low, high = float(normal.running[0]), float(normal.running[-1])
        yield (low + high) / 2, band(low, high, 5, "mm", scale=1000), f"running, {normal.flow}", False
        low, high = float(normal.lowest[0]), float(normal.lowest[-1])
        yield high, band(low, high, 5, "mm", scale=1000), "lowest at the start", False
    yield normal.least, millimetres(normal.least), "pump's least: switch off, fill up", True
