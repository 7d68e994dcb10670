"""What a year has to say: rain not kept, frost while it runs, a tank that cannot do it, and the tap's gap."""

from collections.abc import Iterator

from beckwright.base import words
from beckwright.base.findings import Finding, Severity
from beckwright.job.model import Job
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.season import MONTHS, Season
from beckwright.tables.season import FROSTY_MONTH, WET_DAY_RAIN

SUMS = "a year gone through day by day from climate.csv"


def season_findings(job: Job, filled: FilledReservoir, season: Season | None) -> Iterator[Finding]:
    """Findings on the year; none without a climate table."""
    if season is None:
        return
    yield from _rain_lost(job, filled, season)
    yield from _frost(season)
    yield from _tank(job, season)
    yield _gap(season)


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
        source=SUMS,
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
            source="climate.csv; common practice",
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
    yield Finding(severity=Severity.NOTE, code="tank-too-small", place="Rain tank", says=says, cure=cure, source=SUMS)


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
