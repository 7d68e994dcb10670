"""Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop evapotranspiration. FAO Irrigation and Drainage
Paper 56.

Provenance: examples 2, 3, 5, 8, 9, 10, 11 and 18 as two open test suites quote them; example 20 (July near Lyon) with
its radiation of example 15 as the manual of an open package quotes it; examples 14 and 17, the mean humidity of example
5, 1.05 of table 12 and the intermediate values of example 18 from memory, to the digits printed.
The paper prints kPa, MJ/m2 a day and mm a day.
"""

import numpy as np
import pytest

from beckwright.equations.evaporation import (
    atmospheric_pressure,
    clear_sky_radiation,
    daylight,
    extraterrestrial_radiation,
    nearness_of_the_sun,
    net_longwave,
    net_shortwave,
    psychrometric_constant,
    reference_evapotranspiration,
    saturation_pressure,
    saturation_slope,
    solar_declination,
    solar_radiation,
    sunset_angle,
    vapour_pressure,
    wind_at_two_metres,
)
from beckwright.equations.weather import mean_saturation, radiation_by_range, vapour_by_mean_humidity, water_by_grass

MEGAJOULES = 0.0864
"""MJ/m2 a day for each W/m2."""
MILLIMETRES = 86400e3
"""mm a day for each m/s."""


def test_example_2_pressure_of_the_air() -> None:
    assert atmospheric_pressure(1800) / 1e3 == pytest.approx(81.8, abs=0.05)
    assert psychrometric_constant(81.8e3) / 1e3 == pytest.approx(0.054, abs=0.0005)


def test_example_3_saturation() -> None:
    assert saturation_pressure(24.5) / 1e3 == pytest.approx(3.075, abs=0.0006)
    assert saturation_pressure(15.0) / 1e3 == pytest.approx(1.705, abs=0.0006)
    assert (saturation_pressure(24.5) + saturation_pressure(15.0)) / 2e3 == pytest.approx(2.39, abs=0.005)
    assert saturation_pressure(19.75) / 1e3 == pytest.approx(2.30, abs=0.005)


def test_example_5_vapour_from_humidity() -> None:
    assert vapour_pressure(18.0, 25.0, 0.82, 0.54) / 1e3 == pytest.approx(1.70, abs=0.005)


def test_example_8_sun_above_the_air() -> None:
    declination = solar_declination(246)
    assert nearness_of_the_sun(246) == pytest.approx(0.985, abs=0.0005)
    assert declination == pytest.approx(0.120, abs=0.0005)
    sunset = sunset_angle(-0.35, 0.120)
    assert sunset == pytest.approx(1.527, abs=0.0005)
    above = extraterrestrial_radiation(-0.35, declination, sunset_angle(-0.35, declination), nearness_of_the_sun(246))
    assert above * MEGAJOULES == pytest.approx(32.2, abs=0.05)
    assert daylight(sunset) / 3600 == pytest.approx(11.7, abs=0.05)


def test_examples_10_and_11_radiation_in_rio() -> None:
    latitude = np.radians(-22.9)
    declination = solar_declination(135)
    sunset = sunset_angle(latitude, declination)
    above = extraterrestrial_radiation(latitude, declination, sunset, nearness_of_the_sun(135))
    solar = solar_radiation(7.1 * 3600 / daylight(sunset), above)
    assert solar * MEGAJOULES == pytest.approx(14.5, abs=0.05)
    assert net_longwave(19.1, 25.1, 2100.0, 14.5 / MEGAJOULES, 18.8 / MEGAJOULES) * MEGAJOULES == pytest.approx(
        3.5, abs=0.05
    )


def test_example_14_wind() -> None:
    assert wind_at_two_metres(3.2, 10.0) == pytest.approx(2.4, abs=0.05)


