"""How the crates lie, what presses on them, and the chamber the pump stands in."""

from typing import Literal

from beckwright.base.quantities import Area, FloatArray, Force, Length, Mass, Pressure, Ratio, Velocity, Volume
from beckwright.base.values import value

From = Literal["told", "digger", "stone", "typical"]
"""Who says that a load comes: the person, the digger that fills in round the crates, a heavy stone, or habit."""


@value
class Placed:
    """One crate on plan, from the pit's low corner: along the pit's length, across it, and its sides that way."""

    along: Length
    across: Length
    length: Length
    width: Length


@value
class Layer:
    """One layer of crates. No arrangement cut straight through holds more; none is cut."""

    crates: tuple[Placed, ...]


@value
class OtherPit:
    """A pit that whole crates fill, and how many to a layer."""

    length: Length
    width: Length
    crates: int


@value
class Screened:
    """One load through the cover. A screening: the supplier's engineer decides.

    spread    under its spread through the cover, moving
    peak      under its very middle in elastic ground, moving
    design    with the cover, both with their factors
    strength  of the crates as designed with; None where nobody gave one: then nothing passes
    wanted    short-term strength to ask for, that this load would need
    use       share of the strength; None without one
    cover     least cover under which it would fit; None without a strength, or where no cover does it
    least     cover that the trade lays under such a use
    """

    name: str
    comes: From
    force: Force
    contact: tuple[Length, Length]
    dynamic: Ratio
    spread: Pressure
    peak: Pressure
    design: Pressure
    strength: Pressure | None
    wanted: Pressure
    use: Ratio | None
    cover: Length | None
    least: Length


@value
class Side:
    """Ground and water against the side at the crates' foot, empty inside. Low, middle and high of ground at rest.

    head      of ground water over the foot, in winter
    beside    on the ground beside the pit
    design    (3,) with factors
    strength  as designed with; None where nobody gave one
    use       (3,); None without
    """

    depth: Length
    head: Length
    beside: Pressure
    design: FloatArray
    strength: Pressure | None
    use: FloatArray | None


@value
class Creep:
    """What stands for decades, against what crates bear for decades.

    strength  (low, high): as given twice, or from the short-term one by a share; None where nobody gave either
    """

    standing: Pressure
    strength: tuple[Pressure, Pressure] | None
    given: bool

    @property
    def use(self) -> Ratio | None:
        """Share of the low strength; None without one."""
        return None if self.strength is None else self.standing / self.strength[0]


@value
class CrateLayout:
    """Whole crates in the pit.

    layers    how many; ``lower`` and ``upper`` lie in turn, so that joints stand over joints as little as can be
    stacked   share of the upper layer's inner joints that stand over joints
    places    crates in all layers; ``taken`` of them give way to the chamber; ``count`` are bought
    gap       plan that no crate covers, 0 where what is left is no more than their play
    around    plan of crates taken out that the chamber does not cover
    gap_fill  stone to fill both
    lost      water that crates all over would have held and those stones do not
    suits     whether whole crates fill this pit
    nearest   pit nearest in size that they fill; None where this one suits, or none is near
    """

    lower: Layer
    upper: Layer
    layers: int
    stacked: Ratio
    places: int
    taken: int
    count: int
    volume: Volume
    gap: Area
    around: Area
    gap_fill: Volume
    lost: Volume
    suits: bool
    nearest: OtherPit | None
    joints: int
    clips: tuple[int, int, int]
    wrap: Area
    loads: tuple[Screened, ...]
    side: Side
    creep: Creep


@value
class Slots:
    """Water through the chamber's slots at the largest flow. ``wanted``: (least, most) area for calm water."""

    flow: str
    velocity: Velocity | None
    area: Area | None
    wanted: tuple[Area, Area]


@value
class ChamberFit:
    """Whether one person can get at the pump.

    depth  from the cover to the sump's floor
    room   left beside the pump on each side, the pump turned the better way; None where either size is unknown
    piece  mass of one piece of the lid; None where nobody told it
    """

    depth: Length
    inside: tuple[Length, Length] | None
    room: Length | None
    piece: Mass | None
    slots: Slots
