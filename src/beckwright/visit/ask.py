"""From what a person says in the drizzle to bands: as told, by eye, measured, or not known yet."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import get_args

from beckwright.base.errors import JobError, Problem
from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled
from beckwright.base.words import number_in, with_unit
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.tables import visit as rows
from beckwright.visit.values import PRICE_NAMES, How, Look, Prices, Unknown, Visit

LIMITS: Mapping[str, tuple[float, float]] = {
    "length": (2.0, 60.0),
    "fall": (0.1, 6.0),
    "width": (0.2, 2.0),
    "access": (0.3, 10.0),
    "flow": (200.0, 60_000.0),
}
"""Least and most that can be answered, in the units people type: metres, litres an hour."""
STEEPEST, FLATTEST = rows.STEEPEST.amount, rows.FLATTEST.amount
DEAREST = 1e6
SAYS = {
    "length": ("length of the stream", "Tape the length along its line"),
    "fall": ("fall from source to foot", "Level source and foot"),
    "width": ("width of the water", "Lay the width out with two hoses"),
    "access": ("narrowest place of the way in", "Walk the way in with a tape"),
}


def visit_of(
    given: Mapping[str, float | None],
    *,
    look: str | None = None,
    measured: frozenset[str] = frozenset(),
    prices: Mapping[str, float] | None = None,
    currency: str = "GBP",
) -> Visit:
    """Make a visit of what was said.

    given     length, fall, width, access in m and flow in L/h; None or left out where nobody knows
    look      trickle, everyday or full; a flow says more than a look and goes before it
    measured  names of those that were measured; the others are by eye
    prices    by the names of ``PRICE_NAMES``
    Raises ``JobError`` with everything that cannot be taken.
    """
    said = {name: amount for name, amount in given.items() if amount is not None}
    prices = prices or {}
    problems = [*_wrong(said, look, measured), *_wrong_prices(prices, currency)]
    if problems:
        raise JobError(problems)
    length, fall, *others = (_asked(name, said.get(name), measured=name in measured) for name in SAYS)
    water = _water(said.get("flow"), look)
    return Visit(
        look=None if look is None or "flow" in said else _look(look),
        flow_given="flow" in said,
        unknowns=(*_fitted(length, fall, said), *others, water, *_not_asked()),
        prices=Prices(currency=currency, each=tuple(sorted(prices.items()))),
    )


def _look(word: str) -> Look:
    return next(each for each in get_args(Look) if each == word)


def _wrong(said: Mapping[str, float], look: str | None, measured: frozenset[str]) -> Iterator[Problem]:
    for name, amount in said.items():
        low, high = LIMITS.get(name, (math.nan, math.nan))
        if not low <= amount <= high:
            unit = "L/h" if name == "flow" else "m"
            rule = f"It lies between {number_in(low, unit):g} and {with_unit(high, unit):g}"
            yield Problem(place=name, found=f"it is {with_unit(amount, unit):g}", rule=rule, remedy="Look at the unit")
    if look is not None and look not in rows.LOOKS:
        rule = f"It is one of {', '.join(rows.LOOKS)}"
        yield Problem(place="look", found=f"it is {look[:40]}", rule=rule, remedy="Choose one of these")
    for name in sorted(measured - set(said)):
        found = f"{name[:40]} is measured and no measurement is given"
        yield Problem(
            place="measured", found=found, rule="What is measured has a number", remedy=f"Give the {name[:40]}"
        )
    yield from _too_steep(said)


def _too_steep(said: Mapping[str, float]) -> Iterator[Problem]:
    if "fall" not in said or "length" not in said:
        return
    slope = said["fall"] / said["length"]
    if not FLATTEST <= slope <= STEEPEST:
        found = f"it falls {with_unit(said['fall'], 'm'):g} on {with_unit(said['length'], 'm'):g}"
        rule = f"A stream falls between 1 in {1 / STEEPEST:.3g} and 1 in {1 / FLATTEST:.3g}"
        yield Problem(place="fall", found=found, rule=rule, remedy="Look at fall and length again")


def _wrong_prices(prices: Mapping[str, float], currency: str) -> Iterator[Problem]:
    for name, amount in prices.items():
        if name not in PRICE_NAMES:
            rule = f"A price is for one of {', '.join(PRICE_NAMES)}"
            yield Problem(place="price", found=f"it is for {name[:40]}", rule=rule, remedy="Choose one of these")
        elif not 0 <= amount <= DEAREST:
            rule = f"It lies between 0 and {DEAREST:g}"
            yield Problem(place=f"price of {name}", found=f"it is {amount:g}", rule=rule, remedy="Look at the unit")
    if not (currency.strip() and len(currency) <= 8 and currency.isprintable()) or set(currency) & set('"\\'):
        rule = "It is the currency's letters or sign"
        yield Problem(place="currency", found=f"it is {currency[:20]!r}", rule=rule, remedy="Write it as GBP")


def _asked(name: str, amount: float | None, *, measured: bool) -> Unknown:
    says, order = SAYS[name]
    if amount is None:
        row = rows.NOT_KNOWN[name]
        return _unknown(name, says, "m", (row.low, row.amount, row.high), "not known", order, row)
    how: How = "measured" if measured else "by eye"
    row = (rows.MEASURED if measured else rows.BY_EYE)[name]
    ends = amount * (1 - row.amount), amount, amount * (1 + row.amount)
    return _unknown(name, says, "m", ends, how, order, row)


def _fitted(length: Unknown, fall: Unknown, said: Mapping[str, float]) -> tuple[Unknown, Unknown]:
    """Of length and fall, what nobody knows is held to what the other lets be."""
    if "length" not in said and "fall" in said:
        length = _held(length, fall.middle / STEEPEST, fall.middle / FLATTEST)
    if "fall" not in said and "length" in said:
        fall = _held(fall, length.middle * FLATTEST, length.middle * STEEPEST)
    return length, fall


def _held(unknown: Unknown, low: float, high: float) -> Unknown:
    ends = [min(max(end, low), high) for end in (unknown.low, unknown.middle, unknown.high)]
    return replace(unknown, low=ends[0], middle=ends[1], high=ends[2])


def _water(flow: float | None, look: str | None) -> Unknown:
    says, order = "water over the lip", "Run water over a board and choose the look"
    if flow is not None:
        amount = flow * LITRE_PER_HOUR
        row = Tabled(
            amount=amount, low=amount, high=amount, unit="m3/s", grade=Grade.ASSUMED, source="", place="as asked"
        )
        return _unknown("water", says, "m3/s", (amount, amount, amount), "chosen", order, row)
    row = rows.ANY_LOOK if look is None else rows.LOOKS[look]
    how: How = "not known" if look is None else "chosen"
    return _unknown("water", says, "m2/s", (row.low, row.amount, row.high), how, order, row)


def _not_asked() -> Iterator[Unknown]:
    for key, says, order, row in (
        ("stones", "depth of the stones", "Choose the stones of the bed", rows.BED_DEPTH),
        (
            "edges",
            "stone along the edges",
            "Choose the edge stone at the quarry, and weigh a metre of it",
            rows.EDGE_STONE,
        ),
        ("hose", "way of the hose", "Walk the way of the hose with a tape", rows.HOSE_OVER_LENGTH),
        ("dry", "water lost on dry days", "Ask for a year of the nearest weather station", rows.DRY_LOSS),
        (
            "pump",
            "how much of its power a pump gives the water",
            "Choose the pump by its maker's curve",
            rows.WIRE_TO_WATER,
        ),
        ("hours", "hours it runs in a year", "Agree on when it runs", rows.HOURS_A_YEAR),
    ):
        yield _unknown(key, says, row.unit, (row.low, row.amount, row.high), "not known", order, row)
    place = "two people, from the fast to the slow end of every output of the trade"
    pace = Tabled(amount=0.5, low=0.0, high=1.0, unit="1", grade=Grade.PRACTICE, source="", place=place)
    yield _unknown("pace", "pace of the crew", "1", (0.0, 0.5, 1.0), "not known", "Look in your own log of hours", pace)
    place = "from clay through loam to sand, whose sides stand flattest"
    soil = Tabled(amount=0.5, low=0.0, high=1.0, unit="1", grade=Grade.ASSUMED, source="", place=place)
    yield _unknown("soil", "soil", "1", (0.0, 0.5, 1.0), "not known", "Dig a trial hole where the reservoir goes", soil)


def _unknown(
    key: str, says: str, unit: str, ends: tuple[float, float, float], how: How, order: str, row: Tabled
) -> Unknown:
    low, middle, high = ends
    return Unknown(
        key=key, says=says, unit=unit, low=low, middle=middle, high=high, how=how, order=order, grade=row.grade,
        place=row.place,
    )  # fmt: skip
