"""Falls: how far out a lip may lie, how well the drop laws hold for small falls, and how far a fall splashes."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _out_of_level(tilt: float, place: str) -> Tabled:
    return Tabled(amount=tilt, low=tilt, high=tilt, unit="m", grade=Grade.PRACTICE, source="", place=place)


LIP_TILTS: dict[str, Tabled] = {
    "1 mm": _out_of_level(0.001, "a lip set with a long spirit level and packed"),
    "2 mm": _out_of_level(0.002, "enough to draw the water to one side"),
    "5 mm": _out_of_level(0.005, "a lip set with a short spirit level"),
    "10 mm": _out_of_level(0.010, "a lip set by eye, or one that has settled"),
}
"""One end of a lip over the other, least first."""

DROP_LAW = Tabled(
    amount=1.0,
    low=0.7,
    high=1.3,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="times what the drop laws give: garden falls lie below the drop numbers they were measured at",
)

SPLASH = Tabled(
    amount=1.0,
    low=1.0,
    high=2.0,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="lining each side of a fall, in drops: one at the least, two on the windward side",
)

DROP_SPLASHES = Tabled(
    amount=0.45, low=0.45, high=0.45, unit="m", grade=Grade.PRACTICE, source="", place="a drop over this splashes"
)
