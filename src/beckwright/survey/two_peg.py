"""The two-peg test: whether a level's line of sight is level."""

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length, Ratio
from beckwright.base.values import value
from beckwright.equations.levelling import sight_tilt
from beckwright.tables.levelling import SIGHT_TILT


@value
class TwoPeg:
    """What a two-peg test says.

    rise      of the second peg over the first
    tilt      how much the line of sight climbs for each metre; negative where it dips
    readings  what the two staffs would have read from the second place, had the sight been level
    sound     whether the tilt is within what is commonly allowed
    """

    rise: Length
    tilt: Ratio
    readings: tuple[Length, Length]
    sound: bool


def two_peg(
    midway: tuple[Length, Length], moved: tuple[Length, Length], *, apart: Length, first_length: Length = 0.0
) -> TwoPeg:
    """Find how far a line of sight is out of level.

    midway        readings on the first and the second peg, from midway between them
    moved         readings on the same pegs from a second place in line with them, near the first
    apart         m, between the pegs
    first_length  m, from the second place to the first peg: positive beyond it, negative between the pegs

    JobError if the second place sees both pegs at the same length.
    """
    lengths = (abs(first_length), abs(first_length + apart))
    if apart <= 0 or abs(lengths[0] - lengths[1]) < apart / 2:
        found = f"the second place is {lengths[0]:g} m from one peg and {lengths[1]:g} m from the other"
        rule, remedy = "It must be much nearer to one of them", "Set the level up by a peg and read both again"
        raise JobError([Problem(place="two-peg test", found=found, rule=rule, remedy=remedy)])
    tilt = sight_tilt(midway[0] - midway[1], moved[0] - moved[1], *lengths)
    level = (moved[0] - tilt * lengths[0], moved[1] - tilt * lengths[1])
    return TwoPeg(rise=midway[0] - midway[1], tilt=tilt, readings=level, sound=abs(tilt) <= SIGHT_TILT.amount)
