"""The answers as people read them: a name, a band rounded outward, and what moves it."""

import math
from collections.abc import Mapping

from beckwright.base.values import value
from beckwright.base.words import US, band, number_in, opening, reads, with_unit
from beckwright.base.words.measures import FOOT, INCH, POUND, US_GALLON
from beckwright.visit.values import PRICE_NAMES, Range, Unknown, Visit, VisitAnswers


@value
class Form:
    """How one answer is printed.

    scale  from SI to the unit
    fine   what is rounded to, up to ``coarse_from`` of the unit; from there on to ``coarse``
    first  whether it is one of the few that a first visit is about
    """

    name: str
    unit: str
    scale: float
    fine: float
    coarse_from: float
    coarse: float
    first: bool
    note: str = ""

    def step(self, amount: float) -> float:
        """What is rounded to."""
        return self.coarse if amount * self.scale >= self.coarse_from else self.fine


Rounding = tuple[float, float, float]
_FINE: Rounding = (1, math.inf, 1)


def _form(name: str, unit: str, scale: float, rounding: Rounding, note: str = "", *, first: bool = True) -> Form:
    fine, coarse_from, coarse = rounding
    return Form(
        name=name, unit=unit, scale=scale, fine=fine, coarse_from=coarse_from, coarse=coarse, first=first, note=note
    )


FORMS: Mapping[str, Form] = {
    "flow": _form("Water that must run", "L/h", 3.6e6, (10, 1000, 100)),
    "fill": _form("Water to fill it", "m³", 1, (0.1, 10, 1), "once: pools, stones and reservoir from dry"),
    "holds": _form("Reservoir holds", "L", 1000, (10, 1000, 100), "water in motion, a dry week, a margin"),
    "dug": _form("Hole for the reservoir", "m³", 1, (0.5, 20, 1), "dug, sides sloped back"),
    "power": _form("Pump draws", "W", 1, (10, 1000, 50), "from the wall, while it runs"),
    "energy": _form("A year of running", "kWh", 1 / 3.6e6, (10, 1000, 100)),
    "running": _form("A year of running costs", "", 1, _FINE, "electricity at your tariff"),
    "build": _form("Priced so far", "", 1, (100, 10_000, 1000)),
    "days": _form("Days of work", "days", 1, _FINE, "two people, fair weather, one task after the other"),
    "waiting": _form("Days of waiting", "days", 1, _FINE, "mortar, settling, tests", first=False),
    "head": _form("Head of the pump", "m", 1, (0.1, 10, 0.5), "lift, and loss in the hose", first=False),
    "stone": _form("Stone", "t", 1e-3, (0.1, 5, 1), "edges, bed, lips, cover of the pit", first=False),
    "lining": _form("Lining", "m²", 1, (1, 100, 5), "stream and pit, laps not counted", first=False),
}
"""In the order they are told."""
ROUND = (1.0, 2.0, 5.0, 10.0)
CAUTIONS = (
    "Before any digging: plans of all services, a locator, and holes dug by hand.",
    "No depth of a pit is free of risk: someone competent looks at it before each shift.",
    "Electricity near water is a licensed electrician's. Trees may be protected: ask the council before roots are cut.",
    "No depth of water is free of risk for a small child. Local rules come first.",
)


@value
class Told:
    """One answer in words.

    says        the band, low first, unit once
    low, high   of the tape, 0 to 1 of ``top``
    top         what the tape's end says, and ``half`` its middle
    moved       what moves it most, and the order that would narrow it; empty where nothing does
    """

    key: str
    name: str
    says: str
    note: str
    low: float
    high: float
    half: str
    top: str
    moved: str
    order: str


def told(answers: VisitAnswers) -> tuple[Told, ...]:
    """Every answer that can be told, in order."""
    found = ((FORMS[key], answers.of(key)) for key in FORMS)
    return tuple(_told(form, each, answers) for form, each in found if each is not None)


