"""Which triangle does a point lie in? A grid of square cells, each with the triangles that may touch it."""

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Lengths, Points
from beckwright.base.values import value
from beckwright.stages.ground.spread import spread

TOUCHING: Length = 1e-6
"""A point this near a triangle lies on it: a rotated survey moves by less in rounding, a staff by far more."""

ENTRIES_PER_TRIANGLE = 12
"""Cells are made larger until the grid holds no more than this: long thin triangles would fill the memory."""

CHUNK = 65_536
"""Points looked up at once, so that a million of them need no more memory than this many."""


@value
class Lookup:
    """The grid. Cell ``c`` lists ``triangles[starts[c]:starts[c + 1]]``; cells run east first, then north.

    origin  south-west corner
    shape   cells east, cells north
    """

    origin: tuple[Length, Length]
    cell: Length
    shape: tuple[int, int]
    starts: IntArray
    triangles: IntArray


def build_lookup(corners: FloatArray) -> Lookup:
    """Make the grid for triangles with ``corners`` (k, 3, 2), m."""
    low, high = corners.min(axis=1) - TOUCHING, corners.max(axis=1) + TOUCHING
    origin = low.min(axis=0)
    low, high = low - origin, high - origin
    size = high.max(axis=0)
    # Two triangles to a cell: about as many cells as survey points.
    cell = float(np.sqrt(2.0 * size[0] * size[1] / len(corners)))
    while np.sum(np.prod(high // cell - low // cell + 1.0, axis=1)) > ENTRIES_PER_TRIANGLE * len(corners):
        cell *= 2.0
    first, last = (low // cell).astype(np.int64), (high // cell).astype(np.int64)
    east, north = (int(count) for count in last.max(axis=0) + 1)
    span = last - first + 1
    triangle, turn = spread(span[:, 0] * span[:, 1])
    row, column = np.divmod(turn, span[triangle, 0])
    cells = (first[triangle, 1] + row) * east + first[triangle, 0] + column
    return Lookup(
        origin=(float(origin[0]), float(origin[1])),
        cell=cell,
        shape=(east, north),
        starts=np.concatenate([[0], np.cumsum(np.bincount(cells, minlength=east * north))]),
        triangles=triangle[np.argsort(cells, kind="stable")],
    )


def find_triangles(lookup: Lookup, corners: FloatArray, points: Points) -> IntArray:
    """Triangle of each of ``points`` (n, 2), or -1 off the surface: (n,). ``corners`` as in ``build_lookup``."""
    chunks = range(0, len(points), CHUNK)
    return np.concatenate(
        [np.empty(0, np.int64), *(_find(lookup, corners, points[start : start + CHUNK]) for start in chunks)]
    )


def distances_inside(corners: FloatArray, points: Points) -> tuple[Lengths, Lengths]:
    """How far each point lies inside each side of its triangle, and the triangle's height over that side, m.

    Both (3, n), the side opposite each corner; ``corners`` (n, 3, 2) anticlockwise, ``points`` (n, 2). Their
    quotients are the barycentric weights.
    """
    east, north = np.ascontiguousarray((corners - points[:, np.newaxis]).T)
    distance, length = np.empty_like(east), np.empty_like(east)
    for side, (one, other) in enumerate(((1, 2), (2, 0), (0, 1))):
        distance[side] = east[one] * north[other] - north[one] * east[other]
        length[side] = np.hypot(east[other] - east[one], north[other] - north[one])
    doubled_area = distance.sum(axis=0)
    return distance / length, doubled_area / length


def _find(lookup: Lookup, corners: FloatArray, points: Points) -> IntArray:
    columns, rows = lookup.shape
    at = np.clip((points - lookup.origin) // lookup.cell, 0, (columns - 1, rows - 1)).astype(np.int64)
    cell = at[:, 1] * columns + at[:, 0]
    owner, turn = spread(lookup.starts[cell + 1] - lookup.starts[cell])
    triangle = lookup.triangles[lookup.starts[cell[owner]] + turn]
    depth = distances_inside(corners[triangle], points[owner])[0].min(axis=0)
    found = np.full(len(points), -1)
    # The second line overrules the first: a triangle that holds the point beats one that only touches it.
    for near_enough in (depth >= -TOUCHING, depth >= 0.0):
        found[owner[near_enough]] = triangle[near_enough]
    return found
