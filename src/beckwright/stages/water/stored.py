"""Where the water is: in view, in the pools, between the stones; what moves and what stays."""

import numpy as np

from beckwright.base.quantities import FloatArray, Levels
from beckwright.base.values import value
from beckwright.equations.open_channel import wetted_area
from beckwright.job.model import Source
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water.controls import LipWater, PoolWater
from beckwright.stages.water.runs import RunWater


@value
class Stored:
    """Water lying in the course while it runs; all (3, k), low to high depth.

    In motion, lent by the reservoir at each start and taken back at each stop:
    film   visible water over the beds of the runs
    pools  rise of the pools above their rims
    pores  between the stones, less what lips and sills hold back and what clings
    box    rise in the outlet box above its lip

    Taken up for good when a dry course is filled for the first time:
    kept_pools, kept_pores, kept_box
    """

    film: FloatArray
    pools: FloatArray
    pores: FloatArray
    box: FloatArray
    kept_pools: FloatArray
    kept_pores: FloatArray
    kept_box: FloatArray

    @property
    def in_motion(self) -> FloatArray:
        """Lent at each start, (3, k)."""
        lent: FloatArray = self.film + self.pools + self.pores + self.box
        return lent

    @property
    def kept(self) -> FloatArray:
        """Taken up once, at the first fill, (3, k)."""
        once: FloatArray = self.kept_pools + self.kept_pores + self.kept_box
        return once


def water_stored(
    course: SetOutCourse,
    source: Source,
    runs: tuple[RunWater, ...],
    box: LipWater,
    pools: tuple[PoolWater, ...],
    depth: FloatArray,
    among: FloatArray,
    still: Levels,
) -> Stored:
    """Add up the water of one steady state.

    depth  (3, k, n) visible water; among (3, k, n) depth of water in the stones; still (n,) level at rest
    """
    at = course.stations
    film, moving, kept = np.zeros((3, *depth.shape[:2]))
    for run in runs:
        here = run.stations
        width, bed = at.width[here], run.run.bed
        along = at.chainage[here] * float(np.hypot(1.0, run.stretch.slope))
        film += np.trapezoid(wetted_area.over(width, depth[:, :, here], course.side_slope), along)
        wet = among[:, :, here] * width
        resting = np.minimum(still[here] - at.liner[here], at.stone[here]) * width
        drains = (bed.voids - bed.retained) * np.trapezoid(wet - resting, along)
        moving += drains
        kept += bed.voids * np.trapezoid(wet, along) - drains
    box_plan = source.box_length * source.lip_width
    return Stored(
        film=film,
        pools=sum((pool.plan * (pool.level - pool.rim) for pool in pools), np.zeros_like(film)),
        pores=moving,
        box=box_plan * box.head,
        kept_pools=np.full_like(film, sum(pool.full for pool in pools)),
        kept_pores=kept,
        kept_box=np.full_like(film, box_plan * source.box_depth),
    )
