"""Levelling and taping: what may be out, how sure one reading is, and when a check speaks."""

import math

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled, habit


def _root_kilometre(millimetres: float) -> float:
    return millimetres / 1000 / math.sqrt(1000)


ALLOWED_EACH_SETUP = Tabled(
    amount=0.005,
    low=0.005,
    high=0.005,
    unit="m",
    grade=Grade.PUBLISHED,
    source="levelling-slides",
    place="allowable misclosure 5 sqrt N mm, N instrument positions",
)
ALLOWED_EACH_ROOT_LENGTH = Tabled(
    amount=_root_kilometre(10),
    low=_root_kilometre(5),
    high=_root_kilometre(15),
    unit="m^(1/2)",
    grade=Grade.PUBLISHED,
    source="levelling-form",
    place="allowable misclosure x sqrt s mm, s in km, x of 5, 10 or 15; 10 or 15 for construction",
)

READING_SIGMAS: dict[str, Tabled] = {
    "level": habit(0.0015, 0.001, 0.003, "m", "one reading of a millimetre staff through a telescope, up to 30 m"),
    "laser": habit(0.0025, 0.0015, 0.005, "m", "one reading of a staff with a rotating laser and its receiver"),
}
"""Standard deviation of one staff reading, by instrument."""

STAFFS: dict[str, Tabled] = {
    "3 m": habit(3.0, 3.0, 3.0, "m", "length of a levelling staff, drawn out"),
    "4 m": habit(4.0, 4.0, 4.0, "m", "length of a levelling staff, drawn out"),
    "5 m": habit(5.0, 5.0, 5.0, "m", "length of a levelling staff, drawn out"),
}
SIGHT_TILT = habit(1e-4, 5e-5, 5e-4, "1", "a level 5 mm out in 50 m is set right; a knocked one is far worse")

TAPE_READING = habit(0.005, 0.003, 0.015, "m", "setting both ends of a tape over marks and reading it")
TAPE_STRETCH = habit(3e-4, 1e-4, 1e-3, "1", "pull, sag, wind and heat, woven tape, by length")
OFFSET_SIGMA = habit(0.03, 0.01, 0.05, "m", "offset squared off a line by eye or by swinging the tape, up to 8 m")

TEST_LIMIT = habit(3.0, 2.5, 3.29, "1", "standardized residual that one tape in 370 passes by chance; 3.29 in 1000")
WEAK_ANGLE = habit(
    math.radians(30), math.radians(30), math.radians(30), "rad", "tapes that meet at less, or at more than 150 degrees"
)
