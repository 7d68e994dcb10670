"""What the lining stage hands on: the course laid flat, the pieces that cover it, and how they are cut and carried."""

from typing import Literal

import numpy as np

from beckwright.base.quantities import (
    Angle,
    Area,
    FloatArray,
    IntArray,
    Length,
    Lengths,
    Level,
    Levels,
    Mass,
    Points,
    Ratio,
)
from beckwright.base.values import value
from beckwright.job.model import Join

Side = Literal["left", "right"]
LEFT_END, LEFT_EDGE, LEFT_TOE, MIDDLE, RIGHT_TOE, RIGHT_EDGE, RIGHT_END = range(7)
"""The seven lines that run along the lining, left to right."""


@value
class Rows:
    """The lining cut across where it lies, r rows from behind the outlet box to its end in the reservoir.

    reach    (r,) number of the stretch; -1 behind the course, one more than the last beyond it
    level    (r,) of the lining under the middle
    beside   (r, 7) the seven lines on the flat sheet, to the left of the middle
    out      (r, 7) the same in plan
    lengths  (r-1, 7) between rows, straight down the sheet: what each line takes where it lies
    turn     (r-1,) of the course in plan, to the left
    slack    (r-1,) to be laid in loose
    surface  (r-1,) area of the lining where it lies
    """

    chainage: Lengths
    reach: IntArray
    level: Levels
    beside: FloatArray
    out: FloatArray
    lengths: FloatArray
    turn: FloatArray
    slack: Lengths
    surface: FloatArray


@value
class Strip:
    """The lining laid flat, r rows; metres on the flat sheet, the first row at (0, 0) and running along x.

    along        (r,) distance down the middle line, slack and risers included
    middle       (r, 2); ``left`` and ``right`` are the ends of the row
    heading      (r,) of the middle line
    level        (r,) of the lining under the middle
    water        (r,) running water at its high end, the highest of all flows; the lining's own level off the course
    spare        (r-1, 7) by how much each line is longer on the sheet than where it lies: what pleats take up
    surface      area of the lining where it lies
    area         area of the strip
    """

    chainage: Lengths
    reach: IntArray
    along: Lengths
    middle: Points
    heading: FloatArray
    left: Points
    right: Points
    level: Levels
    water: Levels
    spare: FloatArray
    surface: Area
    area: Area

    @property
    def length(self) -> Length:
        """Developed length."""
        return float(self.along[-1])

    def at(self, places: FloatArray) -> Points:
        """Points of the middle line at distances along it, (k, 2)."""
        return np.stack([np.interp(places, self.along, self.middle[:, axis]) for axis in (0, 1)], axis=1)

    def girths(self) -> Lengths:
        """Width of sheet at every row."""
        girths: Lengths = np.hypot(*(self.left - self.right).T)
        return girths


@value
class Lap:
    """Where one sheet lies over the next, upstream over downstream. Distances are along the strip.

    start      upstream end of the lower sheet, under the upper one
    end        downstream end of the upper sheet
    level      of the lining at the upper end of the lower sheet
    height     upper end of the lower sheet over the running water at the end of the upper one
    depth      of that water over the lining there
    across     width of sheet there
    bonded     whether it must be
    at_step    whether it hangs down the face of a step
    """

    place: str
    start: Length
    end: Length
    chainage: tuple[Length, Length]
    level: Level
    height: Length
    depth: Length
    across: Length
    bonded: bool
    at_step: bool


@value
class Piece:
    """One rectangle of sheet.

    letter      A is laid first: the lowest
    roll        width of the roll; None where nobody said
    strips      of the roll, joined side by side along the flow; 1 in one piece
    width       of the rectangle, seams taken off
    length      cut off the roll, to the next 50 mm
    along       whether that length runs down the stream rather than across it
    start, end  along the strip
    corner      its upstream right corner on the flat sheet
    turn        the way its side runs down the stream from there
    need        what its part of the strip takes of it, down the stream and across
    people      that the filter values ask for, of strong carriers and of any; None where more than three
    """

    letter: str
    roll: Length | None
    strips: int
    width: Length
    length: Length
    along: bool
    start: Length
    end: Length
    chainage: tuple[Length, Length]
    corner: tuple[Length, Length]
    turn: Angle
    need: tuple[Length, Length]
    area: Area
    mass: Mass
    people: tuple[int | None, int | None]

    @property
    def size(self) -> tuple[Length, Length]:
        """Down the stream, and across it."""
        return (self.length, self.width) if self.along else (self.width, self.length)

    @property
    def seam(self) -> Length:
        """Lengthwise seams."""
        return (self.strips - 1) * self.length

    def corners(self) -> Points:
        """The rectangle on the flat sheet, (4, 2): upstream right, downstream right, downstream left, upstream left."""
        down = np.array([np.cos(self.turn), np.sin(self.turn)])
        side = np.array([-down[1], down[0]])
        first, (far, over) = np.array(self.corner), self.size
        return np.stack([first, first + down * far, first + down * far + side * over, first + side * over])


