"""The plan as a sketch: what lies where, in lines drawn over twice, for nobody to build from."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Points
from beckwright.compose import Design, Works
from beckwright.job.model import Pool, Step
from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, Circle, Mark, Pen, Point, Polyline, Stamp, View, Window
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.ground.plan import window_over
from beckwright.papers.sheets.picture.colours import EARTH, EDGE, LIGHT, WATER_PALE
from beckwright.papers.sheets.picture.night import at_stream, lamps_of
from beckwright.papers.sheets.supply.marks import eye_mark, lamp_mark
from beckwright.stages.surroundings import pit_corners

OVER: tuple[tuple[Pen, float], ...] = ((Pen(width=0.5), 0.0), (Pen(width=0.18), 0.35))
"""A line of a sketch is drawn twice: firmly, and lightly beside it, mm."""
CROWN = 4.5
"""Ring drawn for a tree, mm: how far its crown reaches nobody told."""


def sketch_view(design: Design, works: Works, corner: Point, size: Point) -> View:
    """Stream, falls, reservoir, trees, boundaries, and who looks at it from where."""
    pit = np.array(pit_corners(design.job.reservoir))
    trees = np.array([tree.at for tree in design.job.site.trees]).reshape(-1, 2)
    near = _near(trees, np.vstack([design.course.stations.points, pit]))
    shown = np.vstack([design.course.stations.points, pit, near])
    window = window_over(shown, corner, size, margin=0.8, along=design.course.alignment.vertices)
    labels: list[Label] = []
    marks: list[Mark] = [
        *_boundaries(design, window),
        *_trees(design, labels),
        *_reservoir(pit, labels, design, window),
        *_stream(design, window),
        *_falls(design, labels),
        *_lamps(design, works, labels),
        *_eyes(works, window, labels),
    ]
    placed = place(labels, window, pens.THIN, keep_off=_kept(design, window))
    return View(name="sketch plan", window=window, marks=(*marks, *placed.marks), world=True)


def _near(trees: Points, works: Points) -> Points:
    """Trees no farther from the works than these are long: others would make the sketch small."""
    if not len(trees):
        return trees
    long = float(np.hypot(*(works.max(axis=0) - works.min(axis=0))))
    away = np.hypot(*(trees[:, None, :] - works[None, :, :]).transpose(2, 0, 1)).min(axis=1)
    kept: Points = trees[away < 0.4 * long]
    return kept


def twice(line: Points, window: Window, layer: str, *, closed: bool = False) -> Iterator[Mark]:
    """A line as a hand draws it."""
    paper = window.on_paper(line)
    for pen, aside in OVER:
        wave = aside * np.sin(np.arange(len(paper)) * 0.9)
        moved = paper + np.column_stack([wave, aside * np.cos(np.arange(len(paper)) * 0.7)])
        yield Polyline(points=window.on_site(moved), layer=layer, pen=pen, closed=closed)


def _boundaries(design: Design, window: Window) -> Iterator[Mark]:
    for boundary in design.job.site.boundaries:
        yield from twice(np.array(boundary.line), window, "boundary")


def _trees(design: Design, labels: list[Label]) -> Iterator[Mark]:
    for tree in design.job.site.trees:
        ring = (
            Circle(at=(0.0, 0.0), radius=CROWN, layer="tree", pen=pens.THIN, fill=EDGE),
            Circle(at=(0.25, 0.2), radius=CROWN - 0.3, layer="tree", pen=Pen(width=0.13)),
            Circle(at=(0.0, 0.0), radius=0.7, layer="tree", fill=BLACK),
        )
        yield Stamp(at=tree.at, marks=ring)
        labels.append(Label(at=tree.at, words=tree.species, height=2.5, gap=CROWN + 0.8, priority=4))


def _reservoir(pit: Points, labels: list[Label], design: Design, window: Window) -> Iterator[Mark]:
    yield Polyline(points=pit, layer="reservoir", closed=True, fill=EARTH)
    yield from twice(pit, window, "reservoir", closed=True)
    reach = 500.0 * max(design.job.reservoir.length, design.job.reservoir.width) / window.scale
    labels.append(
        Label(at=design.job.reservoir.centre, words="covered reservoir", height=2.5, gap=reach + 1.5, priority=6)
    )


def _stream(design: Design, window: Window) -> Iterator[Mark]:
    course, at = design.course, design.course.stations
    banks: list[tuple[FloatArray, FloatArray]] = []
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        half = at.width[here] / 2
        if isinstance(stretch.reach, Pool):
            half = half * (0.8 + 0.2 * np.sin(np.linspace(0.0, np.pi, len(half))))
        left, right = (course.alignment.beside(at.chainage[here], side * half) for side in (1.0, -1.0))
        banks.append((left, right))
    for left, right in banks:
        yield Polyline(points=np.vstack([left, right[::-1]]), layer="bed", closed=True, fill=WATER_PALE)
    for left, right in banks:
        yield from twice(left, window, "course")
        yield from twice(right, window, "course")


def _falls(design: Design, labels: list[Label]) -> Iterator[Mark]:
    for lip in design.water.lips:
        ends = design.course.alignment.beside(np.full(2, lip.chainage), np.array([lip.width, -lip.width]) / 2)
        yield Polyline(points=ends, layer="lip", pen=pens.LINER)
        words = "where the water starts" if not lip.drop else lip.name
        at = (float(ends[0, 0]), float(ends[0, 1]))
        labels.append(Label(at=at, words=words, height=2.5, weight=600, priority=5))


def _lamps(design: Design, works: Works, labels: list[Label]) -> Iterator[Mark]:
    """Every lamp where it stands, and which way its light goes: as wide as its beam, as far as what it is turned to."""
    for each in lamps_of(design, works):
        lamp = each.lamp
        flat = each.reach * float(np.hypot(*lamp.way[:2]))
        turn = float(np.arctan2(lamp.way[1], lamp.way[0]))
        bow = turn + lamp.light.beam / 2 * np.linspace(-1.0, 1.0, 7)
        cone = np.vstack([[lamp.at], np.array(lamp.at) + flat * np.column_stack([np.cos(bow), np.sin(bow)])])
        yield Polyline(points=cone, layer="lights", closed=True, fill=LIGHT, pen=Pen(width=0.13))
    for each in lamps_of(design, works):
        yield Stamp(at=each.lamp.at, marks=lamp_mark((0.0, 0.0), 0.9))
        if not at_stream(design, each):
            labels.append(Label(at=each.lamp.at, words=each.lamp.light.name, height=2.0, gap=1.6, priority=3))


def _eyes(works: Works, window: Window, labels: list[Label]) -> Iterator[Mark]:
    """Places somebody looks from, where they lie on the sketch."""
    work = works.design.job.electrics
    low, high = window.outline()[0] + 4.0, window.outline()[2] - 4.0
    for view in () if work is None else work.views:
        paper = window.on_paper(np.array([view.at]))[0]
        if (paper > low).all() and (paper < high).all():
            yield Stamp(at=view.at, marks=eye_mark((0.0, 0.0)))
            labels.append(Label(at=view.at, words=view.name, height=2.5, gap=3.5, priority=7))


def _kept(design: Design, window: Window) -> tuple[Box, ...]:
    at = design.course.stations
    half = at.width / 2 * 1000.0 / window.scale + 0.8
    spots = [(*xy, float(reach)) for xy, reach in zip(window.on_paper(at.points).tolist(), half, strict=True)]
    trees = np.array([tree.at for tree in design.job.site.trees]).reshape(-1, 2)
    spots += [(*xy, CROWN) for xy in window.on_paper(trees).tolist()] if len(trees) else []
    pit = window.on_paper(np.array(pit_corners(design.job.reservoir)))
    inner = np.vstack([pit.mean(axis=0), *(pit.mean(axis=0) + (pit - pit.mean(axis=0)) * part for part in (0.4, 0.75))])
    spots += [(*xy, 0.2 * float(np.hypot(*(pit[2] - pit[0])))) for xy in inner.tolist()]
    left, low = window.corner
    top = low + window.size[1]
    rim = ((left, top - 30.0, left + 26.0, top), (left, low, left + 66.0, low + 12.0))
    return (*((x - r, y - r, x + r, y + r) for x, y, r in spots), *rim)
