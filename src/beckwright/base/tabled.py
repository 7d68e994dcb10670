"""A number from a publication, a habit of the trade or our own judgement: never a bare literal in a stage."""

from beckwright.base.published import Grade
from beckwright.base.values import value


@value
class Tabled:
    """One tabled number.

    amount        SI; ``low`` and ``high`` span what the source or the trade gives (equal to it where it gives one)
    unit          SI unit
    grade         published, common practice or assumed
    source        key of a row in ``tables/sources.py``; empty for common practice and assumed
    place         table, page or clause; for a habit or a judgement, the reason
    jurisdiction  country whose rule it is, or empty
    """

    amount: float
    low: float
    high: float
    unit: str
    grade: Grade
    source: str
    place: str
    jurisdiction: str = ""


def habit(amount: float, low: float, high: float, unit: str, place: str, *, jurisdiction: str = "") -> Tabled:
    """A row that is common practice and has no source."""
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit=unit,
        grade=Grade.PRACTICE,
        source="",
        place=place,
        jurisdiction=jurisdiction,
    )


def assumed(amount: float, low: float, high: float, unit: str, place: str) -> Tabled:
    """A row that is our own judgement."""
    return Tabled(amount=amount, low=low, high=high, unit=unit, grade=Grade.ASSUMED, source="", place=place)


def quoted(amount: float, unit: str, source: str, place: str, *, jurisdiction: str = "") -> Tabled:
    """A row of a publication that gives one number."""
    return Tabled(
        amount=amount,
        low=amount,
        high=amount,
        unit=unit,
        grade=Grade.PUBLISHED,
        source=source,
        place=place,
        jurisdiction=jurisdiction,
    )
