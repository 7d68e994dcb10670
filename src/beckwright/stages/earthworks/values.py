"""What the ground work comes to. Offsets are positive to the left of the course looking downstream."""

from typing import Literal

from beckwright.base.quantities import (
    Area,
    FloatArray,
    IntArray,
    Length,
    Lengths,
    Level,
    Levels,
    Mass,
    Money,
    Points,
    Ratio,
    Volume,
)
from beckwright.base.values import value
from beckwright.job.model import Holds

Kind = Literal["strip", "channel", "pool", "source", "bank", "pit", "trench"]


@value
class Part:
    """One piece of the work. Volumes in place: ``cut`` as it stood in the ground, ``fill`` as it stands when done.

    The strip is the topsoil of all of them; ``cut`` and ``fill`` of the others count from the stripped ground.
    ``plan`` of the strip is that of all the works; the sump lies within the pit's. Nothing is counted twice.
    """

    name: str
    kind: Kind
    plan: Area
    cut: Volume
    fill: Volume


@value
class CrossSection:
    """Square across the course at one station.

    offsets    (n,) falling from the far left to the far right
    ground     (n,) existing
    formation  (n,) as dug and filled: what the lining and its layers lie on, and the banks beside it
    edges      offsets of the lining's edge, left and right
    """

    chainage: Length
    offsets: Lengths
    ground: Levels
    formation: Levels
    edges: tuple[Length, Length]


@value
class PitDig:
    """The reservoir's pit. Corners in plan in the order of ``surroundings.pit_corners``.

    floor   (4, 2) with the room to work round the fill
    top     (4, 2) where the batter meets the ground, and its levels (4,); beyond the survey as if level from its edge
    batter  horizontal for each 1 up
    depth   greatest below the ground
    rim     (n, 2) all round where the sides come out of the ground, anticlockwise, as far as it is surveyed
    """

    floor: Points
    floor_level: Level
    top: Points
    top_levels: Levels
    batter: Ratio
    depth: Length
    rim: Points


@value
class Trench:
    """The hose's trench outside pit and channel: its line (n, 2), chainage from the pump, ground and bottom (n,).

    piece  (n,) number of the stretch each point belongs to: where the hose passes under the works there is none
    """

    line: Points
    along: Lengths
    ground: Levels
    bottom: Levels
    width: Length
    piece: IntArray


@value
class SoilBalance:
    """One soil. Volumes as in the ground before digging.

    dug     taken out
    placed  what is filled, as it stands
    wanted  to fill that
    left    dug less wanted: to be taken away, or, below 0, to be brought; ``lefts`` its low, middle and high
    loose   what is left as it lies on the lorry: low, middle, high
    mass    of what is left; ``masses`` its low, middle and high
    loads   None where nobody said what a load holds
    price   of taking them away; None where nobody said what a load costs, and for soil that is brought
    """

    soil: str
    holds: Holds
    dug: Volume
    placed: Volume
    wanted: Volume
    left: Volume
    lefts: tuple[Volume, Volume, Volume]
    loose: tuple[Volume, Volume, Volume]
    mass: Mass
    masses: tuple[Mass, Mass, Mass]
    loads: int | None
    price: Money | None


@value
class Haul:
    """Subsoil moved along the course: ``moved`` (n,) past each station, downstream positive, bank measure."""

    chainage: Lengths
    moved: FloatArray


@value
class Heap:
    """A heap of loose soil, round.

    wished  the designer put it there
    clear   distance of its foot to the nearest thing it must keep off; below 0 where it does not
    of      that thing
    """

    name: str
    holds: Holds
    at: tuple[Length, Length]
    radius: Length
    height: Length
    loose: Volume
    wished: bool
    clear: Length
    of: str


@value
class LipFill:
    """Made ground under one lip, and how far it sinks as it settles."""

    name: str
    chainage: Length
    fill: Length
    sinks: Length


@value
class Settling:
    """Made ground under both edges at every station of the course (n,), how far they sink, and the lips.

    higher_left, higher_right  (n,) how much higher to build so that they sink to the level drawn
    """

    fill_left: Lengths
    fill_right: Lengths
    sinks_left: Lengths
    sinks_right: Lengths
    higher_left: Lengths
    higher_right: Lengths
    lips: tuple[LipFill, ...]


@value
class Surface:
    """Flat triangles: points (m, 2), levels (m,), triangles (k, 3) anticlockwise."""

    points: Points
    levels: Levels
    triangles: IntArray


@value
class Groundwork:
    """All of the ground work.

    sections   at every station, in order downstream
    raised     how far the whole course would have to be raised (below 0: lowered) for nothing to leave or come; None
               where no shift within what is sane does it
    formation  the course as dug and banked
    folds      chainages at which the banks of a tight bend run into each other
    off_survey plan of the works where nobody surveyed: not counted
    """

    parts: tuple[Part, ...]
    sections: tuple[CrossSection, ...]
    pit: PitDig
    trench: Trench | None
    balances: tuple[SoilBalance, ...]
    haul: Haul
    heaps: tuple[Heap, ...]
    settling: Settling
    raised: Length | None
    formation: Surface
    folds: tuple[tuple[Length, Length], ...]
    off_survey: Area
