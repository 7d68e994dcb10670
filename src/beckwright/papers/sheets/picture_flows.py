"""One fall cut through at three flows side by side, by day and, where a lamp is set at a fall, by night."""

from collections.abc import Iterator
from math import cos, sin

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.figures.make import main_flow
from beckwright.papers import pens
from beckwright.papers.drawing import (
    WHITE,
    Circle,
    Colour,
    Mark,
    Millimetres,
    Pen,
    Point,
    Polyline,
    Stamp,
    View,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.sheets.lip_card_views import fitting_scale
from beckwright.papers.sheets.picture_colours import (
    EARTH,
    GLOW,
    INK,
    LIT,
    NIGHT,
    NIGHT_EARTH,
    NIGHT_WATER,
    WATER,
    WATER_PALE,
)
from beckwright.stages.electrics import Placed
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.electrics import LANDING, UNDER_LIP
from beckwright.tables.lip_stones import PROJECTS

GAP: Millimetres = 4.0
CAPTION: Millimetres = 11.0
NIGHT_CAPTION: Millimetres = 6.0
UPSTREAM: Length = 0.45


@value
class Shown:
    """The fall that is drawn, the flows it is drawn at, the lamps at it, how thick its stone is."""

    fall: Fall
    sheet: Sheet
    flows: tuple[int, ...]
    lamps: tuple[Placed, ...]
    thick: Length


@value
class _Light:
    """Colours of one row."""

    sky: Colour
    earth: Colour
    still: Colour
    moving: Colour
    line: Colour
    edge: Colour


DAY = _Light(sky=WHITE, earth=EARTH, still=WATER_PALE, moving=WATER, line=INK, edge=WATER)
DARK = _Light(sky=NIGHT, earth=NIGHT_EARTH, still=NIGHT_WATER, moving=LIT, line=LIT, edge=LIT)


def shown_fall(design: Design, works: Works) -> Shown | None:
    """The highest fall that has lamps; where none has, the highest of all. None where nothing falls."""
    lit = {} if works.electrics is None else {drop.lip: drop.lamps for drop in works.electrics.drops if drop.lamps}
    falls = [(fall, fall.sheet) for fall in design.falls if fall.sheet is not None]
    if not falls:
        return None
    fall, sheet = max(falls, key=lambda each: (each[0].lip.name in lit, each[0].lip.drop))
    lamps = () if works.electrics is None else tuple(
        lamp for lamp in works.electrics.lamps if lamp.light.name in lit.get(fall.lip.name, ())
    )  # fmt: skip
    thick = next((lip.size[2] for lip in works.stonework.lips if lip.name == fall.lip.name), 0.0)
    return Shown(fall=fall, sheet=sheet, flows=three_flows(design), lamps=lamps, thick=thick)


def three_flows(design: Design) -> tuple[int, ...]:
    """The least flow, the one that runs longest, the largest; two where the job names no third."""
    order = np.argsort(design.water.flows, kind="stable").tolist()
    main = design.water.number(main_flow(design.job))
    middle = main if main not in (order[0], order[-1]) else order[len(order) // 2]
    return tuple(dict.fromkeys((order[0], middle, order[-1])))


def flow_views(shown: Shown, corner: Point, size: Point) -> tuple[tuple[View, ...], tuple[View, ...]]:
    """Views by day, and by night: none of these where no lamp is set at a fall."""
    count, rows = len(shown.flows), 2 if shown.lamps else 1
    wide = (size[0] - (count - 1) * GAP) / count
    tall = (size[1] - CAPTION - (rows - 1) * NIGHT_CAPTION) / rows
    tops = [corner[1] + size[1] - CAPTION - tall, corner[1]][:rows]
    lefts = [corner[0] + place * (wide + GAP) for place in range(count)]
    day, *night = (
        tuple(
            _view(shown, flow, (left, low), (wide, tall), dark=row == 1)
            for flow, left in zip(shown.flows, lefts, strict=True)
        )
        for row, low in enumerate(tops)
    )
    return day, night[0] if night else ()


def _view(shown: Shown, flow: int, corner: Point, size: Point, *, dark: bool) -> View:
    sheet = shown.sheet
    down = max(2.2 * float(sheet.landed.far.max()), 1.2 * sheet.floor_drop)
    tall = 1.45 * sheet.floor_drop + 0.1
    scale = fitting_scale((UPSTREAM + down, tall), size)
    wide = size[0] * scale / 1000.0
    left = -UPSTREAM - (wide - UPSTREAM - down) / 2
    low = -1.15 * sheet.floor_drop - (size[1] * scale / 1000.0 - tall) / 2
    window = section_window(corner=corner, size=size, scale=scale, left=left, low=low)
    light = DARK if dark else DAY
    marks = [*_ground(shown, window, light), *_water(shown, flow, window, light)]
    if dark:
        marks += [mark for lamp in shown.lamps[:1] for mark in _lamp(lamp, sheet)]
        marks = [*marks[:2], *_beams(shown, window), *marks[2:]]
    return View(name=f"{'night' if dark else 'day'} {flow + 1}", window=window, marks=tuple(marks))


def _ends(window: Window) -> tuple[Length, Length, Length, Length]:
    (left, low), (right, high) = window.on_site(np.array([window.outline()[0], window.outline()[2]])).tolist()
    return left, right, low, high


def _ground(shown: Shown, window: Window, light: _Light) -> Iterator[Mark]:
    left, right, low, high = _ends(window)
    face, floor, under = -PROJECTS.amount, -shown.sheet.floor_drop, -shown.thick
    sky = rectangle((left, low), (right - left, high - low))
    yield Polyline(points=sky, layer="sky", closed=True, fill=light.sky)
    stone = [(left, 0.0), (0.0, 0.0), (0.0, under), (face, under)]
    ground = np.array([(left, low), *stone, (face, floor), (right, floor), (right, low)])
    yield Polyline(points=ground, layer="ground", closed=True, fill=light.earth, pen=Pen(width=0.35, colour=light.line))


def _water(shown: Shown, flow: int, window: Window, light: _Light) -> Iterator[Mark]:
    """Water over the lip, falling, and below: each at the middle of its band."""
    left, right, _, _ = _ends(window)
    lip, sheet = shown.fall.lip, shown.sheet
    head, brink, fall = float(lip.head[MIDDLE, flow]), float(lip.brink[flow]), float(sheet.fall[MIDDLE, flow])
    still = rectangle((-PROJECTS.amount, -sheet.floor_drop), (right + PROJECTS.amount, sheet.floor_drop - fall))
    yield Polyline(points=still, layer="still water", closed=True, fill=light.still)
    surface = np.array([(-PROJECTS.amount, -fall), (right, -fall)])
    yield Polyline(points=surface, layer="still water", pen=Pen(width=0.35, colour=light.line))
    over = np.array([(left, 0.0), (left, head), (-3.0 * head, head), (0.0, brink), (0.0, 0.0)])
    yield Polyline(points=over, layer="running water", closed=True, fill=light.still)
    yield Polyline(points=over[1:4], layer="running water", pen=Pen(width=0.35, colour=light.edge))
    if fall > 0.0:
        sheet_of = _falling(float(sheet.landed.by_fall[MIDDLE, flow]), fall, brink)
        yield Polyline(
            points=sheet_of,
            layer="falling water",
            closed=True,
            fill=light.moving,
            pen=Pen(width=0.25, colour=light.line),
        )


def _falling(far: Length, fall: Length, brink: Length) -> FloatArray:
    """The sheet from its under side to its upper one, which leaves the lip higher by its depth there."""
    part = np.linspace(0.0, 1.0, 15)
    under = np.column_stack([part * far, -fall * part**2])
    longer = far * float(np.sqrt((fall + brink) / fall))
    upper = np.column_stack([part * longer, brink - (fall + brink) * part**2])
    return np.vstack([under, upper[::-1]])


def _beams(shown: Shown, window: Window) -> Iterator[Mark]:
    """The light of the first lamp, as wide as its beam, down to the floor."""
    lamp = shown.lamps[0]
    at = np.array([UNDER_LIP.amount, lamp.light.height])
    way = np.array([LANDING.amount, -shown.sheet.floor_drop]) - (0.0, lamp.light.height)
    turn, half = float(np.arctan2(way[1], way[0])), lamp.light.beam / 2
    reach = float(np.hypot(*way))
    ends = [at + reach * np.array([cos(turn + side * half), sin(turn + side * half)]) for side in (-1.0, 1.0)]
    floor = -shown.sheet.floor_drop
    cone = np.array([at, *(np.maximum(end, [-PROJECTS.amount, floor]) for end in ends)])
    yield Polyline(points=cone, layer="lights", closed=True, fill=GLOW)


def _lamp(lamp: Placed, sheet: Sheet) -> Iterator[Mark]:
    ring = (
        Circle(at=(0.0, 0.0), radius=1.1, layer="lights", pen=pens.MEDIUM, fill=LIT),
        Circle(at=(0.0, 0.0), radius=0.35, layer="lights", fill=INK),
    )
    yield Stamp(at=(UNDER_LIP.amount, max(lamp.light.height, -sheet.floor_drop)), marks=ring)
