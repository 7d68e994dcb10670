"""Figures of the year: what is lost, rains in and is filled up, month by month."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray
from beckwright.compose import Works
from beckwright.equations.reservoir import reserve_time
from beckwright.figures.make import by, told, worked
from beckwright.figures.water import ends_of
from beckwright.figures.weather import weather_figures
from beckwright.stages.season import MONTHS, Season
from beckwright.stages.water.beds import MIDDLE

DAY = 86400.0
SUM = "a year gone through day by day"
SPREAD = "low and high: what is lost at least and at most; the guesses stand in tables/season.py"
_YEAR = (
    ("evaporation", "Evaporation of a year"),
    ("splash", "Splashed off the lining in a year"),
    ("wicking", "Drawn over the edges in a year"),
    ("leak", "Leaked in a year, as measured"),
    ("rain", "Rain of a year inside the edges"),
    ("over", "Over the overflow in a year"),
    ("from_tank", "Filled up from the rain tank in a year"),
    ("topped", "Filled up from elsewhere in a year"),
)


def season_figures(works: Works) -> Iterator[Figure]:
    """The year, then its months; none without a climate table."""
    season = works.season
    if season is None:
        return
    yield told("season.catch", "Plan that rain falls into", season.catch, "m2", source="the drawn edges, with the pit")
    yield told(
        "season.storm", "Rain in one go that fills the resting reservoir to its overflow", season.storm, "m", source=SUM
    )
    for name, label in _YEAR:
        yield _banded(f"season.{name}.year", label, getattr(season, name).sum(axis=1), "m3")
    for month, called in enumerate(MONTHS):
        yield _banded(f"season.topped.{called.lower()}", f"Filled up in {called}", season.topped[:, month], "m3")
        yield _banded(
            f"season.dry_day.{called.lower()}", f"Lost on a dry day in {called}", season.daily[:, month], "m3"
        )
    yield from _reserve(works, season)
    yield from weather_figures(season)
    if season.tank_wanted is not None and np.isfinite(season.tank_wanted).all():
        yield _banded("season.tank", "Rain tank that would leave nothing to fill up", season.tank_wanted, "m3")


def in_reserve(works: Works) -> Figure | None:
    """How long it runs from full; None without a climate table, and where nobody said how long it runs."""
    return None if works.season is None else next(_reserve(works, works.season), None)


def _reserve(works: Works, season: Season) -> Iterator[Figure]:
    """How long it runs in the month that takes most; none where nobody said how long it runs."""
    lasts = season.reserve[MIDDLE]
    month = int(np.argmax(np.where(np.isfinite(lasts), season.daily[MIDDLE], -1.0)))
    if not np.isfinite(lasts[month]):
        return
    design = works.design
    pit, number = design.reservoir.pit, design.water.number(season.flow)
    level = float(design.reservoir.running[MIDDLE, number])
    spare = max(pit.held(level) - pit.held(pit.pump_minimum), 0.0)
    called = MONTHS[month]
    loss = float(season.daily[MIDDLE, month]) / DAY
    yield worked(
        design.job,
        "season.reserve",
        f"Dry days in reserve at {season.flow}, in {called}",
        lasts[month],
        by(
            reserve_time,
            volume=(spare, f"reservoir.level.running.{dotted(season.flow)}: from there to the pump's least"),
            loss=(loss, f"season.dry_day.{called.lower()}"),
        ),
        ends=ends_of(season.reserve[:, month]),
        grade=Grade.ASSUMED,
        note=f"from full, no rain and nothing filled up, in the month that takes most; {SPREAD}",
    )


def _banded(name: str, label: str, band: FloatArray, unit: str) -> Figure:
    low, amount, high = sorted(band.tolist())
    return told(name, label, amount, unit, source=SUM, note=SPREAD, ends=(low, high), grade=Grade.ASSUMED)
