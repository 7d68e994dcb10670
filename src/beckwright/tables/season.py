"""What a season takes and gives: habits and judgements, for no garden stream has been measured over a year in print."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled, assumed, habit, quoted

WET_DAY_RAIN = assumed(
    0.005, 0.003, 0.010, "m", "rain of a wet day: the rain of a month is spread over as many days as this makes"
)
CASCADING = assumed(
    1.10, 1.00, 1.25, "1", "a stream in steps over still open water: surface, wind, spray; nobody measured it"
)
SPLASH_AT_A_FALL = assumed(
    5e-5,
    0.0,
    2e-4,
    "1",
    "share of the flow that lands off the lining at each fall; cooling towers with eliminators lose 1e-4 of theirs. "
    "The leak test of the job itself narrows it",
)
WICKING = assumed(
    0.0,
    0.0,
    0.2e-3 / 86400.0,
    "m2/s",
    "along each metre of edge: nothing over dry gravel; at most what a planted strip of 50 mm drinks, 4 mm a day",
)
ROOF_YIELD = habit(0.85, 0.70, 0.90, "1", "share of the rain on a roof that reaches the tank")
FROSTY_MONTH = habit(5.0, 3.0, 8.0, "day", "days with frost in the air from which a month counts as a winter one")
YEARS_RUN_IN = 2
"""The year is gone through so often: the tank of the first of January is then that of the last of December."""
OPEN_WATER = quoted(
    1.05, "1", "allen-1998", "table 12, open water less than 2 m deep, over the reference grass; from memory"
)
WATER_ALBEDO = quoted(0.08, "1", "mcmahon-2013", "table S3, open water: share of the sun thrown back")
GRASS_ALBEDO = quoted(0.23, "1", "allen-1998", "eq. 38: share of the sun that green grass throws back")
PAN = habit(0.70, 0.60, 0.80, "1", "open water over what a pan with bare sides loses in a year; from memory")
MISSING_SUN = Tabled(
    amount=0.175,
    low=0.16,
    high=0.19,
    unit="1",
    grade=Grade.PUBLISHED,
    source="allen-1998",
    place="eq. 50: 0.16 inland, 0.19 by the sea; between them where nobody said which",
)
MISSING_WIND = Tabled(
    amount=2.0,
    low=1.0,
    high=3.0,
    unit="m/s",
    grade=Grade.PUBLISHED,
    source="allen-1998",
    place="chapter 3: 2 m/s where none was measured; 1 to 3 m/s is light to moderate wind, table 4",
)
MISSING_DEW = Tabled(
    amount=0.0,
    low=0.0,
    high=2.0,
    unit="degC",
    grade=Grade.PUBLISHED,
    source="allen-1998",
    place="eq. 48: the dew point is the least temperature, 2 degrees lower in dry country",
)
DRY_DAY = habit(
    0.001, 0.0002, 0.001, "m", "rain below which a day counts as dry; 0.2 mm in counts of drought; from memory"
)
HARD_FROST = habit(-2.0, -4.0, -2.0, "degC", "air from which a frost counts as hard: 28 °F; from memory")
ODD_RAIN = assumed(
    0.005,
    0.004,
    0.006,
    "m",
    "a year whose wettest day has less may be written in inches or centimetres: it is asked about",
)
ODD_SUM = assumed(2.0, 1.5, 3.0, "1", "rain of a year so many times more or less than the months tell is asked about")
