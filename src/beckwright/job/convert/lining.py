"""How the lining is sold and laid, from as written to SI."""

from beckwright.job.model import LiningWork
from beckwright.job.units import PERCENT
from beckwright.job.written import Written


def lining_from(written: Written) -> LiningWork:
    """Rolls, joins and laying."""
    given = written.lining
    return LiningWork(
        rolls=tuple(sorted(given.rolls_m)),
        roll_length=given.roll_length_m,
        join=given.join,
        seam_counts=given.seam_counts_m2_m,
        gathered=given.pleated_percent * PERCENT,
        under_box=given.under_box,
        fleece_rolls=tuple(sorted(given.fleece_rolls_m)),
    )
