"""Numbers as fingers type them on a slope: kept as they are, taken where they can be, asked about where odd."""

import re

from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.base.words import METRIC, US, Measure, Understood, metres, understood, with_unit
from beckwright.base.words.measures import FOOT
from beckwright.job.tables import DEEPEST, HIGHEST
from beckwright.survey.level_book import LONGEST_READING
from beckwright.tables.levelling import STAFFS
from beckwright.tables.notebook import FAR_LEVEL

_NUMBER = re.compile(r"[+-]?(\d{1,6}([.,]\d{0,6})?|[.,]\d{1,6})", re.ASCII)
_MILLIMETRES = re.compile(r"\d{3,5}", re.ASCII)
LONGEST_STAFF: Length = max(staff.amount for staff in STAFFS.values())


@value
class Typed:
    """One number as it was typed.

    amount  m; None where it cannot be used
    asked   what a person is asked about it; empty where nothing is
    meant   what it may have been, to be offered; empty where nothing is near
    """

    text: str
    amount: float | None
    asked: str = ""
    meant: str = ""


def staff_reading(text: str, *, hung: bool = False, measure: Measure = METRIC) -> Typed:
    """A reading of the staff, m.

    hung     the staff hung upside down: the reading counts below zero, as level books have it
    measure  units of a bare number: those its field named when it was typed
    """
    read = understood(text, "m", measure)
    amount = read.amount
    if amount is None:
        return _unread(read, "What did the staff show?")
    if abs(amount) > LONGEST_READING:
        meant = _meant(read, amount, measure)
        offer = f" Is it {meant} {_unit(measure)}?" if meant else " Read it again."
        asked = f"{_with_unit(read, measure)} is longer than any staff, {with_unit(LONGEST_STAFF, 'm'):g}.{offer}"
        return Typed(text=text, amount=None, asked=asked, meant=meant)
    return Typed(text=text, amount=-abs(amount) if hung else amount, asked=_reading_asked(read, amount, measure))


def level(text: str, datum: Level, *, measure: Measure = METRIC) -> Typed:
    """A level, m, held against the datum of the job; ``measure`` as in ``staff_reading``."""
    read = understood(text, "m", measure)
    amount = read.amount
    if amount is None:
        return _unread(read, "Which level?")
    told = _with_unit(read, measure)
    if not DEEPEST <= amount <= HIGHEST:
        ends = f"{with_unit(DEEPEST, 'm'):g} to {with_unit(HIGHEST, 'm'):g}"
        return Typed(text=text, amount=None, asked=f"{told} lies outside {ends}. Which level?")
    asked = _comma_asked(read, amount)
    if abs(amount - datum) > FAR_LEVEL.amount:
        asked = f"{told} lies {with_unit(abs(amount - datum), 'm'):.0f} from the datum, {metres(datum)}. Is it so?"
    return Typed(text=text, amount=amount, asked=asked)


def number(text: str) -> float | None:
    """A number with a point or a comma; None for anything else."""
    bare = text.strip()
    return float(bare.replace(",", ".")) if _NUMBER.fullmatch(bare) else None


def metric_note(text: str, unit: str, measure: Measure) -> str:
    """What a table in metric units says of a number that was typed otherwise; empty where it stands there as typed."""
    read = understood(text, unit, measure)
    if read.bare and measure is METRIC and "," not in text and "/" not in text:
        return ""
    return f"typed {text.strip()}{' ' + _unit(measure) if read.bare and measure is US and unit == 'm' else ''}"


def _unread(read: Understood, question: str) -> Typed:
    found = f"{_quoted(read.text)} is no number. {question}" if "is no number" in read.found else read.asked
    return Typed(text=read.text, amount=None, asked=found, meant=read.offers[0] if len(read.offers) == 1 else "")


def _reading_asked(read: Understood, amount: float, measure: Measure) -> str:
    if amount < 0:
        return f"{read.text} lies below zero. Was the staff held on its head?"
    if amount > LONGEST_STAFF:
        return f"{_with_unit(read, measure)} is longer than a staff of {with_unit(LONGEST_STAFF, 'm'):g}. Is it so?"
    return _comma_asked(read, amount)


def _comma_asked(read: Understood, amount: float) -> str:
    if "," not in read.text:
        return ""
    return f"{read.text} has a comma. It is taken for {with_unit(amount, 'm'):.3f}. Is it so?"


def _meant(read: Understood, amount: float, measure: Measure) -> str:
    """Millimetres typed for metres, hundredths for feet, or a point in the wrong place."""
    if not read.bare:
        return ""
    one, finest = (FOOT, 100) if measure is US else (1.0, 1000)
    digits = len(str(finest)) - 1
    if _MILLIMETRES.fullmatch(read.text.strip()) and amount <= LONGEST_STAFF * finest:
        return f"{amount / one / finest:.{digits}f}"
    return f"{amount / one / 10:.{digits}f}" if 0 < amount / 10 <= LONGEST_STAFF else ""


def _unit(measure: Measure) -> str:
    return "ft" if measure is US else "m"


def _with_unit(read: Understood, measure: Measure) -> str:
    """What was typed, with the unit its field named where it has none of its own."""
    return f"{read.text} {_unit(measure)}" if read.bare else read.text


def _quoted(text: str) -> str:
    return f'"{text[:20]}"'