def _told(form: Form, each: Range, answers: VisitAnswers) -> Told:
    unit = form.unit or answers.visit.prices.currency
    step = form.step(each.low)
    top = tape_end(each.high * form.scale)
    moved = order = ""
    if each.moves:
        first = answers.visit.of(each.moves[0].key)
        ends = band(each.moves[0].low, each.moves[0].high, step, unit, scale=form.scale)
        moved = f"{opening(first.says)}: {ends} with all else in the middle."
        order = f"{first.order}."
    note = _of_the_money(answers) if each.key == "build" else form.note
    return Told(
        key=each.key, name=form.name, says=band(each.low, each.high, step, unit, scale=form.scale), note=note,
        low=each.low * form.scale / top, high=each.high * form.scale / top,
        half=band(top / 2, top / 2, top / 20, unit), top=band(top, top, top / 10, unit),
        moved=moved, order=order,
    )  # fmt: skip


def tape_end(high: float) -> float:
    """A round number the tape ends at, so that the band does not."""
    if high <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(high))
    return (
        next(each * power for each in ROUND if each * power >= high * 1.02) if high * 1.02 <= 10 * power else 20 * power
    )


def _of_the_money(answers: VisitAnswers) -> str:
    made = ", ".join(PRICE_NAMES[name][0] for name in answers.priced)
    left = [PRICE_NAMES[name][0] for name in answers.unpriced]
    without = ", ".join([*left, "pump and hose, electrics, planting, tipping, tax and risk"])
    return f"at your prices: {made}. Not in it: {without}"


def pit_in_words(answers: VisitAnswers) -> str:
    """Inside sizes of the smallest and the largest pit, and its depth."""
    least, _, most = answers.pits
    small, large = (f"{number_in(pit.length, 'm'):.1f} by {with_unit(pit.width, 'm'):.1f}" for pit in (least, most))
    plan = small if small == large else f"{small} to {large}"
    return f"{plan} inside, {with_unit(least.depth, 'm'):.1f} deep: two crates on each other"


def machines_in_words(answers: VisitAnswers) -> str:
    """What may dig."""
    named = [name if name == "by hand" else f"by a digger of {name}" for name in answers.machines]
    return f"Dug {' or '.join(named)}."


def next_in_words(answers: VisitAnswers) -> str:
    """The one thing to measure next; empty where nothing is left."""
    if answers.next is None:
        return ""
    first = answers.visit.of(answers.next)
    forms = {each.key: each for each in answers.ranges if each.moves and each.moves[0].key == first.key}
    names = [FORMS[key].name.lower() for key in FORMS if key in forms]
    most = f" It moves most: {', '.join(names)}." if names else ""
    return f"{first.order}.{most}"


def taken(visit: Visit) -> tuple[tuple[str, str, str], ...]:
    """What every unknown was taken for: key, what it is, the band and where it comes from."""
    return tuple((each.key, each.says, _taken(each, visit)) for each in visit.unknowns)


def _taken(each: Unknown, visit: Visit) -> str:
    if each.key == "pace":
        return f"{each.place} ({each.grade.value})"
    if each.key == "soil":
        return f"{each.place} ({each.grade.value})"
    key = (each.key, each.unit) if each.key == "water" else each.key
    unit, scale, step = _US_UNITS[key] if reads() is US and key in _US_UNITS else _UNITS[key]
    return f"{band(each.low, each.high, step, unit, scale=scale)}, {each.how}: {each.place} ({each.grade.value})"


_US_UNITS: Mapping[str | tuple[str, str], tuple[str, float, float]] = {
    ("water", "m2/s"): ("US gal/h an inch of lip", INCH * 3600 / US_GALLON, 1.0),
    "edges": ("lb a foot of bank", FOOT / POUND, 1.0),
    "dry": ("in a week", 7 * 86400 / INCH, 0.05),
}
"""Rates by two units, which no single unit of the reader's stands for."""
_METRES = ("m", 1.0, 0.05)
_UNITS: Mapping[str | tuple[str, str], tuple[str, float, float]] = {
    "length": ("m", 1.0, 0.1),
    "fall": ("m", 1.0, 0.01),
    "width": _METRES,
    "access": _METRES,
    ("water", "m2/s"): ("L/h a cm of lip", 36000.0, 1.0),
    ("water", "m3/s"): ("L/h", 3.6e6, 10.0),
    "stones": ("mm", 1000.0, 1.0),
    "edges": ("kg a metre of bank", 1.0, 1.0),
    "hose": ("times the length of the stream", 1.0, 0.1),
    "dry": ("mm a week", 1000 * 7 * 86400.0, 1.0),
    "pump": ("%", 100.0, 1.0),
    "hours": ("h", 1.0, 10.0),
}
