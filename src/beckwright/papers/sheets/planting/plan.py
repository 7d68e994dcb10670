"""The planting plan itself: the stream between its banks, pockets outlined, plants as circles of their spread."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Angle, FloatArray, Points
from beckwright.base.words import number_in, stride
from beckwright.compose import Design
from beckwright.job.model import Pool, Step
from beckwright.papers import pens
from beckwright.papers.drawing import (
    BLACK,
    WHITE,
    Circle,
    Mark,
    Pen,
    Polyline,
    Stamp,
    Text,
    Window,
    turn_to_run_right,
)
from beckwright.papers.fonts import width
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.overview.plan import tree_marks
from beckwright.papers.sheets.shared.frame import LEFT, RIGHT, TOP
from beckwright.stages.planting import PlacedPocket, Planted, Planting
from beckwright.stages.surroundings import pit_corners

POCKET = Pen(width=0.5)
POCKET_OUTSIDE = Pen(width=0.5, dash=(2.5, 1.0))
SPREAD = Pen(width=0.18)
LINING_EDGE = Pen(width=0.25, dash=(0.8, 0.8))
NUMERAL = 1.8
NEAREST = 0.7
"""Plants are drawn no nearer to one another than this share of their spacing."""
MOST_DRAWN = 600
"""Circles drawn in one share of a pocket; beyond it they are only counted."""


def turned_extent(
    design: Design, planting: Planting, margin: float
) -> tuple[FloatArray, FloatArray, Angle, FloatArray]:
    """Lower and upper corner of pockets and the stream beside them, turned so that water runs right; the turn."""
    turn = turn_to_run_right(design.course.alignment.vertices)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    at = design.course.stations
    first = min(placed.pocket.start for placed in planting.pockets)
    last = max(placed.pocket.end for placed in planting.pockets)
    stream = at.points[(at.chainage >= first) & (at.chainage <= last)]
    turned = np.vstack([stream, *(placed.outline for placed in planting.pockets)]) @ rotation
    return turned.min(axis=0) - margin, turned.max(axis=0) + margin, turn, rotation


def planting_marks(design: Design, planting: Planting, window: Window, numbers: dict[str, int]) -> tuple[Mark, ...]:
    """Everything seen through the window."""
    labels: list[Label] = []
    marks: list[Mark] = [*tree_marks(design, labels), *_stream(design), *_chainages(design)]
    for placed in planting.pockets:
        marks.append(
            Polyline(
                points=placed.outline,
                layer="pocket",
                pen=POCKET if placed.pocket.inside else POCKET_OUTSIDE,
                closed=True,
                fill=WHITE,
            )
        )
        marks.extend(_plants(design, placed, window, numbers))
        labels.append(_label(placed, numbers))
    placing = place(labels, window, pens.THIN, keep_off=tuple(_keep_off(design, planting, window)))
    return (*marks, *placing.marks)


def _stream(design: Design) -> Iterator[Mark]:
    course, at = design.course, design.course.stations
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        banks = [course.alignment.beside(at.chainage[here], side * at.width[here] / 2) for side in (1.0, -1.0)]
        hatch = pens.WATER_RULING if isinstance(stretch.reach, Pool) else None
        outline = np.vstack([banks[0], banks[1][::-1]])
        yield Polyline(points=outline, layer="bed", closed=True, fill=WHITE, hatch=hatch, pen=pens.THIN)
        for sign, edge in ((1.0, at.edge_left), (-1.0, at.edge_right)):
            away = at.width[here] / 2 + course.side_slope * (edge - at.rim)[here]
            line = course.alignment.beside(at.chainage[here], sign * away)
            yield Polyline(points=line, layer="edge of lining", pen=LINING_EDGE)
    corners = np.array(pit_corners(design.job.reservoir))
    yield Polyline(points=corners, layer="reservoir", pen=pens.MEDIUM, closed=True, fill=WHITE)


def _chainages(design: Design) -> Iterator[Mark]:
    """A peg each metre on the line, told each second."""
    chainage = np.arange(0.0, design.course.length + 1e-9, stride(1.0, "m"))
    for number, (each, (east, north)) in enumerate(zip(chainage, design.course.alignment.at(chainage), strict=True)):
        marks: list[Mark] = [Circle(at=(0.0, 0.0), radius=0.35, layer="peg", fill=BLACK)]
        if number % 2 == 0:
            marks.append(
                Text(
                    at=(0.0, -0.9),
                    words=f"{number_in(each, 'm'):g}",
                    height=NUMERAL,
                    layer="peg",
                    across="middle",
                    up="top",
                    halo=0.2,
                )
            )
        yield Stamp(at=(float(east), float(north)), marks=tuple(marks))


def _plants(design: Design, placed: PlacedPocket, window: Window, numbers: dict[str, int]) -> Iterator[Mark]:
    """Every plant where it would stand: shares follow one another along the pocket."""
    begun = 0.0
    for planted in placed.plants:
        spots = positions(design, placed, planted, begun)
        begun += planted.share
        number = f"{numbers[planted.named.name]}"
        plant = planted.named.plant
        spacing = planted.spacing or 0.0
        spread = min(plant.spread, spacing) if plant else spacing
        fits = spacing * 1000 / window.scale > width(number, NUMERAL) + 1.2
        for east, north in spots.tolist():
            yield Circle(at=(east, north), radius=spread / 2, layer="plant", pen=SPREAD)
            if fits:
                yield Text(at=(east, north), words=number, height=NUMERAL, layer="plant", across="middle", up="middle")
            else:
                yield Circle(at=(east, north), radius=0.25 * window.scale / 1000, layer="plant", fill=BLACK)


def positions(design: Design, placed: PlacedPocket, planted: Planted, begun: float) -> Points:
    """Where plants stand in their share of a pocket: rows along it, every other one set over by half in triangles."""
    pocket, spacing = placed.pocket, planted.spacing
    if spacing is None:
        return np.zeros((0, 2))
    triangles = design.job.planting.pattern == "triangles"
    long, wide = (pocket.end - pocket.start) * planted.share, pocket.width
    start = pocket.start + (pocket.end - pocket.start) * begun
    apart = spacing * (np.sqrt(3) / 2 if triangles else 1.0)
    rows, count = max(int(wide / apart + 1e-9), 1), max(round(long / spacing), 1)
    if rows * count > MOST_DRAWN:
        return np.zeros((0, 2))
    along = start + (np.arange(count) + 0.5) * long / count
    chain, across = [], []
    for row in range(rows):
        over = spacing / 4 * (1 if row % 2 else -1) if triangles and rows > 1 else 0.0
        chain.append(np.clip(along + over, start, start + long))
        across.append(np.full(count, (row + 0.5) / rows))
    return _apart(_spots(placed, np.concatenate(chain), np.concatenate(across)), spacing * NEAREST)


def _apart(spots: Points, nearest: float) -> Points:
    """Those that keep their distance from the ones before: inside a sharp bend rows run into one another."""
    kept: list[FloatArray] = []
    for spot in spots:
        if all(np.hypot(*(spot - other)) >= nearest for other in kept):
            kept.append(spot)
    return np.array(kept).reshape(-1, 2)


def _spots(placed: PlacedPocket, chainage: FloatArray, across: FloatArray) -> Points:
    """Points between the two sides of an outline, by chainage and by the share of its width from the near side."""
    knots = np.linspace(placed.pocket.start, placed.pocket.end, len(placed.near))
    sides = [
        np.column_stack([np.interp(chainage, knots, side[:, axis]) for axis in (0, 1)])
        for side in (placed.near, placed.far)
    ]
    spots: Points = sides[0] + (sides[1] - sides[0]) * across[:, None]
    return spots


def _label(placed: PlacedPocket, numbers: dict[str, int]) -> Label:
    east, north = placed.far[len(placed.far) // 2].tolist()
    told = ", ".join(f"{numbers[planted.named.name]}" for planted in placed.plants)
    return Label(
        at=(east, north),
        words=f"{placed.letter}: {told}",
        height=3.5,
        weight=700,
        narrow=True,
        gap=2.0,
        priority=9,
        layer="pocket",
    )


def _keep_off(design: Design, planting: Planting, window: Window) -> Iterator[Box]:
    """Boxes over the pockets and the stream, so that no words cover them."""
    for placed in planting.pockets:
        near, far = window.on_paper(placed.near), window.on_paper(placed.far)
        for one, other in zip(near, far, strict=True):
            low, high = np.minimum(one, other), np.maximum(one, other)
            yield float(low[0]) - 0.5, float(low[1]), float(high[0]) + 0.5, float(high[1])
    at = design.course.stations
    for (east, north), reach in zip(
        window.on_paper(at.points).tolist(), (at.width / 2 * 1000 / window.scale).tolist(), strict=True
    ):
        yield east - reach, north - reach, east + reach, north + reach
    yield LEFT, TOP - 34.0, LEFT + 24.0, TOP
    yield LEFT, window.corner[1], RIGHT, window.corner[1] + 12.0
