"""Numbers as fingers type them on a slope: kept as they are, taken where they can be, asked about where odd."""

import re

from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
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


def staff_reading(text: str, *, hung: bool = False) -> Typed:
    """A reading of the staff, m.

    hung  the staff hung upside down: the reading counts below zero, as level books have it
    """
    amount = number(text)
    if amount is None:
        return Typed(text=text, amount=None, asked=f"{_quoted(text)} is no number. What did the staff show?")
    if abs(amount) > LONGEST_READING:
        meant = _meant(text, amount)
        offer = f" Is it {meant} m?" if meant else " Read it again."
        asked = f"{text} m is longer than any staff, {LONGEST_STAFF:g} m.{offer}"
        return Typed(text=text, amount=None, asked=asked, meant=meant)
    return Typed(text=text, amount=-abs(amount) if hung else amount, asked=_reading_asked(text, amount))


def level(text: str, datum: Level) -> Typed:
    """A level, m, held against the datum of the job."""
    amount = number(text)
    if amount is None:
        return Typed(text=text, amount=None, asked=f"{_quoted(text)} is no number. Which level?")
    if not DEEPEST <= amount <= HIGHEST:
        asked = f"{text} m lies outside {DEEPEST:g} to {HIGHEST:g} m. Which level?"
        return Typed(text=text, amount=None, asked=asked)
    asked = _comma_asked(text, amount)
    if abs(amount - datum) > FAR_LEVEL.amount:
        asked = f"{text} m lies {abs(amount - datum):.0f} m from the datum, {datum:.2f} m. Is it so?"
    return Typed(text=text, amount=amount, asked=asked)


def number(text: str) -> float | None:
    """A number with a point or a comma; None for anything else."""
    bare = text.strip()
    return float(bare.replace(",", ".")) if _NUMBER.fullmatch(bare) else None


def _reading_asked(text: str, amount: float) -> str:
    if amount < 0:
        return f"{text} lies below zero. Was the staff held on its head?"
    if amount > LONGEST_STAFF:
        return f"{text} m is longer than a staff of {LONGEST_STAFF:g} m. Is it so?"
    return _comma_asked(text, amount)


def _comma_asked(text: str, amount: float) -> str:
    return f"{text} has a comma. It is taken for {amount:.3f} m. Is it so?" if "," in text else ""


def _meant(text: str, amount: float) -> str:
    """Millimetres typed for metres, or a point in the wrong place."""
    if _MILLIMETRES.fullmatch(text.strip()) and amount <= LONGEST_STAFF * 1000:
        return f"{amount / 1000:.3f}"
    return f"{amount / 10:.3f}" if 0 < amount / 10 <= LONGEST_STAFF else ""


def _quoted(text: str) -> str:
    return f'"{text[:20]}"'
