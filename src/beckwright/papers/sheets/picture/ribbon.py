"""One ribbon of the picture sheet: earth, stones, lips and the water of one flow, as the water stage has them."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Length, Ratio
from beckwright.compose import Design, Works
from beckwright.job.model import Pool, Step
from beckwright.papers import pens
from beckwright.papers.drawing import Mark, Millimetres, Pen, Polyline, Window
from beckwright.papers.sheets.picture.colours import LIT, Light
from beckwright.papers.sheets.picture.flows import falling
from beckwright.stages.falls import Fall
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.lip_stones import PROJECTS

RESERVOIR: Millimetres = 9.0
"""Of its cover, drawn at the lower end."""
EARTH_DEEP: Millimetres = 3.0
SHINE: Millimetres = 0.35
"""No line of water is thinner: a trickle is a film of a few millimetres."""
UNSEEN: Millimetres = 0.5
THREAD, HIDDEN = (1.4, 0.9), (0.0, 1.2)
"""Strokes where water threads between the stones, dots where it runs unseen."""


def pieces_of(design: Design) -> list[IntArray]:
    """Stations of each unbroken length between drops."""
    after = _after(design)
    return [np.flatnonzero(after == each) for each in np.unique(after)]


def first_below(design: Design, lip: str) -> int | None:
    """The first station below a step's lip; None where the reservoir follows."""
    names = [each.reach.name for each in design.course.of_kind(Step)]
    if lip not in names:
        return None
    place = int(np.searchsorted(_after(design), names.index(lip) + 1))
    return place if place < len(design.course.stations.chainage) else None


def _after(design: Design) -> IntArray:
    """How many steps lie above each station, (n,)."""
    steps = [number for number, each in enumerate(design.course.stretches) if isinstance(each.reach, Step)]
    after: IntArray = np.searchsorted(steps, design.course.stations.reach)
    return after


def surface_of(design: Design, flow: int, deeper: Ratio) -> FloatArray:
    """Running water as drawn, (n,): so much deeper over stones and rims; among the stones where none shows."""
    at = design.course.stations
    level = design.water.level[MIDDLE, flow]
    drawn: FloatArray = at.rim + np.where(level > at.rim, deeper, 1.0) * (level - at.rim)
    return drawn


def shows(design: Design, flow: int, end: int = MIDDLE) -> BoolArray:
    """Where water is in view, (n,), at one end of the band."""
    seen: BoolArray = (design.water.shown[end, flow] > 0.0) | pools_of(design)
    return seen


def pools_of(design: Design) -> BoolArray:
    """Stations of pools, (n,)."""
    numbers = [number for number, each in enumerate(design.course.stretches) if isinstance(each.reach, Pool)]
    pools: BoolArray = np.isin(design.course.stations.reach, numbers)
    return pools


def seen_over(design: Design, flow: int) -> FloatArray:
    """Length of the course over which water is in view, least first, (3,)."""
    chainage, pieces = design.course.stations.chainage, pieces_of(design)
    lengths = [sum(_length(chainage[here], shows(design, flow, end)[here]) for here in pieces) for end in range(3)]
    return np.sort(lengths)


def _length(chainage: FloatArray, seen: BoolArray) -> Length:
    return float((np.diff(chainage) * (seen[1:].astype(float) + seen[:-1]) / 2).sum())


def earth(design: Design, window: Window, light: Light) -> Iterator[Mark]:
    """A strip of ground under the course, the reservoir's cover at its end."""
    at, end, foot = design.course.stations, design.course.end_level, design.course.length
    far, deep = foot + RESERVOIR * window.scale / 1000.0, EARTH_DEEP * window.scale_up / 1000.0
    line = np.vstack([np.column_stack([at.chainage, at.bed]), [(foot, end), (far, end)]])
    base = np.append(at.bed - at.stone, [end, end])
    grid = np.linspace(0.0, far, 400)
    # Under a drop the strip is as thick as elsewhere: its underside goes by the lowest bed nearby.
    near = np.abs(line[:, 0][None, :] - grid[:, None]) <= 2.0 * window.scale / 1000.0
    under = np.minimum(np.where(near, base[None, :], np.inf).min(axis=1), np.interp(grid, line[:, 0], base)) - deep
    ground = np.vstack([line, np.column_stack([grid, under])[::-1]])
    yield Polyline(points=ground, layer="ground", closed=True, fill=light.earth)
    cover = np.array([(foot, end), (far, end), (far, end - deep), (foot, end - deep)])
    crates = replace(pens.CRATES, pen=replace(pens.CRATES.pen, colour=light.stone))
    yield Polyline(points=cover, layer="reservoir", closed=True, fill=light.sky, hatch=crates)
    yield Polyline(points=cover[:2], layer="reservoir", pen=Pen(width=0.7, colour=light.stone))


