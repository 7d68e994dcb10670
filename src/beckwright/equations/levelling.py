"""Levelling: from staff readings to levels, and how far they may be out."""
# mypy: no-warn-return-any

from typing import Annotated

from beckwright.base.published import published
from beckwright.base.quantities import Length, Level, Ratio

RootLength = Annotated[float, "m^(1/2)"]
"""Misclosure allowed for each root of a length."""


@published(source="nptel-levelling", place="lesson 13, height of instrument")
def collimation_height(level: Level, back: Length) -> Level:
    """Level of the line of sight, from a back sight.

    ``Hc = H + b``

    level  H  of the point the staff stands on
    back   b  reading of the staff
    """
    return level + back


@published(source="nptel-levelling", place="lesson 13, height of instrument")
def level_from_collimation(collimation: Level, reading: Length) -> Level:
    """Level of a point, from the line of sight.

    ``H = Hc - r``

    collimation  Hc  level of the line of sight
    reading      r   of the staff; negative where it hangs upside down from the point
    """
    return collimation - reading


@published(source="nptel-levelling", place="example 13-1, rise and fall")
def rise(before: Length, reading: Length) -> Length:
    """Rise from one staff position to the next of the same set-up; negative for a fall.

    ``R = r1 - r2``

    before   r1  reading at the position before
    reading  r2  reading at this one
    """
    return before - reading


@published(source="levelling-slides", place="rule of thumb, 5 sqrt N mm")
def allowed_by_setups(factor: Length, setups: Ratio) -> Length:
    """Misclosure allowed, from the number of set-ups.

    ``a = k n**0.5``

    factor  k  allowed for one set-up
    setups  n  number of set-ups
    """
    return factor * setups**0.5


@published(source="levelling-form", place="example 2, x sqrt s")
def allowed_by_length(factor: RootLength, length: Length) -> Length:
    """Misclosure allowed, from the length levelled.

    ``a = x s**0.5``

    factor  x  allowed for the root of one unit of length
    length  s  all sights added up
    """
    return factor * length**0.5


@published(source="levelling-slides", place="correction by instrument position")
def setup_correction(misclosure: Length, setup: Ratio, setups: Ratio) -> Length:
    """What is added to every level read from one set-up, so that the line closes.

    ``c = -m j / n``

    misclosure  m  level reached less level known
    setup       j  number of the set-up, from 1
    setups      n  number of set-ups
    """
    return -misclosure * setup / setups


@published(source="definition", place="two-peg test: equal sights cancel what is out of level")
def sight_tilt(
    true_difference: Length, apparent_difference: Length, first_length: Length, second_length: Length
) -> Ratio:
    """How much a line of sight climbs for each metre; negative where it dips.

    ``e = (d2 - d1) / (s1 - s2)``

    true_difference      d1  reading at the first peg less that at the second, from midway
    apparent_difference  d2  the same, from a place with unequal sights
    first_length         s1  sight to the first peg from that place
    second_length        s2  sight to the second peg from that place
    """
    return (apparent_difference - true_difference) / (first_length - second_length)


@published(source="definition", place="variances of independent readings add")
def open_level_sigma(reading_sigma: Length, setup: Ratio) -> Length:
    """Standard deviation of a level that nothing closes on.

    ``u = s (2 j)**0.5``

    reading_sigma  s  standard deviation of one reading
    setup          j  number of the set-up from the bench mark, from 1
    """
    return reading_sigma * (2 * setup) ** 0.5


@published(source="definition", place="variances of independent readings add, misclosure shared by set-ups")
def closed_change_sigma(reading_sigma: Length, setup: Ratio, setups: Ratio) -> Length:
    """Standard deviation of a change point's level in a line closed on a known level.

    ``u = s (2 j (n - j) / n)**0.5``

    reading_sigma  s  standard deviation of one reading
    setup          j  number of the set-up that ends on it, from 1
    setups         n  number of set-ups in the line
    """
    return reading_sigma * (2 * setup * (setups - setup) / setups) ** 0.5


@published(source="definition", place="variances of independent readings add, misclosure shared by set-ups")
def closed_point_sigma(reading_sigma: Length, setup: Ratio, setups: Ratio) -> Length:
    """Standard deviation of the level of a point shot in passing, in a line closed on a known level.

    ``u = s (1 + ((2 j - 1) (n - j)**2 + (2 (n - j) + 1) j**2) / n**2)**0.5``

    reading_sigma  s  standard deviation of one reading
    setup          j  number of the set-up it was shot from, from 1
    setups         n  number of set-ups in the line
    """
    left = setups - setup
    shared = ((2 * setup - 1) * left**2 + (2 * left + 1) * setup**2) / setups**2
    return reading_sigma * (1 + shared) ** 0.5
