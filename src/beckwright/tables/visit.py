"""A first visit: what the unknown may be, how well an eye sees it, and what it is taken for in a first sketch.

Nothing here is a price. Every row is a habit or a judgement and is printed as such where it decides something.
"""

from beckwright.base.tabled import Tabled, assumed, habit

LITRE_AN_HOUR_A_CM = 1 / 3.6e6 / 0.01
"""One litre an hour over each centimetre of lip, m2/s."""


def _over_a_lip(amount: float, low: float, high: float, place: str) -> Tabled:
    scale = LITRE_AN_HOUR_A_CM
    return habit(amount * scale, low * scale, high * scale, "m2/s", place)


LOOKS: dict[str, Tabled] = {
    "trickle": _over_a_lip(56, 37, 75, "from barely wet, 5 US gal/min a foot of lip, to a thin sheet, 10"),
    "everyday": _over_a_lip(112, 75, 149, "from a thin sheet to an ordinary fall, 100 US gal/h an inch of lip"),
    "full": _over_a_lip(224, 149, 298, "from an ordinary fall to a heavy one that roars, 200 US gal/h an inch of lip"),
}
"""Water over each metre of lip for a look. The trade's tables mix three places to measure its depth: only the flow."""
ANY_LOOK = _over_a_lip(112, 37, 298, "nobody chose a look: from barely wet to a heavy fall that roars")

NOT_KNOWN: dict[str, Tabled] = {
    "length": assumed(12.0, 6.0, 20.0, "m", "nobody has paced it: garden streams of this kind"),
    "fall": habit(1.0, 0.5, 2.0, "m", "nobody has seen it: one to two metres is told to be enough, half a metre goes"),
    "width": assumed(0.6, 0.4, 1.0, "m", "nobody has said it: from a rill to a stream a child cannot step over"),
    "access": assumed(1.1, 0.7, 2.0, "m", "nobody has walked it: from a garden gate to a drive"),
}
"""What is taken for an answer that nobody has given."""
BY_EYE: dict[str, Tabled] = {
    "length": assumed(0.10, 0.05, 0.15, "1", "paced"),
    "fall": assumed(0.25, 0.15, 0.40, "1", "a slope looks steeper from below than from above"),
    "width": assumed(0.15, 0.10, 0.20, "1", "shown between two hands"),
    "access": assumed(0.10, 0.05, 0.15, "1", "looked at"),
}
"""Share either way of what an eye says."""
MEASURED: dict[str, Tabled] = {
    "length": assumed(0.01, 0.01, 0.02, "1", "taped along bends that may still move"),
    "fall": assumed(0.02, 0.01, 0.03, "1", "levelled at two pegs on soft ground"),
    "width": assumed(0.05, 0.02, 0.05, "1", "stones never stand on the line"),
    "access": assumed(0.02, 0.01, 0.02, "1", "taped at the narrowest place"),
}
"""Share either way of what was measured."""

MACHINE_WIDTHS: dict[str, Tabled] = {
    "1.5 t": assumed(0.98, 0.70, 1.00, "m", "tracks drawn in or out; from memory"),
    "3 t": assumed(1.50, 1.40, 1.60, "m", "from memory"),
    "8 t": assumed(2.30, 2.10, 2.40, "m", "from memory"),
}
"""How wide a digger is; ask the hire desk."""

BED_DEPTH = assumed(0.080, 0.050, 0.120, "m", "stones over the lining of a run: enough to hide it, no more than a hand")
EDGE_STONE = habit(
    150.0, 50.0, 500.0, "kg/m", "edge stone a metre of bank: all stone is told as 0.1 to 3 t a metre of stream"
)
HOSE_OVER_LENGTH = assumed(1.3, 1.1, 1.5, "1", "length of the hose over that of the stream: it goes round the trees")
DRY_LOSS = habit(
    25e-3 / 7 / 86400, 25e-3 / 7 / 86400, 75e-3 / 7 / 86400, "m/s", "25 mm a week and cool; up to 75 in wind and sun"
)
"""Water lost from what is wet, on days without rain."""
WIRE_TO_WATER = habit(0.25, 0.15, 0.40, "1", "small submersible pumps: power in the water over power from the wall")
HOURS_A_YEAR = habit(2000.0, 900.0, 3500.0, "h", "6 to 14 hours a day, 150 to 250 days")
MOTION_MARGIN = habit(1.3, 1.3, 1.3, "1", "times the water in motion")
RESERVE_MARGIN = habit(1.15, 1.15, 1.15, "1", "times all of it")

RUN_SHARE = assumed(0.4, 0.2, 0.6, "1", "share of the fall that runs take; lips take the rest")
DROP_WANTED = habit(0.25, 0.10, 0.35, "m", "drop of a step; over 450 mm it splashes")
ROOM_FOR_A_STEP = habit(2.0, 2.0, 6.0, "m", "length of stream for each step")
POOL_LENGTH = habit(0.8, 0.5, 1.2, "m", "pool under a drop: twice the drop and 300 mm")
POOL_WIDER = assumed(1.5, 1.2, 2.0, "1", "width of a pool over that of the stream")
POOL_DEPTH = habit(0.18, 0.15, 0.25, "m", "pool under a drop: 0.5 to 1 drop, at least 150 mm")
EDGE_ABOVE_BED = habit(0.20, 0.15, 0.30, "m", "dig below the finished bank, stones not counted")
DUG_IN = assumed(0.15, 0.10, 0.20, "m", "bed below the ground along the slope: edges then lie near the ground")
CRATE = habit(0.4, 0.4, 0.4, "m", "width and height of one crate; it is twice as long")
CRATE_LAYERS = assumed(2.0, 1.0, 3.0, "1", "crates on each other")
CRATE_VOIDS = habit(0.95, 0.90, 0.97, "1", "share of a crate that water fills")
COVER = habit(0.20, 0.10, 0.25, "m", "stones over the crates")
PUMP_WATER = habit(0.18, 0.12, 0.20, "m", "water the pump needs over the floor of its sump")
SUMP = assumed(0.10, 0.10, 0.30, "m", "sump below the floor of the crates")

HOSE_BORES = tuple(
    habit(bore, bore, bore, "m", f"hose of {1000 * bore:g} mm bore is sold")
    for bore in (0.019, 0.025, 0.032, 0.038, 0.050, 0.063, 0.075, 0.100, 0.150)
)

STEEPEST = assumed(0.4, 0.3, 0.5, "1", "fall over length: steeper is a cascade, and nothing measured on one is at hand")
FLATTEST = assumed(0.005, 0.005, 0.01, "1", "fall over length: flatter is a canal; the flattest rule told is 1 in 100")
