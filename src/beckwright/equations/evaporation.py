"""Water that goes up: from open water by Penman, from grass by FAO-56, from a very small surface by its width.

Radiation is the mean of a day in W/m2; the sources print MJ/m2 a day, kPa and mm a day.
"""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import (
    Angle,
    Area,
    Duration,
    Irradiance,
    Length,
    LossRate,
    Pressure,
    PressurePerKelvin,
    Ratio,
    Temperature,
    Velocity,
)

_MILLIMETRE_A_DAY = 1e-3 / 86400.0


@published(source="allen-1998", place="eq. 7")
def atmospheric_pressure(altitude: Length) -> Pressure:
    """Pressure of the air at a height above the sea.

    ``P = 101300 ((293 - 0.0065 z) / 293)**5.26``

    altitude  z  above the sea
    """
    return 101300.0 * ((293.0 - 0.0065 * altitude) / 293.0) ** 5.26


@published(source="allen-1998", place="eq. 8")
def psychrometric_constant(pressure: Pressure) -> PressurePerKelvin:
    """How much drier air is for each degree that a wet bulb stands lower.

    ``g = 0.665e-3 P``

    pressure  P  of the air
    """
    return 0.665e-3 * pressure


@published(source="allen-1998", place="eq. 11")
def saturation_pressure(temperature: Temperature) -> Pressure:
    """Pressure of vapour over water at a temperature.

    ``es = 610.8 exp(17.27 t / (t + 237.3))``

    temperature  t  of water and air
    """
    return 610.8 * np.exp(17.27 * temperature / (temperature + 237.3))


@published(source="allen-1998", place="eq. 13")
def saturation_slope(temperature: Temperature) -> PressurePerKelvin:
    """Rise of the vapour pressure with temperature.

    ``D = 4098 * 610.8 exp(17.27 t / (t + 237.3)) / (t + 237.3)**2``

    temperature  t  of the air
    """
    return 4098.0 * 610.8 * np.exp(17.27 * temperature / (temperature + 237.3)) / (temperature + 237.3) ** 2


@published(source="allen-1998", place="eq. 17")
def vapour_pressure(coldest: Temperature, warmest: Temperature, dampest: Ratio, driest: Ratio) -> Pressure:
    """Vapour in the air of a day from its extremes.

    ``ea = (es(Tn) Hx + es(Tx) Hn) / 2``

    coldest  Tn  of the day
    warmest  Tx  of the day
    dampest  Hx  relative humidity, when it is coldest
    driest   Hn  relative humidity, when it is warmest
    """
    return (saturation_pressure(coldest) * dampest + saturation_pressure(warmest) * driest) / 2.0


@published(source="allen-1998", place="eq. 47", height=(2.0, 50.0))
def wind_at_two_metres(wind: Velocity, height: Length) -> Velocity:
    """Wind near the ground from wind on a mast, over grass.

    ``u2 = u 4.87 / ln(67.8 z - 5.42)``

    wind    u  as measured
    height  z  of the instrument
    """
    return wind * 4.87 / np.log(67.8 * height - 5.42)


@published(source="allen-1998", place="eq. 23", day=(1.0, 366.0))
def nearness_of_the_sun(day: Ratio) -> Ratio:
    """Inverse relative distance of earth and sun.

    ``dr = 1 + 0.033 cos(2 pi J / 365)``

    day  J  of the year, the first of January is 1
    """
    return 1.0 + 0.033 * np.cos(2.0 * np.pi * day / 365.0)


@published(source="allen-1998", place="eq. 24", day=(1.0, 366.0))
def solar_declination(day: Ratio) -> Angle:
    """How far north of the equator the sun stands at noon.

    ``d = 0.409 sin(2 pi J / 365 - 1.39)``

    day  J  of the year
    """
    return 0.409 * np.sin(2.0 * np.pi * day / 365.0 - 1.39)


@published(source="allen-1998", place="eq. 25")
def sunset_angle(latitude: Angle, declination: Angle) -> Angle:
    """Hour angle of the sunset, between the polar circles.

    ``w = arccos(-tan(f) tan(d))``

    latitude     f  north is positive
    declination  d  of the sun
    """
    return np.arccos(-np.tan(latitude) * np.tan(declination))


@published(source="allen-1998", place="eq. 34")
def daylight(sunset: Angle) -> Duration:
    """Time from sunrise to sunset.

    ``N = 86400 w / pi``

    sunset  w  hour angle of the sunset
    """
    return 86400.0 * sunset / np.pi


@published(source="allen-1998", place="eq. 21, Gsc = 0.0820 MJ/m2 a minute")
def extraterrestrial_radiation(latitude: Angle, declination: Angle, sunset: Angle, nearness: Ratio) -> Irradiance:
    """Sun on a level surface above the air, mean of a day.

    ``Ra = (82000 / 60) / pi dr (w sin(f) sin(d) + cos(f) cos(d) sin(w))``

    latitude     f   north is positive
    declination  d   of the sun
    sunset       w   hour angle of the sunset
    nearness     dr  inverse relative distance of earth and sun
    """
    lit = sunset * np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.sin(sunset)
    return (82000.0 / 60.0) / np.pi * nearness * lit


