"""What days of real years have to say: a dry spell longer than the reserve, days filled in, and units to ask about."""

from collections.abc import Iterator
from datetime import date

from beckwright.base import words
from beckwright.base.findings import Finding, Severity
from beckwright.job.model import Job
from beckwright.stages.season import RealYears, Season, Spell
from beckwright.tables.season import ODD_RAIN, ODD_SUM


def weather_findings(job: Job, season: Season | None) -> Iterator[Finding]:
    """Findings on the days; none where the year is a typical one."""
    if season is None or season.real is None or job.weather is None:
        return
    yield from _spell(season.real)
    yield from _odd(job, job.weather.file, season.real)
    yield from _filled(job.weather.file, job.weather.filled)


def _spell(real: RealYears) -> Iterator[Finding]:
    """The longest of all the years."""
    spells = [each.spell for each in real.years if each.spell is not None]
    longest = max(spells, key=lambda spell: spell.days, default=None)
    if longest is None or longest.out[2] is None:
        return
    yield Finding(
        severity=Severity.NOTE,
        code="dry-spell",
        place="Reservoir over the year",
        says=f"{longest.days} days without rain, {_day(longest.first)} to {_day(longest.last)}: from full, with "
        f"nothing filled up, the pump draws air {_when(longest)}.",
        cure=f"Fill up before {_day(longest.out[2])} of such a year and go on until it rains; or let the stream rest.",
        source=f"a year gone through day by day from {real.file}",
    )


def _when(spell: Spell) -> str:
    late, early = spell.out[0], spell.out[2]
    if late is None or early is None:
        return f"from {_day(early or spell.last)} on where most is lost, and not at all where least is"
    return f"from {_day(early)} to {_day(late)} on" if late != early else f"from {_day(early)} on"


def _odd(job: Job, file: str, real: RealYears) -> Iterator[Finding]:
    """Rain that reads like another unit, or like another place."""
    tiny = [each for each in real.years if each.storm.rain < ODD_RAIN.amount]
    for each in tiny[:1]:
        yield _asked(
            file,
            f"On the wettest day of {each.name} there fell {words.millimetres(each.storm.rain)}: in inches or "
            "centimetres that would be a usual year.",
            "See in which unit the station writes its rain; rain_mm takes millimetres.",
        )
    if job.climate is None or tiny:
        return
    usual = float(job.climate.rain.sum())
    mean = sum(each.rain for each in real.years) / len(real.years)
    if usual > 0 and not usual / ODD_SUM.amount <= mean <= usual * ODD_SUM.amount:
        yield _asked(
            file,
            f"Rain of a year is {words.millimetres(mean)} here and {words.millimetres(usual)} in climate.csv.",
            "See whether both are of one place and in one unit.",
        )


def _asked(file: str, says: str, cure: str) -> Finding:
    return Finding(severity=Severity.CAUTION, code="weather-odd", place=file, says=says, cure=cure, source="assumed")


def _filled(file: str, filled: tuple[int, ...]) -> Iterator[Finding]:
    if filled:
        days = ", ".join(_day(each) for each in filled[:10]) + (" …" if len(filled) > 10 else "")
        yield Finding(
            severity=Severity.NOTE,
            code="weather-filled",
            place=file,
            says=f"Filled from their neighbours, {len(filled)} in all: {days}.",
            cure="Ask the station for these days, or a station near by.",
            source="job.toml season.fill_gaps_days",
        )


def _day(number: int) -> str:
    return date.fromordinal(number).isoformat()
