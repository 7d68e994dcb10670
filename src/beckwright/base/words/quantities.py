"""Figures with all the digits a checker wants: four that signify, by powers of ten where they are needed."""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

from beckwright.base.words.amounts import THIN, grouped
from beckwright.base.words.bands import one_number
from beckwright.base.words.measures import FOOT, US, Customary, customary, reads

_SIGNIFICANT = 4
_UNITS = {"1": "", "degC": "°C", "m2": "m²", "m3": "m³", "m/s2": "m/s²", "m2/s": "m²/s", "m3/s": "m³/s"} | {
    "kg/m2": "kg/m²",
    "kg/m3": "kg/m³",
    "N/m3": "N/m³",
}
_CUBIC_FOOT = Customary("ft³", 1 / FOOT**3)
"""A checker reckons in feet throughout: a volume is cubic feet here, though the trade buys yards and gallons."""


def quantity(amount: float, unit: str) -> str:
    """A figure to four significant digits, such as ``"0.002153 m³/s"`` or ``"1.307 × 10^−6 m²/s"``.

    Lengths and levels are never cut coarser than a millimetre: a level far above its datum has more digits than four.
    """
    return f"{_engineering(_there(amount, unit), unit, ROUND_HALF_EVEN)} {_called(unit)}".rstrip()


def both(amount: float, unit: str) -> str:
    """As ``quantity``, and in SI before it to who reads other units: equations are worked as they were published."""
    other = _other(unit)
    return _si(amount, unit) if other is None else f"{_si(amount, unit)} ({quantity(amount, unit)})"


def _si(amount: float, unit: str) -> str:
    return f"{_engineering(amount, unit, ROUND_HALF_EVEN)} {in_print(unit)}".rstrip()


def quantity_band(low: float, high: float, unit: str) -> str:
    """``"0.002 to 0.0024 m³/s"``: low first, the unit once, rounded outward; empty where low and high are one."""
    if one_number(low, high):
        return ""
    bottom, top = (_there(end, unit) for end in (low, high))
    ends = f"{_engineering(bottom, unit, ROUND_FLOOR)} to {_engineering(top, unit, ROUND_CEILING)}"
    return f"{ends} {_called(unit)}".rstrip()


def in_print(unit: str) -> str:
    """An SI unit as it is printed: ``m3/s`` becomes ``m³/s``, a ratio has none."""
    return _UNITS.get(unit, unit)


def _other(unit: str) -> Customary | None:
    return _CUBIC_FOOT if unit == "m3" and reads() is US else customary(in_print(unit))


def _there(amount: float, unit: str) -> float:
    other = _other(unit)
    return amount if other is None else amount * other.times + other.more


def _called(unit: str) -> str:
    other = _other(unit)
    return in_print(unit) if other is None else other.name


def _engineering(amount: float, unit: str, rounding: str) -> str:
    """Plain digits from 0.0001, a small trickle in m³/s, up to a million; else a power of ten in threes."""
    if math.isinf(amount):
        return "no limit"
    # Twelve digits first: what the binary number has beyond them would push a rounding outward by a whole digit.
    exact = Decimal(f"{amount:.12g}")
    place, plain = exact.adjusted() + 1 - _SIGNIFICANT, exact.adjusted() < 6
    rounded = exact.quantize(Decimal(1).scaleb(min(place, -3 if unit == "m" else 0) if plain else place), rounding)
    if rounded == 0 or -4 <= rounded.adjusted() < 6:
        return _digits(rounded)
    power = 3 * (rounded.adjusted() // 3)
    return f"{_digits(rounded.scaleb(-power))} × 10^{grouped(power)}"


def _digits(number: Decimal) -> str:
    whole = f"{number:,f}"
    return (whole.rstrip("0").rstrip(".") if "." in whole else whole).replace(",", THIN).replace("-", "\u2212")
