"""Rows over and under a strip of the build sheet: sheets of lining, pegs, and the edges to set at each peg."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.base.words import number_in, unit_called
from beckwright.compose import Works
from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, WHITE, Mark, Millimetres, Polyline, Text, rectangle
from beckwright.papers.sheets.build.strip import (
    BARS,
    EDGE_ROWS,
    LAP_HATCH,
    LEAN,
    PEG_ROW,
    RULER,
    Strip,
)
from beckwright.papers.sheets.ground.setting_out import told_level
from beckwright.papers.sheets.shared.frame import LEFT
from beckwright.papers.sheets.shared.spread import spread
from beckwright.stages.setting_out import LevelToSet, Peg, SettingOut

APART: Millimetres = 3.5
"""Columns of numbers set upright stand no closer than this."""
NUMBER: Millimetres = 2.1
SHORT_BAR: Millimetres = 18.0
"""A bar shorter than this has no letter: the strip beside it shows more of the sheet."""
UPRIGHT = float(np.pi / 2)


@value
class _Column:
    """The edges to set at one peg, on one side of a change of the course."""

    peg: Peg
    wanted: Millimetres
    left: LevelToSet
    right: LevelToSet


def strip_rows(works: Works, strip: Strip) -> Iterator[Mark]:
    """All rows of one strip."""
    columns = [column for column in _columns(works.setting_out, strip) if strip.holds(column.peg.chainage)]
    lefts = _within(spread([column.wanted for column in columns], APART), strip)
    (_, low), (_, tall) = strip.window.corner, strip.window.size
    high = low + tall
    yield from _edge_rows(columns, lefts, strip, high, up=True)
    yield from _edge_rows(columns, lefts, strip, low, up=False)
    yield from _peg_row(columns, lefts, high + LEAN + sum(EDGE_ROWS))
    yield from _bars(works, strip, high + LEAN + sum(EDGE_ROWS) + PEG_ROW)
    yield from _ruler(columns, strip, low - LEAN - sum(EDGE_ROWS))
    yield from _match_lines(strip, low, high)


def _within(places: FloatArray, strip: Strip) -> FloatArray:
    """Columns pushed in where the first or the last of them would leave the strip."""
    first = strip.window.corner[0] + APART / 2
    last = strip.window.corner[0] + strip.window.size[0] - APART / 2
    steps = APART * np.arange(len(places))
    pushed: FloatArray = np.minimum(np.maximum(places, first + steps), last - steps[::-1])
    return pushed


def _columns(setting_out: SettingOut, strip: Strip) -> Iterator[_Column]:
    left, right = (
        iter([row for row in setting_out.levels if row.what == f"edge {side}"]) for side in ("left", "right")
    )
    for peg in setting_out.pegs:
        for turn in range(len(peg.dug)):
            aside = 0.0 if len(peg.dug) == 1 else (turn - 0.5) * APART
            yield _Column(peg=peg, wanted=strip.right(peg.chainage) + aside, left=next(left), right=next(right))


def _edge_rows(
    columns: list[_Column], lefts: FloatArray, strip: Strip, rim: Millimetres, *, up: bool
) -> Iterator[Mark]:
    """Below the nail next to the drawing, for that is what is read; the level beyond it."""
    way = 1.0 if up else -1.0
    near = rim + way * LEAN
    side = "left" if up else "right"
    for row, words in enumerate(("below nail", "level")):
        middle = near + way * (sum(EDGE_ROWS[:row]) + EDGE_ROWS[row] / 2)
        yield Text(at=(LEFT + 1.0, middle + 0.4), words=f"{side} edge", height=1.8)
        yield Text(at=(LEFT + 1.0, middle - 2.4), words=words, height=1.8, weight=600 if row == 0 else 400)
    for column, at in zip(columns, lefts.tolist(), strict=True):
        told = column.left if up else column.right
        level, below = told_level(told)
        for row, words in enumerate((below, level)):
            foot = near + (sum(EDGE_ROWS[:row]) if up else -sum(EDGE_ROWS[: row + 1])) + 0.8
            yield Text(
                at=(at, foot),
                words=words,
                height=NUMBER,
                weight=700 if row == 0 else 400,
                turn=UPRIGHT,
                up="middle",
                narrow=True,
            )
        lean = np.array([(at, near), (column.wanted, rim)])
        yield Polyline(points=lean, layer="pegs", pen=pens.CONTOUR)
    ends = np.array([(LEFT, near), (strip.window.corner[0] + strip.window.size[0], near)])
    for row in range(3):
        yield Polyline(points=ends + np.array([0.0, way * sum(EDGE_ROWS[:row])]), layer="frame", pen=pens.THIN)


def _peg_row(columns: list[_Column], lefts: FloatArray, low: Millimetres) -> Iterator[Mark]:
    yield Text(at=(LEFT + 1.0, low + 1.2), words="peg", height=1.8, weight=600)
    numbers: dict[int, list[float]] = {}
    for column, at in zip(columns, lefts.tolist(), strict=True):
        numbers.setdefault(column.peg.number, []).append(at)
    for number, places in numbers.items():
        middle = sum(places) / len(places)
        yield Text(at=(middle, low + 1.1), words=f"{number}", height=1.9, weight=700, narrow=True, across="middle")


def _bars(works: Works, strip: Strip, low: Millimetres) -> Iterator[Mark]:
    """The sheets of lining as they lie: each upper one drawn higher, the lap between both hatched."""
    yield Text(at=(LEFT + 1.0, low + 4.6), words="lining", height=1.8, weight=600)
    yield Text(at=(LEFT + 1.0, low + 1.8), words="A first", height=1.8)
    tall = (BARS - 3.0) / 2
    for place, piece in enumerate(works.lining.pieces):
        start, end = max(piece.chainage[0], strip.start), min(piece.chainage[1], strip.end)
        if end <= start:
            continue
        foot = low + 1.0 + (tall if place % 2 == 0 else 0.0)
        box = rectangle((strip.right(start), foot), (strip.right(end) - strip.right(start), tall))
        yield Polyline(points=box, layer="lining", pen=pens.MEDIUM, closed=True, fill=WHITE)
        if strip.right(end) - strip.right(start) < SHORT_BAR:
            continue
        middle = (strip.right(start) + strip.right(end)) / 2
        yield Text(
            at=(middle, foot + tall / 2), words=piece.letter, height=2.6, weight=700, across="middle", up="middle"
        )
    for lap in works.lining.laps:
        start, end = max(lap.chainage[0], strip.start), min(lap.chainage[1], strip.end)
        if end > start:
            box = rectangle((strip.right(start), low + 1.0), (strip.right(end) - strip.right(start), 2 * tall))
            yield Polyline(points=box, layer="laps", pen=pens.SHORT, closed=True, hatch=LAP_HATCH)
            yield from _arrow(strip.right(end) + 0.6, low + 1.0 + tall * 1.5)


def _arrow(left: Millimetres, up: Millimetres) -> Iterator[Mark]:
    """The way water runs off the upper sheet on to the lower one."""
    head = np.array([(left + 4.6, up), (left + 2.2, up + 0.9), (left + 2.2, up - 0.9)])
    yield Polyline(points=np.array([(left, up), (left + 2.4, up)]), layer="laps", pen=pens.MEDIUM)
    yield Polyline(points=head, layer="laps", closed=True, fill=BLACK)


def _ruler(columns: list[_Column], strip: Strip, high: Millimetres) -> Iterator[Mark]:
    """Chainage of every peg that has room for it."""
    yield Text(at=(LEFT + 1.0, high - RULER + 1.6), words=f"at, {unit_called('m')}", height=1.8)
    taken = -1e9
    for column in columns:
        at = strip.right(column.peg.chainage)
        if at - taken >= 9.0:
            words = f"{number_in(column.peg.chainage, 'm'):.2f}"
            yield Text(at=(at, high - RULER + 1.6), words=words, height=1.8, across="middle")
            taken = at


def _match_lines(strip: Strip, low: Millimetres, high: Millimetres) -> Iterator[Mark]:
    left, right = strip.window.corner[0], strip.window.corner[0] + strip.window.size[0]
    for cut, x, other in ((strip.cut[0], left, strip.number - 1), (strip.cut[1], right, strip.number + 1)):
        if cut:
            line = np.array([(x, low), (x, high)])
            yield Polyline(points=line, layer="match line", pen=pens.BOUNDARY)
            yield Text(
                at=(x - 0.8, (low + high) / 2),
                words=f"match line, strip {other}",
                height=2.0,
                weight=600,
                turn=UPRIGHT,
                across="middle",
                halo=0.3,
            )
