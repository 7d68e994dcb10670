"""Breaklines: where the ground changes slope sharply, such as the top of a bank.

A plain Delaunay net cuts across them. A line between two points is certainly an edge of the net if no other point
lies in the circle on it as diameter, so each line is split until that holds for every piece (Ruppert 1995, from
memory). Pieces that leave a survey point are split at powers of two from it: where two breaklines meet at a sharp
angle, plain halving would have each cut the other for ever.
"""

from itertools import pairwise

import numpy as np

from beckwright.base.quantities import BoolArray, IntArray, Length, Lengths, Levels, Points
from beckwright.stages.ground.refusal import refused

ON_THE_LINE: Length = 1e-3
"""A survey point this near a breakline in plan lies on it: nobody holds a staff closer."""


def split_breaklines(points: Points, levels: Levels, breaklines: tuple[tuple[int, ...], ...]) -> tuple[Points, Levels]:
    """Add to the survey's points and levels those that split its breaklines into edges of the net; they come last.

    Raises ValueError where breaklines cross without a common point, or run too close to be told apart.
    """
    rows = [pair for line in breaklines for pair in pairwise(line)]
    if not rows:
        return points, levels
    ends = _through_points(points, np.unique(np.sort(np.array(rows, dtype=np.int64), axis=1), axis=0))
    _refuse_crossings(points, ends)
    return _split(points, levels, ends)


def _through_points(points: Points, ends: IntArray) -> IntArray:
    """Lead each breakline through the survey points that lie on it: a level shot beats a level between."""
    import shapely

    shots, lines = np.asarray(shapely.points(points)), np.asarray(shapely.linestrings(points[ends]))
    line, on = shapely.STRtree(shots).query(lines, predicate="dwithin", distance=ON_THE_LINE)
    start = points[ends[line, 0]]
    along = np.einsum("ij,ij->i", points[on] - start, points[ends[line, 1]] - start)
    order = np.lexsort((along, line))
    line, on = line[order], on[order].astype(np.int64)
    pairs = np.stack([on[:-1], on[1:]], axis=1)[line[:-1] == line[1:]]
    return np.unique(np.sort(pairs, axis=1), axis=0)


def _refuse_crossings(points: Points, ends: IntArray) -> None:
    import shapely

    lines = np.asarray(shapely.linestrings(points[ends]))
    one, other = shapely.STRtree(lines).query(lines, predicate="crosses")
    if len(one):
        east, north = shapely.get_coordinates(shapely.intersection(lines[one[0]], lines[other[0]]))[0]
        found = f"breaklines cross at ({east:.3f}, {north:.3f}) without a survey point"
        raise refused(found, "Shoot a point there and give it to one of them")


def _split(points: Points, levels: Levels, ends: IntArray) -> tuple[Points, Levels]:
    surveyed = len(points)
    while (crowded := _crowded(points, ends)).any():
        first, last = ends[crowded].T
        length = np.hypot(*(points[last] - points[first]).T)
        _refuse_short(points[first], length)
        # Rows of added points come after those of the survey, so a piece's survey point is its first end.
        leaves_survey = (first < surveyed) & (last >= surveyed)
        share = np.where(leaves_survey, 2.0 ** np.round(np.log2(length / 2.0)) / length, 0.5)
        added = len(points) + np.arange(len(first))
        points = np.concatenate([points, points[first] + share[:, np.newaxis] * (points[last] - points[first])])
        levels = np.concatenate([levels, levels[first] + share * (levels[last] - levels[first])])
        ends = np.concatenate([ends[~crowded], np.stack([first, added], axis=1), np.stack([last, added], axis=1)])
    return points, levels


def _crowded(points: Points, ends: IntArray) -> BoolArray:
    """Pieces with a third point in, or on, the circle that has the piece as diameter."""
    from scipy.spatial import KDTree

    middle = points[ends].mean(axis=1)
    radius = np.hypot(*(points[ends[:, 1]] - middle).T)
    distance, nearest = KDTree(points).query(middle, k=3)
    third = (nearest != ends[:, :1]) & (nearest != ends[:, 1:])
    crowded: BoolArray = np.any(third & (distance <= radius[:, np.newaxis] * (1.0 + 1e-9)), axis=1)
    return crowded


def _refuse_short(starts: Points, lengths: Lengths) -> None:
    if lengths.min() < 2.0 * ON_THE_LINE:
        east, north = starts[np.argmin(lengths)]
        found = f"two breaklines near ({east:.3f}, {north:.3f}) run too close to be told apart"
        raise refused(found, "Leave one of them out")
