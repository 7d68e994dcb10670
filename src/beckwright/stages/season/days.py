"""Days of a typical year from a table of months."""

from calendar import monthrange

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Lengths
from beckwright.base.values import value
from beckwright.job.model import Climate
from beckwright.tables.season import WET_DAY_RAIN

LENGTHS = tuple(monthrange(2001, month)[1] for month in range(1, 13))
"""Days of each month of a year that is no leap year."""


@value
class Days:
    """Each day of the year, (365,).

    month  0 is January
    rain, evaporation  depths
    """

    month: IntArray
    rain: Lengths
    evaporation: Lengths


def typical_year(climate: Climate) -> Days:
    """Evaporation spread evenly, rain over as many days as a wet day's rain makes, as far apart as they go."""
    month = np.repeat(np.arange(12), LENGTHS)
    return Days(
        month=month,
        rain=np.concatenate([_rain(total, days) for total, days in zip(climate.rain, LENGTHS, strict=True)]),
        evaporation=np.maximum(climate.evaporation, 0.0)[month] / np.array(LENGTHS)[month],
    )


def _rain(total: float, days: int) -> FloatArray:
    wet = min(max(round(total / WET_DAY_RAIN.amount), 1), days)
    fallen = np.zeros(days)
    # The middles of ``wet`` equal parts of the month, each another day.
    fallen[((np.arange(wet) + 0.5) * days / wet).astype(int)] = total / wet
    return fallen
