"""Judgements of the leak test."""

from beckwright.base.tabled import assumed, habit

CONFIDENCE = habit(0.95, 0.95, 0.95, "1", "an interval that holds the true loss nineteen times in twenty")
DAILY_EVAPORATION = assumed(
    1.0, 0.5, 1.5, "1", "evaporation in the hours of a test over that of its day, or of a mean day of the month"
)
RAIN_CAUGHT = assumed(
    1.0,
    0.8,
    1.1,
    "1",
    "rain that reaches the water over what a gauge beside it shows on that plan: wind, stones it wets",
)
UNREAD_WARMTH = assumed(4.0, 2.0, 6.0, "K", "water of a garden stream warms by day and cools by night by about as much")
WARMS_IN = assumed(
    21600.0, 14400.0, 43200.0, "s", "time in which it does most of that: from the morning to the afternoon"
)
ODD_ONE_OUT = assumed(
    0.01, 0.01, 0.01, "1", "chance of one so far off the line without a slip: it is asked about, not dropped"
)
DRIFT = assumed(
    1.0, 1.0, 1.2, "1", "Durbin-Watson figure below which readings follow one another too closely for their interval"
)
FEWEST = habit(6.0, 5.0, 8.0, "1", "readings of one test below which a line through them says little")
TOLD_TO = habit(0.05e-3 / 3600, 0.02e-3 / 3600, 0.1e-3 / 3600, "m3/s", "what losses are told to: less was not shown")
WORTH_KNOWING = habit(0.1e-3 / 3600, 0.05e-3 / 3600, 0.5e-3 / 3600, "m3/s", "0.1 L an hour: a bath in two months")
READ_EVERY = habit(1800.0, 900.0, 3600.0, "s", "between readings of a leak test where none is made yet")
STEADY_AFTER = habit(1800.0, 900.0, 3600.0, "s", "from a start or a change of flow until levels no longer settle")
SLIP_OF_UNIT = assumed(0.03, 0.02, 0.05, "m", "a level this far from the last that fits in another unit is asked about")
