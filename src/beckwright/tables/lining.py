"""Lining: how it is joined, folded and carried."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled, assumed, habit


def _lift(amount: float, unit: str, place: str) -> Tabled:
    return Tabled(
        amount=amount,
        low=amount,
        high=amount,
        unit=unit,
        grade=Grade.PUBLISHED,
        source="hse-l23",
        place=place,
        jurisdiction="UK",
    )


SEAM_AS_SHEET = assumed(
    2.0, 1.0, 4.0, "m", "m2 of sheet that a metre of bonded seam counts as: tape about one, a pair's time about another"
)
PLEATED = assumed(
    0.08,
    0.0,
    0.12,
    "1",
    "of a bank's length: about one pleat that takes up 100 mm in every 1.25 m lies flat under stone",
)
PLEAT_FLAP = assumed(0.075, 0.05, 0.10, "m", "depth of one pleat laid over: it takes up twice as much")
GORES_FROM = assumed(
    0.15, 0.12, 0.25, "1", "of a bank's length: pleats that take up more than this lie on each other, and a gore is cut"
)
PLEAT_TOLD = assumed(0.02, 0.01, 0.03, "m", "less than this is lost among the wrinkles and is not told as a pleat")
STRAIN_MOST = habit(
    0.05, 0.03, 0.05, "1", "strain that a sheet is asked to take by itself, far below its 300 % at break"
)
LAP_BONDED = habit(0.15, 0.075, 0.18, "m", "width of a taped lap, seams along the flow")
LOOSE_SLOPE = habit(0.10, 0.10, 0.10, "1", "on flatter ground water creeps back up a lap that is not bonded")
CUT_STEP = habit(0.05, 0.05, 0.05, "m", "lengths are cut to the next 50 mm")
CUT_ENDS = habit(0.02, 0.02, 0.02, "1", "lining lost at cut ends")
LEAST_OVER_FALL = habit(0.30, 0.20, 0.50, "m", "no seam nearer than this to the foot of a fall, nor to a pool's head")

SHEET_DENSITY = Tabled(
    amount=1147.0,
    low=1100.0,
    high=1200.0,
    unit="kg/m3",
    grade=Grade.PUBLISHED,
    source="epdm-sheets",
    place="1.02 mm at 1.17 kg/m2, and 1.14 mm at 1.4 kg/m2",
)

CARRIED = Tabled(
    amount=25.0,
    low=16.0,
    high=25.0,
    unit="kg",
    grade=Grade.PUBLISHED,
    source="hse-l23",
    place="filter values at knuckle to elbow height, close to the body: men 25, women 16; not limits",
    jurisdiction="UK",
)
TEAM_SHARE: dict[int, Tabled] = {
    1: _lift(1.0, "1", "one person"),
    2: _lift(2 / 3, "1", "two carry two thirds of what both could alone"),
    3: _lift(1 / 2, "1", "three carry half of what all could alone; more than four are unlikely to work together"),
}
