"""Crates and chamber: what may stand on them, how they are tied and wrapped, and what can be serviced by one person."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled, assumed, habit
from beckwright.base.values import value


@value
class Treads:
    """Something that may come onto the cover: one wheel, foot or track of it, and how hard it moves.

    force    of its heaviest wheel, foot or track
    contact  length and width of the patch that presses
    dynamic  factor for movement
    use      row of ``COVER_LEAST`` that its cover is held against
    width    of the machine, 0 where it is no digger
    """

    force: Tabled
    contact: tuple[float, float]
    dynamic: float
    use: str
    width: float = 0.0


CRATE_PLAY = assumed(0.02, 0.01, 0.04, "m", "room along each side that a block of crates takes up by itself")
CLIPS = assumed(
    2.0, 1.0, 4.0, "1", "clips for each joint between neighbours and for each crate on another; the maker's rule first"
)
WRAP_LAP = habit(0.30, 0.15, 0.30, "m", "geotextile over geotextile")
GAP_VOIDS = habit(0.40, 0.35, 0.45, "1", "washed stone of one size in the gaps round the crates")
SEARCHED = assumed(1.0, 1.0, 1.0, "1", "another pit is looked for as far off as one crate is long")

BESIDE = assumed(5e3, 2.5e3, 10e3, "Pa", "people and barrows beside the pit")
BESIDE_DIGGER = habit(
    10e3, 10e3, 20e3, "Pa", "a machine beside the pit: the least surcharge that is drawn beside a dig"
)

COMES: dict[str, Treads] = {
    "person": Treads(
        force=assumed(1.5e3, 1.0e3, 1.5e3, "N", "150 kg with what they carry, on one foot"),
        contact=(0.20, 0.10),
        dynamic=1.0,
        use="feet",
    ),
    "ride-on mower": Treads(
        force=assumed(1.5e3, 1.0e3, 2.5e3, "N", "400 kg with its driver, most of it at the back"),
        contact=(0.15, 0.15),
        dynamic=1.3,
        use="vehicles",
    ),
    "car": Treads(
        force=assumed(6.0e3, 4.0e3, 8.0e3, "N", "2 t, half an axle of 1.2 t"),
        contact=(0.20, 0.18),
        dynamic=1.3,
        use="vehicles",
    ),
    "delivery lorry": Treads(
        force=assumed(50.0e3, 27.0e3, 57.5e3, "N", "18 t, half an axle of 10 t; 11.5 t is the most on a road axle"),
        contact=(0.30, 0.25),
        dynamic=1.6,
        use="vehicles",
    ),
}
"""What comes to gardens, least first."""


def _digger(mass: float, contact: tuple[float, float], width: float) -> Treads:
    place = f"digger of {mass / 1000:g} t slewed over one side: three quarters of its weight on half of one track"
    weight = 0.75 * mass * 9.80665
    return Treads(
        force=assumed(weight, 0.67 * weight, 1.33 * weight, "N", place),
        contact=contact,
        dynamic=1.0,
        use="vehicles",
        width=width,
    )


DIGGERS: dict[str, Treads] = {
    "0.75 t": _digger(750, (0.45, 0.18), 0.75),
    "1.5 t": _digger(1500, (0.60, 0.23), 1.10),
    "3 t": _digger(3000, (0.80, 0.30), 1.60),
    "8 t": _digger(8000, (1.10, 0.45), 2.40),
}
"""By weight, smallest first; widths are the widest of their class on hire pages."""

SLOT_VELOCITY = habit(
    0.05, 0.05, 0.10, "m/s", "through the slots of a chamber: faster, leaves and newts are drawn to them"
)
LID_PIECE = Tabled(
    amount=25.0,
    low=16.0,
    high=25.0,
    unit="kg",
    grade=Grade.PRACTICE,
    source="",
    place="one piece of a lid, lifted by one person; the filter for men, that for women is 16",
    jurisdiction="UK",
)
PUMP_ROOM = assumed(0.05, 0.05, 0.10, "m", "room round a pump on each side, to lift it out past its hose")
CHAMBER_WALL = assumed(0.02, 0.01, 0.05, "m", "wall of a plastic chamber")
LID_BEARS = assumed(100.0, 100.0, 150.0, "kg", "a grown person; a child is borne with them")
NOBODY_IN = assumed(1.2, 1.0, 1.2, "m", "a shaft so deep is not climbed into: bad air, and no way out")
