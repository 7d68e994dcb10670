"""Root protection rules, and what we allow ourselves when we propose to shift a course."""

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

ROOT_KEPT = Tabled(
    amount=0.025,
    low=0.025,
    high=0.025,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="roots thicker than this are not cut without an arboriculturist's word",
    jurisdiction="UK",
)

STEM_CLEARANCE = Tabled(
    amount=1.0,
    low=1.0,
    high=1.0,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="no digging of any kind this near a stem: operatives' leaflet for utility trenches near trees",
    jurisdiction="UK",
)

BOARDS_BESIDE = Tabled(
    amount=1.0,
    low=0.6,
    high=1.5,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="boards laid beside a dig by hand inside a root circle: room for one person with a barrow",
)

SHIFT_MOST = Tabled(
    amount=3.0,
    low=3.0,
    high=3.0,
    unit="m",
    grade=Grade.ASSUMED,
    source="",
    place="a course shifted farther sideways is another course: the designer draws it",
)

SHIFT_STEP = Tabled(
    amount=0.05,
    low=0.05,
    high=0.10,
    unit="m",
    grade=Grade.ASSUMED,
    source="",
    place="a shift is told to what a peg can be moved by, and holds this much to spare",
)

SHIFT_TAPER = Tabled(
    amount=4.0,
    low=2.0,
    high=4.0,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="length over which a shift eases back, for each metre of it: the line turns by 20 to 37 degrees at most",
)
