"""Where a pocket lies: its outline, its ground, how wet it is, and what stands near it."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Angle, BoolArray, FloatArray, Length, Lengths, Points
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.job.model.planting import Pocket
from beckwright.stages.course import SetOutCourse, Stations
from beckwright.stages.ground import Ground, inside, slope_at
from beckwright.stages.surroundings import pit_outline, radius_of
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH, MIDDLE
from beckwright.tables.planting import UNDER_EDGE, WET_WITHIN, WICKS
from beckwright.tables.plants import Zone

if TYPE_CHECKING:
    from shapely import Polygon

_STEP: Length = 0.1
"""An outline is drawn to this, m: finer than a spade."""
_ACROSS = 5
"""Points across a pocket at which the slope of the ground is read."""


@value
class Strip:
    """A pocket cut across at chainages: offsets of its two sides from the line, and of the edge of the lining."""

    chainage: Lengths
    near: Lengths
    far: Lengths
    bed: Lengths
    lining: Lengths


def strip_of(course: SetOutCourse, pocket: Pocket) -> Strip:
    """Cut a pocket across, no farther apart than a step."""
    at = course.stations
    count = max(int(np.ceil((pocket.end - pocket.start) / _STEP)), 1) + 1
    chainage = np.linspace(pocket.start, pocket.end, count)
    edge = at.edge_left if pocket.side == "left" else at.edge_right
    bed = np.interp(chainage, at.chainage, at.width / 2)
    lining = np.interp(chainage, at.chainage, at.width / 2 + course.side_slope * (edge - at.rim))
    near = (bed if pocket.inside else lining) + pocket.gap
    return Strip(chainage=chainage, near=near, far=near + pocket.width, bed=bed, lining=lining)


def sides_of(course: SetOutCourse, pocket: Pocket, strip: Strip) -> tuple[Points, Points]:
    """The near and the far side on the site, downstream, (n, 2) each."""
    sign = 1.0 if pocket.side == "left" else -1.0
    near, far = (course.alignment.beside(strip.chainage, sign * each) for each in (strip.near, strip.far))
    return near, far


def ground_taken(near: Points, far: Points) -> "Polygon":
    """Ground between two sides. Piece by piece: inside a sharp bend the sides fold over ground that is there once."""
    from shapely import MultiPoint, Polygon, get_parts, union_all

    pieces = [MultiPoint(np.vstack([near[n : n + 2], far[n : n + 2]])).convex_hull for n in range(len(near) - 1)]
    parts = (part for part in get_parts(union_all(pieces)) if isinstance(part, Polygon))
    return max(parts, key=lambda part: part.area)


def slope_of(ground: Ground, course: SetOutCourse, pocket: Pocket, strip: Strip) -> tuple[Angle, bool]:
    """Slope of a pocket's ground, and whether it was surveyed: inside the lining it falls as the stream does."""
    if pocket.inside:
        here = stations_of(course.stations, pocket)
        slopes = np.array([stretch.slope for stretch in course.stretches])[course.stations.reach[here]]
        return float(np.arctan(slopes.mean())), True
    sign = 1.0 if pocket.side == "left" else -1.0
    shares = (np.arange(_ACROSS) + 0.5) / _ACROSS
    points = np.vstack(
        [
            course.alignment.beside(strip.chainage, sign * (strip.near + share * (strip.far - strip.near)))
            for share in shares
        ]
    )
    on = inside(ground, points)
    if not on.any():
        return 0.0, False
    # The mean of what each spot adds to its plan, turned back into one slope.
    longer = float(np.hypot(1.0, np.hypot(*slope_at(ground, points[on]).T)).mean())
    return float(np.arccos(1.0 / longer)), bool(on.all())


def stations_of(at: Stations, pocket: Pocket) -> BoolArray:
    """Stations along a pocket; the nearest one where it lies between two."""
    here: BoolArray = (at.chainage >= pocket.start) & (at.chainage <= pocket.end)
    if not here.any():
        here = np.arange(len(at.chainage)) == np.argmin(np.abs(at.chainage - (pocket.start + pocket.end) / 2))
    return here


def over_water(course: SetOutCourse, water: Water, pocket: Pocket, flow: int) -> Length:
    """Soil over the running water, mean along the pocket. Below its edge by a habit where nobody said how high."""
    at = course.stations
    here = stations_of(at, pocket)
    edge = at.settled_left if pocket.side == "left" else at.settled_right
    soil = edge - UNDER_EDGE.amount if pocket.above_bed is None else at.rim + pocket.above_bed
    return float((soil - water.level[MIDDLE, flow])[here].mean())


def zone_of(job: Job, pocket: Pocket, over: Length | None) -> Zone:
    """How wet the soil is: by the running water inside the lining, by the summer's ground water outside."""
    if over is None or not pocket.inside:
        deep = job.site.groundwater_summer
        return "damp" if deep is not None and deep <= WICKS.amount else "dry"
    return "wet" if over <= WET_WITHIN.amount else "damp" if over <= WICKS.amount else "dry"


def from_water(course: SetOutCourse, water: Water, pocket: Pocket) -> Length:
    """Near side from the edge of the running water at the largest flow, high end, where it is least."""
    at, largest = course.stations, int(np.argmax(water.flows))
    here = stations_of(at, pocket)
    depth: FloatArray = np.maximum(water.level[HIGH, largest] - at.rim, 0.0)
    return float((pocket.gap - course.side_slope * depth)[here].min())


def from_lining(job: Job, pocket: Pocket, taken: "Polygon") -> Length:
    """Nearest lining, of the stream or the pit; 0 inside."""
    if pocket.inside:
        return 0.0
    return max(0.0, min(pocket.gap, float(taken.distance(pit_outline(job.reservoir)))))


def roots_entered(job: Job, taken: "Polygon") -> tuple[str, ...]:
    """Trees whose root circle a pocket enters."""
    from shapely import Point

    return tuple(
        f"{tree.species} {tree.name}".strip()
        for tree in job.site.trees
        if taken.distance(Point(*tree.at)) < radius_of(tree)
    )
