"""From what a builder knows of a bed (stone size, how laid) to the laws that bound its depth."""

from beckwright.base.quantities import Length, Ratio
from beckwright.base.values import value
from beckwright.equations.resistance import rice_riprap_n, strickler_n
from beckwright.job.model import BedMakeUp
from beckwright.tables import beds as table

LOW, MIDDLE, HIGH = 0, 1, 2
BANDS = 3
"""Low, middle and high depth, in that order, wherever water comes as a band."""


@value
class BedLaw:
    """How a bed resists, for the low, middle and high depth.

    manning  Manning's n, or 0 where the variable-power law holds
    factor   the depth the law gives is multiplied by this
    name     equation behind each, for the calculation sheet
    """

    manning: tuple[float, float, float]
    factor: tuple[float, float, float]
    names: tuple[str, str, str]
    grain84: Length
    grain50: Length
    grain10: Length


def grain_sizes(bed: BedMakeUp) -> tuple[Length, Length, Length]:
    """D10, D50 and D84 of stone sold as smallest to largest, read as log-uniform between 10 % and 90 % passing."""
    smallest, largest = bed.size
    spread = largest / smallest
    median = smallest * spread**table.SIZE_50.amount
    return smallest, median, median * spread**table.SIZE_84_50.amount


def law_of(bed: BedMakeUp, slope: Ratio) -> BedLaw:
    """The laws for one bed on one slope. A roughness the person insists on stands before all others."""
    grain10, grain50, grain84 = grain_sizes(bed)
    manning, factor, names = _bounds(bed, grain50, slope)
    return BedLaw(manning=manning, factor=factor, names=names, grain84=grain84, grain50=grain50, grain10=grain10)


def _bounds(
    bed: BedMakeUp, grain50: Length, slope: Ratio
) -> tuple[tuple[float, float, float], tuple[float, float, float], tuple[str, str, str]]:
    high = table.VPE_HIGH.amount
    if bed.manning is not None:
        spread = table.MANNING_GIVEN
        n = bed.manning
        return (n * spread.low, n, n * spread.high), (1.0, 1.0, 1.0), ("manning_ratio",) * 3
    if bed.laid == "smooth":
        smooth = table.SMOOTH_N
        return (smooth.low, smooth.amount, smooth.high), (1.0, 1.0, 1.0), ("manning_ratio",) * 3
    grain = strickler_n(grain50)
    if bed.laid == "bedded flat":
        return (grain, grain, 0.0), (1.0, 1.0, 1.0), ("strickler_n", "strickler_n", "variable_power_ratio")
    if bed.laid == "with boulders":
        return (0.0, 0.0, 0.0), (1.0, high, high**2), ("variable_power_ratio",) * 3
    riprap = rice_riprap_n.limits["slope"][0] <= slope
    low = rice_riprap_n(grain50, slope) if riprap else grain
    names = ("rice_riprap_n" if riprap else "strickler_n", "variable_power_ratio", "variable_power_ratio")
    return (low, 0.0, 0.0), (1.0, 1.0, high), names
