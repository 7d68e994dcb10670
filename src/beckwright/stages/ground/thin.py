"""Where the survey is too thin to trust: the long triangles under a line, and how far apart its points stand."""

import numpy as np

from beckwright.base.quantities import BoolArray, Length, Lengths, Points
from beckwright.stages.ground.lookup import find_triangles
from beckwright.stages.ground.surface import Ground


def mean_spacing(ground: Ground) -> Length:
    """How far apart the points would stand on a square grid with as many triangles on the same plan."""
    (x1, y1), (x2, y2) = np.moveaxis(ground.corners[:, 1:] - ground.corners[:, :1], 0, 2)
    return float(np.sqrt(np.sum(x1 * y2 - x2 * y1) / len(ground.triangles)))


def sides_at(ground: Ground, points: Points) -> Lengths:
    """Longest side of the triangle under each of ``points`` (n, 2): (n,) m, infinite off the survey."""
    triangles = find_triangles(ground.lookup, ground.corners, points)
    corners = ground.corners[triangles]
    sides = corners - np.roll(corners, 1, axis=1)
    longest: Lengths = np.where(triangles < 0, np.inf, np.hypot(sides[..., 0], sides[..., 1]).max(axis=1))
    return longest


def thin_at(ground: Ground, points: Points, spacing: Length) -> BoolArray:
    """Which of ``points`` (n, 2) lie off the survey or on a triangle with a side longer than ``spacing``: (n,)."""
    thin: BoolArray = sides_at(ground, points) > spacing
    return thin