@value
class PitSheet:
    """The sheet of the reservoir: floor, sides and allowance, one rectangle. ``along`` is its cut length."""

    along: Length
    across: Length
    roll: Length | None
    strips: int
    width: Length
    area: Area
    mass: Mass
    people: tuple[int | None, int | None]

    @property
    def seam(self) -> Length:
        """Seams between its strips."""
        return (self.strips - 1) * self.along


@value
class Cut:
    """One roll: the letters cut from it one after the other, their lengths, and what is left of it."""

    letters: tuple[str, ...]
    lengths: tuple[Length, ...]
    left: Length


@value
class Roll:
    """All that is cut from one width. ``exact`` tells whether fewer rolls are ruled out."""

    width: Length
    cuts: tuple[Cut, ...]
    exact: bool

    @property
    def length(self) -> Length:
        """Metres of roll used by pieces."""
        return sum(sum(cut.lengths) for cut in self.cuts)


@value
class Fleece:
    """One layer of fleece. ``lengths`` are (roll width, running metres) for each width on offer."""

    where: Literal["under", "over"]
    lies_on: Area
    area: Area
    lengths: tuple[tuple[Length, Length], ...]


@value
class Fold:
    """Sheet to lose on one side of one place. ``at`` are chainages of the pleats, ``flap`` the depth of each.

    gores  too much for pleats: at the same places wedges of twice the flap are cut out and bonded
    """

    place: str
    side: Side
    start: Length
    end: Length
    taken_up: Length
    count: int
    flap: Length
    at: tuple[Length, ...]
    gores: bool


@value
class Bend:
    """A stretch that turns one way. ``difference`` is how much longer its outer edge of sheet is than the inner.

    strain  what the outer edge would have to stretch if a straight sheet were bent round it without a pleat
    """

    side: Side
    start: Length
    end: Length
    turn: Angle
    width: Length
    difference: Length
    strain: Ratio


@value
class Slack:
    """Sheet laid in loose at an upright face."""

    place: str
    chainage: Length
    along: Length
    face: Length
    slack: Length


@value
class Splash:
    """How far the lining reaches beyond a lip's edge below its fall, and what is wanted there."""

    place: str
    chainage: Length
    side: Side
    reach: Length
    wanted: Length
    windward: Length
    widened: Length


@value
class Compared:
    """The plan beside other ways. Areas of sheet.

    bought       pieces of the plan over the course
    counted      the same and what its seams count as
    single       what one sheet from the rolls on offer counts; None where none is wide or long enough
    bound        no plan of whole rectangles can take less: the strip, and the laps no roll is long enough to save
    one_sheet    length and width of the least rectangle over the whole strip
    rolled       length and width of one strip led round all bends, and the sheet its pleats take up, both sides
    thumb        length and width by the rule of thumb
    """

    bought: Area
    counted: Area
    single: Area | None
    bound: Area
    one_sheet: tuple[Length, Length]
    rolled: tuple[Length, Length]
    rolled_pleats: Length
    thumb: tuple[Length, Length]


@value
class Lining:
    """The whole lining: course, pit and fleece.

    laps, pieces  in order downstream; lap k joins pieces k and k + 1
    girths        (n,) at the course's stations, exact; ``thumb_girths`` by the rule of thumb
    join          as asked for; single laps may have to be bonded all the same
    searched      break stations, turns and widths that were tried
    """

    strip: Strip
    laps: tuple[Lap, ...]
    pieces: tuple[Piece, ...]
    pit: PitSheet
    fleece: tuple[Fleece, ...]
    rolls: tuple[Roll, ...]
    folds: tuple[Fold, ...]
    bends: tuple[Bend, ...]
    slacks: tuple[Slack, ...]
    splashes: tuple[Splash, ...]
    compared: Compared
    girths: Lengths
    thumb_girths: Lengths
    join: Join
    searched: tuple[int, int, int]

    @property
    def seam(self) -> Length:
        """All bonded seams: laps, strips of pieces, strips of the pit's sheet."""
        across = sum(lap.across for lap in self.laps if lap.bonded)
        return across + sum(piece.seam for piece in self.pieces) + self.pit.seam
