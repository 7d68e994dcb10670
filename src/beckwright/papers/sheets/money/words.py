"""Words of money: amounts as they are sold, what a price is for, sums and bands."""

import numpy as np

from beckwright.base.quantities import Money
from beckwright.base.words import grouped, in_print, unit_called, with_unit
from beckwright.job.tables.sold import PACKS


def counted(number: float, word: str, digits: int) -> str:
    """So many of a thing as sold: packs and days in the plural, pieces without a word."""
    unit = in_print(word)
    if unit_called(unit) != unit:
        return f"{with_unit(number, unit):,.{digits}f}"
    shown = grouped(number, digits)
    if word == "each":
        return shown
    several = word in (*PACKS, "day") and shown != "1"
    return f"{shown} {in_print(word)}{'s' if several else ''}"


def one_priced(word: str) -> str:
    """What a price is for: ``"a m³"``, or ``"each"``."""
    return "each" if word == "each" else f"a {unit_called(in_print(word))}"


def whole(money: Money) -> str:
    """Money to one."""
    return grouped(money)


def between(low: Money, high: Money) -> str:
    """A band of money, rounded outward to one; one number where its ends print alike."""
    bottom, top = grouped(np.floor(low + 1e-6)), grouped(np.ceil(high - 1e-6))
    return bottom if bottom == top or whole(low) == whole(high) else f"{bottom} to {top}"
