"""Plants fit for a stream's banks in a temperate climate, and what the law says of those that are not.

Facts of plants were written down from memory where the column ``known`` does not say otherwise: they are to choose by,
not to be quoted. Which list names which plant is held in ``listed.csv``, what each list is in ``lists.csv``.
"""

import csv
from importlib.resources import files
from typing import Literal, cast

from beckwright.base.quantities import Length
from beckwright.base.values import value

Zone = Literal["wet", "damp", "dry"]
Roots = Literal["clump", "creeping", "stabbing", "seeking"]
"""Stabbing rhizomes go through a lining; seeking roots find the damp behind it."""
Kind = Literal["herb", "sedge", "grass", "fern", "bulb", "shrub", "tree", "bamboo"]
Forbids = Literal["sale", "keeping", "the wild"]
"""What a law forbids: to sell a plant, to keep it at all, or to let it out into the wild."""


@value
class Plant:
    """One plant.

    zones      wet soil inside the lining, damp, or ordinary soil that dries
    months     in which it flowers, 1 to 12; empty for ferns
    evergreen  yes, semi or no
    people     how it harms people; empty where no harm is known to us. ``pets`` likewise, grazing animals included
    spreads    how fast: low, medium or high
    known      how we know this row
    """

    name: str
    synonyms: tuple[str, ...]
    english: str
    kind: Kind
    zones: tuple[Zone, ...]
    light: tuple[str, ...]
    height: Length
    spread: Length
    months: tuple[int, ...]
    colour: str
    evergreen: str
    native: bool
    pollinators: bool
    people: str
    pets: str
    spacing: Length
    roots: Roots
    spreads: str
    known: str


@value
class Law:
    """One list of invasive plants: the law, since when, where it holds, what it forbids, and how we know it."""

    key: str
    law: str
    date: str
    places: tuple[str, ...]
    forbids: Forbids
    seen: str


@value
class Listed:
    """A plant on lists. ``sold_as`` are names of other plants under which it is often sold."""

    name: str
    synonyms: tuple[str, ...]
    sold_as: tuple[str, ...]
    english: tuple[str, ...]
    laws: tuple[Law, ...]


def _rows(name: str) -> list[dict[str, str]]:
    text = (files(__name__) / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines(), delimiter=";"))


def _each(told: str) -> tuple[str, ...]:
    return tuple(each.strip() for each in told.split(",") if each.strip())


def _months(told: str) -> tuple[int, ...]:
    """From the first month to the last, over the turn of the year where the last comes before."""
    if not told:
        return ()
    first, last = map(int, told.split("-"))
    return tuple((first - 1 + step) % 12 + 1 for step in range((last - first) % 12 + 1))


def _plant(row: dict[str, str]) -> Plant:
    return Plant(
        name=row["name"],
        synonyms=_each(row["synonyms"]),
        english=row["english"],
        kind=cast("Kind", row["kind"]),
        zones=cast("tuple[Zone, ...]", tuple(row["zones"].split())),
        light=tuple(row["light"].split("/")),
        height=float(row["height_mm"]) / 1000,
        spread=float(row["spread_mm"]) / 1000,
        months=_months(row["flowers"]),
        colour=row["colour"],
        evergreen=row["evergreen"],
        native=row["native"] == "yes",
        pollinators=row["pollinators"] == "yes",
        people=row["people"],
        pets=row["pets"],
        spacing=float(row["spacing_mm"]) / 1000,
        roots=cast("Roots", row["roots"]),
        spreads=row["spreads"],
        known=row["known"],
    )


PLANTS: tuple[Plant, ...] = tuple(map(_plant, _rows("plants.csv")))

LAWS: dict[str, Law] = {
    row["key"]: Law(
        key=row["key"],
        law=row["law"],
        date=row["date"],
        places=_each(row["places"]),
        forbids=cast("Forbids", row["forbids"]),
        seen=row["seen"],
    )
    for row in _rows("lists.csv")
}

LISTED: tuple[Listed, ...] = tuple(
    Listed(
        name=row["name"],
        synonyms=_each(row["synonyms"]),
        sold_as=_each(row["sold_as"]),
        english=_each(row["english"]),
        laws=tuple(LAWS[key] for key in row["lists"].split()),
    )
    for row in _rows("listed.csv")
)
