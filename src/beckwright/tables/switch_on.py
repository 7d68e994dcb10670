"""Judgements of the first morning with a bucket and a stopwatch: how sure design and readings are, what goes wrong."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled, assumed, habit

SPAN = assumed(
    0.90,
    0.80,
    0.95,
    "1",
    "chance that the truth lies inside a tabled band: its ends are read as the 5th and 95th of 100",
)
CONFIDENCE = habit(0.90, 0.90, 0.95, "1", "an interval that holds the true figure nine times in ten")

HOSE_AS_LAID = assumed(
    1.0, 0.85, 1.25, "1", "loss of hose and fittings as laid over as reckoned: true bore, bends, slime; kinks apart"
)
PUMP_HEAD = assumed(
    1.0,
    0.93,
    1.04,
    "1",
    "head of this pump over its table; a works test allows about 7 % either way (ISO 9906 grade 3B, from memory)",
)
PUMP_FLOW = assumed(
    1.0,
    0.91,
    1.05,
    "1",
    "flow of this pump over its table; a works test allows about 9 % either way (ISO 9906 grade 3B, from memory)",
)
PUMP_WATTS = assumed(1.0, 0.93, 1.07, "1", "watts of this pump and this meter over the table")
SETTING = assumed(
    1.0, 0.94, 1.06, "1", "speed a dial or a controller gives over the speed meant; never above full speed"
)
DRAINED = assumed(
    1.0,
    0.85,
    1.15,
    "1",
    "share of the stones that drains over as reckoned from voids and what clings; a bucket test tells it closer",
)
VOIDS: dict[str, Tabled] = {
    "crates": assumed(1.0, 0.97, 1.02, "1", "voids of crates as stacked over their maker's figure"),
    "stones": assumed(1.0, 0.88, 1.12, "1", "voids of tipped cobbles over the figure given"),
    "open": assumed(1.0, 0.99, 1.01, "1", "plan of an open chamber over the figure given"),
}
RESTED = assumed(0.0, -0.02, 0.02, "m", "level at rest over the level drawn: filled by eye")
FILM_CLOSE = assumed(
    1.0, 0.85, 1.18, "1", "water needed until it comes over a lip, over what the film says: stones lie as they lie"
)

STOPWATCH = habit(0.25, 0.15, 0.40, "s", "two presses of a thumb, one standard deviation")
BUCKET = habit(0.02, 0.01, 0.05, "1", "mark of a bucket held in moving water, one standard deviation")
TAPE_IN_WATER = habit(
    0.004, 0.002, 0.008, "m", "a level read off a stick in a chamber that stirs, one standard deviation"
)
WATT_METER = habit(0.02, 0.01, 0.03, "1", "a plug-in meter, one standard deviation")
ARRIVAL_SEEN = assumed(3.0, 2.0, 6.0, "s", "when a person says that the water is there, one standard deviation")
ARRIVAL_SCATTER = assumed(
    0.05, 0.03, 0.10, "1", "one lip's arrival against the others', share of its time, one standard deviation"
)
WATER_LEVEL = habit(0.006, 0.004, 0.010, "m", "a level shot on moving water between stones, one standard deviation")
STILL_LEVEL = habit(0.003, 0.002, 0.005, "m", "a level shot on still water, one standard deviation")
DEAD_HEAD = habit(0.03, 0.02, 0.05, "m", "height at which a lifted hose stops, one standard deviation")
LIP_LEVEL = habit(
    0.0015, 0.001, 0.003, "m", "one end of a lip over the other by the same staff, one standard deviation"
)
LIP_AS_SET = habit(0.0015, 0.001, 0.002, "m", "a lip set with care, end over end, one standard deviation")

FAR_OFF = assumed(
    4.0,
    3.5,
    5.0,
    "1",
    "standard deviations off what the rest and the tables say, beyond which a reading is asked about",
)
WATTS_OVER_PLATE = assumed(2.0, 1.5, 3.0, "1", "watts over the pump's most beyond which a meter is asked about")
SPREAD_OF_BUCKETS = assumed(
    1.6, 1.4, 2.0, "1", "seconds of one bucket over the middle one beyond which it is asked about"
)
LIKELY_WRONG = assumed(
    0.5, 0.33, 0.7, "1", "chance of nothing out of the ordinary below which something is called likely to be wrong"
)
LEADING = assumed(0.05, 0.03, 0.10, "1", "chance above which a cause is told apart by the next reading")
NARROWED = assumed(
    0.7, 0.6, 0.8, "1", "width left of a band over its width before, below which readings have told something of it"
)
TIED = assumed(0.7, 0.6, 0.8, "1", "correlation beyond which two things cannot be told apart by these readings")


def _cause(chance: float, place: str) -> Tabled:
    return Tabled(
        amount=chance, low=chance / 2, high=min(1.0, chance * 2), unit="1", grade=Grade.ASSUMED, source="", place=place
    )


CAUSES: dict[str, Tabled] = {
    "nothing out of the ordinary": _cause(
        0.60, "a first switch-on that goes as drawn; no record of many jobs was found"
    ),
    "hose kinked, clogged or a valve half shut": _cause(0.10, "a hose bent under stones, grit in it, a valve left"),
    "pump worn or not the one on the order": _cause(0.06, "head and flow both less than its table"),
    "pump slow: setting or supply": _cause(0.06, "controller below what is written, wrong plug, low voltage"),
    "pump cage or chamber slots blocked": _cause(
        0.06, "silt, leaves, film left on crates: the chamber stands below the crates"
    ),
    "a lip out of level": _cause(0.05, "bedding sank or was hurried"),
    "water behind the stones": _cause(0.04, "a way round or under a lip inside the lining"),
    "an edge low or a loss": _cause(0.03, "water leaves while it runs"),
}
"""Chance before any reading, by cause; they are brought to a sum of 1."""

HOSE_KINKED = assumed(3.0, 1.4, 10.0, "1", "loss of the hose over what it was, kinked or clogged")
PUMP_WORN = assumed(0.80, 0.62, 0.91, "1", "head and flow of a worn pump over its table, both alike")
PUMP_SLOW = assumed(0.80, 0.60, 0.93, "1", "speed over the speed meant")
CAGE_DROP = assumed(0.15, 0.04, 0.50, "m", "chamber below the crates at the flow meant, with the slots blocked")
LIP_TILT = assumed(0.010, 0.004, 0.025, "m", "one end of a lip over the other, once it is out of level")
BEHIND = assumed(0.25, 0.08, 0.60, "1", "share of the largest flow that goes round unseen")
BEHIND_HOLDS = assumed(
    1.0, 0.5, 2.0, "1", "water that stands behind the stones, over that share of the water in motion"
)
ROUND_MOST = assumed(0.95, 0.90, 0.99, "1", "share of a small flow that a way round takes at the most")
EDGE_FROM = assumed(
    0.70,
    0.45,
    0.90,
    "1",
    "flow over the largest from which a low edge loses any; a hole in the lining loses at every one",
)
AN_EDGE = assumed(0.5, 0.3, 0.8, "1", "how often what leaves for good goes over a low edge rather than through a hole")
ALIKE = assumed(3.0, 2.0, 5.0, "1", "odds of one cause over another below which readings have not told them apart")
LOST = assumed(0.03, 0.008, 0.12, "1", "share of the largest flow that leaves for good")
