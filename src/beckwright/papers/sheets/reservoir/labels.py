"""Words on the plan of the reservoir: what is named there, and where each name finds room."""

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.words import metres, millimetres, number_in
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import Mark, Text, Window, rectangle
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.overview.plan import dense
from beckwright.papers.sheets.reservoir.place import Standing, gives_way, outline_of
from beckwright.stages.crates import Layer, Placed
from beckwright.stages.setting_out.pit import CORNERS

APART = 0.9
"""Geotextile and lining are drawn this far out of the pit's side, so that they can be told apart, mm."""
ROUND = 9.5
"""Room for dimensions beside the pit, mm; ``THICK`` where there are none."""
THICK = 2.7
WRITTEN = 16.0
"""Side of a chamber on the paper that has room for words over and under its pump, mm."""
HEIGHT = 2.2


def placed(labels: list[Label], window: Window, kept: tuple[Box, ...], floor: FloatArray) -> tuple[Mark, ...]:
    """Labels outside the pit; those for which there is no room there are written on the crates."""
    left, low, right, high = window.on_paper(floor)[[0, 2]].ravel().tolist()
    outside = place(labels, window, pens.THIN, keep_off=(*kept, (left, low, right, high)), arrow="dot")
    within = place(outside.left_out, window, pens.THIN, keep_off=(*kept, *outside.boxes), arrow="dot")
    return (*outside.marks, *within.marks)


def taken(stands: Standing, floor: FloatArray, window: Window, *, first: bool) -> tuple[Box, ...]:
    """Boxes over lining, corner letters and dimensions round the pit, and over chamber, sump and hose in it."""
    corners = window.on_paper(floor)
    (left, low), (right, high) = corners[[0, 2]].tolist()
    before, behind = (ROUND, THICK) if stands.outward > 0 else (THICK, ROUND)
    ring: tuple[Box, ...] = (
        (left, low - ROUND, right, low + 1.0),
        (left, high - 1.0, right, high + THICK),
        (left - before, low, left + 1.0, high),
        (right - 1.0, low, right + behind, high),
    )
    letters = ((x, y, x, y) for x, y in corners.tolist())
    spots = [tuple(each + way * 6.5 for each, way in zip(box, (-1, -1, 1, 1), strict=True)) for box in letters]
    solid = [outline_of(stands.chamber)] if stands.chamber else []
    if first and stands.sump_elsewhere:
        solid.append(stands.sump)
    if first and len(stands.hose) > 1:
        solid += [np.array([at, at]) for at in dense(stands.hose)]
    for outline in solid:
        paper = window.on_paper(outline)
        spots.append((*(paper.min(axis=0) - 0.8).tolist(), *(paper.max(axis=0) + 0.8).tolist()))
    return (*ring, *spots)


def named_on_plan(design: Design, stands: Standing, layer: Layer | None, window: Window, *, first: bool) -> list[Label]:
    """All labels of one plan; what is the same on both stands on the first only."""
    pit = design.job.reservoir
    labels = _chamber_labels(design, stands, window)
    if layer is not None:
        labels += _stone_labels(layer, stands.chamber, rectangle((0.0, 0.0), (pit.length, pit.width)))
    return [*labels, *(_first_labels(design, stands, window) if first else ())]


def corner_letters(design: Design) -> list[Mark]:
    """Corners are called as on the dig sheets."""
    pit = design.job.reservoir
    corners = rectangle((0.0, 0.0), (pit.length, pit.width))
    ways = rectangle((-1.0, -1.0), (2.0, 2.0)) * 4.2
    return [
        Text(
            at=pair(at),
            words=name,
            height=3.5,
            weight=700,
            across="middle",
            up="middle",
            offset=pair(way),
            halo=0.3,
            layer="pit",
        )
        for name, at, way in zip(CORNERS, corners, ways, strict=True)
    ]


