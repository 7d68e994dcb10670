"""Root protection rules."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

ROOT_RADIUS_CAP = Tabled(
    amount=15.0,
    low=15.0,
    high=15.0,
    unit="m",
    grade=Grade.PUBLISHED,
    source="bs-5837",
    place="4.6.1 and Annex D: the area need not exceed 707 m2",
    jurisdiction="UK",
)

MANY_STEMS = Tabled(
    amount=6,
    low=6,
    high=6,
    unit="1",
    grade=Grade.PUBLISHED,
    source="bs-5837",
    place="4.6.1 b): from this many stems on, the mean stem counts (recalled)",
    jurisdiction="UK",
)
