"""The days of real years: every day once, in order, none missing, and nothing filled in that the job did not allow."""

import re
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from math import isfinite, isnan, nan
from pathlib import Path

import numpy as np

from beckwright.base.errors import Problem
from beckwright.base.quantities import FloatArray
from beckwright.job.model import Weather
from beckwright.job.tables.columns import MOST_PROBLEMS, Column, Table, read_table
from beckwright.job.tables.gaps import Gap, fill, holes
from beckwright.job.units import HOUR, MILLIMETRE, PERCENT
from beckwright.job.wording.sentences import shown

Found = tuple[int | None, str, str, str]
"""Line (None for the whole table), what was found, the rule, the remedy."""

MOST_YEARS = 60
EARLIEST, LATEST = 1700, 2200
"""Years that a table of weather may be of."""
MEGAJOULE_A_DAY = 1e6 / 86400.0
BASE = ("least_c", "greatest_c", "rain_mm")
"""What every day must have."""
COLUMNS = (
    Column(name="date"),
    Column(name="least_c", low=-60, high=60, other=nan),
    Column(name="greatest_c", low=-60, high=60, other=nan),
    Column(name="rain_mm", low=0, high=2000, other=nan),
    Column(name="humidity_percent", low=1, high=100, other=nan),
    Column(name="dew_point_c", low=-70, high=40, other=nan),
    Column(name="wind_m_s", low=0, high=60, other=nan),
    Column(name="sunshine_hours", low=0, high=24, other=nan),
    Column(name="solar_mj_m2", low=0, high=45, other=nan),
    Column(name="evaporation_mm", low=-5, high=40, other=nan),
    Column(name="pan_evaporation_mm", low=-5, high=60, other=nan),
)
_DATE = re.compile(r"\d{4}-\d\d-\d\d")


def read_weather(path: Path, gap: str, problems: list[Problem]) -> Weather | None:
    """Read the table of days; None after noting everything that is wrong with it.

    gap  so many days in a row, as digits, may be filled from their neighbours
    """
    table = read_table(path, COLUMNS, problems)
    if table is None:
        return None
    dates = [_date(text) for text in table.texts["date"]]
    allowed = int(gap)
    gaps = holes(_steady(dates), table.numbers, BASE)
    found = [
        *_bare(table),
        *_dates(table, dates),
        *_warmth(table),
        *(_missing(table, each, allowed) for each in gaps if each.length > allowed or each.at_an_end),
        *_whole_years([each for each in dates if each is not None]),
    ]
    found.sort(key=lambda fault: (fault[0] is None, fault[0]))
    for line, what, rule, remedy in found[:MOST_PROBLEMS]:
        place = f"{table.file} line {line}" if line else table.file
        problems.append(Problem(place=place, found=what, rule=rule, remedy=remedy))
    if len(found) > MOST_PROBLEMS:
        more = f"there are {len(found) - MOST_PROBLEMS} more problems like these"
        rule, remedy = "Only the first are listed", "Mend these and read the job again"
        problems.append(Problem(place=table.file, found=more, rule=rule, remedy=remedy))
    if found:
        return None
    return _weather(table.file, *fill([each.toordinal() for each in dates if each], table.numbers, BASE))


def _weather(file: str, days: list[int], cells: dict[str, FloatArray], filled: tuple[int, ...]) -> Weather:
    return Weather(
        file=file,
        days=np.array(days),
        coldest=cells["least_c"],
        warmest=cells["greatest_c"],
        rain=cells["rain_mm"] * MILLIMETRE,
        humidity=cells["humidity_percent"] * PERCENT,
        dew_point=cells["dew_point_c"],
        wind=cells["wind_m_s"],
        sunshine=cells["sunshine_hours"] * HOUR,
        solar=cells["solar_mj_m2"] * MEGAJOULE_A_DAY,
        water=cells["evaporation_mm"] * MILLIMETRE,
        pan=cells["pan_evaporation_mm"] * MILLIMETRE,
        filled=filled,
    )


def _date(text: str) -> date | None:
    """A date as year-month-day; None for anything else: whether 3/4 is in March or April is never guessed."""
    try:
        day = date.fromisoformat(text) if _DATE.fullmatch(text) else None
    except ValueError:
        return None
    return day if day and EARLIEST <= day.year <= LATEST else None


