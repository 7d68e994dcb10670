"""Figures of looking after it: where the water stands on a stick, and how far dry weather takes it down by month."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure
from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray, Length, Volume
from beckwright.base.words import grouped, litres
from beckwright.care import Drops, judge
from beckwright.care.told import TOLD_DAYS, can_of
from beckwright.equations.reservoir import level_change
from beckwright.figures.make import by, told, worked
from beckwright.figures.water import ends_of
from beckwright.job.model import Job
from beckwright.stages.reservoir import Holding, Pit
from beckwright.stages.season import MONTHS
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE

DAYS = {1.0: "a dry day", 7.0: "a dry week", TOLD_DAYS: f"{grouped(TOLD_DAYS)} dry days"}
DRY = "at rest, nothing filled up; low and high: dull and hot days, tables/care.py"
STOPS = "no lower than the pump's least: there it stops"
_SAME: Length = 1e-9
"""Levels nearer than this are one."""


def care_figures(job: Job, drops: Drops) -> Iterator[Figure]:
    """What the care card and the owner's pages tell of the reservoir; by month only where a climate table is."""
    yield from _stick(job, drops)
    if not drops.known:
        return
    for month in range(12):
        yield _down(job, drops, month, 1.0, "day_down")
        yield _down(job, drops, month, 7.0, "week_down")
        yield _night(drops, month)
        yield _topped(drops, month)
    yield _down(job, drops, drops.hardest, TOLD_DAYS, "six_down")
    yield _rings(drops, drops.hardest)


def by_month(job: Job, drops: Drops, what: str) -> FloatArray:
    """One figure of every month, (3, 12) low, middle, high: ``day_down``, ``week_down``, ``night``, ``topped_week``."""
    named = {figure.name: figure for figure in care_figures(job, drops)}
    rows = [named[f"care.{what}.{called.lower()}"] for called in MONTHS]
    return np.array([[row.low, row.amount, row.high] for row in rows]).T


def _stick(job: Job, drops: Drops) -> Iterator[Figure]:
    pit = drops.pit
    for name, label, level in (
        ("rested", "Stick at rest, full", pit.rested),
        ("overflow", "Stick at the overflow", pit.overflow),
        ("least", "Stick at the pump's least", pit.pump_minimum),
    ):
        source = f"reservoir.level.cover less reservoir.level.{'pump_minimum' if name == 'least' else name}"
        yield told(f"care.dip.{name}", f"{label}, from the lid down", pit.cover - level, "m", source=source)
    can = can_of(drops)
    label = f"Down on the stick for {litres(can)} taken out at rest"
    yield _by_level(job, drops, "care.can", label, np.full(3, can), "what a watering can holds, or ten or a hundred")
    yield told(
        "care.amplified",
        "Depth missing in the reservoir for each depth lost on the stream",
        drops.amplified,
        "1",
        source="wet ground of the stream over the plan of the water below the rest level",
        grade=Grade.PRACTICE,
    )


def _down(job: Job, drops: Drops, month: int, days: float, name: str) -> Figure:
    called = MONTHS[month]
    return _by_level(
        job,
        drops,
        f"care.{name}.{called.lower()}",
        f"Down {'on' if days == 1 else 'in'} {DAYS[days]} of {called}",
        drops.dry_days(month, days),
        f"season: evaporation, splash, wicking and leak of {DAYS[days]} of {called}",
        DRY,
    )


def _by_level(job: Job, drops: Drops, name: str, label: str, volumes: FloatArray, comes: str, note: str = "") -> Figure:
    """How far the rest level goes down for volumes taken out, (3,) least, middle, most."""
    pit, room = drops.pit, drops.pit.rested - drops.pit.pump_minimum
    downs = drops.downs(volumes)
    capped, volume = np.minimum(downs, max(room, 0.0)), float(volumes[MIDDLE])
    holding = _holding(pit)
    stops = "; ".join(part for part in (note, STOPS if downs[HIGH] > capped[HIGH] else "") if part)
    if abs(_across(volume, pit, holding) - capped[MIDDLE]) > _SAME:
        crossed = "; ".join(part for part in ("through the layers of the pit", stops) if part)
        return told(
            name,
            label,
            capped[MIDDLE],
            "m",
            ends=ends_of(capped),
            source=comes,
            note=crossed,
            grade=Grade.ASSUMED,
        )
    return worked(
        job,
        name,
        label,
        capped[MIDDLE],
        by(
            level_change,
            volume=(volume, comes),
            plan=(pit.plan, "job: reservoir.length_m, reservoir.width_m"),
            voids=(holding.voids, "job: reservoir.cover_voids" if holding.name == "cover" else "job: reservoir.voids"),
        ),
        ends=ends_of(capped),
        grade=Grade.ASSUMED if note else Grade.MEASURED,
        note=stops,
    )


def _holding(pit: Pit) -> Holding:
    """The layer the rest level stands in."""
    return next((each for each in pit.holdings if pit.rested <= each.top), pit.holdings[-1])


def _across(volume: Volume, pit: Pit, holding: Holding) -> Length:
    """How far down it would go in this layer alone."""
    down: Length = level_change(volume, pit.plan, holding.voids)
    return down


def _night(drops: Drops, month: int) -> Figure:
    called = MONTHS[month]
    judged = judge(drops, month, 0.0, 1, "nights")
    room = drops.pit.rested - drops.pit.pump_minimum
    return told(
        f"care.night.{called.lower()}",
        f"Most that weather takes in a night of {called}, pump off, as a stick shows it",
        max(min(judged.normal, room), 0.0),
        "m",
        source="a night's share of the day's evaporation, what leaks at rest, and the stick's own error",
        note=f"season.evaporation, tables/care.py{'; ' + STOPS if judged.normal > room else ''}",
        grade=Grade.ASSUMED,
    )


def _topped(drops: Drops, month: int) -> Figure:
    called, band = MONTHS[month], drops.topped[:, month]
    return told(
        f"care.topped_week.{called.lower()}",
        f"Filled up in a week of {called}, usual rain taken off",
        band[MIDDLE],
        "m3",
        ends=(float(band[LOW]), float(band[HIGH])),
        source=f"season.topped.{called.lower()} over the weeks of the month",
        grade=Grade.ASSUMED,
    )


def _rings(drops: Drops, month: int) -> Figure:
    called = MONTHS[month]
    return told(
        f"care.night_rings.{called.lower()}",
        f"Down in a night of {called}, pump off, that no weather explains: ring",
        judge(drops, month, 0.0, 1, "nights").rings,
        "m",
        source="twice the most that weather takes, and never nearer to it than the stick's own error",
        note="tables/care.py",
        grade=Grade.ASSUMED,
    )
