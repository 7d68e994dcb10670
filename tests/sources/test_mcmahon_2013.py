"""McMahon, T. A., Peel, M. C., Lowe, L., Srikanthan, R. and McVicar, T. R. (2013). Estimating actual, potential,
reference crop and pan evaporation using standard meteorological data. Hydrology and Earth System Sciences 17,
1331-1363, supplement S19.

Provenance: Alice Springs, 20 July 1980, every intermediate as an open notebook quotes it; the net radiation of open
water, 8.6401, as it stands there in the example of another formula. Evaporation itself is worked by hand from those
numbers, here: 0.0898 / 0.1530 x 8.6401 / 2.45 + 0.0632 / 0.1530 x (1.313 + 1.381 x 0.5903) x (1.5963 - 0.5614) = 2.07
+ 0.91 = 2.98 mm a day.
"""

import numpy as np
import pytest

from beckwright.equations.evaporation import (
    atmospheric_pressure,
    clear_sky_radiation,
    daylight,
    drying_power_1948,
    drying_power_1956,
    extraterrestrial_radiation,
    nearness_of_the_sun,
    net_longwave,
    net_shortwave,
    open_water_evaporation,
    psychrometric_constant,
    reference_evapotranspiration,
    saturation_pressure,
    saturation_slope,
    solar_declination,
    sunset_angle,
    vapour_pressure,
)

MEGAJOULES, MILLIMETRES = 0.0864, 86400e3
WIND = 0.5903


def test_every_intermediate() -> None:
    assert saturation_pressure(21) / 1e3 == pytest.approx(2.4870, abs=6e-5)
    assert saturation_pressure(2) / 1e3 == pytest.approx(0.7056, abs=6e-5)
    assert saturation_slope(11.5) / 1e3 == pytest.approx(0.0898, abs=6e-5)
    assert atmospheric_pressure(546) / 1e3 == pytest.approx(95.01027, abs=6e-6)
    assert psychrometric_constant(95010.27) / 1e3 == pytest.approx(0.0632, abs=6e-5)
    assert nearness_of_the_sun(202) == pytest.approx(0.9688, abs=6e-5)
    assert solar_declination(202) == pytest.approx(0.3557, abs=6e-5)
    latitude = np.radians(-23.7951)
    sunset = sunset_angle(latitude, solar_declination(202))
    assert (sunset, daylight(sunset) / 3600) == (pytest.approx(1.4063, abs=6e-5), pytest.approx(10.7431, abs=6e-5))
    above = extraterrestrial_radiation(latitude, solar_declination(202), sunset, nearness_of_the_sun(202))
    assert above * MEGAJOULES == pytest.approx(23.6182, abs=6e-5)
    clear = clear_sky_radiation(above, 546)
    assert clear * MEGAJOULES == pytest.approx(17.9716, abs=6e-5)
    # The notebook prints 7.1784 by 273.2 of its source and 7.1743 by the 273.16 used here.
    back = net_longwave(2, 21, vapour_pressure(2, 21, 0.71, 0.25), 17.194 / MEGAJOULES, clear)
    assert back * MEGAJOULES == pytest.approx(7.1743, abs=1e-4)
    assert net_shortwave(17.194 / MEGAJOULES, 0.23) * MEGAJOULES == pytest.approx(13.2393, abs=1e-4)
    assert (net_shortwave(17.194 / MEGAJOULES, 0.08) - back) * MEGAJOULES == pytest.approx(8.6401, abs=0.005)


def test_grass_and_open_water() -> None:
    slope, psychrometric = saturation_slope(11.5), psychrometric_constant(95010.27)
    deficit = (saturation_pressure(21) + saturation_pressure(2)) / 2 - vapour_pressure(2, 21, 0.71, 0.25)
    assert reference_evapotranspiration(
        slope, psychrometric, 6.0610 / MEGAJOULES, 0.0, 11.5, WIND, deficit
    ) * MILLIMETRES == (pytest.approx(2.0775, abs=0.0006))
    later = open_water_evaporation(slope, psychrometric, 8.6401 / MEGAJOULES, drying_power_1956(WIND, deficit))
    first = open_water_evaporation(slope, psychrometric, 8.6401 / MEGAJOULES, drying_power_1948(WIND, deficit))
    assert later * MILLIMETRES == pytest.approx(2.98, abs=0.006)
    # By hand: 1.313 more in the wind function is 0.0632 / 0.1530 x 1.313 x 1.0349 = 0.56 mm a day more, 19 %.
    assert (first - later) * MILLIMETRES == pytest.approx(0.56, abs=0.006)
