"""Habits of the trade and judgements of ours: each is printed as such wherever it decides something."""

from beckwright.base.tabled import Tabled, assumed, habit

FREEBOARD_LEAST = habit(0.05, 0.05, 0.08, "m", "edge of the lining over running water at stone: the least quoted")
FREEBOARD_FAILS = assumed(
    0.025, 0.025, 0.025, "m", "half the least freeboard quoted: survey, digging and one leaf take up that much"
)
FREEBOARD_WISE = habit(0.10, 0.10, 0.15, "m", "edge of the lining over running water on soft ground")

SETTLEMENT_TIPPED = habit(0.10, 0.08, 0.15, "1", "tipped fill sinks by this share of its depth, most in year one")
SETTLEMENT_RAMMED = habit(0.04, 0.03, 0.05, "1", "rammed fill sinks by this share of its depth, most in year one")

HOSE_VELOCITY = habit(1.2, 0.7, 1.2, "m/s", "bore by flow; running cost bends at 0.7 to 1.1 m/s")

SHEET_CLINGS = habit(0.7e-3, 0.7e-3, 1.03e-3, "m2/s", "below about 5 mm of head a sheet splits and clings to the lip")

SERVICE_CLEARANCE = habit(0.5, 0.5, 0.5, "m", "dig by hand this far each side of a pipe or cable")
DAMP_PROOF_CLEARANCE = habit(
    0.15, 0.15, 0.15, "m", "water and ground below a damp-proof course, and off the wall", jurisdiction="UK"
)
SPOIL_CLEARANCE = habit(1.0, 1.0, 1.0, "m", "heaps back from the edge of a pit")

BANK_TOP = habit(0.30, 0.30, 0.50, "m", "width of a bank's top beyond the edge of the lining")
BANK_SLOPE = habit(2.5, 1.5, 5.0, "1", "outer side of a planted bank; mown wants 4 to 5, stone stands at 1.5")
WORKING_SPACE = habit(0.30, 0.15, 0.60, "m", "room round the crates on the floor of the pit")
TRENCH_WIDTH = habit(0.20, 0.15, 0.30, "m", "hose trench: the narrowest bucket, or a spade")
TRENCH_DEPTH = habit(0.45, 0.30, 0.60, "m", "hose trench: out of reach of a spade in a bed")
WIDE_END = assumed(
    5.0, 3.0, 10.0, "day", "days between an even chance and nine in ten from which a client should hear of them"
)
HEAP_HEIGHT = habit(1.0, 0.8, 1.5, "m", "height of a heap that a small digger works from")
SURVEY_TOLERANCE = habit(0.010, 0.003, 0.010, "m", "levels of a survey on soft ground")
DIG_TOLERANCE = habit(0.020, 0.010, 0.030, "m", "levels as dug and blinded")
STONE_TOLERANCE = habit(0.010, 0.003, 0.010, "m", "levels of stones as bedded")

LAP_LOOSE = habit(0.30, 0.15, 0.45, "m", "lap of unbonded lining along the slope")
LAP_HEIGHT = habit(0.05, 0.05, 0.05, "m", "a loose lap rises this far over the water below it")
STEP_FOLD = habit(0.10, 0.10, 0.15, "m", "slack in the length of lining for each fold at a step")
EDGE_ALLOWANCE = habit(0.15, 0.15, 0.30, "m", "lining over each edge, trimmed last")
WRINKLES = habit(0.05, 0.05, 0.05, "1", "lining lost in wrinkles and folds")
FLEECE_LAPS = habit(1.1, 1.1, 1.1, "1", "fleece over lining, by area")
RESERVE_WANTED = habit(7 * 86400.0, 7 * 86400.0, 14 * 86400.0, "s", "seven dry days between running level and cut-out")
LAST_FALL = habit(0.15, 0.15, 0.15, "m", "stones over crates, 100 to 250 mm: a ramp of stones takes up this much")

FLOAT_SWITCH_RISE = habit(0.10, 0.05, 0.20, "m", "a float switch starts the pump again this far over its cut-out")
INERTIA_MATTERS = habit(20.0, 10.0, 20.0, "1", "kinematic wave number above which a wave runs without inertia")
STALL_MARGIN = assumed(
    0.10,
    0.05,
    0.10,
    "m",
    "head with nothing flowing, over the lift at the least level: a curve read from a leaflet is no better",
)
SLOW_START = assumed(600.0, 300.0, 900.0, "s", "a morning start that takes longer is one the owner asks about")
CLOSE_TO_DRY = assumed(
    0.05, 0.02, 0.05, "m", "level left over the pump's least: leaves on the slots and a ripple take up that much"
)

IN_MOTION_MULTIPLES: dict[str, Tabled] = {
    f"{multiple:g} x water in motion": habit(multiple, multiple, multiple, "1", "rule of thumb for the reservoir")
    for multiple in (1.0, 2.0, 2.5, 3.0)
}
HOUR_SHARE = habit(1 / 3, 1 / 3, 1 / 3, "1", "rule of thumb: a reservoir of a third of the flow of an hour")
