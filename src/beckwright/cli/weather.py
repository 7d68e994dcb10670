"""Real years at a terminal: a row for each, and what the one that is told held."""

from datetime import date
from typing import TYPE_CHECKING, Any

from beckwright.base import words
from beckwright.cli.tell import table, wrapped
from beckwright.tables.season import DRY_DAY, HARD_FROST

if TYPE_CHECKING:
    from beckwright.stages.season import Frost, RealYear, RealYears, Season, Spell, Storm


def chosen(season: "Season", file: str) -> str:
    """Which year the table above is of, and how its evaporation was found."""
    real = season.real
    if real is None:
        return "A typical year, spread from the months of climate.csv."
    days = sum(count for way, count in real.ways if not way.startswith(TAKEN))
    ways = ", ".join(f"{way} on {count} days" for way, count in real.ways)
    said = f"{season.name}, one of {len(real.years)} years of {file}." if len(real.years) > 1 else f"{season.name}."
    if len(real.years) > 1:
        driest, middle = (real.years[place].name for place in (real.driest, real.middle))
        said += (
            f" By what had to be filled up {driest} is the driest and {middle} the middle one; --year tells another."
        )
    wide = " What was not measured makes the band wider." if len(real.ways) > 1 else ""
    return f"{said} {days} days of {file}. Evaporation: {ways}.{wide}"


TAKEN = ("dew point taken", "sun taken", "wind taken")


def years(real: "RealYears") -> str:
    """A row for each year."""
    litre, mm = words.unit_called("L"), words.unit_called("mm")
    heads = (
        "year",
        f"rain, {mm}",
        f"evaporation, {mm}",
        f"fill up, {litre}",
        "dry days",
        f"wettest, {mm}",
        "frost days",
    )
    rows = [
        (
            each.name,
            f"{words.number_in(each.rain * 1000, 'mm'):,.0f}",
            _ends(each.evaporation * 1000, 1, "mm"),
            _ends(each.topped * 1000, 10, "L"),
            f"{each.spell.days}" if each.spell else "0",
            f"{words.number_in(each.storm.rain * 1000, 'mm'):,.1f}",
            f"{each.frost.days.sum():.0f}",
        )
        for each in real.years
    ]
    return table(rows, heads=heads)


def held(year: "RealYear", filled: tuple[int, ...]) -> str:
    """Dry spell, storm and frost of one year, a paragraph each."""
    said = [_spell(year.spell), _storm(year.storm), _frost(year.frost)]
    if filled:
        said.append(f"Filled from their neighbours, as the job allows: {', '.join(map(_day, filled))}.")
    return "\n".join(wrapped(each, first="", rest="  ") for each in said)


def as_data(real: "RealYears") -> dict[str, Any]:
    """The same in SI; days as year-month-day."""
    return {
        "driest": real.years[real.driest].name,
        "middle": real.years[real.middle].name,
        "ways": [{"way": way, "days": count} for way, count in real.ways],
        "years": [_year(each) for each in real.years],
    }


def _year(year: "RealYear") -> dict[str, Any]:
    spell, frost = year.spell, year.frost
    return {
        "name": year.name,
        "rain": year.rain,
        "evaporation": year.evaporation.tolist(),
        "topped": year.topped.tolist(),
        "spell": None
        if spell is None
        else {
            "first": _day(spell.first),
            "last": _day(spell.last),
            "days": spell.days,
            "out": [_or_none(each) for each in spell.out],
            "left": spell.left.tolist(),
        },
        "storm": {"day": _day(year.storm.day), "rain": year.storm.rain, "over": year.storm.over.tolist()},
        "frost": {
            "days": frost.days.tolist(),
            "first": _or_none(frost.first),
            "hard": _or_none(frost.hard),
            "last": _or_none(frost.last),
        },
    }


def _spell(spell: "Spell | None") -> str:
    if spell is None:
        return "It rained on every day it runs."
    when = f"{_day(spell.first)} to {_day(spell.last)}"
    dry = words.millimetres(DRY_DAY.amount)
    said = f"Longest dry spell while it runs: {spell.days} days, {when}, each under {dry}."
    late, early = spell.out[0], spell.out[2]
    if early is None:
        left = _ends(spell.left * 1000, 10, "L")
        return f"{said} A full reservoir outlasts it with nothing filled up; {left} {words.unit_called('L')} are left."
    if late is None:
        middle = f", on {_day(spell.out[1])} by the middle of the band" if spell.out[1] else ""
        return (
            f"{said} A full reservoir with nothing filled up runs out on {_day(early)} where most is lost{middle}; "
            "where least is lost it outlasts it."
        )
    when = _day(early) if early == late else f"{_day(early)} to {_day(late)}"
    return f"{said} A full reservoir with nothing filled up runs out on {when}."


def _storm(storm: "Storm") -> str:
    over = (
        f"{_ends(storm.over * 1000, 10, 'L')} {words.unit_called('L')} go" if storm.over.max() > 0 else "nothing goes"
    )
    return f"Wettest day: {_day(storm.day)}, {words.millimetres(storm.rain)}; {over} over the overflow."


def _frost(frost: "Frost") -> str:
    if frost.first is None or frost.last is None:
        return "No frost in the air."
    hard = f"{HARD_FROST.amount:g} °C or colder"
    until = f"and before {_day(frost.hard)}, the first hard one ({hard})" if frost.hard else f"(none was hard, {hard})"
    return (
        f"Drain hose and pump from {_day(frost.first)} on, the first frost, {until}. "
        f"The last frost of spring: {_day(frost.last)}."
    )


def _day(number: int) -> str:
    return date.fromordinal(number).isoformat()


def _or_none(number: int | None) -> str | None:
    return None if number is None else _day(number)


def _ends(band: Any, step: float, unit: str) -> str:
    return " to ".join(dict.fromkeys(words.ends_outward(float(band.min()), float(band.max()), step, unit)))
