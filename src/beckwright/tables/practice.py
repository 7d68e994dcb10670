"""Habits of the trade and judgements of ours: each is printed as such wherever it decides something."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _habit(amount: float, low: float, high: float, unit: str, place: str, *, jurisdiction: str = "") -> Tabled:
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit=unit,
        grade=Grade.PRACTICE,
        source="",
        place=place,
        jurisdiction=jurisdiction,
    )


FREEBOARD_LEAST = _habit(0.05, 0.05, 0.08, "m", "edge of the lining over running water at stone: the least quoted")
FREEBOARD_FAILS = Tabled(
    amount=0.025,
    low=0.025,
    high=0.025,
    unit="m",
    grade=Grade.ASSUMED,
    source="",
    place="half the least freeboard quoted: survey, digging and one leaf take up that much",
)
FREEBOARD_WISE = _habit(0.10, 0.10, 0.15, "m", "edge of the lining over running water on soft ground")

SETTLEMENT_TIPPED = _habit(0.10, 0.08, 0.15, "1", "tipped fill sinks by this share of its depth, most in year one")
SETTLEMENT_RAMMED = _habit(0.04, 0.03, 0.05, "1", "rammed fill sinks by this share of its depth, most in year one")

HOSE_VELOCITY = _habit(1.2, 0.7, 1.2, "m/s", "bore by flow; running cost bends at 0.7 to 1.1 m/s")

SHEET_CLINGS = _habit(0.7e-3, 0.7e-3, 1.03e-3, "m2/s", "below about 5 mm of head a sheet splits and clings to the lip")

SERVICE_CLEARANCE = _habit(0.5, 0.5, 0.5, "m", "dig by hand this far each side of a pipe or cable")
DAMP_PROOF_CLEARANCE = _habit(
    0.15, 0.15, 0.15, "m", "water and ground below a damp-proof course, and off the wall", jurisdiction="UK"
)
SPOIL_CLEARANCE = _habit(1.0, 1.0, 1.0, "m", "heaps back from the edge of a pit")

LAP_LOOSE = _habit(0.30, 0.15, 0.45, "m", "lap of unbonded lining along the slope")
LAP_HEIGHT = _habit(0.05, 0.05, 0.05, "m", "a loose lap rises this far over the water below it")
STEP_FOLD = _habit(0.10, 0.10, 0.15, "m", "slack in the length of lining for each fold at a step")
EDGE_ALLOWANCE = _habit(0.15, 0.15, 0.30, "m", "lining over each edge, trimmed last")
WRINKLES = _habit(0.05, 0.05, 0.05, "1", "lining lost in wrinkles and folds")
FLEECE_LAPS = _habit(1.1, 1.1, 1.1, "1", "fleece over lining, by area")
RESERVE_WANTED = _habit(7 * 86400.0, 7 * 86400.0, 14 * 86400.0, "s", "seven dry days between running level and cut-out")
LAST_FALL = _habit(0.15, 0.15, 0.15, "m", "stones over crates, 100 to 250 mm: a ramp of stones takes up this much")

FLOAT_SWITCH_RISE = _habit(0.10, 0.05, 0.20, "m", "a float switch starts the pump again this far over its cut-out")
INERTIA_MATTERS = _habit(20.0, 10.0, 20.0, "1", "kinematic wave number above which a wave runs without inertia")
STALL_MARGIN = Tabled(
    amount=0.10,
    low=0.05,
    high=0.10,
    unit="m",
    grade=Grade.ASSUMED,
    source="",
    place="head with nothing flowing, over the lift at the least level: a curve read from a leaflet is no better",
)
SLOW_START = Tabled(
    amount=600.0,
    low=300.0,
    high=900.0,
    unit="s",
    grade=Grade.ASSUMED,
    source="",
    place="a morning start that takes longer is one the owner asks about",
)
CLOSE_TO_DRY = Tabled(
    amount=0.05,
    low=0.02,
    high=0.05,
    unit="m",
    grade=Grade.ASSUMED,
    source="",
    place="level left over the pump's least: leaves on the slots and a ripple take up that much",
)

IN_MOTION_MULTIPLES: dict[str, Tabled] = {
    f"{multiple:g} x water in motion": _habit(multiple, multiple, multiple, "1", "rule of thumb for the reservoir")
    for multiple in (1.0, 2.0, 2.5, 3.0)
}
HOUR_SHARE = _habit(1 / 3, 1 / 3, 1 / 3, "1", "rule of thumb: a reservoir of a third of the flow of an hour")
