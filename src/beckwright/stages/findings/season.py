"""What a year has to say: dry days in reserve, rain not kept, frost, a tank that cannot do it, and the tap's gap."""

from collections.abc import Iterator

import numpy as np

from beckwright.base import words
from beckwright.base.findings import Finding, Severity
from beckwright.job.model import Job
from beckwright.stages.findings.weather import weather_findings
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.season import MONTHS, Season
from beckwright.tables.practice import RESERVE_WANTED
from beckwright.tables.season import FROSTY_MONTH, WET_DAY_RAIN


def season_findings(job: Job, filled: FilledReservoir, season: Season | None) -> Iterator[Finding]:
    """Findings on the year; none without a climate table."""
    if season is None:
        return
    yield from _reserve(filled, season)
    yield from _rain_lost(job, filled, season)
    yield from _frost(season)
    yield from _tank(job, season)
    yield _gap(season)
    yield from weather_findings(job, season)


def _reserve(filled: FilledReservoir, season: Season) -> Iterator[Finding]:
    """Too few dry days between the running level and the pump's least, in the month that takes most."""
    shortest = season.reserve[2]
    month = int(np.argmin(shortest))
    if filled.lowest < filled.pit.pump_minimum or shortest[month] >= RESERVE_WANTED.amount:
        return
    least, most = float(shortest[month]), float(season.reserve[0, month])
    yield Finding(
        severity=Severity.CAUTION,
        code="reserve-short",
        place="Reservoir in a dry spell",
        says=f"{words.spell(least, most)} without rain and filling up in {MONTHS[month]}, "
        f"and {season.flow} is at the pump's least; {words.days(RESERVE_WANTED.amount)} wanted.",
        cure="Plan a top-up, or a larger reservoir.",
        source=f"{_sums(season)}; common practice: {RESERVE_WANTED.place}",
        figure="season.reserve",
    )


def _rain_lost(job: Job, filled: FilledReservoir, season: Season) -> Iterator[Finding]:
    """Rain over the overflow while water is filled up from elsewhere: a lower float would catch some of it."""
    lost, topped = (float(part[1].sum()) for part in (season.over, season.topped))
    if season.storm >= WET_DAY_RAIN.amount or min(lost, topped) <= 0:
        return
    top = filled.pit.rested
    wanted = filled.pit.held(top) - (WET_DAY_RAIN.amount - season.storm) * season.catch
    lower = top - filled.pit.level_of(wanted)
    room = f"holds {words.millimetres(season.storm)} of rain" if season.storm >= 0.0005 else "has no room for rain"
    yield Finding(
        severity=Severity.NOTE,
        code="rain-not-kept",
        place="Reservoir over the year",
        says=f"At rest it {room}: {words.litres(lost)} go over in a year, while {words.litres(topped)} are filled up.",
        cure=f"Set the level it is filled up to {words.millimetres(lower, up=True)} lower: it then keeps a wet day, "
        f"{words.millimetres(WET_DAY_RAIN.amount)}. See first that the morning start still has water enough.",
        source=_sums(season),
    )


def _frost(season: Season) -> Iterator[Finding]:
    if season.frost_days is None:
        return
    hard = [
        f"{MONTHS[month]} {season.frost_days[month]:.0f}"
        for month in range(12)
        if season.running[month] > 0 and season.frost_days[month] >= FROSTY_MONTH.amount
    ]
    if hard:
        yield Finding(
            severity=Severity.CAUTION,
            code="runs-in-frost",
            place="Winter",
            says=f"It is to run in months with frost: days with frost in the air in {', '.join(hard)}.",
            cure="Drain hose and pump before the first hard frost and lift the pump, or watch it daily: ice that dams "
            "a lip sends the water over the edge. Write season.last_month and season.first_month once it is settled.",
            source=f"{_table(season)}; common practice",
        )


def _tank(job: Job, season: Season) -> Iterator[Finding]:
    if season.tank_wanted is None:
        return
    least, most = float(season.tank_wanted[0]), float(season.tank_wanted[2])
    if job.season.tank >= most:
        return
    topped = _litres(season)
    if most == float("inf"):
        says = f"The roof gives less in a year than the stream may take; {topped} a year come from elsewhere."
        cure = "Lead more roof to the tank, or plan for the tap."
    else:
        wanted = words.band(least, most, 100, "L", scale=1000)
        says = f"{words.litres(job.season.tank)} of tank leave {topped} a year to be filled up from elsewhere."
        cure = f"A tank of {wanted} would carry the driest weeks."
    yield Finding(
        severity=Severity.NOTE, code="tank-too-small", place="Rain tank", says=says, cure=cure, source=_sums(season)
    )


def _gap(season: Season) -> Finding:
    topped = _litres(season)
    return Finding(
        severity=Severity.NOTE,
        code="top-up-gap",
        place="Filling up",
        says=f"{topped} a year are filled up. Water of a stream must never be drawn back into a drinking-water pipe: "
        f"fluid category 5.",
        cure="Fill up through an open air gap over the overflow, at least twice the inlet's bore and no less than "
        f"{words.millimetres(0.020)}; no hose left hanging in. Ask the water company before it is connected.",
        source="air gaps AA and AB, water fittings rules; local codes and licensed practice decide",
    )


def _litres(season: Season) -> str:
    low, _, high = season.topped_in_a_year.tolist()
    return words.band(low, high, 100, "L", scale=1000)


def _sums(season: Season) -> str:
    return f"a year gone through day by day from {_table(season)}"


def _table(season: Season) -> str:
    return season.real.file if season.real else "climate.csv"