def test_example_17_a_month_in_bangkok() -> None:
    slope, psychrometric = saturation_slope(30.2), psychrometric_constant(atmospheric_pressure(2))
    assert slope / 1e3 == pytest.approx(0.246, abs=0.0005)
    assert psychrometric / 1e3 == pytest.approx(0.0674, abs=0.00006)
    saturation = (saturation_pressure(34.8) + saturation_pressure(25.6)) / 2
    assert saturation / 1e3 == pytest.approx(4.42, abs=0.005)
    latitude = np.radians(13 + 44 / 60)
    declination = solar_declination(105)
    sunset = sunset_angle(latitude, declination)
    above = extraterrestrial_radiation(latitude, declination, sunset, nearness_of_the_sun(105))
    assert above * MEGAJOULES == pytest.approx(38.06, abs=0.03)
    solar = solar_radiation(8.5 * 3600 / daylight(sunset), above)
    assert solar * MEGAJOULES == pytest.approx(22.65, abs=0.03)
    clear = clear_sky_radiation(above, 2)
    assert clear * MEGAJOULES == pytest.approx(28.54, abs=0.03)
    stays = net_shortwave(solar, 0.23)
    back = net_longwave(25.6, 34.8, 2850.0, solar, clear)
    assert (stays * MEGAJOULES, back * MEGAJOULES) == (pytest.approx(17.44, abs=0.03), pytest.approx(3.11, abs=0.01))
    grass = reference_evapotranspiration(
        slope, psychrometric, stays - back, 0.14 / MEGAJOULES, 30.2, 2.0, saturation - 2850.0
    )
    assert grass * MILLIMETRES == pytest.approx(5.72, abs=0.01)


def test_example_18_a_day_in_uccle() -> None:
    wind = wind_at_two_metres(10 / 3.6, 10.0)
    assert wind == pytest.approx(2.078, abs=0.0006)
    slope, psychrometric = saturation_slope(16.9), psychrometric_constant(atmospheric_pressure(100))
    assert (slope / 1e3, psychrometric / 1e3) == (pytest.approx(0.122, abs=0.0005), pytest.approx(0.0666, abs=0.00006))
    saturation = (saturation_pressure(21.5) + saturation_pressure(12.3)) / 2
    vapour = vapour_pressure(12.3, 21.5, 0.84, 0.63)
    assert (saturation / 1e3, vapour / 1e3) == (pytest.approx(1.997, abs=0.0006), pytest.approx(1.409, abs=0.0006))
    latitude = np.radians(50.8)
    declination = solar_declination(187)
    sunset = sunset_angle(latitude, declination)
    above = extraterrestrial_radiation(latitude, declination, sunset, nearness_of_the_sun(187))
    assert (above * MEGAJOULES, daylight(sunset) / 3600) == (
        pytest.approx(41.09, abs=0.02),
        pytest.approx(16.1, abs=0.05),
    )
    solar, clear = solar_radiation(9.25 * 3600 / daylight(sunset), above), clear_sky_radiation(above, 100)
    assert (solar * MEGAJOULES, clear * MEGAJOULES) == (pytest.approx(22.07, abs=0.02), pytest.approx(30.90, abs=0.02))
    back = net_longwave(12.3, 21.5, vapour, solar, clear)
    net = net_shortwave(solar, 0.23) - back
    assert (back * MEGAJOULES, net * MEGAJOULES) == (pytest.approx(3.71, abs=0.01), pytest.approx(13.28, abs=0.02))
    grass = reference_evapotranspiration(slope, psychrometric, net, 0.0, 16.9, wind, saturation - vapour)
    assert grass * MILLIMETRES == pytest.approx(3.88, abs=0.01)


def test_examples_3_and_5_by_means() -> None:
    """Mean saturation 2.39 kPa; 68 % of it between 18 and 25 degrees is 1.78 kPa."""
    assert mean_saturation(15.0, 24.5) / 1e3 == pytest.approx(2.39, abs=0.005)
    assert vapour_by_mean_humidity(0.68, mean_saturation(18.0, 25.0)) / 1e3 == pytest.approx(1.78, abs=0.005)


def test_examples_15_and_20_without_sun_and_air() -> None:
    """45.72 degrees north, 200 m, day 196, 14.8 to 26.6 degrees: 22.29 MJ/m2 a day by 0.16, and air of 98.96 kPa."""
    latitude, declination = np.radians(45.72), solar_declination(196)
    sunset = sunset_angle(latitude, declination)
    above = extraterrestrial_radiation(latitude, declination, sunset, nearness_of_the_sun(196))
    assert radiation_by_range(0.16, 14.8, 26.6, above) * MEGAJOULES == pytest.approx(22.29, abs=0.03)
    assert atmospheric_pressure(200) / 1e3 == pytest.approx(98.96, abs=0.006)


def test_table_12_open_water_over_example_18() -> None:
    """By hand: 1.05 x 3.88 = 4.07 mm a day."""
    assert water_by_grass(1.05, 3.88 / MILLIMETRES) * MILLIMETRES == pytest.approx(4.07, abs=0.005)
