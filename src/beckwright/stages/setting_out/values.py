"""What setting out comes to. Offsets are positive to the left of the course looking downstream."""

from typing import Literal

from beckwright.base.findings import Finding
from beckwright.base.quantities import Angle, Length, Level, Points
from beckwright.base.values import value
from beckwright.job.model import Mark
from beckwright.stages.earthworks.values import PitDig

Pair = tuple[Length, Length]
"""Left, then right."""

Side = Literal["", "upstream side", "downstream side"]


@value
class Tape:
    """One tape held level from a mark to a spot."""

    mark: str
    length: Length


@value
class Tapes:
    """Two tapes that find a spot.

    check    a third, where there is a third mark
    angle    at which the two meet at the spot
    on_left  the spot lies to the left looking from the first mark to the second: two tapes alone cannot tell
    good     they meet between 30 and 150 degrees and neither is longer than a tape
    """

    first: Tape
    second: Tape
    check: Tape | None
    angle: Angle
    on_left: bool
    good: bool


@value
class Spot:
    """A place on the ground: in the job's own grid, the ground's level there, and the tapes that find it.

    surveyed  False where the survey does not reach: the level is then that of the nearest ground known
    tapes     None where fewer than two marks are fixed
    """

    at: tuple[Length, Length]
    ground: Level
    surveyed: bool
    tapes: Tapes | None


@value
class SidePeg:
    """A peg beside the course, clear of the dig. ``out`` is how far its nail stands above the ground there."""

    offset: Length
    spot: Spot
    clear: bool
    out: Length


@value
class Dug:
    """The cut across at a peg. A peg has two where the course changes there: upstream side first.

    station      row of the course's stations
    dig, ground  on the line
    below        from the nail down to the dig level
    lift         ground less dig level: to be dug, or, below 0, to be filled
    floor        offsets of the sides of the flat floor, as dug
    edges        offsets of the lining's edge; ``edge_levels``; ``edges_below`` the nail
    works        offsets beyond which the ground stays as it is
    lining       (m, 2) offset and level of the lining across, left to right
    """

    station: int
    side: Side
    ground: Level
    dig: Level
    below: Length
    lift: Length
    floor: Pair
    edges: Pair
    edge_levels: Pair
    edges_below: Pair
    works: Pair
    lining: Points


@value
class Peg:
    """One number along the course: a spot on the line, and a peg with a nail left and right of it.

    places   what stands there, such as ``lip 1``; empty at a plain metre
    nail     one level for both nails: a string between them is level, and everything is measured down from it
    lip      level of the lip there and how far it lies below the nail; None where there is no lip
    by_hand  trees whose root circle, and services whose clearance, the works enter here
    to_next  straight from this spot to the next peg's, None at the last
    across   from the left peg to the right one: a check
    """

    number: int
    chainage: Length
    places: tuple[str, ...]
    spot: Spot
    left: SidePeg
    right: SidePeg
    across: Length
    nail: Level
    dug: tuple[Dug, ...]
    lip: Level | None
    lip_below: Length | None
    by_hand: tuple[str, ...]
    to_next: Length | None


@value
class Corner:
    """One corner of the pit, on its floor and where the batter meets the ground."""

    name: str
    floor: Spot
    top: Spot


@value
class LinePeg:
    """A peg on the produced line of one side of the pit's floor, clear of the dig; ``beyond`` that floor corner."""

    name: str
    line: str
    beyond: Length
    corner: str
    spot: Spot
    clear: bool
    out: Length


@value
class PitSetOut:
    """The pit.

    sides, diagonals  of the floor: from a to b, b to c, c to d, d to a; a to c, b to d
    pegs              two on each side's line; strings between them cross over the floor's corners
    nail              one level for all of them, and how far the dug floor lies below it
    depth             greatest, below the ground
    by_hand           trees whose root circle, and services whose clearance, the pit or its batter enters
    dig               the pit itself, its top led on to the ground at the corners ``guessed``, off the survey
    """

    corners: tuple[Corner, ...]
    sides: tuple[Length, Length, Length, Length]
    diagonals: tuple[Length, Length]
    pegs: tuple[LinePeg, ...]
    nail: Level
    floor_level: Level
    below: Length
    depth: Length
    by_hand: tuple[str, ...]
    dig: PitDig
    guessed: tuple[str, ...]


@value
class LevelToSet:
    """One level the crew sets.

    where      left, middle, right, or how far along
    tolerance  either way
    peg        number of the peg it is measured from and how far below its nail; None where it stands alone
    """

    what: str
    where: str
    level: Level
    tolerance: Length
    peg: int | None = None
    below: Length | None = None


@value
class SettingOut:
    """All that is set out.

    outlines  (n, 2) round the works of the course, closed
    trench_depth  least and greatest depth of the hose trench below the ground; None where there is none
    findings  what setting out has to say for itself
    """

    marks: tuple[Mark, ...]
    pegs: tuple[Peg, ...]
    pit: PitSetOut
    levels: tuple[LevelToSet, ...]
    outlines: tuple[Points, ...]
    trench_depth: Pair | None
    findings: tuple[Finding, ...]
