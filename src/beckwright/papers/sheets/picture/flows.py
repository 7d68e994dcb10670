"""One fall cut through at three flows side by side, by day, true to scale."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Ratio
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.figures.make import main_flow
from beckwright.papers.drawing import Mark, Millimetres, Pen, Point, Polyline, View, Window, rectangle, section_window
from beckwright.papers.sheets.picture.colours import DAY
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.lip_stones import PROJECTS

GAP: Millimetres = 3.0
CAPTION: Millimetres = 8.0
UPSTREAM: Length = 0.45
ROUND = (10, 11, 12, 13, 14, 15, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 90, 100)
OUTLINE = Pen(width=0.35, colour=DAY.stone)
SHINE = Pen(width=0.4, colour=DAY.shine)
"""A trickle over a lip is a line on the paper at any scale: it is drawn, never thinner than can be seen."""


@value
class Shown:
    """The fall that is drawn, the flows it is drawn at, how thick its stone is."""

    fall: Fall
    sheet: Sheet
    flows: tuple[int, ...]
    thick: Length


def shown_fall(design: Design, works: Works) -> Shown | None:
    """The highest fall. None where nothing falls."""
    falls = [(fall, fall.sheet) for fall in design.falls if fall.sheet is not None]
    if not falls:
        return None
    fall, sheet = max(falls, key=lambda each: each[0].lip.drop)
    thick = next((lip.size[2] for lip in works.stonework.lips if lip.name == fall.lip.name), 0.0)
    return Shown(fall=fall, sheet=sheet, flows=three_flows(design), thick=thick)


def three_flows(design: Design) -> tuple[int, ...]:
    """The least flow, the one that runs longest, the largest; two where the job names no third."""
    order = np.argsort(design.water.flows, kind="stable").tolist()
    main = design.water.number(main_flow(design.job))
    middle = main if main not in (order[0], order[-1]) else order[len(order) // 2]
    return tuple(dict.fromkeys((order[0], middle, order[-1])))


def flow_views(shown: Shown, corner: Point, size: Point) -> tuple[View, ...]:
    """A view for each flow, side by side, words above each."""
    count = len(shown.flows)
    wide, tall = (size[0] - (count - 1) * GAP) / count, size[1] - CAPTION
    lefts = [corner[0] + place * (wide + GAP) for place in range(count)]
    return tuple(
        _view(shown, flow, (left, corner[1]), (wide, tall)) for flow, left in zip(shown.flows, lefts, strict=True)
    )


def _view(shown: Shown, flow: int, corner: Point, size: Point) -> View:
    sheet = shown.sheet
    down = max(2.2 * float(sheet.landed.far.max()), 1.2 * sheet.floor_drop)
    tall = 1.45 * sheet.floor_drop + 0.1
    scale = rounded_up(1000.0 * max((UPSTREAM + down) / size[0], tall / size[1]))
    wide = size[0] * scale / 1000.0
    left = -UPSTREAM - (wide - UPSTREAM - down) / 2
    low = -1.15 * sheet.floor_drop - (size[1] * scale / 1000.0 - tall) / 2
    window = section_window(corner=corner, size=size, scale=scale, left=left, low=low)
    return View(name=f"day {flow + 1}", window=window, marks=(*_ground(shown, window), *_water(shown, flow, window)))


def rounded_up(need: Ratio) -> Ratio:
    """The next round scale: a sketch fills its box, and is measured by its bar."""
    power = 10.0 ** (np.floor(np.log10(need)) - 1)
    return float(next(each for each in ROUND if each * power >= need - 1e-9) * power)


def _ends(window: Window) -> tuple[Length, Length, Length, Length]:
    (left, low), (right, high) = window.on_site(np.array([window.outline()[0], window.outline()[2]])).tolist()
    return left, right, low, high


def _ground(shown: Shown, window: Window) -> Iterator[Mark]:
    left, right, low, _ = _ends(window)
    face, floor, under = -PROJECTS.amount, -shown.sheet.floor_drop, -shown.thick
    stone = [(left, 0.0), (0.0, 0.0), (0.0, under), (face, under)]
    ground = np.array([(left, low), *stone, (face, floor), (right, floor), (right, low)])
    yield Polyline(points=ground, layer="ground", closed=True, fill=DAY.earth, pen=OUTLINE)


def _water(shown: Shown, flow: int, window: Window) -> Iterator[Mark]:
    """Water over the lip, falling, and below: each at the middle of its band."""
    left, right, _, _ = _ends(window)
    lip, sheet = shown.fall.lip, shown.sheet
    head, brink, fall = float(lip.head[MIDDLE, flow]), float(lip.brink[flow]), float(sheet.fall[MIDDLE, flow])
    still = rectangle((-PROJECTS.amount, -sheet.floor_drop), (right + PROJECTS.amount, sheet.floor_drop - fall))
    yield Polyline(points=still, layer="still water", closed=True, fill=DAY.still)
    surface = np.array([(-PROJECTS.amount, -fall), (right, -fall)])
    yield Polyline(points=surface, layer="still water", pen=SHINE)
    over = np.array([(left, 0.0), (left, head), (-3.0 * head, head), (0.0, brink), (0.0, 0.0)])
    yield Polyline(points=over, layer="running water", closed=True, fill=DAY.moving)
    yield Polyline(points=over[1:4], layer="running water", pen=SHINE)
    if fall > 0.0:
        shape = falling(float(sheet.landed.by_fall[MIDDLE, flow]), fall, brink)
        yield Polyline(points=shape, layer="falling water", closed=True, fill=DAY.moving, pen=SHINE)


def falling(far: Length, fall: Length, brink: Length) -> FloatArray:
    """The sheet from its under side to its upper one, which leaves the lip higher by its depth there."""
    part = np.linspace(0.0, 1.0, 15)
    under = np.column_stack([part * far, -fall * part**2])
    longer = far * float(np.sqrt((fall + brink) / fall))
    upper = np.column_stack([part * longer, brink - (fall + brink) * part**2])
    return np.vstack([under, upper[::-1]])
