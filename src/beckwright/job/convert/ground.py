"""Ground work, from as written to SI."""

from beckwright.job.convert.shared import length_or_none
from beckwright.job.model import (
    Earthworks,
    Tolerances,
    WishedHeap,
)
from beckwright.job.units import MILLIMETRE, TONNE
from beckwright.job.written import Written


def earthworks_from(written: Written) -> Earthworks:
    """How the ground is dug."""
    given = written.earthworks
    return Earthworks(
        fill=given.fill,
        bank_top=given.bank_top_mm * MILLIMETRE,
        bank_slope=given.bank_slope,
        batter=given.batter,
        working_space=given.working_space_mm * MILLIMETRE,
        trench_width=given.trench_width_mm * MILLIMETRE,
        trench_depth=given.trench_depth_mm * MILLIMETRE,
        heap_height=given.heap_height_mm * MILLIMETRE,
        digger_width=length_or_none(given.digger_width_mm),
        digger_reach=given.digger_reach_m,
        load=None if given.load_t is None else given.load_t * TONNE,
        load_price=given.load_price,
        heaps=tuple(WishedHeap(name=heap.name, holds=heap.holds, at=(heap.x_m, heap.y_m)) for heap in written.heaps),
    )


def tolerances_from(written: Written) -> Tolerances:
    """How far off levels may be."""
    given = written.tolerances
    return Tolerances(
        survey=given.survey_mm * MILLIMETRE, dig=given.dig_mm * MILLIMETRE, stone=given.stone_mm * MILLIMETRE
    )
