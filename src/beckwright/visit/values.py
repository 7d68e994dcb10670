"""What is asked at a first visit, what is not known yet, and what comes of it."""

from collections.abc import Mapping
from typing import Literal

from beckwright.base.published import Grade
from beckwright.base.values import value

How = Literal["not known", "by eye", "measured", "chosen"]
Look = Literal["trickle", "everyday", "full"]


@value
class Unknown:
    """Something the sketch hangs on, as a band in SI.

    key     by which it is called
    says    what it is, in a few words
    how     how sure the person is of it; of what was not asked, "not known"
    order   what to do to know it better
    grade, place  where the band comes from
    """

    key: str
    says: str
    unit: str
    low: float
    middle: float
    high: float
    how: How
    order: str
    grade: Grade
    place: str

    @property
    def is_open(self) -> bool:
        """Whether anything is left to know."""
        return self.high > self.low

    def at(self, place: float) -> float:
        """Its amount at a place of its band: 0 is low, 0.5 the middle, 1 high."""
        if place <= 0.5:
            return self.low + 2 * place * (self.middle - self.low)
        return self.middle + (2 * place - 1) * (self.high - self.middle)


@value
class Prices:
    """The person's own prices, by the names of ``PRICE_NAMES``; none is ever taken for granted."""

    currency: str
    each: tuple[tuple[str, float], ...]

    def of(self, name: str) -> float | None:
        """Price by its name; None where nobody gave it."""
        return dict(self.each).get(name)


PRICE_NAMES: Mapping[str, tuple[str, str]] = {
    "energy": ("electricity", "kWh"),
    "day": ("one person's work", "day"),
    "digger": ("digger with driver", "day"),
    "stone": ("stone, delivered", "t"),
    "lining": ("lining with its fleece", "m²"),
    "crates": ("crates", "m³"),
}
"""What a price is for, and of how much."""


@value
class Visit:
    """The five answers and everything else the sketch hangs on.

    look  the look chosen; None where nobody chose one, or a flow was given
    flow_given  whether the water is known in litres an hour and not by its look
    unknowns    in the order they are drawn in
    """

    look: Look | None
    flow_given: bool
    unknowns: tuple[Unknown, ...]
    prices: Prices

    def of(self, key: str) -> Unknown:
        """One unknown."""
        return next(each for each in self.unknowns if each.key == key)


@value
class Moves:
    """How far one unknown alone moves a range, all others in their middle."""

    key: str
    low: float
    high: float

    @property
    def swing(self) -> float:
        """How far, whichever way."""
        return abs(self.high - self.low)


@value
class Range:
    """One answer: the least and most of all streams designed, SI.

    moves  by unknown, the one that moves it most first; only those that move it
    """

    key: str
    low: float
    middle: float
    high: float
    moves: tuple[Moves, ...]


@value
class Pit:
    """A pit of whole crates: the smallest of the streams designed, the middle one, the largest."""

    length: float
    width: float
    depth: float


@value
class VisitAnswers:
    """All of them.

    designed  how many streams were designed for them
    machines  what may dig, from the narrowest to the widest way in
    pits      smallest, middle, largest
    next      key of the unknown whose measurement would narrow the ranges most
    priced, unpriced  names of ``PRICE_NAMES`` the money is made of, and those nobody gave
    """

    visit: Visit
    ranges: tuple[Range, ...]
    pits: tuple[Pit, Pit, Pit]
    machines: tuple[str, ...]
    designed: int
    next: str | None
    priced: tuple[str, ...]
    unpriced: tuple[str, ...]

    def of(self, key: str) -> Range | None:
        """One range; None where it cannot be told."""
        return next((each for each in self.ranges if each.key == key), None)
