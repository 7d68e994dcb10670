"""Gravity and water, as rows that a sheet can print."""

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.constants import WATER_DENSITY as DENSITY
from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

GRAVITY = Tabled(
    amount=STANDARD_GRAVITY,
    low=STANDARD_GRAVITY,
    high=STANDARD_GRAVITY,
    unit="m/s2",
    grade=Grade.PUBLISHED,
    source="cgpm-1901",
    place="conventional value of the acceleration of gravity",
)

WATER_DENSITY = Tabled(
    amount=DENSITY,
    low=995.6,
    high=1000.0,
    unit="kg/m3",
    grade=Grade.PUBLISHED,
    source="kell-1975",
    place="rounded; low end is 30 degrees Celsius",
)

WATER_UNIT_WEIGHT = Tabled(
    amount=DENSITY * STANDARD_GRAVITY,
    low=DENSITY * STANDARD_GRAVITY,
    high=10_000.0,
    unit="N/m3",
    grade=Grade.PUBLISHED,
    source="definition",
    place="density times gravity; high end is the 10 kN/m3 of worked examples",
)
