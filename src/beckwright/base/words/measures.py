"""The reader's units: chosen once, where a reader comes in, and everything told inside follows.

Inside the house everything stays SI. Factors are exact by definition: the international foot and inch, the avoirdupois
pound, the US liquid gallon of 231 cubic inches and the short ton of 2 000 lb, all of NIST SP 811 (2008), appendix B,
footnotes and B.8; the standard acceleration of free fall, 9.80665 m/s², turns pounds into pounds-force.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from enum import Enum

FOOT = 0.3048
INCH = 0.0254
US_GALLON = 231 * INCH**3
POUND = 0.45359237
STANDARD_GRAVITY = 9.80665
OUNCE = POUND / 16
SHORT_TON = 2000 * POUND
POUND_FORCE = POUND * STANDARD_GRAVITY


class Measure(Enum):
    """Which units a reader reads."""

    METRIC = "metric"
    US = "us"


METRIC, US = Measure.METRIC, Measure.US

_READS: ContextVar[Measure] = ContextVar("reads", default=Measure.METRIC)


def reads() -> Measure:
    """The units everything is told in here."""
    return _READS.get()


@contextmanager
def told_in(measure: Measure) -> Iterator[None]:
    """Tell everything inside in these units."""
    before = _READS.set(measure)
    try:
        yield
    finally:
        _READS.reset(before)


def tell_in(measure: Measure) -> None:
    """Tell everything from here on in these units, until whoever stands around this with ``told_in`` ends it."""
    _READS.set(measure)


def measure_called(name: str | None) -> Measure | None:
    """The units of that name, ``metric`` or ``us``; None for any other word, and for none."""
    return next((measure for measure in Measure if measure.value == name), None)


@dataclass(frozen=True, slots=True)
class Customary:
    """What a metric unit is in US customary units: ``times`` the amount, and ``more``."""

    name: str
    times: float
    more: float = 0.0


_US: dict[str, Customary] = {
    "m": Customary("ft", 1 / FOOT),
    "cm": Customary("in", 0.01 / INCH),
    "mm": Customary("in", 0.001 / INCH),
    "m²": Customary("ft²", 1 / FOOT**2),
    "cm²": Customary("in²", 1e-4 / INCH**2),
    "m³": Customary("yd³", 1 / (3 * FOOT) ** 3),
    "L": Customary("US gal", 1e-3 / US_GALLON),
    "L/h": Customary("US gal/h", 1e-3 / US_GALLON),
    "L/min": Customary("US gal/min", 1e-3 / US_GALLON),
    "L/s": Customary("US gal/min", 60e-3 / US_GALLON),
    "m³/s": Customary("ft³/s", 1 / FOOT**3),
    "m³/h": Customary("US gal/min", 1 / (60 * US_GALLON)),
    "m²/s": Customary("ft²/s", 1 / FOOT**2),
    "m/s": Customary("ft/s", 1 / FOOT),
    "m/s²": Customary("ft/s²", 1 / FOOT),
    "g": Customary("oz", 1e-3 / OUNCE),
    "kg": Customary("lb", 1 / POUND),
    "t": Customary("US tons", 1000 / SHORT_TON),
    "kg/m": Customary("lb/ft", FOOT / POUND),
    "kg/m²": Customary("lb/ft²", FOOT**2 / POUND),
    "kg/m³": Customary("lb/ft³", FOOT**3 / POUND),
    "N": Customary("lbf", 1 / POUND_FORCE),
    "kN": Customary("lbf", 1000 / POUND_FORCE),
    "N/m": Customary("lbf/ft", FOOT / POUND_FORCE),
    "kN/m": Customary("lbf/ft", 1000 * FOOT / POUND_FORCE),
    "N/m³": Customary("lbf/ft³", FOOT**3 / POUND_FORCE),
    "Pa": Customary("lbf/ft²", FOOT**2 / POUND_FORCE),
    "kN/m²": Customary("lbf/ft²", 1000 * FOOT**2 / POUND_FORCE),
    "kPa": Customary("psi", 1000 * INCH**2 / POUND_FORCE),
    "bar": Customary("psi", 1e5 * INCH**2 / POUND_FORCE),
    "°C": Customary("°F", 1.8, 32.0),
    "s/m^(1/3)": Customary("s/ft^(1/3)", FOOT ** (1 / 3)),
}


_FOR_PAGES = ("m", "mm", "m²", "m³", "L", "L/h", "kg", "t")


def customary(unit: str) -> Customary | None:
    """What the reader reads in place of a metric unit; None where it is told as it is."""
    return _US.get(unit) if _READS.get() is US else None


def unit_called(unit: str) -> str:
    """The reader's name of a metric unit: ``m`` is ``ft`` to who reads US units."""
    other = customary(unit)
    return unit if other is None else other.name


def units_told() -> dict[str, object]:
    """The reader's units as a page needs them: which, and for each metric unit its name and how many of it one is."""
    named = {unit: {"name": unit_called(unit), "times": 1 / one_unit(unit)} for unit in _FOR_PAGES}
    return {"called": reads().value, **named}


def one_unit(unit: str) -> float:
    """How much of a metric unit one of the reader's is: 0.3048 of a metre to who reads feet. Rulings step by it."""
    other = customary(unit)
    return 1.0 if other is None else 1 / other.times
