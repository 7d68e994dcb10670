"""Numbers as people read them. One place, so that a figure has the same value and rounding on every sheet.

Bands are rounded outward: what is printed never promises more than was computed.
"""

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

THIN = "\u2009"
"""Between thousands."""

_CLOSE = 1e-9
_SIGNIFICANT = 4
_UNITS = {"1": "", "degC": "°C", "m2": "m²", "m3": "m³", "m/s2": "m/s²", "m2/s": "m²/s", "m3/s": "m³/s"} | {
    "kg/m2": "kg/m²",
    "kg/m3": "kg/m³",
    "N/m3": "N/m³",
}


def opening(words: str) -> str:
    """Words as they open a sentence. Only the first letter changes: names keep the capitals people gave them."""
    return words[:1].upper() + words[1:]


def grouped(number: float, decimals: int = 0) -> str:
    """A number with thin spaces between its thousands."""
    written = f"{number:,.{decimals}f}"
    # What rounds to nothing has no sign.
    signed = written if any(digit in written for digit in "123456789") else written.lstrip("-")
    return signed.replace(",", THIN).replace("-", "\u2212")


def to_step(number: float, step: float) -> float:
    """Nearest multiple of ``step``."""
    return round(number / step) * step


def band(low: float, high: float, step: float, unit: str, *, scale: float = 1.0) -> str:
    """``"8 600 to 9 400 L/h"``: low first, the unit once, rounded outward to ``step`` of the unit."""
    decimals = max(0, -math.floor(math.log10(step) + _CLOSE))
    bottom = math.floor(low * scale / step + _CLOSE) * step
    top = math.ceil(high * scale / step - _CLOSE) * step
    if math.isclose(low, high, rel_tol=1e-9, abs_tol=1e-12):
        return f"{grouped(to_step(low * scale, step), decimals)} {unit}"
    return f"{grouped(bottom, decimals)} to {grouped(top, decimals)} {unit}"


def millimetres(length: float) -> str:
    """A depth, head or height to 1 mm."""
    return f"{grouped(length * 1000)} mm"


def metres(length: float) -> str:
    """A level or distance to 10 mm."""
    return f"{grouped(length, 2)} m"


def chainages(start: float, end: float) -> str:
    """A stretch of the course to 0.1 m."""
    return f"{start:.1f} to {end:.1f} m" if f"{start:.1f}" != f"{end:.1f}" else f"at {start:.1f} m"


def flow(rate: float) -> str:
    """A flow in litres an hour: to 100 L/h from 1 000 up, else to 10."""
    litres = rate * 3.6e6
    return f"{grouped(to_step(litres, 100 if litres >= 1000 else 10))} L/h"


def litres(volume: float) -> str:
    """A volume to the litre, from 1 000 L up to 10 L."""
    amount = volume * 1000
    return f"{grouped(to_step(amount, 10 if abs(amount) >= 1000 else 1))} L"


def share(ratio: float) -> str:
    """A share of one as per cent."""
    return f"{grouped(ratio * 100)} %"


def watts(power: float) -> str:
    """A power to 1 W."""
    return f"{grouped(power)} W"


def kilopascals(pressure: float) -> str:
    """A pressure to 1 kPa, below 10 to 0.1."""
    amount = pressure / 1000
    return f"{grouped(amount, 1 if abs(amount) < 10 else 0)} kPa"


def days(time: float) -> str:
    """A time in days, to a half below ten."""
    amount = time / 86400
    return f"{grouped(to_step(amount, 0.5), 1)} days" if amount < 10 else f"{grouped(amount)} days"


def tonnes(mass: float) -> str:
    """A mass in tonnes: to 0.1 below 5, else whole."""
    amount = mass / 1000
    return f"{grouped(amount, 1 if amount < 5 else 0)} t"


def kilowatt_hours(energy: float) -> str:
    """An energy to 1 kWh."""
    return f"{grouped(energy / 3.6e6)} kWh"


def quantity(amount: float, unit: str) -> str:
    """An SI figure to four significant digits, such as ``"0.002153 m³/s"`` or ``"1.307 × 10^−6 m²/s"``.

    Lengths and levels are never cut coarser than a millimetre: a level far above its datum has more digits than four.
    """
    return f"{_engineering(amount, unit, ROUND_HALF_EVEN)} {in_print(unit)}".rstrip()


def quantity_band(low: float, high: float, unit: str) -> str:
    """``"0.002 to 0.0024 m³/s"``: low first, the unit once, rounded outward; empty where low and high are one."""
    if math.isclose(low, high, rel_tol=1e-9, abs_tol=1e-12):
        return ""
    ends = f"{_engineering(low, unit, ROUND_FLOOR)} to {_engineering(high, unit, ROUND_CEILING)}"
    return f"{ends} {in_print(unit)}".rstrip()


def in_print(unit: str) -> str:
    """An SI unit as it is printed: ``m3/s`` becomes ``m³/s``, a ratio has none."""
    return _UNITS.get(unit, unit)


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
