"""Places shot more than once: one point stays, and where the levels differ the person says which holds."""

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Levels, Points
from beckwright.base.values import value
from beckwright.job.tables import CLOSEST

SAME: Length = 0.005
"""Levels of one place that differ by no more are one level: a staff is read no closer on soft ground, m."""
ROUNDING: Length = 1e-6


@value
class Merged:
    """Which rows stay, and what became of the others.

    kept       (k,) rows that stay, rising
    into       (n,) for each row the position in ``kept`` of the point it became
    levels     (k,) level of each
    repeats    rows that only said again what another had said
    differing  places whose levels differ by more than ``SAME``
    worst      largest of those differences, m, and the row it was first met on
    """

    kept: IntArray
    into: IntArray
    levels: Levels
    repeats: int
    differing: int
    worst: Length
    worst_row: int


def merge(places: FloatArray, how: str) -> Merged:
    """Merge rows of places (n, 3) nearer than two survey points may be. ``how`` tells which level holds."""
    into_row = _absorbed(places[:, :2])
    kept, into = np.unique(into_row, return_inverse=True)
    order = np.argsort(into, kind="stable")
    starts = np.searchsorted(into[order], np.arange(len(kept)))
    levels = places[kept, 2].copy()
    lowest = np.minimum.reduceat(places[order, 2], starts)
    highest = np.maximum.reduceat(places[order, 2], starts)
    differing = np.flatnonzero(highest - lowest > SAME + ROUNDING)
    if how == "lowest":
        levels[differing] = lowest[differing]
    elif how == "highest":
        levels[differing] = highest[differing]
    elif how == "middle":
        for group in differing:
            levels[group] = np.median(places[into == group, 2])
    worst = int(differing[np.argmax((highest - lowest)[differing])]) if len(differing) else -1
    return Merged(
        kept=kept,
        into=into,
        levels=levels,
        repeats=int((np.abs(places[:, 2] - places[kept[into], 2]) <= SAME + ROUNDING).sum()) - len(kept),
        differing=len(differing),
        worst=float(highest[worst] - lowest[worst]) if worst >= 0 else 0.0,
        worst_row=int(kept[worst]) if worst >= 0 else -1,
    )


def _absorbed(plan: Points) -> IntArray:
    """For each row the row it becomes: the first one in the file that stands within reach and stays itself."""
    from scipy.spatial import cKDTree

    # Exact repeats first: a tree of equal points cannot be searched.
    _, first, back = np.unique(plan, axis=0, return_index=True, return_inverse=True)
    rising = np.argsort(first)
    rank = np.empty_like(rising)
    rank[rising] = np.arange(len(rising))
    alone = plan[first[rising]]
    becomes = np.arange(len(alone))
    for one, other in sorted(cKDTree(alone).query_pairs(CLOSEST + ROUNDING)):
        if becomes[one] == one and becomes[other] == other:
            becomes[other] = one
    rows: IntArray = first[rising][becomes[rank[back.ravel()]]].astype(np.int64)
    return rows
