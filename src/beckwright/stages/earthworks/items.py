"""What the ground work comes to, for the programme and the money: soil dug, rammed, carted and brought."""

import math
from collections.abc import Iterator
from typing import cast, get_args

from beckwright.base.items import Item
from beckwright.base.quantities import Mass, Volume
from beckwright.base.words import opening, tonnes
from beckwright.stages.earthworks.values import Groundwork, Kind, SoilBalance

_NAMES: dict[Kind, str] = {
    "strip": "Topsoil stripped",
    "pit": "Pit dug",
    "channel": "Channel dug",
    "pool": "Pools dug",
    "source": "Outlet box dug",
    "bank": "Banks trimmed",
    "trench": "Hose trench dug and filled",
}
_SHEET = "dig sheet"
_LEAST: Volume = 0.005
"""Less is not told: it would be printed as nothing."""

Masses = tuple[Mass, Mass, Mass]


def earthworks_items(groundwork: Groundwork, load: Mass | None) -> tuple[Item, ...]:
    """Items of the ground work. Volumes as in the ground.

    load  what one lorry takes; None where nobody said: then what leaves or comes is told by mass
    """
    return (*_dug(groundwork), *_filled(groundwork), *_carted(groundwork, load))


def _dug(groundwork: Groundwork) -> Iterator[Item]:
    for kind in get_args(Kind):
        volume = sum(part.cut for part in groundwork.parts if part.kind == kind)
        if volume > _LEAST:
            yield _volume(f"ground.{kind}", _NAMES[cast("Kind", kind)], volume, "as it lies in the ground")


def _filled(groundwork: Groundwork) -> Iterator[Item]:
    volume = sum(part.fill for part in groundwork.parts if part.kind not in ("strip", "trench"))
    if volume > _LEAST:
        yield _volume("ground.fill", "Banks and backfill", volume, "as it stands when done, in layers")


def _volume(key: str, name: str, volume: float, note: str) -> Item:
    return Item(
        key=key,
        name=name,
        amount=volume,
        low=volume,
        high=volume,
        unit="m3",
        supplier="own crew",
        drawing=_SHEET,
        note=note,
    )


def _carted(groundwork: Groundwork, load: Mass | None) -> Iterator[Item]:
    """What leaves and what is brought, each soil by itself: no lorry takes two."""
    for soil in groundwork.balances:
        low, _, high = soil.masses
        yield from _lorries("cart", "taken away; the tip to be named", soil, (low, soil.mass, high), load)
        yield from _lorries("bring", "brought", soil, (-high, -soil.mass, -low), load)


def _lorries(key: str, note: str, soil: SoilBalance, masses: Masses, load: Mass | None) -> Iterator[Item]:
    if masses[2] <= 0:
        return
    least, middle, most = (max(mass, 0.0) for mass in masses)
    low, likely, high = (_loads(mass, load) for mass in (least, middle, most))
    size = "" if load is None else f", loads of {tonnes(load)}"
    yield Item(
        key=f"ground.{key}.{soil.holds}",
        name=f"{opening(soil.soil)} {note.partition(';')[0]}",
        amount=likely,
        low=low,
        high=high,
        unit="kg" if load is None else "each",
        supplier="haulier",
        drawing="dig sheet, soil dug and wanted",
        note=f"{tonnes(middle)} as it mostly comes out, {tonnes(least)} to {tonnes(most)}{size}; {note}",
    )


def _loads(mass: Mass, load: Mass | None) -> float:
    return mass if load is None else math.ceil(mass / load - 1e-9)
