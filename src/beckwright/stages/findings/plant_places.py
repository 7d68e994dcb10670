"""Plants judged by where they stand: roots and the lining, wet and dry, sun and shade, spacing."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length
from beckwright.base.tabled import Tabled
from beckwright.base.words import chainages, metres, millimetres
from beckwright.job.model.planting import Place
from beckwright.stages.planting import PlacedPocket, Planted
from beckwright.stages.planting.fit import fits
from beckwright.tables.planting import NEVER_NEAR, SHRUB_AWAY, SPACING_ODD, TREE_AWAY, WET_WITHIN
from beckwright.tables.plants import Plant

_TABLE = "plant table of this house, from memory"
_WHY = {
    "stabbing": "its rhizomes go through a lining",
    "seeking": "its roots seek the damp behind a lining and lift it",
}


def place_findings(placed: PlacedPocket, planted: Planted, place: Place) -> Iterator[Finding]:
    """Findings on where one plant stands; none for a plant nobody knows."""
    plant = planted.named.plant
    if plant is None:
        return
    yield from _roots(placed, plant, place)
    yield from _zone(placed, plant, place)
    yield from _light(placed, plant, place)
    yield from _spacing(placed, planted, plant)


def distance_for(plant: Plant) -> tuple[Tabled, str] | None:
    """How far from a lining a plant is kept, and why; None where it may stand beside it."""
    if plant.roots in _WHY:
        return NEVER_NEAR, _WHY[plant.roots]
    if plant.kind == "tree":
        return TREE_AWAY, "a tree's roots lift the edge and its leaves fill the stream"
    if plant.kind == "shrub":
        return SHRUB_AWAY, "a shrub's roots lift the edge of a lining"
    return None


def _roots(placed: PlacedPocket, plant: Plant, place: Place) -> Iterator[Finding]:
    kept = distance_for(plant)
    if kept is None or placed.from_lining >= kept[0].amount - 1e-9:
        return
    row, why = kept
    away = _up(row.amount - placed.from_lining)
    piercing = plant.roots in _WHY and placed.from_lining < row.low
    stands = "It stands inside the lining" if placed.pocket.inside else f"{metres(placed.from_lining)} from the lining"
    yield _finding(
        Severity.FAIL if piercing or (plant.kind == "tree" and placed.pocket.inside) else Severity.CAUTION,
        "roots-near-lining",
        placed,
        plant,
        f"{stands}, and {why}; {metres(row.amount)} wanted.",
        f"{_instead(placed, place)}"
        if placed.pocket.inside
        else f"Move it {metres(away)} farther out, or: {_instead(placed, place)}",
        f"{row.grade.value}: {row.place}",
    )


def _zone(placed: PlacedPocket, plant: Plant, place: Place) -> Iterator[Finding]:
    if placed.zone in plant.zones:
        return
    wants = " or ".join(plant.zones)
    yield _finding(
        Severity.CAUTION,
        "plant-wrong-zone",
        placed,
        plant,
        f"It wants {wants} soil; {_soil(placed)}.",
        f"{_move(placed, plant)}{_instead(placed, place)}",
        f"{_TABLE}; {WET_WITHIN.grade.value}: {WET_WITHIN.place}",
    )


def _soil(placed: PlacedPocket) -> str:
    if placed.over_water is None:
        dry = "that dries" if placed.zone == "dry" else "with ground water near"
        return f"outside the lining is ordinary soil {dry}"
    over = placed.over_water
    stands = f"{millimetres(over)} over" if over >= 0 else f"{millimetres(-over)} under"
    return f"this soil stands {stands} the running water: {placed.zone}"


def _move(placed: PlacedPocket, plant: Plant) -> str:
    """An order to lower a pocket inside the lining, where that makes it wet enough."""
    over = placed.over_water
    if over is None or "wet" not in plant.zones or over <= WET_WITHIN.amount:
        return ""
    return f"Lower the soil {millimetres(_up(over - WET_WITHIN.amount, 0.005), up=True)}, or: "


def _light(placed: PlacedPocket, plant: Plant, place: Place) -> Iterator[Finding]:
    light = placed.pocket.light
    if light not in plant.light:
        yield _finding(
            Severity.NOTE,
            "plant-wrong-light",
            placed,
            plant,
            f"It wants {' or '.join(plant.light)}; the pocket has {light}.",
            _instead(placed, place),
            _TABLE,
        )


def _spacing(placed: PlacedPocket, planted: Planted, plant: Plant) -> Iterator[Finding]:
    if planted.spacing is None:
        return
    times = planted.spacing / plant.spacing
    if 1 / SPACING_ODD.amount <= times <= SPACING_ODD.amount:
        return
    yield _finding(
        Severity.NOTE,
        "plant-spacing-odd",
        placed,
        plant,
        f"{millimetres(planted.spacing)} apart; the table has {millimetres(plant.spacing)}, and it spreads to "
        f"{millimetres(plant.spread)}.",
        f"Write spacing_mm = {plant.spacing * 1000:.0f}, or leave spacing_mm out.",
        _TABLE,
    )


def _instead(placed: PlacedPocket, place: Place) -> str:
    names = " or ".join(row.name for row in fits(placed.zone, placed.pocket.light, place, tallest=1.2)[:3])
    return f"Plant {names} here." if names else "Take it out."


def _up(length: Length, step: Length = 0.1) -> Length:
    return float(np.ceil(length / step - 1e-6)) * step


def _finding(
    severity: Severity, code: str, placed: PlacedPocket, plant: Plant, says: str, cure: str, source: str
) -> Finding:
    pocket = placed.pocket
    return Finding(
        severity=severity,
        code=code,
        place=f"{plant.name} in pocket {placed.letter}, {chainages(pocket.start, pocket.end)}",
        says=says,
        cure=cure,
        source=source,
        chainage=(pocket.start, pocket.end),
    )
