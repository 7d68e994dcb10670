"""What evaporates on the days of a real year: by the best equation that what was measured allows, day by day."""

from datetime import date

import numpy as np

from beckwright.base.quantities import Angle, BoolArray, FloatArray, IntArray, Length
from beckwright.base.values import value
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
    solar_radiation,
    sunset_angle,
    wind_at_two_metres,
)
from beckwright.equations.weather import mean_saturation, radiation_by_range, vapour_by_mean_humidity, water_by_grass
from beckwright.job.model import Weather
from beckwright.tables.season import (
    GRASS_ALBEDO,
    MISSING_DEW,
    MISSING_SUN,
    MISSING_WIND,
    OPEN_WATER,
    PAN,
    WATER_ALBEDO,
)

DAY = 86400.0
ENDS = ("low", "amount", "high")
WATER_MEASURED = "as measured on open water"
PAN_MEASURED = "a pan's, times 0.6 to 0.8"
PENMAN = "open-water Penman"
NO_DEW = "dew point taken as the least temperature"
NO_SUN = "sun taken from the day's range of temperature"
NO_WIND = "wind taken as 2 m/s"


@value
class Evaporated:
    """What went up.

    depth  (3, n) of each day; low, middle and high; never below nothing: dew on the water is left out
    ways   how it was found and on how many days, those that were worked out first
    """

    depth: FloatArray
    ways: tuple[tuple[str, int], ...]


@value
class Sky:
    """The sun at a place on each day, (n,): above the air, under a clear sky, and from rise to set."""

    above: FloatArray
    clear: FloatArray
    long: FloatArray

    @classmethod
    def of(cls, days: IntArray, latitude: Angle, altitude: Length) -> "Sky":
        """Take the sun of day numbers of the calendar."""
        year_day = np.array([date.fromordinal(day).timetuple().tm_yday for day in days.tolist()], dtype=float)
        declination = solar_declination.over(year_day)
        sunset = sunset_angle.over(latitude, declination)
        above = extraterrestrial_radiation.over(latitude, declination, sunset, nearness_of_the_sun.over(year_day))
        return cls(above=above, clear=clear_sky_radiation.over(above, altitude), long=daylight.over(sunset))


def evaporated(
    weather: Weather, wind_height: Length | None, latitude: Angle | None, altitude: Length | None
) -> Evaporated:
    """Take each day's evaporation of open water.

    Measured on open water it stands as it is; a pan's is brought down to open water's. Else it is Penman's for open
    water; its band spans both of his wind functions and 1.05 of FAO-56 grass. What a day lacks is put in by the rules
    of FAO-56, chapter 3, at their low, middle and high: the band is then wider.
    """
    count = len(weather.days)
    depth = np.full((3, count), np.nan)
    water = np.isfinite(weather.water)
    pan = np.isfinite(weather.pan) & ~water
    worked = ~(water | pan)
    depth[:, water] = weather.water[water]
    depth[:, pan] = np.array([getattr(PAN, end) for end in ENDS])[:, np.newaxis] * weather.pan[pan]
    if worked.any() and latitude is not None and altitude is not None:
        depth[:, worked] = _penman(weather, wind_height, latitude, altitude)[:, worked]
    ways = (
        (PENMAN, worked),
        (NO_DEW, worked & np.isnan(weather.humidity) & np.isnan(weather.dew_point)),
        (NO_SUN, worked & np.isnan(weather.sunshine) & np.isnan(weather.solar)),
        (NO_WIND, worked & np.isnan(weather.wind)),
        (WATER_MEASURED, water),
        (PAN_MEASURED, pan),
    )
    return Evaporated(depth=np.maximum(depth, 0.0), ways=tuple((way, int(on.sum())) for way, on in ways if on.any()))


def _penman(weather: Weather, wind_height: Length | None, latitude: Angle, altitude: Length) -> FloatArray:
    """Penman's for each day, (3, n): the least and the most of three skies by three formulae, the middle between."""
    sky = Sky.of(weather.days, latitude, altitude)
    pressure = psychrometric_constant(atmospheric_pressure(altitude))
    each = np.array([_by_three(weather, wind_height, sky, pressure, end) for end in ENDS])
    return np.array([each.min(axis=(0, 1)), each[1, 0], each.max(axis=(0, 1))])


def _by_three(weather: Weather, wind_height: Length | None, sky: Sky, psychrometric: float, end: str) -> FloatArray:
    """By Penman's wind function of 1956, by that of 1948, and as 1.05 of grass, (3, n)."""
    cold, warm = weather.coldest, weather.warmest
    middle = (cold + warm) / 2.0
    vapour, wind = _vapour(weather, getattr(MISSING_DEW, end)), _wind(weather, wind_height, getattr(MISSING_WIND, end))
    sun = _sun(weather, sky, getattr(MISSING_SUN, end))
    deficit = np.maximum(mean_saturation.over(cold, warm) - vapour, 0.0)
    # Between clear sky and measured sun stands the instrument: the sky throws back no more than when it is clear.
    back = net_longwave.over(cold, warm, vapour, np.minimum(sun, sky.clear), sky.clear)
    slope = saturation_slope.over(middle)
    net = net_shortwave.over(sun, WATER_ALBEDO.amount) - back
    later, first = (
        open_water_evaporation.over(slope, psychrometric, net, drying.over(wind, deficit))
        for drying in (drying_power_1956, drying_power_1948)
    )
    grass = reference_evapotranspiration.over(
        slope, psychrometric, net_shortwave.over(sun, GRASS_ALBEDO.amount) - back, 0.0, middle, wind, deficit
    )
    return np.array([later, first, water_by_grass.over(OPEN_WATER.amount, grass)]) * DAY


def _vapour(weather: Weather, below: float) -> FloatArray:
    """Pressure of the vapour: from the dew point, else the humidity, else so far below the least temperature."""
    humid = vapour_by_mean_humidity.over(weather.humidity, mean_saturation.over(weather.coldest, weather.warmest))
    taken = saturation_pressure.over(weather.coldest - below)
    return _first(saturation_pressure.over(weather.dew_point), humid, taken)


def _wind(weather: Weather, height: Length | None, taken: float) -> FloatArray:
    """Wind at two metres, as measured or as taken."""
    if height is None:
        return np.full(len(weather.days), taken)
    measured = weather.wind if height == 2.0 else wind_at_two_metres.over(weather.wind, height)
    return np.where(np.isfinite(measured), measured, taken)


def _sun(weather: Weather, sky: Sky, adjustment: float) -> FloatArray:
    """Sun on the ground: as measured, from the hours it shone, or from how much warmer the day was than the night."""
    hours = solar_radiation.over(np.minimum(weather.sunshine / sky.long, 1.0), sky.above)
    by_range = radiation_by_range.over(adjustment, weather.coldest, weather.warmest, sky.above)
    return _first(weather.solar, hours, np.minimum(by_range, sky.clear))


def _first(*given: FloatArray) -> FloatArray:
    """Of several the first that is a number, day by day."""
    found = given[-1]
    for each in reversed(given[:-1]):
        known: BoolArray = np.isfinite(each)
        found = np.where(known, each, found)
    return found