def _steady(dates: list[date | None]) -> list[int]:
    """Day numbers where all is in order; none where it is not, for gaps in a muddle are no gaps."""
    numbers = [each.toordinal() for each in dates if each is not None]
    rising = all(later > earlier for earlier, later in pairwise(numbers))
    return numbers if rising and len(numbers) == len(dates) else []


def _bare(table: Table) -> Iterator[Found]:
    """Columns that must be there and hold nothing at all."""
    for name in BASE:
        if all(isnan(cell) for cell in table.numbers[name]):
            rule = f"A table of days has date, {', '.join(BASE)}"
            unit = {"least_c": "°C", "greatest_c": "°C", "rain_mm": "mm"}[name]
            yield None, f"the column {name} is missing or empty", rule, f"Add it, its numbers in {unit}"


def _dates(table: Table, dates: list[date | None]) -> Iterator[Found]:
    lines, seen, before = table.lines, dict[date, int](), None
    for line, text, day in zip(lines, table.texts["date"], dates, strict=True):
        if day is None:
            leap = _DATE.fullmatch(text) is not None and text.endswith("-02-29")
            rule = f"{text[:4]} is no leap year" if leap else "A date is year-month-day, such as 2025-06-30"
            yield line, f"date is {shown(text)}", rule, "Take the day out" if leap else "Write it so"
            continue
        if day in seen:
            yield line, f"{day} stood on line {seen[day]} before", "Each day stands once", "Take one of the two out"
        elif before is not None and day < before:
            yield line, f"{day} stands after {before}", "Days stand in order", "Put the rows in order"
        seen.setdefault(day, line)
        before = day


def _warmth(table: Table) -> Iterator[Found]:
    """Each row on its own: the night is no warmer than the day, and no dew falls at the greatest temperature."""
    cells = zip(table.lines, *(table.numbers[name] for name in ("least_c", "greatest_c", "dew_point_c")), strict=True)
    for line, least, greatest, dew in cells:
        if least > greatest:
            found = f"least_c is {shown(least, 'least_c')}, greatest_c {shown(greatest, 'greatest_c')}"
            yield line, found, "The least is no more than the greatest", "Look whether the two are swapped"
        elif isfinite(dew) and dew > greatest:
            found = f"dew_point_c is {shown(dew, 'dew_point_c')}, greatest_c {shown(greatest, 'greatest_c')}"
            yield line, found, "Air is no cooler than its dew point", "Look whether it is the humidity in %"


def _missing(table: Table, gap: Gap, allowed: int) -> Found:
    first, last = (date.fromordinal(number) for number in (gap.first, gap.last))
    when = f"{first}" if gap.length == 1 else f"{first} to {last}"
    found = f"{', '.join(gap.columns)} of {when} is empty" if gap.columns else f"{when} is missing"
    if (first.month, first.day) == (2, 29) and gap.length == 1 and not gap.columns:
        found = f"{when} is missing: {first.year} is a leap year"
    rule = f"Of days in a row {allowed} may be filled from their neighbours" if allowed else "Every day is told"
    if gap.at_an_end:
        rule, remedy = "The first and the last day have no neighbour to be filled from", "Fill it in"
    else:
        remedy = f"Fill it in, or allow it by season.fill_gaps_days = {gap.length}"
        remedy = remedy if gap.length <= 7 else "Fill it in from a station near by, and say so in a comment line"
    return gap.line(table), found, rule, remedy


def _whole_years(dates: list[date]) -> Iterator[Found]:
    """Whole years of twelve months, from the first of whichever month the table begins with."""
    if not dates:
        return
    first, last = min(dates), max(dates)
    rule = "A table holds whole years, from the first day of a month on"
    if first.day != 1:
        yield None, f"it begins on {first}", rule, f"Begin it on the first of a month, such as {first.replace(day=1)}"
        return
    end = date.fromordinal(last.toordinal() + 1)
    years = end.year - first.year
    if (end.month, end.day) != (first.month, 1) or years < 1:
        until = first.replace(year=first.year + max(years + ((end.month, end.day) > (first.month, 1)), 1))
        remedy = f"Go on to {date.fromordinal(until.toordinal() - 1)}, or leave the part of a year out"
        yield None, f"it goes from {first} to {last}", rule, remedy
    elif years > MOST_YEARS:
        yield None, f"it holds {years} years", f"At most {MOST_YEARS} are read", "Keep the latest"
