"""Which plant a name means: by its whole botanical name, a synonym or an English name, never by the genus alone."""

import re
from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import cache
from typing import TypeVar

from beckwright.base.values import value
from beckwright.tables.plants import LISTED, PLANTS, Listed, Plant

T = TypeVar("T")

_ALIKE = 0.8
"""How alike each word of two names must be to be taken for a slip of the pen (1 is the same)."""


@value
class Named:
    """What a name was found to mean.

    given    as the person wrote it
    plant    row of the table; None where there is none
    listed   the invasive plant it names; None where it names none
    sold_as  an invasive plant that is often sold under this name
    near     the known name it is nearly, where it is none itself
    near_listed  whether that is the name of an invasive plant
    sisters  listed plants of its genus, where only the genus was given
    """

    given: str
    plant: Plant | None
    listed: Listed | None
    sold_as: Listed | None
    near: str
    near_listed: bool
    sisters: tuple[str, ...]

    @property
    def name(self) -> str:
        """The botanical name where it is known, else what was written."""
        known = self.plant or self.listed
        return known.name if known else self.given


@cache
def look_up(given: str) -> Named:
    """Find a name in the table and on the lists."""
    plant = _first(given, _plants())
    listed = _first(given, _listed())
    sold = _first(given, _sold())
    known = plant is not None or listed is not None
    near = "" if known else _near(given)
    return Named(
        given=given,
        plant=plant,
        listed=listed,
        sold_as=sold,
        near=near,
        near_listed=bool(near) and _first(near, _listed()) is not None,
        sisters=() if known else _sisters(given),
    )


def plain(name: str) -> str:
    """A name without capitals, hybrid mark, quotes and points: what names are compared by."""
    spaced = re.sub(r"\s+x\s+|\s*×\s*", " ", name.lower())
    return " ".join(re.sub(r"[^\w\s-]", "", spaced).split())


def _first(given: str, known: dict[str, T]) -> T | None:
    """By the whole name, else by as many of its first words as are known, two at least: an author's may follow them."""
    words = plain(given).split()
    names = (" ".join(words[:count]) for count in range(len(words), min(2, len(words)) - 1, -1))
    return next((known[name] for name in names if name in known), None)


@cache
def _plants() -> dict[str, Plant]:
    return {plain(name): row for row in PLANTS for name in (row.name, *row.synonyms, row.english)}


@cache
def _listed() -> dict[str, Listed]:
    return {plain(name): row for row in LISTED for name in (row.name, *row.synonyms, *row.english)}


@cache
def _sold() -> dict[str, Listed]:
    return {plain(name): row for row in LISTED for name in row.sold_as}


def _spelt() -> Iterator[str]:
    for row in PLANTS:
        yield from (row.name, *row.synonyms, row.english)
    for listed in LISTED:
        yield from (listed.name, *listed.synonyms, *listed.english)


def _near(given: str) -> str:
    """The known name every word of which is nearly that of the given one; sisters of one genus are not slips."""
    words = plain(given).split()[:2]
    if len(words) < 2:
        return ""
    best, name = _ALIKE, ""
    for known in _spelt():
        others = plain(known).split()
        if len(others) == len(words):
            alike = min(SequenceMatcher(None, *pair).ratio() for pair in zip(words, others, strict=True))
            if alike >= best:
                best, name = alike, known
    return name


def _sisters(given: str) -> tuple[str, ...]:
    words = plain(given).split()
    alone = len(words) == 1 or (len(words) == 2 and words[1] in ("sp", "spp", "species"))
    return tuple(row.name for row in LISTED if alone and plain(row.name).split()[0] == words[0])
