"""The year at a terminal."""

from typing import TYPE_CHECKING, Any

import numpy as np

from beckwright.base import words
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.job.model import Job
    from beckwright.stages.season import Season

NOT_SAID = (
    "The job names no station of climate.csv and no table of days. Write station under [climate] in job.toml, or days "
    "under [season]."
)


def of_year(design: "Design", season: "Season | None", year: str | None) -> "Season | str | None":
    """The year that is asked for; what to say where there is no such one."""
    from beckwright.stages.season import go_through_year

    if season is None or year is None or year == season.name:
        return season
    if season.real is None:
        return "The job has no days of real years: --year chooses among them. Write days under [season] in job.toml."
    names = [each.name for each in season.real.years]
    if year not in names:
        return f"There is no year {year} in the table; it has {', '.join(names)}."
    return go_through_year(design.job, design.course, design.water, design.reservoir, design.supply, year)


def drawn(design: "Design", season: "Season") -> str:
    """The strip of the year as SVG."""
    from beckwright.papers.formats.svg import write_svg
    from beckwright.papers.sheets.owner.season import season_strip

    return write_svg(season_strip(design, season))


def in_words(season: "Season", job: "Job") -> str:
    """A row for each month, the year below it, and how long the reservoir lasts; of real years what they held."""
    from beckwright.cli import weather as days
    from beckwright.stages.season import MONTHS

    rows = [
        (
            called,
            *(_litres(part[:, month]) for part in (season.rain, season.lost, season.over, season.topped)),
            _litres(season.daily[:, month], step=1),
            _days(season.reserve[:, month]),
            f"{season.running[month] / 3600:.0f}",
            "" if season.energy is None else f"{season.energy[month] / 3.6e6:.0f}",
            "" if season.frost_days is None else f"{season.frost_days[month]:.0f}",
        )
        for month, called in enumerate(MONTHS)
    ]
    parts = (season.rain, season.lost, season.over, season.topped)
    rows.append(("year", *(_litres(part.sum(axis=1)) for part in parts), "", "", "", "", ""))
    litre = words.unit_called("L")
    named = ("rain", "lost", "over", "fill up", "dry day")
    heads = ("", *(f"{each}, {litre}" for each in named), "lasts, days", "runs, h", "kWh", "frost days")
    storm = words.millimetres(season.storm)
    catch = f"{words.with_unit(season.catch, 'm²'):.0f}"
    said = f"Rain falls into {catch}. At rest the reservoir has room for {storm} of it before it runs over."
    told = [table(rows, heads=heads), "", wrapped(said)]
    if season.real is None or job.weather is None:
        return "\n".join(told)
    above = [wrapped(days.chosen(season, job.weather.file)), ""]
    below = [days.held(season.real.at(season.name), job.weather.filled)]
    if len(season.real.years) > 1:
        below = [days.years(season.real), "", *below]
    return "\n".join([*above, *told, "", *below])


def as_data(season: "Season") -> dict[str, Any]:
    """The same in SI; bands are least, middle and most lost. What has no end is null."""
    from beckwright.cli import weather as days
    from beckwright.stages.season import MONTHS

    bands = ("rain", "evaporation", "splash", "wicking", "leak", "over", "from_tank", "topped", "daily", "reserve")
    return {
        "year": season.name or None,
        "flow": season.flow,
        "catch": season.catch,
        "storm": season.storm,
        "months": list(MONTHS),
        **{name: _plain(getattr(season, name)) for name in bands},
        "running": _plain(season.running),
        "energy": None if season.energy is None else _plain(season.energy),
        "frost_days": None if season.frost_days is None else _plain(season.frost_days),
        "real": None if season.real is None else days.as_data(season.real),
    }


def _plain(held: "np.ndarray[Any, Any]") -> Any:
    return [_plain(each) for each in held] if held.ndim else (float(held) if np.isfinite(held) else None)


def _litres(band: "np.ndarray[Any, Any]", step: float = 10) -> str:
    low, high = float(band.min()) * 1000, float(band.max()) * 1000
    if np.isclose(low, high):
        return words.stepped(low, step, "L")
    bottom, top = words.ends_outward(low, high, step, "L")
    return f"{bottom} to {top}" if bottom != top else bottom


def _days(band: "np.ndarray[Any, Any]") -> str:
    low, high = float(band.min()) / 86400, float(band.max()) / 86400
    return f"{low:.0f} to {high:.0f}" if np.isfinite(high) else ""
