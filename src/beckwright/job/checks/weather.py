"""Checks on days of real weather: the place is told, and the wind's gauge; the sun shines no longer than the day."""

import re
from collections.abc import Iterator
from datetime import date

import numpy as np

from beckwright.equations.evaporation import (
    daylight,
    extraterrestrial_radiation,
    nearness_of_the_sun,
    solar_declination,
    sunset_angle,
)
from beckwright.job.model import Weather
from beckwright.job.wording.fault import Fault
from beckwright.job.wording.sentences import shown
from beckwright.job.written.season import SeasonWritten
from beckwright.job.written.site import SiteWritten

_TABLE = re.compile(r"[A-Za-z0-9_-]+\.csv")
SPARE = 0.5 * 3600.0
"""A recorder may count half an hour more than the sun stands over a level horizon, s."""


def table_lies_here(season: SeasonWritten) -> Iterator[Fault]:
    """Refuse a table of days that lies elsewhere: the folder is the whole job."""
    if season.days is not None and not named_here(season.days):
        rule = "It is a table in the job's own folder, its name of letters, figures, - and _ with .csv behind"
        yield ("season", "days"), f"days is {shown(season.days)}", rule, "Put the table there, and write its name alone"


def named_here(name: str) -> bool:
    """Whether a name is that of a table in the job's own folder."""
    return _TABLE.fullmatch(name) is not None


def place_told(site: SiteWritten, weather: Weather) -> Iterator[Fault]:
    """Refuse days whose evaporation has to be worked out at a place nobody told."""
    if weather.measured.all():
        return
    for key, given, meant in (
        ("latitude_deg", site.latitude_deg, "the sun's course hangs on it"),
        ("altitude_m", site.altitude_m, "thin air takes more water"),
    ):
        if given is None:
            rule = f"Evaporation of days in {weather.file} is worked out with it: {meant}"
            yield ("site", key), f"{key} is missing", rule, "Read it off a map, to a tenth of a degree or to 50 m"


def wind_height_told(season: SeasonWritten, weather: Weather) -> Iterator[Fault]:
    """Refuse wind measured nobody knows how high."""
    if season.wind_height_m is None and np.isfinite(weather.wind[~weather.measured]).any():
        rule = f"{weather.file} tells wind, and wind grows with the height over the ground"
        remedy = "Ask the station: 10 m at most weather stations, 2 m at farm stations"
        yield ("season", "wind_height_m"), "wind_height_m is missing", rule, remedy


def sun_fits_the_day(site: SiteWritten, season: SeasonWritten, weather: Weather) -> Iterator[Fault]:
    """Refuse sunshine longer than the day and radiation stronger than above the air: another place, or another unit."""
    if site.latitude_deg is None:
        return
    year_day = np.array([date.fromordinal(day).timetuple().tm_yday for day in weather.days.tolist()], dtype=float)
    latitude, declination = float(np.radians(site.latitude_deg)), solar_declination.over(year_day)
    sunset = sunset_angle.over(latitude, declination)
    above = extraterrestrial_radiation.over(latitude, declination, sunset, nearness_of_the_sun.over(year_day))
    remedy = "Look for a slip of the unit, or of site.latitude_deg"
    for told, most, word, unit, scale in (
        (weather.sunshine, daylight.over(sunset) + SPARE, "sunshine_hours", "h", 3600.0),
        (weather.solar, above, "solar_mj_m2", "MJ/m2", 1e6 / 86400.0),
    ):
        over = np.flatnonzero(told > most)
        if len(over):
            worst = int(over[np.argmax((told - most)[over])])
            day = date.fromordinal(int(weather.days[worst]))
            more = f", and on {len(over) - 1} more days too much" if len(over) > 1 else ""
            found = f"{weather.file} has {word} {told[worst] / scale:.1f} {unit} on {day}{more}"
            rule = f"At this latitude that day has {most[worst] / scale:.1f} {unit} at most"
            yield ("season", "days"), found, rule, remedy
