"""The sections joined into one net of triangles, each with what it is part of."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Length
from beckwright.base.values import value
from beckwright.job.model import Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.sections import BEHIND, MARKS, Sections
from beckwright.stages.earthworks.values import Surface
from beckwright.stages.levels import places

NO_PLAN = 1e-12
"""A triangle smaller than this in plan, m2, stands upright."""

CHANNEL, BANKS, SOURCE, FIRST_POOL = range(4)


@value
class Net:
    """k triangles of the formation.

    corners, levels  (k, 3, 2), (k, 3), anticlockwise unless the net is folded over there
    rows             (k, 3) of the sections' marks, counted row by row
    part             (k,) CHANNEL, BANKS, SOURCE, or FIRST_POOL and the pool's number among the pools
    interval         (k,) of the stations it lies between, the upper one's number; -1 behind chainage 0
    lined            (k,) under the lining
    """

    corners: FloatArray
    levels: FloatArray
    rows: IntArray
    part: IntArray
    interval: IntArray
    lined: BoolArray


def join(course: SetOutCourse, sections: Sections) -> Net:
    """Two triangles between every four neighbouring marks; upright faces are left out."""
    count = len(sections.chainage)
    above = np.arange(count - 1)[:, None] * MARKS + np.arange(MARKS - 1)
    quads = np.stack([above, above + 1, above + MARKS + 1, above + MARKS], axis=-1)
    # Mirrored on the right, so that both corners behind the box are parted along their mitres.
    left, right = quads[:, : MARKS // 2], quads[:, MARKS // 2 :]
    halves = left[..., [[0, 1, 2], [0, 2, 3]]], right[..., [[0, 1, 3], [1, 2, 3]]]
    rows = np.concatenate(halves, axis=1).reshape(-1, 3)
    row, strip = (part.ravel() for part in np.indices((count - 1, MARKS - 1, 2))[:2])
    corners = sections.points.reshape(-1, 2)[rows]
    keep = np.abs(plan_of(corners)) > NO_PLAN
    rows, row, strip, corners = rows[keep], row[keep], strip[keep], corners[keep]
    channel = (strip >= 2) & (strip <= MARKS - 4)
    interval = np.maximum(row - BEHIND, -1)
    return Net(
        corners=corners,
        levels=sections.levels.ravel()[rows],
        rows=rows,
        part=np.where(interval < 0, SOURCE, np.where(channel, _reach_parts(course)[interval], BANKS)),
        interval=interval,
        lined=channel & (row >= BEHIND - 2),
    )


def surface(sections: Sections, net: Net) -> Surface:
    """The formation as flat triangles; where it is folded over the fold is left out."""
    return Surface(
        points=sections.points.reshape(-1, 2),
        levels=sections.levels.ravel(),
        triangles=net.rows[plan_of(net.corners) > 0],
    )


def folds(course: SetOutCourse, net: Net) -> tuple[tuple[Length, Length], ...]:
    """Chainages at which the banks of a tight bend run into each other, as (from, to)."""
    folded = net.interval[(plan_of(net.corners) < -NO_PLAN) & (net.interval >= 0)]
    at = np.zeros(len(course.stations.chainage), dtype=bool)
    at[folded] = at[folded + 1] = True
    return places(at, course.stations.chainage)


def plan_of(corners: FloatArray) -> FloatArray:
    """Areas in plan of triangles (k, 3, 2), below 0 where they run clockwise."""
    (x1, y1), (x2, y2) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    areas: FloatArray = (x1 * y2 - x2 * y1) / 2
    return areas


def _reach_parts(course: SetOutCourse) -> IntArray:
    """What the channel below each station is part of."""
    pools = np.cumsum([isinstance(stretch.reach, Pool) for stretch in course.stretches])
    of_stretch = np.array(
        [
            FIRST_POOL + pools[number] - 1 if isinstance(stretch.reach, Pool) else CHANNEL
            for number, stretch in enumerate(course.stretches)
        ]
    )
    parts: IntArray = of_stretch[course.stations.reach]
    return parts
