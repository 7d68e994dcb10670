"""The pit floor on the reservoir sheet: one layer of whole crates, the chamber, and what lies round them."""

import numpy as np

from beckwright.base.words import number_in
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import (
    WHITE,
    Dimension,
    Hatch,
    Mark,
    Pen,
    Point,
    Polyline,
    Stamp,
    Window,
    rectangle,
)
from beckwright.papers.labels import Box
from beckwright.papers.sheets.reservoir.labels import (
    APART,
    chamber_words,
    corner_letters,
    named_on_plan,
    pair,
    placed,
    taken,
)
from beckwright.papers.sheets.reservoir.place import Standing, gives_way, outline_of
from beckwright.stages.crates import Layer, Placed

GEOTEXTILE = Pen(width=0.35, dash=(1.6, 0.9))
UNDER = Pen(width=0.25, dash=(1.0, 0.8))
"""Joints of the layer underneath."""
SUMP = pens.DIG_LEVEL
FILLS: dict[str, Hatch] = {"crates": pens.STONES, "stones": pens.STONES, "open": pens.WATER_RULING}


def layer_marks(
    design: Design,
    stands: Standing,
    layers: tuple[Layer | None, Layer | None],
    window: Window,
    keep_off: tuple[Box, ...],
) -> tuple[Mark, ...]:
    """Plan of one layer, ``layers`` being it and the one it lies on, if any; None for a pit without crates."""
    layer, under = layers
    pit = design.job.reservoir
    floor = rectangle((0.0, 0.0), (pit.length, pit.width))
    first = under is None
    marks: list[Mark] = [
        Polyline(points=floor, layer="pit", pen=pens.THIN, closed=True, fill=WHITE, hatch=FILLS[pit.fill]),
        *_crates(layer, stands.chamber),
        *(_joints(under, stands.chamber) if under else ()),
        *_round(design, window),
        *_chamber(design, stands, first=first),
        *(_ways_out(design, stands, window) if first else ()),
        *corner_letters(design),
        *chamber_words(stands, window),
    ]
    named = named_on_plan(design, stands, layer, window, first=first)
    words = placed(named, window, (*keep_off, *taken(stands, floor, window, first=first)), floor)
    # Sizes last: a leader that passes under one is broken there.
    return (*marks, *words, *(_sizes(design, stands) if first else ()))


def _crates(layer: Layer | None, chamber: Placed | None) -> list[Mark]:
    """Each crate outlined and crossed once; those that give way to the chamber are not there."""
    marks: list[Mark] = []
    for crate in layer.crates if layer else ():
        if gives_way(crate, chamber):
            continue
        corners = outline_of(crate)
        marks += [
            Polyline(points=corners, layer="crates", pen=pens.MEDIUM, closed=True, fill=WHITE),
            Polyline(points=corners[[0, 2]], layer="crate crossed", pen=pens.CONTOUR),
        ]
    return marks


def _joints(under: Layer, chamber: Placed | None) -> list[Mark]:
    return [
        Polyline(points=outline_of(crate), layer="layer under", pen=UNDER, closed=True)
        for crate in under.crates
        if not gives_way(crate, chamber)
    ]


def _round(design: Design, window: Window) -> list[Mark]:
    """Lining outermost, and the geotextile that wraps the crates."""
    pit, out = design.job.reservoir, APART * window.scale / 1000.0
    drawn = [("liner", pens.LINER, 2 * out)]
    if pit.fill == "crates":
        drawn.append(("geotextile", GEOTEXTILE, out))
    return [
        Polyline(
            points=rectangle((-away, -away), (pit.length + 2 * away, pit.width + 2 * away)),
            layer=layer,
            pen=pen,
            closed=True,
        )
        for layer, pen, away in drawn
    ]


def _chamber(design: Design, stands: Standing, *, first: bool) -> list[Mark]:
    """The chamber with its wall, the pump in it at its size, and the sump as the dig sheets have it."""
    given, chamber = design.job.chamber, stands.chamber
    marks: list[Mark] = []
    if chamber is not None:
        marks += [
            Polyline(points=outline_of(chamber), layer="chamber", pen=pens.HEAVY, closed=True, fill=WHITE),
            Polyline(points=outline_of(chamber, given.wall), layer="chamber", pen=pens.THIN, closed=True),
        ]
    if given.pump is not None:
        length, width = sorted(given.pump[:2], reverse=_lies_along(stands))
        corner = (float(stands.pump[0]) - length / 2, float(stands.pump[1]) - width / 2)
        body = rectangle(corner, (length, width))
        marks.append(Polyline(points=body, layer="pump", pen=pens.MEDIUM, closed=True, hatch=pens.HEAP_HATCH))
    else:
        arms = (np.array([(-2.5, 0.0), (2.5, 0.0)]), np.array([(0.0, -2.5), (0.0, 2.5)]))
        cross = tuple(Polyline(points=arm, layer="pump", pen=pens.MEDIUM) for arm in arms)
        marks.append(Stamp(at=pair(stands.pump), marks=cross))
    if first and stands.sump_elsewhere:
        marks.append(Polyline(points=stands.sump, layer="sump as dug", pen=SUMP, closed=True))
    return marks


def _lies_along(stands: Standing) -> bool:
    """Whether the pump's longer side lies along the pit, as the chamber's does."""
    return stands.chamber is None or stands.chamber.length >= stands.chamber.width


def _ways_out(design: Design, stands: Standing, window: Window) -> list[Mark]:
    marks: list[Mark] = []
    if len(stands.hose) > 1:
        marks += pens.hose(stands.hose, window)
    half, stub = design.job.reservoir.overflow_bore / 2, 14.0 * window.scale / 1000.0
    x, y = pair(stands.overflow)
    out = x + stands.outward * stub
    marks += [
        Polyline(points=np.array([(x, y + side * half), (out, y + side * half)]), layer="overflow", pen=pens.MEDIUM)
        for side in (-1, 1)
    ]
    head = np.array([(0.0, 1.2), (3.0, 0.0), (0.0, -1.2)])
    turn = 0.0 if stands.outward > 0 else float(np.pi)
    arrow = Polyline(points=head, layer="overflow", pen=pens.THIN, closed=True, fill="#000000")
    return [*marks, Stamp(at=(out, y), marks=(arrow,), turn=turn)]


def _sizes(design: Design, stands: Standing) -> list[Mark]:
    """Length below, width at the end where no overflow leaves."""
    pit = design.job.reservoir
    x, away = (0.0, 7.0) if stands.outward > 0 else (pit.length, -7.0)
    return [
        _dimension((0.0, 0.0), (pit.length, 0.0), -7.0, pit.length),
        _dimension((x, 0.0), (x, pit.width), away, pit.width),
    ]


def _dimension(start: Point, end: Point, offset: float, length: float) -> Dimension:
    return Dimension(
        start=start, end=end, offset=offset, words=f"{number_in(length, 'm'):.2f}", pen=pens.THIN, weight=600
    )
