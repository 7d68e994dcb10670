"""Figures of the year: what is lost, rains in and is filled up, month by month."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure
from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray
from beckwright.figures.make import told
from beckwright.stages.season import MONTHS, Season

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


def season_figures(season: Season | None) -> Iterator[Figure]:
    """The year, then its months; none without a climate table."""
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
    lasts = season.reserve.min(axis=1)
    if np.isfinite(lasts).all():
        yield _banded("season.reserve", "Days without rain and filling up, in the month that takes most", lasts, "s")
    if season.tank_wanted is not None and np.isfinite(season.tank_wanted).all():
        yield _banded("season.tank", "Rain tank that would leave nothing to fill up", season.tank_wanted, "m3")


def _banded(name: str, label: str, band: FloatArray, unit: str) -> Figure:
    low, amount, high = sorted(band.tolist())
    return told(name, label, amount, unit, source=SUM, note=SPREAD, ends=(low, high), grade=Grade.ASSUMED)
