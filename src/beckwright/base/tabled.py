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
