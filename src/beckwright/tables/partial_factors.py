"""Factors between a load and a strength. The tool screens with them; a competent person signs."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _factor(amount: float, source: str, place: str, jurisdiction: str) -> Tabled:
    return Tabled(
        amount=amount,
        low=amount,
        high=amount,
        unit="1",
        grade=Grade.PUBLISHED,
        source=source,
        place=place,
        jurisdiction=jurisdiction,
    )


UPLIFT_FACTOR = _factor(1.1, "en-1997-1", "UPL, permanent and unfavourable, table A.NA.15", "UK")
WEIGHT_FACTOR = _factor(0.9, "en-1997-1", "UPL, permanent and favourable, table A.NA.15", "UK")
PERMANENT_FACTOR = _factor(1.35, "en-1990", "table A1.2(B), permanent and unfavourable", "EU")
VARIABLE_FACTOR = _factor(1.5, "en-1990", "table A1.2(B), variable and unfavourable", "EU")

CRATE_MATERIAL_FACTOR = Tabled(
    amount=2.75,
    low=2.75,
    high=2.75,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="divides crate strength for material, creep and site, after CIRIA C680; the maker's rule goes first",
    jurisdiction="UK",
)

CRATE_STRENGTH_LANDSCAPED = Tabled(
    amount=171.6e3,
    low=171.6e3,
    high=171.6e3,
    unit="Pa",
    grade=Grade.PRACTICE,
    source="",
    place="least short-term strength from above where nothing drives, 17.5 t/m2: advice of a consultancy",
    jurisdiction="UK",
)

CRATE_LONG_TERM = Tabled(
    amount=0.4,
    low=0.35,
    high=0.5,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="strength after fifty years over strength in a short test, where the maker gives none",
)

COVER_LEAST: dict[str, Tabled] = {
    "feet": Tabled(
        amount=0.15,
        low=0.10,
        high=0.25,
        unit="m",
        grade=Grade.PRACTICE,
        source="",
        place="gravel over geotextile over crates, where people walk and nothing else comes",
    ),
    "landscaped": Tabled(
        amount=0.5,
        low=0.3,
        high=0.5,
        unit="m",
        grade=Grade.PRACTICE,
        source="",
        place="cover over crates under planting and feet; a maker's page says 0.5 m",
    ),
    "vehicles": Tabled(
        amount=0.6,
        low=0.6,
        high=0.6,
        unit="m",
        grade=Grade.PRACTICE,
        source="",
        place="cover over crates under wheels; a maker's page says 0.6 m",
    ),
}

REST_COEFFICIENT = Tabled(
    amount=0.5,
    low=0.4,
    high=0.6,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="side pressure over pressure from above, ground at rest: 1 - sin of a friction angle of 24 to 37 degrees",
)

SOIL_UNIT_WEIGHT = Tabled(
    amount=18.0e3,
    low=16.0e3,
    high=20.0e3,
    unit="N/m3",
    grade=Grade.PRACTICE,
    source="",
    place="moist soil as a cover and beside the pit",
)
