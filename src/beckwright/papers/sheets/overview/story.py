"""The level story: the long section, the bed pulled straight, and the eight levels station by station."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.words import (
    METRIC,
    chainages,
    flow,
    metres,
    millimetres,
    number_in,
    one_unit,
    reads,
    short_height,
    stride,
    unit_word,
)
from beckwright.compose import Design
from beckwright.job.model import Pool, Step
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    RED,
    SCALES,
    WHITE,
    Mark,
    Pen,
    Polyline,
    Sheet,
    Text,
    View,
    Weight,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TOP,
    SheetTitle,
    bar_length,
    frame,
    heading,
    scale_bar,
)
from beckwright.stages.levels import places
from beckwright.stages.water.beds import HIGH

NAMES = 25.0
"""Room for names at the left of both drawings."""
WIDE = RIGHT - LEFT - NAMES - 5.0
TABLE_STEP, TABLE_HEIGHT = 4.3, 1.8
ROWS = 9
SECTION_LOW = LOW + TITLE_HIGH + ROWS * TABLE_STEP + 74.0
STRIP_LOW, STRIP_HIGH = LOW + TITLE_HIGH + ROWS * TABLE_STEP + 4.0, 58.0
UP = (1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0)
STRIP_BELOW, STRIP_ABOVE = 0.22, 0.30
"""Height of the strip under and over the bed, m."""


def story_sheet(design: Design, number: int, of: int) -> Sheet:
    """The level story on A3, water running left to right; heights are drawn taller than lengths."""
    along = next(scale for scale in SCALES if scale >= max(1000 * design.course.length / WIDE, 20.0))
    section, strip = _section_window(design, along), _strip_window(along)
    up = section.scale_up
    scale = f"1:{along:g}; up 1:{up:g}"
    marks = (
        *frame(
            design.job,
            SheetTitle(title="Level story", reader="for the crew and the checker", scale=scale, number=number, of=of),
        ),
        *_levels_ruled(section),
        *_strip_ruled(design, strip),
        *_level_table(design, section),
        *_key(),
        *scale_bar((LEFT + 8, LOW + 3), along),
        Text(
            at=(LEFT + 20 + 1000 * bar_length(along) * one_unit("m") / along, LOW + 3.2),
            words=_how_fine(),
            height=2.2,
            weight=600,
        ),
    )
    views = (
        View(name="long section", window=section, marks=_section_marks(design, section)),
        View(name="bed pulled straight", window=strip, marks=_strip_marks(design, strip)),
    )
    return Sheet(
        name="level-story",
        title=f"{design.job.title.name}: level story",
        paper=A3_FLAT,
        views=views,
        marks=marks,
        description=f"Long section of {design.job.title.name}: existing ground, dig level, lining, bed, still and "
        "running water and both edges along the course, with a table of levels.",
    )


def _largest(design: Design) -> int:
    return int(np.argmax(design.water.flows))


def _section_window(design: Design, along: float) -> Window:
    at = design.course.stations
    low = min(float(at.dig.min()), float(at.ground.min())) - 0.08
    high = max(float(at.edge_left.max()), float(at.edge_right.max()), float(at.ground.max())) + 0.12
    room = TOP - 4.0 - SECTION_LOW
    up = next(scale for scale in UP if scale >= 1000 * (high - low) / room)
    low = (low + high) / 2 - room * up / 2000
    return section_window(
        corner=(LEFT + NAMES, SECTION_LOW), size=(WIDE, room), scale=along, scale_up=up, left=0.0, low=low
    )


def _strip_window(along: float) -> Window:
    up = 1000 * (STRIP_BELOW + STRIP_ABOVE) / STRIP_HIGH
    return section_window(
        corner=(LEFT + NAMES, STRIP_LOW), size=(WIDE, STRIP_HIGH), scale=along, scale_up=up, left=0.0, low=-STRIP_BELOW
    )


def _pieces(design: Design) -> list[slice]:
    """Stations of each unbroken length between lips: lines break at every drop."""
    at, course = design.course.stations, design.course
    pieces: list[slice] = []
    start = 0
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            stop = at.of(number - 1).stop if number else 0
            pieces.append(slice(start, stop))
            start = stop
    pieces.append(slice(start, len(at.chainage)))
    return [piece for piece in pieces if piece.stop - piece.start > 1]


def _section_marks(design: Design, window: Window) -> tuple[Mark, ...]:
    at, water = design.course.stations, design.water
    marks: list[Mark] = [*pens.existing_ground(_line(at.chainage, at.ground), window)]
    full = _largest(design)
    for here in _pieces(design):
        chain = at.chainage[here]
        wet = np.maximum(water.level[HIGH, full, here], at.bed[here])
        marks.append(
            Polyline(
                points=_band(chain, at.bed[here], wet), layer="running water", closed=True, hatch=pens.WATER_RULING
            )
        )
        marks.append(
            Polyline(points=_line(chain, water.level[HIGH, full, here]), layer="running water", pen=pens.RUNNING_FULL)
        )
        marks.append(Polyline(points=_line(chain, at.dig[here]), layer="dig level", pen=pens.DIG_LEVEL))
        marks.append(Polyline(points=_line(chain, at.liner[here]), layer="liner", pen=pens.LINER))
        marks.extend(pens.bed(_line(chain, at.bed[here]), window))
        marks.extend(pens.edge_left(_line(chain, at.edge_left[here]), window))
        marks.extend(pens.edge_right(_line(chain, at.edge_right[here]), window))
    marks.extend(_risers(design))
    for number, stretch in enumerate(design.course.stretches):
        if isinstance(stretch.reach, Pool):
            here = at.of(number)
            marks.extend(pens.still_water(_line(at.chainage[here], water.still[here]), window))
    labels = [
        Label(
            at=(lip.chainage, lip.crest),
            words=f"{lip.name} {metres(lip.crest)}, {_down(design, lip.crest)}"
            + (f", drop {short_height(lip.drop)}" if lip.drop else ""),
            height=2.5,
            weight=600,
        )
        for lip in water.lips
    ]
    placing = place(labels, window, pens.THIN, keep_off=_lines_on_paper(design, window), arrow="arrow")
    return (*marks, *placing.marks)


def _lines_on_paper(design: Design, window: Window) -> tuple[Box, ...]:
    """Boxes from the lowest to the highest line at every station, so that no words lie on them."""
    at = design.course.stations
    low = window.on_paper(_line(at.chainage, np.minimum(at.dig, at.ground)))
    high = window.on_paper(_line(at.chainage, np.maximum.reduce([at.edge_left, at.edge_right, at.ground])))
    half = float(np.diff(low[:, 0]).max()) / 2
    return tuple(
        (float(x) - half, float(bottom) - 1.0, float(x) + half, float(top) + 2.0)
        for (x, bottom), top in zip(low, high[:, 1], strict=True)
    )


def _down(design: Design, level: float) -> str:
    fall = design.job.datum.level - level
    return f"{metres(abs(fall))} {'down from' if fall >= 0 else 'over'} the mark"


def _risers(design: Design) -> list[Mark]:
    """The lining carried up each drop."""
    at, pieces = design.course.stations, _pieces(design)
    marks: list[Mark] = []
    for above, below in pairwise(pieces):
        foot, head = above.stop - 1, below.start
        riser = np.array([(at.chainage[foot], at.liner[foot]), (at.chainage[head], at.liner[head])])
        marks.append(Polyline(points=riser, layer="liner", pen=pens.LINER))
    return marks


def _line(chainage: FloatArray, levels: FloatArray) -> FloatArray:
    return np.column_stack([chainage, levels])


def _band(chainage: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    return np.vstack([_line(chainage, low), _line(chainage, high)[::-1]])


def _how_fine() -> str:
    if reads() is METRIC:
        return "Set out to 5 mm. Lips to 2 mm across."
    return "Set out to 0.01 ft. Lips to 1/16 in across."


def _levels_ruled(window: Window) -> list[Mark]:
    """A ruling each 0.1 m, a number each 0.5 m (or finer where the section is low)."""
    (left, low), (_, high) = window.corner, window.size
    bottom, top = window.origin[1], window.origin[1] + high * window.scale_up / 1000
    strides = [stride(step, "m") for step in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)]
    apart = next(step for step in strides if step * 1000 / window.scale_up >= 8.0)
    marks: list[Mark] = []
    for level in np.arange(np.ceil(bottom / apart) * apart, top, apart):
        y = low + (level - bottom) * 1000 / window.scale_up
        marks.append(Polyline(points=np.array([(left - 1.5, y), (left, y)]), layer="ruling", pen=pens.THIN))
        marks.append(
            Text(
                at=(left - 2.5, y),
                words=f"{number_in(level, 'm'):.2f}",
                height=1.8,
                across="right",
                up="middle",
                layer="ruling",
            )
        )
    return marks


def _strip_ruled(design: Design, window: Window) -> list[Mark]:
    (left, low), size = window.corner, window.size
    name = design.water.names[_largest(design)]
    marks: list[Mark] = [
        heading(
            (LEFT + 4, low + size[1] + 3),
            f"The bed pulled straight: heights in {unit_word('mm')} above the bed (the rim in a pool), {name} "
            f"{flow(float(design.water.flows.max()))} at its high end, fill settled",
            2.5,
        ),
        Polyline(points=rectangle(window.corner, size), layer="ruling", pen=pens.MEDIUM, closed=True),
    ]
    apart = 0.1 if reads() is METRIC else 0.1016
    for height in (-2 * apart, -apart, 0.0, apart, 2 * apart):
        y = low + (height - window.origin[1]) * 1000 / window.scale_up
        marks.append(Polyline(points=np.array([(left - 1.5, y), (left, y)]), layer="ruling", pen=pens.THIN))
        words = f"{'+' if height > 0 else ''}{number_in(height * 1000, 'mm'):,.0f}"
        marks.append(Text(at=(left - 2.5, y), words=words, height=1.8, across="right", up="middle", layer="ruling"))
    return marks


def _strip_marks(design: Design, window: Window) -> tuple[Mark, ...]:
    at, water, board = design.course.stations, design.water, design.freeboard
    full = _largest(design)
    marks: list[Mark] = []
    for here in _pieces(design):
        chain, rim = at.chainage[here], at.rim[here]
        level, settled = water.level[HIGH, full, here] - rim, np.minimum(at.settled_left, at.settled_right)[here] - rim
        marks.extend(pens.freeboard(_band(chain, np.minimum(level, settled), settled)))
        marks.append(
            Polyline(
                points=_band(chain, np.minimum(at.bed[here] - rim, level), np.maximum(level, at.bed[here] - rim)),
                layer="running water",
                closed=True,
                hatch=pens.WATER_RULING,
            )
        )
        marks.append(Polyline(points=_line(chain, level), layer="running water", pen=pens.RUNNING_FULL))
        marks.append(
            Polyline(points=_line(chain, at.ground[here] - rim), layer="existing ground", pen=pens.EXISTING_GROUND)
        )
        marks.append(Polyline(points=_line(chain, at.dig[here] - rim), layer="dig level", pen=pens.DIG_LEVEL))
        marks.append(Polyline(points=_line(chain, at.liner[here] - rim), layer="liner", pen=pens.LINER))
        marks.extend(pens.bed(_line(chain, at.bed[here] - rim), window))
        marks.append(Polyline(points=_line(chain, settled), layer="edge settled", pen=pens.EDGE_SETTLED))
        marks.extend(pens.edge_left(_line(chain, at.edge_left[here] - rim), window))
        marks.extend(pens.edge_right(_line(chain, at.edge_right[here] - rim), window))
    marks.extend(_shortages(design, full))
    marks.extend(_slits(design, window))
    labels = [
        Label(
            at=((start + end) / 2, -0.13),
            words=f"{side} {chainages(start, end)}: {_left(left)} of {millimetres(board.wanted)}",
            height=2.0,
            weight=600,
            colour=RED,
            gap=0.0,
        )
        for side, start, end, left in _short_places(design, full)
    ]
    slits = tuple(window.on_paper(np.array([(lip.chainage, 0.0)]))[0, 0] for lip in water.lips[1:])
    low, high = window.corner[1], window.corner[1] + window.size[1] * 0.4
    bars = tuple((float(x) - 2.0, low, float(x) + 2.0, high) for x in slits)
    placing = place(labels, window, Pen(width=0.25, colour=RED), keep_off=bars)
    return (*marks, *placing.marks)


def _left(freeboard: float) -> str:
    return f"{millimetres(freeboard)} left" if freeboard >= 0 else f"{millimetres(-freeboard)} under water"


def _short_places(design: Design, full: int) -> list[tuple[str, float, float, float]]:
    at, board = design.course.stations, design.freeboard
    found = []
    for side, settled in (("left", board.settled_left[full]), ("right", board.settled_right[full])):
        for start, end in places(settled < board.wanted, at.chainage, 1.0):
            here = (at.chainage >= start) & (at.chainage <= end)
            found.append((side, start, end, float(settled[here].min())))
    return found


def _shortages(design: Design, full: int) -> list[Mark]:
    """Where an edge is short of the wanted freeboard: from the water up to where the edge should be."""
    at, board = design.course.stations, design.freeboard
    worst = np.minimum(board.settled_left[full], board.settled_right[full])
    level = design.water.level[HIGH, full] - at.rim
    marks: list[Mark] = []
    for piece in _pieces(design):
        for start, end in places(worst[piece] < board.wanted, at.chainage[piece]):
            here = np.flatnonzero((at.chainage[piece] >= start) & (at.chainage[piece] <= end)) + piece.start
            if len(here) > 1:
                chain = at.chainage[here]
                marks.extend(pens.short(_band(chain, level[here], level[here] + board.wanted)))
    return marks


def _slits(design: Design, window: Window) -> list[Mark]:
    """A white slit at each lip with the drop written in it."""
    half = 1.6 * window.scale / 1000
    marks: list[Mark] = []
    for lip in design.water.lips[1:]:
        box = rectangle((lip.chainage - half, -STRIP_BELOW), (2 * half, STRIP_BELOW + STRIP_ABOVE))
        marks.append(Polyline(points=box, layer="lip", pen=pens.THIN, closed=True, fill=WHITE))
        words = f"{lip.name}: down {short_height(lip.drop)}"
        marks.append(
            Text(
                at=(lip.chainage, 0.04),
                words=words,
                height=1.8,
                weight=600,
                across="middle",
                up="middle",
                turn=float(np.pi / 2),
                layer="lip",
            )
        )
    return marks


def _level_table(design: Design, window: Window) -> tuple[Mark, ...]:
    """Eight levels under the chainage they belong to; where a lip stands, the level above it."""
    at, water = design.course.stations, design.water
    full, length = _largest(design), design.course.length
    strides = [stride(step, "m") for step in (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)]
    apart = next(step for step in strides if 1000 * step / window.scale >= 11.0)
    chain = np.arange(0.0, length + 1e-9, apart)
    if length - chain[-1] > 0.7 * apart:
        chain = np.append(chain, length)
    picked = [int(np.argmin(np.abs(at.chainage - each))) for each in chain]
    rows = (
        ("existing ground", at.ground),
        ("dig level", at.dig),
        ("lining", at.liner),
        ("bed", at.bed),
        ("still water", np.where(water.held, water.still, np.nan)),
        (f"{water.names[full]}, high end", water.level[HIGH, full]),
        ("edge left", at.edge_left),
        ("edge right", at.edge_right),
    )
    top = STRIP_LOW - 3.0
    marks: list[Mark] = []
    for number, (name, levels) in enumerate((("chainage", at.chainage), *rows)):
        y = top - number * TABLE_STEP
        weight: Weight = 600 if number == 0 else 400
        marks.append(Text(at=(LEFT + 1.5, y - 2.6), words=name, height=TABLE_HEIGHT, weight=weight, narrow=True))
        marks.append(
            Polyline(points=np.array([(LEFT, y - TABLE_STEP), (RIGHT, y - TABLE_STEP)]), layer="ruling", pen=pens.THIN)
        )
        for each, station in zip(chain, picked, strict=True):
            x = window.on_paper(np.array([(each, window.origin[1])]))[0, 0]
            level = float(levels[station])
            words = "–" if np.isnan(level) else f"{number_in(level, 'm'):.2f}"
            marks.append(Text(at=(float(x), y - 2.6), words=words, height=TABLE_HEIGHT, weight=weight, across="middle"))
    return tuple(marks)


def _key() -> tuple[Mark, ...]:
    """What each line means, drawn with its own pen."""
    left, top = LEFT + 6.0, LOW + TITLE_HIGH - 5.0
    window = section_window(corner=(0.0, 0.0), size=A3_FLAT, scale=1000.0, left=0.0, low=0.0)
    marks: list[Mark] = []
    entries: tuple[tuple[str, Callable[[FloatArray], tuple[Mark, ...]]], ...] = (
        ("existing ground", lambda line: pens.existing_ground(line, window)),
        ("dig level", lambda line: (Polyline(points=line, layer="key", pen=pens.DIG_LEVEL),)),
        ("lining", lambda line: (Polyline(points=line, layer="key", pen=pens.LINER),)),
        ("bed, top of stones", lambda line: pens.bed(line, window)),
        ("still water", lambda line: pens.still_water(line, window)),
        ("running water, high end", lambda line: (Polyline(points=line, layer="key", pen=pens.RUNNING_FULL),)),
        ("edge left", lambda line: pens.edge_left(line, window)),
        ("edge right", lambda line: pens.edge_right(line, window)),
        ("edge once settled", lambda line: (Polyline(points=line, layer="key", pen=pens.EDGE_SETTLED),)),
    )
    for number, (words, draw) in enumerate(entries):
        x, y = left + (number // 3) * 66.0, top - (number % 3) * 7.0
        marks.extend(draw(np.array([(x, y), (x + 20.0, y)])))
        marks.append(Text(at=(x + 23.0, y), words=words, height=2.0, up="middle"))
    for number, (words, draw_box) in enumerate((("freeboard", pens.freeboard), ("short", pens.short))):
        x, y = left + 3 * 66.0 - 10, top - number * 8.0 - 2.5
        marks.extend(draw_box(rectangle((x, y), (8.0, 5.0))))
        marks.append(Text(at=(x + 10.0, y + 2.5), words=words, height=2.0, up="middle"))
    return tuple(marks)
