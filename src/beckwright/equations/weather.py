"""What a station did not measure, from what it did: vapour from a mean humidity, sun from the day's range (FAO-56).

A missing dew point is the least temperature of the day, and its vapour by ``saturation_pressure``: allen-1998 eq. 48.
"""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Irradiance, LossRate, Pressure, Ratio, Temperature
from beckwright.equations.evaporation import saturation_pressure


@published(source="allen-1998", place="eq. 12")
def mean_saturation(coldest: Temperature, warmest: Temperature) -> Pressure:
    """Vapour the air of a day could hold at the most, mean of its extremes.

    ``es = (es(Tn) + es(Tx)) / 2``

    coldest  Tn  of the day
    warmest  Tx  of the day
    """
    return (saturation_pressure(coldest) + saturation_pressure(warmest)) / 2.0


@published(source="allen-1998", place="eq. 19", humidity=(0.0, 1.0))
def vapour_by_mean_humidity(humidity: Ratio, saturation: Pressure) -> Pressure:
    """Vapour in the air of a day where only its mean humidity is known.

    ``ea = H es``

    humidity    H   relative, mean of the day
    saturation  es  mean of the day's extremes
    """
    return humidity * saturation


@published(source="allen-1998", place="eq. 50; k 0.16 inland, 0.19 by the sea")
def radiation_by_range(adjustment: Ratio, coldest: Temperature, warmest: Temperature, above: Irradiance) -> Irradiance:
    """Sun on the ground from how far the day was warmer than the night (Hargreaves).

    ``Rs = k (Tx - Tn)**0.5 Ra``

    adjustment  k   for each root of a degree
    coldest     Tn  of the day
    warmest     Tx  of the day
    above       Ra  radiation above the air
    """
    return adjustment * np.sqrt(warmest - coldest) * above


@published(source="allen-1998", place="table 12, open water less than 2 m deep, from memory: 1.05")
def water_by_grass(coefficient: Ratio, grass: LossRate) -> LossRate:
    """Evaporation of shallow open water from that of short green grass.

    ``E = Kc ET0``

    coefficient  Kc   of open water
    grass        ET0  of the reference grass
    """
    return coefficient * grass
