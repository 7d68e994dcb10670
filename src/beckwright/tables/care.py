"""Habits and judgements of looking after a stream: where it ends to be weather, and when what is looked at."""

from beckwright.base.tabled import assumed, habit

DAY_TO_DAY = assumed(
    1.0, 0.5, 1.5, "1", "evaporation of dry days over the mean day of their month: dull and still, or hot and windy"
)
BY_NIGHT = assumed(0.2, 0.1, 0.3, "1", "share of a day's evaporation that falls into a night of twelve hours")
DAYLIGHT = habit(12 * 3600.0, 8 * 3600.0, 16 * 3600.0, "s", "the hours in which most of a day's water evaporates")
STICK = habit(0.003, 0.002, 0.005, "m", "how well two readings of a wet stick, taken from the lid, agree")
RINGS = assumed(2.0, 1.5, 3.0, "1", "times the most that weather takes: beyond it no weather explains it")
LAST_DAY = assumed(
    86400.0, 43200.0, 86400.0, "s", "what is lost would bring the pump to its least within this: time to ring someone"
)
PUMP_HOURS = habit(500.0 * 3600, 300.0 * 3600, 1000.0 * 3600, "s", "running between two cleanings of pump and cage")
LEAF_REACH = habit(10.0, 6.0, 15.0, "m", "leaves of a tree no farther off than this fill lips and slots")
LEAF_MONTHS = habit(10.0, 10.0, 11.0, "1", "months in which the leaves of northern gardens come down, January 1")
CUT_MONTH = habit(3.0, 2.0, 3.0, "1", "month in which last year's growth is cut, January 1")
ONE_PERSON = habit(
    25.0, 15.0, 25.0, "kg", "beyond this two people lift a lid; lifting guides of most countries, from memory"
)
FEWEST_YEARS = habit(3.0, 3.0, 5.0, "1", "readings of different years below which no trend is told")
FAR_AHEAD = assumed(20.0, 10.0, 20.0, "1", "years ahead beyond which a straight line says nothing")
ADDED_STORED = assumed(
    1.0, 0.8, 1.3, "1", "water in motion of a feature nobody has filmed, over the one number given for it"
)
LEAK_LOOKED_AT = habit(0.5e-3 / 3600, 0.1e-3 / 3600, 1e-3 / 3600, "m3/s", "half a litre an hour: a bath in two weeks")
VISIT_APART = habit(14 * 86400.0, 7 * 86400.0, 30 * 86400.0, "s", "shots nearer together than this are one visit")
FAR_OFF = habit(4.0, 3.0, 10.0, "1", "times the other readings of its kind: a slip of the pen is asked about")
