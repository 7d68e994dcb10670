"""Coefficients of lips, for ``lip_head`` and ``lip_unit_flow``. Their bands are what sets the band of a lip's head."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

_UNIT = "m^(1/2)/s"

LIP_COEFFICIENTS: dict[str, Tabled] = {
    "sharp edge": Tabled(
        amount=1.83,
        low=1.78,
        high=1.84,
        unit=_UNIT,
        grade=Grade.PUBLISHED,
        source="brater-king-1996",
        place="broad crests so short that the sheet springs clear, 3.32 in feet; band by Kindsvater and Carter",
    ),
    "flat slab": Tabled(
        amount=1.45,
        low=1.40,
        high=1.705,
        unit=_UNIT,
        grade=Grade.PUBLISHED,
        source="brater-king-1996",
        place="broad crests longer than twice the head, 2.63 in feet; high end is the ideal broad crest",
    ),
    "round edge": Tabled(
        amount=1.60,
        low=1.40,
        high=1.85,
        unit=_UNIT,
        grade=Grade.ASSUMED,
        source="",
        place="no measurement below 20 mm of head was found: the middle of all stone lips, 10 % either way in head",
    ),
    "boulders": Tabled(
        amount=1.44,
        low=1.24,
        high=1.64,
        unit=_UNIT,
        grade=Grade.PUBLISHED,
        source="zachoval-2014",
        place="0.845 of the ideal crest, measured on a sharp-edged broad one; for odd stones 10 % either way in head",
    ),
}