@published(source="allen-1998", place="eq. 35, as = 0.25, bs = 0.50")
def solar_radiation(sunny: Ratio, extraterrestrial: Irradiance) -> Irradiance:
    """Sun on the ground from the hours it shone.

    ``Rs = (0.25 + 0.50 n) Ra``

    sunny             n   share of the daylight with sunshine
    extraterrestrial  Ra  radiation above the air
    """
    return (0.25 + 0.50 * sunny) * extraterrestrial


@published(source="allen-1998", place="eq. 37")
def clear_sky_radiation(extraterrestrial: Irradiance, altitude: Length) -> Irradiance:
    """Sun on the ground under a clear sky.

    ``Rso = (0.75 + 2e-5 z) Ra``

    extraterrestrial  Ra  radiation above the air
    altitude          z   above the sea
    """
    return (0.75 + 2e-5 * altitude) * extraterrestrial


@published(source="allen-1998", place="eq. 38; albedo 0.23 of grass, 0.08 of water")
def net_shortwave(solar: Irradiance, albedo: Ratio) -> Irradiance:
    """Sun that stays.

    ``Rns = (1 - a) Rs``

    solar   Rs  on the ground
    albedo  a   share thrown back
    """
    return (1.0 - albedo) * solar


@published(source="allen-1998", place="eq. 39")
def net_longwave(
    coldest: Temperature, warmest: Temperature, vapour: Pressure, solar: Irradiance, clear: Irradiance
) -> Irradiance:
    """Warmth that goes back to the sky.

    ``Rnl = 5.6748e-8 ((Tn + 273.16)**4 + (Tx + 273.16)**4) / 2 (0.34 - 0.14 (ea / 1000)**0.5) (1.35 Rs / Rso - 0.35)``

    coldest  Tn   of the day
    warmest  Tx   of the day
    vapour   ea   pressure of the vapour in the air
    solar    Rs   on the ground
    clear    Rso  the same under a clear sky
    """
    warmth = 4.903e-9 * 1e6 / 86400.0 * ((coldest + 273.16) ** 4 + (warmest + 273.16) ** 4) / 2.0
    return warmth * (0.34 - 0.14 * np.sqrt(vapour / 1000.0)) * (1.35 * solar / clear - 0.35)


@published(source="allen-1998", place="eq. 6")
def reference_evapotranspiration(
    slope: PressurePerKelvin,
    psychrometric: PressurePerKelvin,
    net: Irradiance,
    into_soil: Irradiance,
    temperature: Temperature,
    wind: Velocity,
    deficit: Pressure,
) -> LossRate:
    """Water a short green grass gives to the air.

    ``ET0 = (0.408 D 0.0864 (Rn - G) + g 900 / (t + 273) u2 v / 1000) / (D + g (1 + 0.34 u2)) / 86400000``

    slope          D   of the saturation curve
    psychrometric  g   constant
    net            Rn  radiation that stays
    into_soil      G   warmth that goes into the soil
    temperature    t   mean of the day
    wind           u2  at two metres
    deficit        v   vapour the air could still take
    """
    sun = 0.408 * slope * 0.0864 * (net - into_soil)
    air = psychrometric * 900.0 / (temperature + 273.0) * wind * deficit / 1000.0
    return (sun + air) / (slope + psychrometric * (1.0 + 0.34 * wind)) * _MILLIMETRE_A_DAY


@published(source="mcmahon-2013", place="Penman 1956 wind function, supplement S4")
def drying_power_1956(wind: Velocity, deficit: Pressure) -> LossRate:
    """What wind takes from open water, by Penman's later function.

    ``Ea = (1.313 + 1.381 u2) v / 1000 / 86400000``

    wind     u2  at two metres
    deficit  v   vapour the air could still take
    """
    return (1.313 + 1.381 * wind) * deficit / 1000.0 * _MILLIMETRE_A_DAY


@published(source="penman-1948", place="wind function of 1948, in kPa and m/s")
def drying_power_1948(wind: Velocity, deficit: Pressure) -> LossRate:
    """What wind takes from open water, by Penman's first function: the high end.

    ``Ea = (2.626 + 1.381 u2) v / 1000 / 86400000``

    wind     u2  at two metres
    deficit  v   vapour the air could still take
    """
    return (2.626 + 1.381 * wind) * deficit / 1000.0 * _MILLIMETRE_A_DAY


@published(source="mcmahon-2013", place="eq. 12, latent heat 2.45 MJ/kg")
def open_water_evaporation(
    slope: PressurePerKelvin, psychrometric: PressurePerKelvin, net: Irradiance, drying: LossRate
) -> LossRate:
    """Evaporation of shallow open water: what the sun drives and what the wind takes (Penman).

    ``E = D / (D + g) Rn / (2.45e6 * 1000) + g / (D + g) Ea``

    slope          D   of the saturation curve
    psychrometric  g   constant
    net            Rn  radiation that stays
    drying         Ea  by a wind function
    """
    return slope / (slope + psychrometric) * net / (2.45e6 * 1000.0) + psychrometric / (slope + psychrometric) * drying


@published(source="shuttleworth-1993", place="eq. 4.2.31", area=(0.25, 25.0))
def small_water_evaporation(area: Area, wind: Velocity, deficit: Pressure) -> LossRate:
    """Evaporation of a surface a few steps wide, dry ground all round it.

    ``E = 3.623 A**-0.066 u2 v / 1000 / 86400000``

    area     A   of the surface
    wind     u2  at two metres
    deficit  v   vapour the air could still take
    """
    return 3.623 * area**-0.066 * wind * deficit / 1000.0 * _MILLIMETRE_A_DAY
