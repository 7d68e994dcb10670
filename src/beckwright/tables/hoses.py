"""Hoses and pipes: wall roughness, extra loss of ribbed walls, and the true bores behind the names of PE pipe."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

ROUGHNESS_NEW = Tabled(
    amount=1.0e-5,
    low=1.5e-6,
    high=1.0e-5,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="charts of PE pipe makers up to 200 mm bore; low end is plastic in EPANET 2.2 table 3.2",
)

ROUGHNESS_BIOFILM = Tabled(
    amount=5.0e-5,
    low=1.0e-5,
    high=5.0e-5,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="a smooth hose after a season of stream water; no source found",
)

LOSS_FACTORS: dict[str, Tabled] = {
    "smooth": Tabled(
        amount=1.0, low=1.0, high=1.0, unit="1", grade=Grade.PUBLISHED, source="definition", place="plain round bore"
    ),
    "spiral": Tabled(
        amount=1.2,
        low=1.0,
        high=2.0,
        unit="1",
        grade=Grade.ASSUMED,
        source="",
        place="times the loss of a smooth wall; strip-wound metal hose loses 1.20 to 1.25, ribbed metal hose about 2",
    ),
}

CORRUGATED_FRICTION = Tabled(
    amount=0.08,
    low=0.074,
    high=0.106,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="Darcy factor that Manning n 0.015 to 0.018 of corrugated land drain means at 55 mm bore",
)


def _bore(nominal: float, least: float) -> Tabled:
    return Tabled(
        amount=nominal / 1000,
        low=least / 1000,
        high=nominal / 1000,
        unit="m",
        grade=Grade.PUBLISHED,
        source="en-12201-2",
        place="outside diameter less two least walls; low end less two greatest walls, ISO 11922-1 grade V",
    )


PE_PIPES: dict[tuple[int, int], Tabled] = {
    (25, 11): _bore(20.4, 19.6),
    (32, 11): _bore(26.0, 25.2),
    (40, 11): _bore(32.6, 31.6),
    (50, 11): _bore(40.8, 39.6),
    (63, 11): _bore(51.4, 50.0),
    (75, 11): _bore(61.4, 59.8),
    (90, 11): _bore(73.6, 71.6),
    (110, 11): _bore(90.0, 87.8),
    (32, 17): _bore(28.0, 27.4),
    (40, 17): _bore(35.2, 34.4),
    (50, 17): _bore(44.0, 43.2),
    (63, 17): _bore(55.4, 54.4),
    (75, 17): _bore(66.0, 64.8),
    (90, 17): _bore(79.2, 77.8),
    (110, 17): _bore(96.8, 95.2),
}
"""Bore of PE pipe by (outside diameter in mm, standard dimension ratio): ``amount`` nominal, ``low`` least."""
