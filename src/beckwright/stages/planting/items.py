"""What planting takes to be bought."""

import re

from beckwright.base.items import Item
from beckwright.base.quantities import Volume
from beckwright.base.tabled import Tabled
from beckwright.base.words import millimetres
from beckwright.stages.planting.values import Ordered, Planting
from beckwright.tables.planting import COMPOST_DEPTH, FLEECE_LAP, SOIL_DEPTH

_SHEET = "planting plan"


def planting_items(planting: Planting) -> tuple[Item, ...]:
    """Plants of every kind, soil, compost and barrier fleece."""
    return (*map(_plants, (row for row in planting.orders if row.number)), *_ground(planting))


def slug(name: str) -> str:
    """A plant's name as part of a key."""
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def _plants(row: Ordered) -> Item:
    spacings = " and ".join(millimetres(spacing) for spacing in row.spacings)
    english = f"{row.named.plant.english}; " if row.named.plant else ""
    return Item(
        key=f"plants.{slug(row.named.name)}",
        name=row.named.name,
        amount=row.number,
        low=row.low,
        high=row.high,
        unit="each",
        supplier="nursery",
        drawing=f"{_SHEET}, pocket {', '.join(row.letters)}",
        note=f"{english}planted {spacings} apart",
    )


def _ground(planting: Planting) -> tuple[Item, ...]:
    laps = (FLEECE_LAP.amount, FLEECE_LAP.low, FLEECE_LAP.high)
    rows = (
        (
            "soil",
            "soil for pockets inside the lining",
            "m3",
            _volumes(planting, SOIL_DEPTH, inside=True),
            "poor in food: loam without manure",
        ),
        (
            "compost",
            "compost dug in outside the lining",
            "m3",
            _volumes(planting, COMPOST_DEPTH, inside=False),
            "peat-free",
        ),
        (
            "fleece",
            "barrier fleece under and round soil",
            "m2",
            tuple(planting.fleece * lap for lap in laps),
            "keeps soil out of the stream; cut below the edge of the lining or it wicks",
        ),
    )
    return tuple(
        Item(
            key=f"planting.{key}",
            name=name,
            amount=amount,
            low=low,
            high=high,
            unit=unit,
            supplier="merchant",
            drawing=_SHEET,
            note=note,
        )
        for key, name, unit, (amount, low, high), note in rows
        if amount > 0
    )


def _volumes(planting: Planting, depths: Tabled, *, inside: bool) -> tuple[Volume, ...]:
    """Soil at the usual, least and most depth of the table; at the depth given where somebody gave one."""
    pockets = [placed for placed in planting.pockets if placed.pocket.inside is inside]
    return tuple(
        float(sum(placed.ground * (depth if placed.pocket.soil is None else placed.pocket.soil) for placed in pockets))
        for depth in (depths.amount, depths.low, depths.high)
    )
