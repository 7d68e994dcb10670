"""What the electrics stage hands on: loads, drops, strings of lights, who sees which lamp, the route and the zones."""

from typing import Literal

from beckwright.base.quantities import Angle, FloatArray, Length, Level, Points, Power, Ratio
from beckwright.base.values import value
from beckwright.equations.electrics import ApparentPower, Current, DropRate, Voltage
from beckwright.job.model import Light, ViewPoint

Seen = Literal["in the beam", "beside it", "turned away", "hidden by ground"]
Spot = tuple[Length, Length]


@value
class Load:
    """Something that hangs on the supply cable: power and current at the wall, of one pump if each has its own."""

    name: str
    power: Power
    current: Current


@value
class CableDrop:
    """One size of cable: its drop at the load told with it, and whether that is within the limit."""

    size: float
    rate: DropRate
    drop: Voltage
    share: Ratio
    within: bool


@value
class Feeder:
    """The supply cable.

    pumps       what the pump draws at each named flow that it gives, flat out, and at most by its maker's table
    largest     the largest of them: the drop is worked at it
    others      what hangs on the cable besides
    each        pumps together that have cables of their own: 1 where all hang on one
    drawn       length of the line on plan; None where nobody drew it
    length      of the cable, with what it takes to lay it
    limit       share that may be lost; the lighting limit where lights hang on it
    long_run    whether the limit is one of a run over 100 m
    sizes       every size of this insulation
    chosen      the one the job names
    rate_most   largest drop rate that keeps the limit
    smallest    smallest size in the table that does; None where none does
    """

    pumps: tuple[Load, ...]
    largest: Load
    others: tuple[Load, ...]
    each: int
    current: Current
    drawn: Length | None
    length: Length
    lights: bool
    limit: Ratio
    long_run: bool
    sizes: tuple[CableDrop, ...]
    chosen: CableDrop
    rate_most: DropRate
    smallest: float | None


@value
class Placed:
    """A lamp in its place. ``way`` is the unit vector of its axis; ``wet`` where it sits under its pool's rim."""

    light: Light
    at: Spot
    level: Level
    way: FloatArray
    wet: bool


@value
class Span:
    """Light cable up to one lamp: ``current`` of it and all beyond; ``lost`` up to its end, a share of the voltage."""

    light: str
    length: Length
    current: Current
    drop: Voltage
    lost: Ratio


@value
class Transformer:
    """What feeds one string.

    rating  least, at the loading of the trade
    taken   the next on offer; None where none is large enough
    drawn   power from the wall
    """

    rating: ApparentPower
    taken: ApparentPower | None
    drawn: Power


@value
class LightString:
    """All lamps of one voltage on one cable, in the order the job tells them.

    line      on plan, from the transformer to the last lamp
    centre    length over which the whole current would lose as much
    even      factor of an even string of as many lamps, to hold the sum against
    rate_most largest drop rate that keeps the drop wished for
    sizes, chosen, smallest  as of the supply
    """

    voltage: Voltage
    power: Power
    current: Current
    lamps: tuple[Placed, ...]
    spans: tuple[Span, ...]
    line: Points
    length: Length
    centre: Length
    even: Ratio
    rate_most: DropRate
    sizes: tuple[CableDrop, ...]
    chosen: CableDrop
    smallest: float | None
    transformer: Transformer


@value
class Sight:
    """One lamp as one eye sees it.

    along, across  dot product and length of the cross product of axis and line of sight, as unit vectors
    off       angle of the eye off the axis
    turn      by which the axis must move away from the eye; 0 where it need not
    screen    height over the ground, at the distance of the table, of a stone that hides the lamp; 0 where it is hidden
    clear     least height of the line of sight over ground, bed and banks; below 0 it is blocked
    surveyed  share of the line over known ground: beyond it nothing is taken to hide the lamp
    mirrored  name of the pool whose still surface shows the lamp's face to this eye; empty where none does
    """

    light: Placed
    view: ViewPoint
    eye: Level
    distance: Length
    along: Ratio
    across: Ratio
    off: Angle
    seen: Seen
    turn: Angle
    screen: Length
    clear: Length
    surveyed: Ratio
    mirrored: str


@value
class AtDrop:
    """How many lamps light one drop."""

    lip: str
    lamps: tuple[str, ...]


@value
class CrossedService:
    """A service under or over the supply cable. ``left`` is ground between both; None where its depth is unknown."""

    name: str
    at: Spot
    along: Length
    left: Length | None


@value
class CrossedRoots:
    """Cable inside a root circle. ``line`` names the cable."""

    tree: str
    species: str
    protected: bool
    line: Literal["supply cable", "light cable"]
    length: Length


@value
class Zones:
    """Rings on plan round basins: zone 0 is water and what holds it, 1 and 2 lie round it."""

    water: tuple[Points, ...]
    first: tuple[Points, ...]
    second: tuple[Points, ...]


@value
class Duct:
    """``bore`` wanted for the cable at the fill of the trade; ``taken`` the next on offer, None beyond them."""

    cable: Length
    bore: Length
    taken: Length | None


@value
class Route:
    """Where the supply cable runs.

    connection, transformer  their places and how far from open water; None where nobody told them
    """

    line: Points | None
    duct: Duct
    connection: Spot | None
    connection_water: Length | None
    transformer: Spot | None
    transformer_water: Length | None
    services: tuple[CrossedService, ...]
    roots: tuple[CrossedRoots, ...]


@value
class Electrics:
    """Advice for the electrician who decides."""

    feeder: Feeder
    strings: tuple[LightString, ...]
    sights: tuple[Sight, ...]
    drops: tuple[AtDrop, ...]
    route: Route
    zones: Zones

    @property
    def lamps(self) -> tuple[Placed, ...]:
        """All lamps, string by string."""
        return tuple(lamp for string in self.strings for lamp in string.lamps)
