"""What pockets that stand in the channel do to the water: a narrower bed, a higher level."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Length, Lengths, Ratio
from beckwright.equations.planting import share_closed
from beckwright.job.model import Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.planting.ground import stations_of
from beckwright.stages.planting.values import Choked, PlacedPocket
from beckwright.stages.stones import Blocked, blocked
from beckwright.stages.water import Water
from beckwright.stages.water.runs import RunWater

_MOST: Ratio = 0.95
"""More than this closed is a dam, and no law of flow in a channel holds."""
_TRIED = np.linspace(0.0, _MOST, 20)
"""Shares at which the freeboard left is looked up."""


def choke(course: SetOutCourse, water: Water, pockets: tuple[PlacedPocket, ...], wanted: Length) -> tuple[Choked, ...]:
    """Close what pockets take of every run they stand in; where two face each other their shares add up."""
    standing = [placed for placed in pockets if placed.reach > 0]
    if not standing:
        return ()
    taken = closed_at(course, standing)
    mine = {run.run.name: float(taken[run.stations].max()) for run in water.runs}
    shares = np.unique(np.minimum([*_TRIED, *mine.values()], _MOST))
    return tuple(
        _choked(course, standing, found, min(mine[found.run.run.name], _MOST), wanted)
        for found in blocked(course, water, shares)
        if mine[found.run.run.name] > 0
    )


def closed_at(course: SetOutCourse, pockets: list[PlacedPocket]) -> Lengths:
    """Share of the bed's width closed at every station, all pockets together, (n,)."""
    at = course.stations
    taken = np.zeros_like(at.width)
    for placed in pockets:
        here = stations_of(at, placed.pocket)
        taken[here] += share_closed.over(placed.reach, at.width[here])
    return taken


def in_pools(course: SetOutCourse, pockets: tuple[PlacedPocket, ...]) -> Iterator[str]:
    """Letters of the pockets that stand in the channel of a pool."""
    at = course.stations
    pools = np.array([isinstance(stretch.reach, Pool) for stretch in course.stretches])
    for placed in pockets:
        if placed.reach > 0 and pools[at.reach[stations_of(at, placed.pocket)]].any():
            yield placed.letter


def _choked(
    course: SetOutCourse,
    pockets: list[PlacedPocket],
    found: Blocked,
    share: Ratio,
    wanted: Length,
) -> Choked:
    place = int(np.searchsorted(found.shares, share))
    stands = found.shares[found.left >= wanted]
    return Choked(
        run=found.run.run.name,
        width=found.run.run.width,
        span=(found.run.stretch.start, found.run.stretch.end),
        letters=tuple(placed.letter for placed in pockets if _along(course, found.run, placed)),
        flow=found.flow,
        share=share,
        rise=float(found.rise[place]),
        left=float(found.left[place]),
        wanted=wanted,
        keeps=float(stands.max()) if len(stands) else 0.0,
    )


def _along(course: SetOutCourse, run: RunWater, placed: PlacedPocket) -> bool:
    return bool(stations_of(course.stations, placed.pocket)[run.stations].any())