def stones(design: Design, works: Works, window: Window, light: Light) -> Iterator[Mark]:
    """The bed with the stones that hang from it, floors of pools, lip stones."""
    at, pools = design.course.stations, pools_of(design)
    thin, line = Pen(width=0.13, colour=light.stone), Pen(width=0.25, colour=light.stone)
    for here in pieces_of(design):
        for part in (*unbroken(here, ~pools[here]), *unbroken(here, pools[here])):
            bed = np.column_stack([at.chainage[part], at.bed[part]])
            hung = pens.bed(bed, window)[1:] if at.stone[part].max() > 0.0 else ()
            yield from (replace(mark, pen=thin) for mark in hung if isinstance(mark, Polyline))
            yield Polyline(points=bed, layer="bed", pen=line)
    sizes = {lip.name: lip.size for lip in works.stonework.lips}
    for lip in design.water.lips:
        if lip.name in sizes and lip.drop > 0.0:
            _, back, thick = sizes[lip.name]
            left, right, low = lip.chainage - back, lip.chainage + PROJECTS.amount, lip.crest - thick
            slab = np.array([(left, lip.crest), (right, lip.crest), (right, low), (left, low)])
            yield Polyline(points=slab, layer="lip", closed=True, fill=light.stone)


def water(design: Design, flow: int, deeper: Ratio, light: Light) -> Iterator[Mark]:
    """Still and running water, its upper line by how it lies, dots where it runs unseen between the stones."""
    at, pools, seen = design.course.stations, pools_of(design), shows(design, flow)
    drawn, sheet = surface_of(design, flow, deeper), _sheet(design, flow)
    among = (design.water.level[MIDDLE, flow] + at.bed - at.stone) / 2
    for here in pieces_of(design):
        for layer, where, fill in (
            ("still water", pools, light.still),
            ("running water", seen & ~pools, light.moving),
        ):
            for part in unbroken(here, where[here]):
                area = _band(at.chainage[part], at.bed[part], drawn[part])
                yield Polyline(points=area, layer=layer, closed=True, fill=fill)
        for layer, where, pen, line in (
            ("shine", sheet, Pen(width=SHINE, colour=light.shine), drawn),
            ("threads", seen & ~sheet, Pen(width=SHINE, dash=THREAD, colour=light.shine), drawn),
            ("hidden water", ~seen, Pen(width=UNSEEN, dash=HIDDEN, colour=light.shine), among),
        ):
            for part in unbroken(here, where[here]):
                yield Polyline(points=np.column_stack([at.chainage[part], line[part]]), layer=layer, pen=pen)


def lit_water(design: Design, flow: int, deeper: Ratio, window: Window, lit: BoolArray) -> Iterator[Mark]:
    """Lit water is white: a line as wide as the water is drawn deep, never so thin that it is lost."""
    at, sheet, drawn = design.course.stations, _sheet(design, flow), surface_of(design, flow, deeper)
    for here in pieces_of(design):
        for part in unbroken(here, (lit & shows(design, flow))[here]):
            over = float((drawn[part] - at.rim[part]).mean()) * 1000.0 / window.scale_up
            pen = Pen(width=max(over, SHINE), dash=() if sheet[part].all() else THREAD, colour=LIT)
            yield Polyline(points=np.column_stack([at.chainage[part], drawn[part]]), layer="lit water", pen=pen)


def falls(design: Design, flow: int, deeper: Ratio, light: Light, lit: frozenset[str]) -> Iterator[Mark]:
    """Falling water, white where its lip has a lamp that is on."""
    for fall in design.falls:
        shape = falling_of(design, fall, flow, deeper)
        if shape is not None:
            bright = fall.lip.name in lit
            pen = Pen(width=SHINE, colour=LIT if bright else light.shine)
            fill = LIT if bright else light.moving
            yield Polyline(points=shape, layer="falling water", closed=True, fill=fill, pen=pen)


def falling_of(design: Design, fall: Fall, flow: int, deeper: Ratio) -> FloatArray | None:
    """The sheet from a lip to the water as drawn below it; it lands as far out as the stage says. None where none."""
    lip = fall.lip
    if fall.sheet is None or fall.sheet.fall[MIDDLE, flow] <= 0.0:
        return None
    below = first_below(design, lip.name)
    under = lip.crest - lip.drop if below is None else float(surface_of(design, flow, deeper)[below])
    if lip.crest <= under:
        return None
    shape = falling(float(fall.sheet.landed.by_fall[MIDDLE, flow]), lip.crest - under, deeper * float(lip.brink[flow]))
    moved: FloatArray = shape + np.array([lip.chainage + PROJECTS.amount, lip.crest])
    return moved


def _sheet(design: Design, flow: int) -> BoolArray:
    sheet: BoolArray = (design.water.sheet[MIDDLE, flow] & shows(design, flow)) | pools_of(design)
    return sheet


def unbroken(here: IntArray, wanted: BoolArray) -> Iterator[IntArray]:
    """Stretches of stations in a piece where something holds, each up to the station where it no longer does."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], wanted, [False]]).astype(int)))
    for start, stop in edges.reshape(-1, 2):
        part = here[start : stop + 1]
        if len(part) > 1:
            yield part


def _band(chainage: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    return np.vstack([np.column_stack([chainage, low]), np.column_stack([chainage, high])[::-1]])
