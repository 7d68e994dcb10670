"""One function for each kind of number: how finely it is told is the same wherever it stands."""

import math
from collections.abc import Sequence

from beckwright.base.words.amounts import grouped, number_in, with_unit
from beckwright.base.words.bands import band, round_step, to_step
from beckwright.base.words.measures import INCH, customary, one_unit, unit_called

_HALF_A_YEAR = 180.0


def opening(words: str) -> str:
    """Words as they open a sentence. Only the first letter changes: names keep the capitals people gave them."""
    return words[:1].upper() + words[1:]


def headed(name: str, unit: str) -> str:
    """A head of a column: what stands below, and the reader's name of its unit."""
    return f"{name}, {unit_called(unit)}" if name else unit_called(unit)


def millimetres(length: float, *, up: bool = False) -> str:
    """A depth, head or height to 1 mm; in inches to an eighth, below one inch to a sixteenth.

    up  what is asked for was rounded up already: in inches it is never told smaller than that
    """
    return f"{with_unit(length * 1000, 'mm', up=up):,.0f}"


def short_height(length: float) -> str:
    """A height to 1 mm where there is no room: ``"240"``, for drawings are in millimetres; inches always say so."""
    return f"{number_in(length * 1000, 'mm'):,.0f}" if unit_called("mm") == "mm" else millimetres(length)


def unit_word(unit: str) -> str:
    """The reader's unit as it stands in a sentence: nobody reads "heights in in"."""
    told = unit_called(unit)
    return "inches" if told == "in" else told


def metres(length: float, *, up: bool = False) -> str:
    """A level or distance to 10 mm, or to 0.01 ft; ``up`` as in ``millimetres``."""
    return f"{with_unit(length, 'm', up=up):,.2f}"


def chainages(start: float, end: float) -> str:
    """A stretch of the course to 0.1 m, or to 0.1 ft."""
    first, last = (f"{number_in(place, 'm'):.1f}" for place in (start, end))
    return f"{first} to {last} {unit_called('m')}" if first != last else f"at {first} {unit_called('m')}"


def sizes(sides: Sequence[float]) -> str:
    """Sides of a box or a slab, to 1 mm: ``"800 x 400 x 400 mm"``."""
    return " x ".join(f"{number_in(side * 1000, 'mm'):,.0f}" for side in sides) + f" {unit_called('mm')}"


def bore(across: float) -> str:
    """The bore of a hose: ``"38 mm (1.50 in)"``, for hoses are bought by both; in inches alone to who reads those."""
    inches = f"{across / INCH:.2f} in"
    return inches if unit_called("mm") == "in" else f"{millimetres(across)} ({inches})"


def price_of_one(price: float, unit: str) -> float:
    """The price of one of the reader's unit, where ``price`` is that of one metric one. Money itself never changes."""
    return price * one_unit(unit)


def flow(rate: float) -> str:
    """A flow in litres an hour: to 100 L/h from 1 000 up, else to 10."""
    litres = rate * 3.6e6
    return _stepped(litres, 100 if litres >= 1000 else 10, "L/h")


def litres(volume: float) -> str:
    """A volume to the litre, from 1 000 L up to 10 L."""
    amount = volume * 1000
    return _stepped(amount, 10 if abs(amount) >= 1000 else 1, "L")


def share(ratio: float) -> str:
    """A share of one as per cent."""
    return f"{grouped(ratio * 100)} %"


def watts(power: float) -> str:
    """A power to 1 W."""
    return f"{grouped(power)} W"


def kilopascals(pressure: float, *, up: bool = False) -> str:
    """A pressure to 1 kPa, below 10 to 0.1; ``up`` as in ``millimetres``."""
    amount = with_unit(pressure / 1000, "kPa", up=up)
    return f"{amount:,.1f}" if abs(pressure) < 1e4 else f"{amount:,.0f}"


def days(time: float) -> str:
    """A time in days, to a half below ten."""
    amount = time / 86400
    return f"{grouped(to_step(amount, 0.5), 1)} days" if amount < 10 else f"{grouped(amount)} days"


def spell(least: float, most: float) -> str:
    """A dry spell as a band of days, rounded outward; beyond half a year there is no telling."""
    low, high = least / 86400, most / 86400
    if high <= 0:
        return "none"
    if low > _HALF_A_YEAR:
        return "more than half a year"
    if high > _HALF_A_YEAR:
        return f"{grouped(math.floor(low))} days or more"
    return band(low, high, 0.5 if low < 10 else 1, "days")


def tonnes(mass: float) -> str:
    """A mass in tonnes: to 0.1 below 5, else whole."""
    amount = mass / 1000
    return f"{with_unit(amount, 't'):,.1f}" if amount < 5 else f"{with_unit(amount, 't'):,.0f}"


def kilowatt_hours(energy: float) -> str:
    """An energy to 1 kWh."""
    return f"{grouped(energy / 3.6e6)} kWh"


def _stepped(amount: float, step: float, unit: str) -> str:
    other = customary(unit)
    if other is None:
        return f"{grouped(to_step(amount, step))} {unit}"
    apart = round_step(step * other.times)
    return f"{grouped(to_step(amount * other.times, apart), 1 if apart < 1 else 0)} {other.name}"
