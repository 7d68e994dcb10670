"""What a rule reads out of a finding, and the small edits that rules share."""

from collections.abc import Iterable

from pydantic import JsonValue

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding
from beckwright.base.quantities import Flow, Length
from beckwright.base.words import flow as in_litres
from beckwright.base.words import millimetres
from beckwright.compose import Design
from beckwright.cures.values import Order
from beckwright.job.edit import ChangeReach, Edit, SetFlow, SetValue
from beckwright.job.units import LITRE_PER_HOUR

CLOSE = 1e-6


def named_in(finding: Finding, names: Iterable[str]) -> str | None:
    """The one of several names that stands as a part of the finding's figure."""
    inside = f".{finding.figure}."
    return next((name for name in names if f".{dotted(name)}." in inside), None)


def up(amount: float, step: float) -> float:
    """To the next multiple of ``step`` up: what cures is never rounded down."""
    return float(-(-(amount - CLOSE * step) // step) * step)


def in_mm(length: Length, step: float = 1.0) -> float:
    """A length in mm as a file holds it, up to the next ``step`` mm; a whole number stands as one."""
    return whole(up(length * 1000, step))


def whole(amount: float, digits: int = 3) -> float:
    """A number as a person would write it."""
    rounded = round(amount, digits)
    return int(rounded) if float(rounded).is_integer() else rounded


def put(key: str, value: JsonValue) -> SetValue:
    """Set one value."""
    return SetValue(key=key, value=value)


def flow_set(design: Design, name: str, flow: Flow) -> Order:
    """Run a named flow at another rate, in whole hundreds of litres an hour as given."""
    was = next(each.flow for each in design.job.flows if each.name == name)
    litres = round(flow / LITRE_PER_HOUR / 100) * 100
    words = f"Run {name} at {in_litres(litres * LITRE_PER_HOUR)} instead of {in_litres(was)}."
    return Order(words=words, edits=(SetFlow(name=name, l_h=float(litres)),))


def reach_number(design: Design, name: str) -> int:
    """Number of the reach of a name, from 0."""
    return next(place for place, reach in enumerate(design.job.course.reaches) if reach.name == name)


def change(design: Design, name: str, **keys: JsonValue) -> ChangeReach:
    """Change keys of the reach of a name."""
    return ChangeReach(reach=reach_number(design, name), keys=dict(keys))


def listed(names: Iterable[str]) -> str:
    """Names in a row."""
    told = list(dict.fromkeys(names))
    return told[0] if len(told) == 1 else ", ".join(told[:-1]) + " and " + told[-1]


def order(words: str, *edits: Edit) -> Order:
    """An order and its edits."""
    return Order(words=words, edits=edits)


def mm(amount: float) -> str:
    """Millimetres of a file as they are read."""
    return millimetres(amount / 1000)
