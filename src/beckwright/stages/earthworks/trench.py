"""The hose's trench, and the outlines on plan of everything that is dug."""

from typing import TYPE_CHECKING, Any

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Points
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.earthworks.pit import Dug
from beckwright.stages.earthworks.rays import ground_under
from beckwright.stages.earthworks.values import PitDig, Trench
from beckwright.stages.earthworks.volumes import Worked
from beckwright.stages.ground import Ground

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SNAP = 1e-6
"""Pieces that share a side only to rounding are widened by this, m, before they are put together."""

NO_PLAN = 1e-12
"""A piece smaller than this, m2, is rounding."""

SAME_PLAN = 1e-6
"""Two plans this near each other, m2, are the same."""


@value
class Outlines:
    """What the works take up on plan: course with its banks and the outlet box, pit at ground level, hose trench.

    dug  course and pit together
    """

    course: "BaseGeometry"
    pit: "BaseGeometry"
    dug: "BaseGeometry"
    trench: "BaseGeometry"


def outlines(job: Job, ground: Ground, worked: Worked) -> Outlines:
    """Outlines of the works, as far as the ground is surveyed."""
    import shapely

    course, pit = _course_outline(worked.sections.points), _pit_outline(worked.dug)
    both = shapely.union(course, pit)
    trench: BaseGeometry = shapely.Polygon()
    if len(job.route.line) > 1:
        wide = line_of(np.array(job.route.line)).buffer(
            job.earthworks.trench_width / 2, cap_style="flat", join_style="mitre"
        )
        trench = wide.intersection(shapely.Polygon(ground.hull)).difference(both)
    return Outlines(course=course, pit=pit, dug=both, trench=trench)


def lay_trench(job: Job, ground: Ground, works: Outlines) -> Trench | None:
    """The trench along the hose's line, outside pit, channel and banks; None where nobody drew the line."""
    import shapely

    if works.trench.is_empty:
        return None
    line = shapely.LineString(job.route.line)
    outside = line.intersection(shapely.Polygon(ground.hull)).difference(works.dug)
    pieces = [np.array(piece.coords) for piece in shapely.get_parts(outside) if piece.length > 0]
    points = np.concatenate(pieces) if pieces else np.empty((0, 2))
    along = np.asarray(shapely.line_locate_point(line, shapely.points(points)), dtype=np.float64)
    levels = ground_under(ground, points, np.full(len(points), np.nan))
    return Trench(
        line=points,
        along=along,
        ground=levels,
        bottom=levels - job.earthworks.trench_depth,
        width=job.earthworks.trench_width,
        piece=np.repeat(np.arange(len(pieces)), [len(piece) for piece in pieces]),
    )


def _course_outline(points: FloatArray) -> "BaseGeometry":
    import shapely

    ring = np.concatenate([points[0], points[1:, -1], points[:0:-1, 0]])
    whole = shapely.Polygon(ring)
    if whole.is_valid:
        return whole
    # Folded over in a tight bend: section by section.
    left, right = points[1:, 0], points[1:, -1]
    rings = [np.concatenate([points[0], points[1, ::-1]]), *np.stack([left[:-1], right[:-1], right[1:], left[1:]], 1)]
    return _together(np.array([shapely.make_valid(shapely.Polygon(ring)) for ring in rings]))


def _pit_outline(dug: Dug) -> "BaseGeometry":
    """The rim in order round its middle, or the whole floor, where that is all of the plan; else its pieces."""
    import shapely

    middle = dug.rim.mean(axis=0) if len(dug.rim) else np.zeros(2)
    east, north = (dug.rim - middle).T
    round_it = dug.rim[np.argsort(np.arctan2(north, east), kind="stable")]
    shapes: list[BaseGeometry] = [shapely.Polygon(round_it)] if len(round_it) > 2 else []
    shapes.append(shapely.MultiPoint(dug.pieces.reshape(-1, 2)).convex_hull)
    for shape in shapes:
        if shape.is_valid and abs(shape.area - dug.plan) < SAME_PLAN:
            return shape
    return _together(shapely.polygons(dug.pieces))


def _together(shapes: Any) -> "BaseGeometry":
    import shapely

    parts = np.asarray(shapes)
    wider = shapely.buffer(parts[shapely.area(parts) > NO_PLAN], SNAP, join_style="mitre")
    return shapely.union_all(wider)


def line_of(points: Points) -> "BaseGeometry":
    """A line, or a point where there is only one."""
    import shapely

    return shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])


def rim_of(works: Outlines) -> Points:
    """The pit's outline, anticlockwise, its first point not repeated; empty where it is not dug into the ground."""
    import shapely

    rings = [part.exterior for part in shapely.get_parts(works.pit) if not part.is_empty]
    points: Points = (
        shapely.get_coordinates(max(rings, key=lambda ring: ring.length).normalize())[:-1]
        if rings
        else np.empty((0, 2))
    )
    return points[::-1]


def beyond_survey(ground: Ground, pit: PitDig) -> Area:
    """Plan of the pit, up to the corners of its sides, where nobody surveyed."""
    import shapely

    return float(shapely.Polygon(pit.top).difference(shapely.Polygon(ground.hull)).area)
