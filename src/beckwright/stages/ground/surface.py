"""The ground as a net of triangles through the survey points, with every breakline along triangle edges."""

import numpy as np

from beckwright.base.quantities import Areas, BoolArray, FloatArray, IntArray, Length, Lengths, Levels, Points, Ratios
from beckwright.base.values import value
from beckwright.job.model import Survey
from beckwright.stages.ground.breaklines import split_breaklines
from beckwright.stages.ground.lookup import TOUCHING, Lookup, build_lookup, distances_inside, find_triangles
from beckwright.stages.ground.refusal import refused


@value
class Ground:
    """The surveyed surface: flat triangles between points.

    points     (m, 2): the survey's points in its own order, then those added along breaklines
    levels     (m,)
    triangles  (k, 3): rows of ``points``, anticlockwise
    corners    (k, 3, 2): the same triangles as coordinates
    outline    (h,): rows of ``points`` round the outside, anticlockwise
    hull       (h, 2): the same outline as coordinates, first point not repeated
    lookup     finds the triangle under a point
    """

    points: Points
    levels: Levels
    triangles: IntArray
    corners: FloatArray
    outline: IntArray
    hull: Points
    lookup: Lookup


def build_ground(survey: Survey) -> Ground:
    """Build the surface: a Delaunay net, breaklines split until they run along its edges.

    Along a breakline the level runs straight from one of its survey points to the next. Four survey points on one
    circle, as on a square grid, may be joined either way: the net takes one of the two, the same one every time.

    Raises ValueError where points coincide or all lie on one line, and where breaklines cross or cannot be told apart.
    """
    points, levels = split_breaklines(survey.points, survey.levels, survey.breaklines)
    triangles = _triangulate(points)
    corners = points[triangles]
    outline = _outline(points, triangles)
    return Ground(
        points=points,
        levels=levels,
        triangles=triangles,
        corners=corners,
        outline=outline,
        hull=points[outline],
        lookup=build_lookup(corners),
    )


def extent(ground: Ground) -> tuple[Length, Length, Length, Length]:
    """Least easting and northing, greatest easting and northing, m."""
    low, high = ground.hull.min(axis=0), ground.hull.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def inside(ground: Ground, points: Points) -> BoolArray:
    """Which of ``points`` (n, 2) lie on the surface, its outline included: (n,)."""
    return find_triangles(ground.lookup, ground.corners, points) >= 0


def level_at(ground: Ground, points: Points) -> Levels:
    """Ground level at ``points`` (n, 2): (n,) m. Raises ValueError naming the first point off the surface."""
    return _levels_in(ground, _triangles_under(ground, points), points)


def level_where(ground: Ground, points: Points) -> tuple[Levels, BoolArray]:
    """Ground level at ``points`` (n, 2), 0 off the surface, and which of them lie on it, as ``inside``: (n,) each."""
    found = find_triangles(ground.lookup, ground.corners, points)
    on = found >= 0
    levels = np.zeros(len(points))
    levels[on] = _levels_in(ground, found[on], points[on])
    return levels, on


def _levels_in(ground: Ground, triangles: IntArray, points: Points) -> Levels:
    distance, height = distances_inside(ground.corners[triangles], points)
    # A point a hair outside its triangle must not be carried up the plane of a steep one.
    weights = np.maximum(distance / height, 0.0)
    levels: Levels = np.einsum("ij,ji->j", weights, ground.levels[ground.triangles[triangles]]) / weights.sum(axis=0)
    return levels


def slope_at(ground: Ground, points: Points) -> Ratios:
    """Slope at ``points`` (n, 2) as vectors pointing straight downhill, fall for each metre: (n, 2).

    On an edge between triangles it is the slope of one of them. Raises ValueError as ``level_at`` does.
    """
    triangles = _triangles_under(ground, points)
    corners, levels = ground.corners[triangles], ground.levels[ground.triangles[triangles]]
    (x1, y1), (x2, y2) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    rise1, rise2 = levels[:, 1] - levels[:, 0], levels[:, 2] - levels[:, 0]
    downhill = np.stack([y1 * rise2 - y2 * rise1, x2 * rise1 - x1 * rise2], axis=1)
    slopes: Ratios = downhill / (x1 * y2 - x2 * y1)[:, np.newaxis]
    return slopes


def thin_places(ground: Ground, spacing: Length) -> IntArray:
    """Rows of ``triangles`` with a side longer than ``spacing``, where the survey is too thin to trust: (k,)."""
    return np.flatnonzero(_longest_sides(ground.corners) > spacing)


def _triangulate(points: Points) -> IntArray:
    from scipy.spatial import Delaunay, QhullError

    # Delaunay squares the coordinates: six-figure eastings would eat the digits.
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    one_line = "the survey points all lie on one line", "Shoot points to both sides of the course"
    try:
        net = Delaunay(points - middle)
    except QhullError as error:
        raise refused(*one_line) from error
    if len(net.coplanar):
        one, _, other = net.coplanar[0]
        found = f"survey points {_place(points[one])} and {_place(points[other])} lie on each other"
        raise refused(found, "Take one of them out")
    triangles = net.simplices.astype(np.int64)
    corners = points[triangles]
    # Points in a row along the outline leave slivers of no height where rounding has bent the row.
    triangles = triangles[_doubled_areas(corners) > TOUCHING * _longest_sides(corners)]
    if not len(triangles):
        raise refused(*one_line)
    return triangles


def _outline(points: Points, triangles: IntArray) -> IntArray:
    sides = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    numbers, times = np.unique(sides[:, 0] * len(points) + sides[:, 1], return_counts=True)
    rows = np.unique(np.divmod(numbers[times == 1], len(points)))
    # The outline is convex, so the angle round its middle puts its points in order.
    east, north = (points[rows] - points[rows].mean(axis=0)).T
    outline: IntArray = rows[np.argsort(np.arctan2(north, east), kind="stable")]
    return outline


def _triangles_under(ground: Ground, points: Points) -> IntArray:
    found = find_triangles(ground.lookup, ground.corners, points)
    if found.size and found.min() < 0:
        message = f"point {_place(points[np.argmin(found)])} lies off the surveyed ground"
        raise ValueError(message)
    return found


def _doubled_areas(corners: FloatArray) -> Areas:
    (x1, y1), (x2, y2) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    areas: Areas = x1 * y2 - x2 * y1
    return areas


def _longest_sides(corners: FloatArray) -> Lengths:
    sides = corners - np.roll(corners, 1, axis=1)
    longest: Lengths = np.hypot(sides[..., 0], sides[..., 1]).max(axis=1)
    return longest


def _place(point: Points) -> str:
    return f"({point[0]:.3f}, {point[1]:.3f})"
