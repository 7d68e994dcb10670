"""Where a slope that runs out from a point meets the ground."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Lengths, Levels, Points, Ratios
from beckwright.stages.ground import Ground
from beckwright.stages.ground.lookup import TOUCHING, find_triangles


def meet_ground(
    ground: Ground, start: Points, outward: Points, level: Levels, rise: Ratios
) -> tuple[Lengths, BoolArray]:
    """How far out each of n rays first meets the ground, exactly, triangle by triangle.

    start, outward  (n, 2), outward of length 1
    level, rise     (n,) at the start, and its rise for each metre out
    Returns the distances and which of the rays meet it; one that leaves the survey ends at its edge.
    """
    distance, met = np.zeros(len(start)), np.zeros(len(start), dtype=bool)
    going = np.arange(len(start))
    side = np.zeros(len(start))
    while len(going):
        under = find_triangles(
            ground.lookup, ground.corners, start[going] + outward[going] * (distance[going, None] + TOUCHING)
        )
        going, under = going[under >= 0], under[under >= 0]
        over, change = _over_ground(ground, under, start[going], outward[going], level[going], rise[going])
        here = over + change * distance[going]
        side[going] = np.where(side[going] == 0, np.sign(here), side[going])
        # The ray runs on in this triangle until it leaves it or comes through the ground.
        leaves = np.maximum(_way_out(ground.corners[under], start[going], outward[going]), distance[going] + TOUCHING)
        root = np.divide(-over, change, out=distance[going], where=change != 0)
        through = side[going] * (over + change * leaves) <= 0
        distance[going] = np.where(through, np.clip(root, distance[going], leaves), leaves)
        met[going[through]] = True
        going = going[~through]
    return distance, met


def ground_under(ground: Ground, points: Points, otherwise: Levels) -> Levels:
    """Ground at points (n, 2); off the survey what stands in ``otherwise`` (n,)."""
    under = find_triangles(ground.lookup, ground.corners, points)
    corners, heights = ground.corners[under], ground.levels[ground.triangles[under]]
    on_plane = heights[:, 0] + np.einsum("ij,ij->i", plane_slopes(corners, heights), points - corners[:, 0])
    levels: Levels = np.where(under >= 0, on_plane, otherwise)
    return levels


def _over_ground(
    ground: Ground, under: IntArray, start: Points, outward: Points, level: Levels, rise: Ratios
) -> tuple[FloatArray, FloatArray]:
    """Height of each ray over the plane of its triangle: at its start, and the change for each metre out."""
    corners, levels = ground.corners[under], ground.levels[ground.triangles[under]]
    slope = plane_slopes(corners, levels)
    at_start = levels[:, 0] + np.einsum("ij,ij->i", slope, start - corners[:, 0])
    return level - at_start, rise - np.einsum("ij,ij->i", slope, outward)


def plane_slopes(corners: FloatArray, levels: FloatArray) -> Points:
    """Rise for each metre east and north of planes through triangles: corners (n, 3, 2), levels (n, 3) -> (n, 2)."""
    (x1, y1), (x2, y2) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    rise1, rise2 = levels[:, 1] - levels[:, 0], levels[:, 2] - levels[:, 0]
    rises = np.stack([rise1 * y2 - rise2 * y1, rise2 * x1 - rise1 * x2], axis=1)
    slopes: Points = rises / (x1 * y2 - x2 * y1)[:, None]
    return slopes


def _way_out(corners: FloatArray, start: Points, outward: Points) -> Lengths:
    """Distance at which rays from ``start`` leave their triangles."""
    side = np.roll(corners, -1, axis=1) - corners
    toward = side[..., 0] * outward[:, None, 1] - side[..., 1] * outward[:, None, 0]
    away = start[:, None] - corners
    inside = side[..., 0] * away[..., 1] - side[..., 1] * away[..., 0]
    leaving = toward < 0
    distances = np.where(leaving, -inside / np.where(leaving, toward, 1.0), np.inf)
    nearest: Lengths = distances.min(axis=1)
    return nearest
