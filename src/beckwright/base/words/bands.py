"""Bands: low first, the unit once, rounded outward."""

import math
from collections.abc import Callable

from beckwright.base.words.amounts import decimals_for, eighths, fraction, grouped
from beckwright.base.words.measures import Customary, customary, unit_called

_CLOSE = 1e-9
_NICE = (5.0, 2.0, 1.0)


def to_step(number: float, step: float) -> float:
    """Nearest multiple of ``step``."""
    return round(number / step) * step


def band(low: float, high: float, step: float, unit: str, *, scale: float = 1.0) -> str:
    """``"8 600 to 9 400 L/h"``: low first, the unit once, rounded outward to ``step`` of the unit.

    ``step`` is of the metric unit; in the reader's it is the round number next below, so nothing is told coarser.
    """
    other = customary(unit)
    if other is not None:
        return _band_in(other, low * scale, high * scale, step)
    decimals = max(0, -math.floor(math.log10(step) + _CLOSE))
    bottom = math.floor(low * scale / step + _CLOSE) * step
    top = math.ceil(high * scale / step - _CLOSE) * step
    if one_number(low, high):
        return f"{grouped(to_step(low * scale, step), decimals)} {unit}"
    return f"{grouped(bottom, decimals)} to {grouped(top, decimals)} {unit}"


def outward(low: float, high: float, step: float, unit: str, *, close: float = _CLOSE) -> str:
    """As ``band``, but one number where both ends are told alike. ``close``, in steps, is no reason to go out."""
    bottom, top = ends_outward(low, high, step, unit, close=close)
    told = f"{bottom} to {top}" if bottom != top else bottom
    return f"{told} {unit_called(unit)}" if unit else told


def ends_outward(low: float, high: float, step: float, unit: str, *, close: float = _CLOSE) -> tuple[str, str]:
    """Both ends of a band as they stand below a head, rounded outward."""
    other = customary(unit)
    write: Callable[[float, float], str] = _decimal
    apart = step
    if other is not None:
        low, high = (end * other.times + other.more for end in (low, high))
        apart, write = _apart(other, max(abs(low), abs(high)), step)
    return (
        write(math.floor(low / apart + close) * apart, apart),
        write(math.ceil(high / apart - close) * apart, apart),
    )


def one_number(low: float, high: float) -> bool:
    """Whether a band has no width."""
    return math.isclose(low, high, rel_tol=1e-9, abs_tol=1e-12)


def stepped(amount: float, step: float, unit: str) -> str:
    """The nearest multiple of ``step``, of a metric unit, as it stands below a head: ``"101.235"``."""
    other = customary(unit)
    if other is None:
        return grouped(to_step(amount, step) + 0.0, decimals_for(step))
    apart = round_step(step * other.times, other.name)
    return grouped(to_step(amount * other.times + other.more, apart) + 0.0, decimals_for(apart))


def stride(step: float, unit: str) -> float:
    """How far apart, in a metric unit, what is ruled for the reader stands: every foot is no round number of metres."""
    other = customary(unit)
    return step if other is None else round_step(step * other.times) / other.times


def round_step(step: float, unit: str = "") -> float:
    """The number 1, 2 or 5 times a power of ten that is next below, or the step itself; of feet only tenths.

    A rod is marked in feet, tenths and hundredths.
    """
    power = 10.0 ** math.floor(math.log10(step) + _CLOSE)
    nice = (1.0,) if unit == "ft" else _NICE
    return next(times * power for times in nice if times * power <= step * (1 + _CLOSE))


def _band_in(other: Customary, low: float, high: float, step: float) -> str:
    bottom, top = (end * other.times + other.more for end in (low, high))
    apart, write = _apart(other, max(abs(bottom), abs(top)), step)
    if one_number(low, high):
        return f"{write(to_step(bottom, apart), apart)} {other.name}"
    # What binary arithmetic leaves over is no reason to go out by a whole step.
    lowest = math.floor(bottom / apart + _CLOSE) * apart
    highest = math.ceil(top / apart - _CLOSE) * apart
    return f"{write(lowest, apart)} to {write(highest, apart)} {other.name}"


def _apart(other: Customary, largest: float, step: float) -> tuple[float, Callable[[float, float], str]]:
    """How far apart what is told stands in the reader's units, and how it is written."""
    if other.name != "in":
        return round_step(step * other.times, other.name), _decimal
    apart = max(eighths(largest), _of_a_tape(step * other.times))
    return apart, fraction if apart < 1 else _whole


def _of_a_tape(step: float) -> float:
    """The stroke of a tape next below a step in inches: a sixteenth, an eighth, a quarter, a half, whole inches."""
    return round_step(step) if step >= 1 else max(0.0625, 2.0 ** math.floor(math.log2(step) + _CLOSE))


def _decimal(number: float, step: float) -> str:
    return grouped(number, decimals_for(step))


def _whole(number: float, _: float) -> str:
    return grouped(number)
