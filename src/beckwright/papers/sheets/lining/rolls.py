"""How pieces come off the roll, and the reservoir's sheet with its folds."""

import numpy as np

from beckwright.base.words import metres, number_in, with_unit
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, Dimension, Mark, Pen, Point, Polyline, Text, rectangle
from beckwright.papers.fonts import width as words_width
from beckwright.papers.sheets.shared.frame import heading
from beckwright.stages.lining import Cut, Lining, Roll
from beckwright.stages.lining.carry import told_mass
from beckwright.stages.lining.rolls import PIT

OFF_CUT = pens.slanted(1.8, BLACK)
FOLD_PEN = Pen(width=0.35, dash=(2.4, 1.2))
TALLEST = 14.0
ROW_GAP = 4.0


def roll_marks(lining: Lining, at: Point, room: float) -> tuple[tuple[Mark, ...], float]:
    """Every roll as one bar to scale, its pieces one after the other; gives back where they end."""
    marks: list[Mark] = [heading(at, "Cut from the roll, lengths to scale")]
    down = at[1] - 5.0
    if not lining.rolls:
        marks.append(Text(at=(at[0], down - 2.0), words="Nobody has said which rolls are on offer.", height=2.2))
        return tuple(marks), down - 6.0
    bars = [(roll, cut) for roll in lining.rolls for cut in roll.cuts]
    each = (room - 26.0) / max(sum(cut.lengths) + cut.left for _, cut in bars)
    high = min(TALLEST, (62.0 - ROW_GAP * len(bars)) / len(bars))
    for roll, cut in bars:
        bar, down = _bar(roll, cut, (at[0], down), each, max(high, 5.0))
        marks += bar
    return tuple(marks), down


def _bar(roll: Roll, cut: Cut, at: Point, each: float, high: float) -> tuple[list[Mark], float]:
    """One roll: ``each`` mm for a metre of its length; its width is not to scale."""
    low, left = at[1] - high, at[0] + 24.0
    marks: list[Mark] = [
        Text(at=(at[0], low + high / 2 + 0.6), words=f"{number_in(roll.width, 'm'):.2f} wide", height=2.0, weight=600),
        Text(at=(at[0], low + high / 2 - 3.0), words=f"{with_unit(sum(cut.lengths), 'm'):.2f} of it", height=1.8),
    ]
    for letter, length in zip(cut.letters, cut.lengths, strict=True):
        wide = length * each
        marks.append(Polyline(points=rectangle((left, low), (wide, high)), layer="rolls", pen=pens.MEDIUM, closed=True))
        marks += _in_bar((left + wide / 2, low + high / 2), letter, length, wide, high)
        left += wide
    if cut.left > 0.02:
        rest = rectangle((left, low), (cut.left * each, high))
        marks.append(Polyline(points=rest, layer="rolls", pen=pens.THIN, closed=True, hatch=OFF_CUT))
    return marks, low - ROW_GAP


def _in_bar(at: Point, letter: str, length: float, wide: float, high: float) -> list[Mark]:
    size = f"{number_in(length, 'm'):.2f}"
    both = words_width(letter, 3.0, weight=700) + words_width(size, 1.8) + 2.0
    if both < wide - 1.0:
        left = at[0] - both / 2
        return [
            Text(at=(left, at[1]), words=letter, height=3.0, weight=700, up="middle"),
            Text(at=(left + both, at[1]), words=size, height=1.8, across="right", up="middle"),
        ]
    if high >= 8.0 and words_width(size, 1.8, narrow=True) < wide - 0.8:
        return [
            Text(at=(at[0], at[1] + 1.9), words=letter, height=2.5, weight=700, across="middle", up="middle"),
            Text(at=(at[0], at[1] - 1.9), words=size, height=1.8, across="middle", up="middle", narrow=True),
        ]
    return [Text(at=at, words=letter, height=2.5, weight=700, across="middle", up="middle")]


def pit_marks(design: Design, lining: Lining, at: Point, room: tuple[float, float]) -> tuple[Mark, ...]:
    """The reservoir's sheet to scale: floor, sides, folds, allowance."""
    pit, reservoir = lining.pit, design.job.reservoir
    deep = design.reservoir.pit.cover - design.reservoir.pit.sump_floor
    long = reservoir.length >= reservoir.width
    floor = (reservoir.length, reservoir.width) if long else (reservoir.width, reservoir.length)
    sheet = (max(pit.along, pit.across), min(pit.along, pit.across))
    each = min((room[0] - 14.0) / sheet[0], (room[1] - 32.0) / sheet[1])
    left, low = at[0] + 8.0, at[1] - 8.0 - sheet[1] * each
    boxes = [sheet, tuple(side + 2 * deep for side in floor), floor]
    corners = [
        rectangle((left + (sheet[0] - w) / 2 * each, low + (sheet[1] - h) / 2 * each), (w * each, h * each))
        for w, h in boxes
    ]
    drawn = (pens.HEAVY, FOLD_PEN, pens.MEDIUM)
    marks: list[Mark] = [heading(at, f"Sheet {PIT}, the reservoir")]
    marks += [
        Polyline(points=box, layer="pit", pen=pen, closed=True, hatch=pens.CRATES if box is corners[2] else None)
        for box, pen in zip(corners, drawn, strict=True)
    ]
    marks += [
        Polyline(points=np.array([one, two]), layer="pit", pen=FOLD_PEN)
        for one, two in zip(corners[0], corners[2], strict=True)
    ]
    (x, y), (right, _) = corners[0][0], corners[0][1]
    top = corners[0][2][1]
    marks += [
        Dimension(start=(x, y), end=(right, y), offset=-5.0, words=f"{number_in(sheet[0], 'm'):.2f}", pen=pens.THIN),
        Dimension(start=(x, y), end=(x, top), offset=4.0, words=f"{number_in(sheet[1], 'm'):.2f}", pen=pens.THIN),
    ]
    joined = "in one" if pit.strips == 1 else f"{pit.strips} strips, {metres(pit.seam)} of seam"
    roll = "by need" if pit.roll is None else f"roll {number_in(pit.roll, 'm'):.2f}, {joined}"
    for row, words in enumerate((f"{roll}; {told_mass(pit.mass)}.", "Fold the corners in, do not cut.")):
        marks.append(Text(at=(left, y - 13.0 - 3.6 * row), words=words, height=2.0))
    return tuple(marks)