def chamber_words(stands: Standing, window: Window) -> list[Mark]:
    """Written into the chamber, over and under the pump, where it is large enough on the paper; else nothing."""
    chamber = stands.chamber
    if chamber is None or 1000.0 * min(chamber.length, chamber.width) / window.scale < WRITTEN:
        return []
    (left, low), (right, high) = outline_of(chamber)[[0, 2]].tolist()
    size, inset = f"{number_in(chamber.length, 'm'):.2f} x {number_in(chamber.width, 'm'):.2f}", 2.4
    return [
        Text(
            at=((left + right) / 2, level),
            words=words,
            height=1.8,
            across="middle",
            up="middle",
            offset=(0.0, away),
            layer="chamber",
        )
        for words, level, away in (("chamber", high, -inset), (size, low, inset))
    ]


def _chamber_labels(design: Design, stands: Standing, window: Window) -> list[Label]:
    if chamber_words(stands, window):
        return []
    if design.job.reservoir.fill == "open":
        words = "the pit is itself the pump's chamber"
    elif stands.chamber is None:
        words = "pump; size of its chamber not told"
    else:
        words = (
            f"chamber {number_in(stands.chamber.length, 'm'):.2f} x "
            f"{number_in(stands.chamber.width, 'm'):.2f} outside, pump"
        )
    pump = design.job.chamber.pump if stands.chamber is None else None
    return [
        Label(
            at=pair(stands.pump),
            words=words,
            height=HEIGHT,
            narrow=True,
            weight=600,
            gap=4.0 if pump is None else 500.0 * max(pump[:2]) / window.scale + 1.5,
            priority=6,
            layer="chamber",
        )
    ]


def _stone_labels(layer: Layer, chamber: Placed | None, floor: FloatArray) -> list[Label]:
    """One label at the widest place that no crate covers, if stone fits there at all."""
    from shapely import Polygon, get_parts, union_all

    laid = [Polygon(outline_of(crate)) for crate in layer.crates if not gives_way(crate, chamber)]
    if chamber is not None:
        laid.append(Polygon(outline_of(chamber)))
    open_parts = [part for part in get_parts(Polygon(floor).difference(union_all(laid))) if part.area > 1e-6]
    if not open_parts:
        return []
    at = max(open_parts, key=lambda part: part.area).representative_point()
    return [Label(at=(at.x, at.y), words="washed stone, no crate", height=HEIGHT, narrow=True, priority=7, layer="gap")]


def _first_labels(design: Design, stands: Standing, window: Window) -> list[Label]:
    pit, out = design.job.reservoir, APART * window.scale / 1000.0
    bore = millimetres(pit.overflow_bore)
    found = [
        Label(
            at=(float(stands.overflow[0]) + stands.outward * 8 * out, float(stands.overflow[1])),
            words=f"overflow {bore}, invert {metres(pit.overflow)}",
            height=HEIGHT,
            narrow=True,
            weight=600,
            gap=4.0,
            priority=8,
            layer="overflow",
        ),
        Label(
            at=(pit.length * 0.12, pit.width + 2 * out),
            words="lining",
            height=HEIGHT,
            narrow=True,
            priority=2,
            gap=4.0,
            layer="liner",
        ),
    ]
    if pit.fill == "crates":
        found.append(
            Label(
                at=(pit.length * 0.68, pit.width + out),
                words="geotextile round the block",
                height=HEIGHT,
                narrow=True,
                priority=3,
                gap=4.0,
                layer="geotextile",
            )
        )
    if stands.leaves is not None:
        words = f"hose, {design.job.route.chosen.name}, out over the lining's edge"
        found.append(
            Label(at=pair(stands.leaves), words=words, height=HEIGHT, narrow=True, weight=600, priority=7, layer="hose")
        )
    if stands.sump_elsewhere:
        at = pair(stands.sump[2])
        found.append(
            Label(
                at=at,
                words="sump as the dig sheets have it",
                height=HEIGHT,
                narrow=True,
                priority=4,
                layer="sump as dug",
            )
        )
    return found


def pair(point: FloatArray) -> tuple[float, float]:
    """A point (2,) as two numbers."""
    return float(point[0]), float(point[1])
