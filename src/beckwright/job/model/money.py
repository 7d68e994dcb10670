"""Money: the terms of the job, what things are sold at, and what was quoted."""

from datetime import date
from typing import Literal

from beckwright.base.quantities import Density, Money, Ratio
from beckwright.base.values import value

Measure = Literal["m", "m2", "m3", "kg", "h", "day", "each"]
"""Units an amount can be counted in."""

Group = Literal[
    "ground work",
    "reservoir",
    "lining",
    "stone",
    "pump and hose",
    "electrics",
    "planting",
    "labour and hire",
    "other",
]
"""Trades under which an estimate is added up."""

GroundKnown = Literal["known", "unknown"]

Three = tuple[float, float, float]
"""Low, likely, high."""


@value
class Sold:
    """How a thing is sold.

    word     t, m2, bulk bag, roll …: what its price is for
    holds    how much of ``measure`` one of them is
    whole    whether part of one can be bought
    density  as it lies loose, to go from mass to volume; None where nobody said
    """

    word: str
    holds: float
    measure: Measure
    whole: bool
    density: Density | None


@value
class PriceRow:
    """One row of prices.csv.

    item          key of an item; or, ending in ``.*``, what keys begin with
    price         for one as sold; None where nobody has said yet
    tax_included  None where the row leaves it to the terms of the job
    waste         share bought beyond what is drawn
    place         file and line, or key of the job, that it was read from
    """

    item: str
    sold: Sold
    price: Three | None
    supplier: str
    tax_included: bool | None
    date: date | None
    source: str
    waste: Ratio
    note: str
    place: str


@value
class QuotedRow:
    """One row of quote.csv: so many of an item, as sold, at a rate. ``item`` is the whole key of one item."""

    item: str
    sold: Sold
    amount: float
    rate: Money
    tax_included: bool | None
    date: date | None
    note: str
    place: str


@value
class MoneyTerms:
    """How the sums are made.

    tax                None where nobody said: then no tax is added or taken off
    prices_include_tax  where a row does not say otherwise
    contingency        the person's own share of the risky groups; None for the table's, by ``ground``
    years              over which a pump and a hose are paid for and run
    interest, rise     a year; the rise is of energy and pumps alike
    pump_life          years
    budget             with tax; None where nobody said
    seed               of the tries
    """

    tax: Ratio | None
    tax_name: str
    prices_include_tax: bool | None
    ground: GroundKnown
    contingency: Ratio | None
    risky: tuple[Group, ...]
    years: int
    interest: Ratio
    rise: Ratio
    pump_life: int
    budget: Money | None
    seed: int
