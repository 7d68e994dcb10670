"""Days of a year: a typical one from a table of months, or those of real years."""

from calendar import monthrange
from datetime import date

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Lengths
from beckwright.base.values import value
from beckwright.job.model import Climate, Job, Weather
from beckwright.stages.season.values import LENGTHS
from beckwright.stages.season.weather import evaporated
from beckwright.tables.season import WET_DAY_RAIN


@value
class Span:
    """One year among the days: its name, and its first day and the one after its last as places."""

    name: str
    start: int
    stop: int


@value
class Days:
    """Each day of a year or of several, (n,).

    month    0 is January
    long     days of the month it lies in
    rain     depth
    evaporation  depth, (n,), or as a band (3, n)
    numbers  of the calendar; those of a typical year begin at 1
    coldest  least of the air; None in a typical year
    spans    the years
    ways     how the evaporation was found, and on how many days
    file     table they stand in
    """

    month: IntArray
    long: IntArray
    rain: Lengths
    evaporation: Lengths
    numbers: IntArray
    coldest: FloatArray | None = None
    spans: tuple[Span, ...]
    ways: tuple[tuple[str, int], ...] = ()
    file: str = "climate.csv"


def days_of(job: Job) -> Days | None:
    """The days of real years where the job has them, else a typical year; None where it has neither."""
    if job.weather is not None:
        return real_years(job, job.weather)
    return None if job.climate is None else typical_year(job.climate)


def typical_year(climate: Climate) -> Days:
    """Evaporation spread evenly, rain over as many days as a wet day's rain makes, as far apart as they go."""
    month = np.repeat(np.arange(12), LENGTHS)
    return Days(
        month=month,
        long=np.array(LENGTHS)[month],
        rain=np.concatenate([_rain(total, days) for total, days in zip(climate.rain, LENGTHS, strict=True)]),
        evaporation=np.maximum(climate.evaporation, 0.0)[month] / np.array(LENGTHS)[month],
        numbers=np.arange(1, len(month) + 1),
        spans=(Span(name="", start=0, stop=len(month)),),
    )


def real_years(job: Job, weather: Weather) -> Days:
    """The days as they were, with what evaporated on each."""
    dates = [date.fromordinal(day) for day in weather.days.tolist()]
    gone = evaporated(weather, job.season.wind_height, job.site.latitude, job.site.altitude)
    return Days(
        month=np.array([day.month - 1 for day in dates]),
        long=np.array([monthrange(day.year, day.month)[1] for day in dates]),
        rain=weather.rain,
        evaporation=gone.depth,
        numbers=weather.days,
        coldest=weather.coldest,
        spans=_spans(dates),
        ways=gone.ways,
        file=weather.file,
    )


def _spans(dates: list[date]) -> tuple[Span, ...]:
    """Twelve months each from the first day on, named by the year or the two years they lie in."""
    first = dates[0]
    starts = [place for place, day in enumerate(dates) if (day.month, day.day) == (first.month, first.day)]
    stops = [*starts[1:], len(dates)]
    return tuple(
        Span(name=_called(dates[start], dates[stop - 1]), start=start, stop=stop)
        for start, stop in zip(starts, stops, strict=True)
    )


def _called(first: date, last: date) -> str:
    return f"{first.year}" if first.year == last.year else f"{first.year}/{last.year % 100:02d}"


def _rain(total: float, days: int) -> FloatArray:
    wet = min(max(round(total / WET_DAY_RAIN.amount), 1), days)
    fallen = np.zeros(days)
    # The middles of ``wet`` equal parts of the month, each another day.
    fallen[((np.arange(wet) + 0.5) * days / wet).astype(int)] = total / wet
    return fallen
