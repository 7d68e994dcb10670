"""From the amount of an item to how many are bought: never by a guess, only by what the row says one holds."""

import math

import numpy as np

from beckwright.base.errors import Problem
from beckwright.base.items import Item
from beckwright.base.quantities import FloatArray, Ratio
from beckwright.job.model import Sold

_CLOSE = 1e-9
"""A whole number missed by less than this is that number."""


def sold_per_unit(unit: str, sold: Sold) -> float | None:
    """How many as sold one unit of an item is; None where the one cannot be had from the other."""
    if unit == sold.measure:
        return 1 / sold.holds
    if sold.density is None:
        return None
    return {("kg", "m3"): 1 / (sold.density * sold.holds), ("m3", "kg"): sold.density / sold.holds}.get(
        (unit, sold.measure)
    )


def bought(amount: float, each: float, sold: Sold, waste: Ratio) -> float:
    """How many are bought for an amount: waste added, and only whole ones where only whole ones are sold.

    each  as sold, for one unit of the amount
    """
    number = amount * each * (1 + waste)
    return float(math.ceil(number - _CLOSE)) if sold.whole else number


def bought_over(amounts: FloatArray, each: float, sold: Sold, waste: Ratio) -> FloatArray:
    """``bought`` of many amounts (n,)."""
    numbers = amounts * each * (1 + waste)
    return np.ceil(numbers - _CLOSE) if sold.whole else numbers


def misfit(item: Item, sold: Sold, place: str) -> Problem:
    """What to say where a price cannot be used: the two units, and what would join them."""
    masses = {item.unit, sold.measure} == {"kg", "m3"}
    if masses:
        remedy = "Write what it weighs as it lies loose in bulk_kg_m3"
    elif sold.measure == "each" and item.unit != "each":
        remedy = f'Write how many {item.unit} one {sold.word} holds in holds, such as "10 {item.unit}"'
    else:
        remedy = f"Give its price for a unit of {item.unit}"
    return Problem(
        place=place,
        found=f"{item.key} is sold by the {sold.word} and counted in {item.unit}",
        rule="A price is for a unit its item can be counted in",
        remedy=remedy,
    )
