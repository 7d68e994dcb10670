"""What is drawn on the tree sheet's plan: digs by hand, boards beside them, and the fence on each circle."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.compose import Works
from beckwright.papers import pens
from beckwright.papers.drawing import Circle, Hatch, Mark, Millimetres, Pen, Point, Polyline, Stamp, Window, rectangle
from beckwright.papers.sheets.shared.frame import LEFT, RIGHT, TITLE_WIDE
from beckwright.stages.earthworks.roots import QUARTER, RootWork
from beckwright.stages.setting_out import pieces
from beckwright.tables.trees import BOARDS_BESIDE

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

PLAN_WIDE = RIGHT - TITLE_WIDE - LEFT
FENCE = Pen(width=0.5)
BOARDS = Hatch(name="boards", lines=pens.WATER_RULING.lines, pen=Pen(width=0.13))
OFF: Millimetres = 1.2
"""The fence is drawn so far outside the circle it stands on: one line over another cannot be told apart."""
POSTS: Millimetres = 6.0


def guarded(works: Works, rows: tuple[RootWork, ...], window: Window) -> tuple[Mark, ...]:
    """Digs by hand and boards inside each circle, the fence round it where nobody works, and the whole hose."""
    marks = [mark for row in rows for mark in _guarded(works, row, window)]
    line = works.design.job.route.line
    return (*marks, *(pens.hose(np.array(line), window) if len(line) > 1 else ()))


def _guarded(works: Works, row: RootWork, window: Window) -> Iterator[Mark]:
    from shapely import Point as Spot

    dug = _dug(works)
    ring = Spot(row.circle.tree.at).buffer(row.circle.radius, quad_segs=QUARTER)
    beside = dug.buffer(BOARDS_BESIDE.amount)
    for area in _areas(beside.difference(dug).intersection(ring)):
        yield Polyline(points=area, layer="boards", pen=pens.THIN, closed=True, hatch=BOARDS)
    for area in _areas(dug.intersection(ring)):
        yield Polyline(points=area, layer="dig by hand", pen=pens.MEDIUM, closed=True, hatch=pens.SHORT_HATCH)
    outside = Spot(row.circle.tree.at).buffer(row.circle.radius + OFF * window.scale / 1000.0, quad_segs=QUARTER)
    for line in _lines(outside.exterior.difference(beside)):
        yield from _fence(line, window)


def _dug(works: Works) -> "BaseGeometry":
    """Everything that is dug or banked on plan: stream, pit, hose trench."""
    import shapely

    shapes = [shapely.make_valid(shapely.Polygon(line)) for line in works.setting_out.outlines]
    pit, trench = works.setting_out.pit.dig, works.groundwork.trench
    shapes += [shapely.Polygon(pit.rim)] * (len(pit.rim) > 2)
    if trench is not None:
        shapes += [shapely.LineString(line).buffer(trench.width / 2) for line in pieces(trench) if len(line) > 1]
    return shapely.union_all(shapes)


def _areas(shape: "BaseGeometry") -> Iterator[FloatArray]:
    """Outlines of areas; one with a hole is told as two halves, for a hatch knows of no holes."""
    import shapely

    for part in shapely.get_parts(shape):
        if part.geom_type != "Polygon" or part.is_empty or part.area < 1e-4:
            continue
        if not part.interiors:
            yield shapely.get_coordinates(part.exterior)[:-1]
            continue
        hole = shapely.Polygon(part.interiors[0]).centroid
        left, low, _, high = part.bounds
        half = shapely.box(left - 1.0, low - 1.0, hole.x, high + 1.0)
        yield from _areas(part.intersection(half))
        yield from _areas(part.difference(half))


def _lines(shape: "BaseGeometry") -> Iterator[FloatArray]:
    import shapely

    merged = shapely.line_merge(shape) if shape.geom_type == "MultiLineString" else shape
    for part in shapely.get_parts(merged):
        if part.geom_type in ("LineString", "LinearRing") and part.length > 0.2:
            yield shapely.get_coordinates(part)


def _fence(line: FloatArray, window: Window) -> Iterator[Mark]:
    """A line with a cross on it every few millimetres."""
    yield Polyline(points=line, layer="fence", pen=FENCE)
    paper = window.on_paper(line)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(paper, axis=0).T))])
    for far in np.arange(POSTS / 2, along[-1], POSTS):
        spot = np.array([[np.interp(far, along, paper[:, 0]), np.interp(far, along, paper[:, 1])]])
        east, north = window.on_site(spot)[0]
        yield Stamp(at=(float(east), float(north)), marks=cross(layer="fence"))


def cross(*, layer: str) -> tuple[Mark, ...]:
    """A small cross about (0, 0): a post of a fence."""
    return tuple(
        Polyline(points=np.array([(-0.8, -0.8 * way), (0.8, 0.8 * way)]), layer=layer, pen=pens.THIN) for way in (1, -1)
    )


def key_marks(at: Point, which: str) -> tuple[Mark, ...]:
    """A sample of a line or an area for the key, 12 mm wide, its lower left corner at ``at``."""
    box = rectangle(at, (12.0, 3.4))
    middle = at[1] + 1.7
    flat = np.array([(at[0], middle), (at[0] + 12.0, middle)])
    if which == "fence":
        posts = tuple(Stamp(at=(at[0] + far, middle), marks=cross(layer="key")) for far in (3.0, 9.0))
        return (Polyline(points=flat, layer="key", pen=FENCE), *posts)
    if which == "circle":
        return (
            Polyline(points=box, layer="key", closed=True, hatch=pens.ROOT_CROSSES),
            Polyline(points=flat, layer="key", pen=pens.ROOT_CIRCLE),
        )
    if which == "stem":
        return (Circle(at=(at[0] + 6.0, middle), radius=1.2, layer="key", fill="#000000"),)
    hatch = {"boards": BOARDS, "dig by hand": pens.SHORT_HATCH, "heap": pens.HEAP_HATCH}[which]
    return (Polyline(points=box, layer="key", pen=pens.MEDIUM, closed=True, hatch=hatch),)
