"""Figures of real years: how wet, how long a dry spell, what a storm sends over, how it was found."""

from collections.abc import Iterator
from datetime import date

from beckwright.base.figures import Figure
from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray
from beckwright.figures.make import told
from beckwright.stages.season import RealYear, Season

DAY = 86400.0
RANKED = "years are ranked by what had to be filled up in each, by the middle of its band"


def weather_figures(season: Season | None) -> Iterator[Figure]:
    """Figures of the year told and of the driest; none of a typical year."""
    if season is None or season.real is None:
        return
    real = season.real
    ways = "; ".join(f"{way} on {count} days" for way, count in real.ways)
    yield from _year("season.real", real.at(season.name), ways)
    if len(real.years) > 1:
        yield from _year("season.driest", real.years[real.driest], f"{RANKED}; {ways}")


def _year(name: str, year: RealYear, ways: str) -> Iterator[Figure]:
    """One year's figures."""
    of, days = f"of {year.name}", "the days as they were"
    yield told(f"{name}.rain", f"Rain {of}", year.rain, "m", source=days)
    yield _banded(f"{name}.evaporation", f"Evaporation of still open water {of}", year.evaporation, "m", ways)
    yield _banded(f"{name}.topped", f"Filled up from elsewhere in {year.name}", year.topped, "m3", ways)
    storm = f"{date.fromordinal(year.storm.day)}, the wettest day"
    yield told(f"{name}.storm", f"Rain of {storm}", year.storm.rain, "m", source=days)
    yield _banded(
        f"{name}.storm_over", f"Over the overflow on {storm}", year.storm.over, "m3", "from the day before's level"
    )
    if year.spell is not None:
        first, last = (date.fromordinal(each) for each in (year.spell.first, year.spell.last))
        label = f"Longest dry spell {of}, {first} to {last}"
        yield told(
            f"{name}.spell", label, year.spell.days * DAY, "s", source=days, note="days under 1 mm while it runs"
        )
        left = f"Of the reserve at the end of the spell of {first}"
        yield _banded(f"{name}.spell_left", left, year.spell.left, "m3", "from full, with nothing filled up")


def _banded(name: str, label: str, band: FloatArray, unit: str, note: str) -> Figure:
    low, amount, high = sorted(band.tolist())
    source = "days gone through one by one"
    return told(name, label, amount, unit, source=source, note=note, ends=(low, high), grade=Grade.ASSUMED)
