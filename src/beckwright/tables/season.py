"""What a season takes and gives: habits and judgements, for no garden stream has been measured over a year in print."""

from beckwright.base.tabled import assumed, habit

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
