"""Stone as it is ordered and lifted: masses by size, what a person and a machine lift, joints."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import Grade, published
from beckwright.base.quantities import Density, Length, Mass, Ratio


@published(source="definition", place="volume of a block, times a factor for its shape")
def block_mass(shape: Ratio, length: Length, width: Length, height: Length, density: Density) -> Mass:
    """Mass of one stone from its three sizes.

    ``M = k a b c rho``

    shape    k    share of its box that is stone: pi / 6 for an ellipsoid, 1 for a sawn block
    length   a    longest size
    width    b    middle size
    height   c    shortest size
    density  rho  of solid stone
    """
    return shape * length * width * height * density


@published(source="definition", place="volume of a ball, solved for its size")
def ball_size(mass: Mass, density: Density) -> Length:
    """Size of a ball of stone of one mass.

    ``D = (6 M / (pi rho))**(1/3)``

    mass     M    of the stone
    density  rho  of solid stone
    """
    return (6 * mass / (np.pi * density)) ** (1 / 3)


@published(source="definition", place="volume of stacked courses, less the gaps between their stones")
def courses_mass(courses: Ratio, height: Length, depth: Length, voids: Ratio, density: Density, bank: Length) -> Mass:
    """Mass of edge stone stacked along a bank.

    ``M = N c d (1 - n) rho L``

    courses  N    one upon the other
    height   c    of one course
    depth    d    from the water's side to the back
    voids    n    share of the courses that is not stone
    density  rho  of solid stone
    bank     L    length of the bank
    """
    return courses * height * depth * (1 - voids) * density * bank


@published(source="definition", place="common practice: a share over what is drawn", grade=Grade.PRACTICE)
def ordered_mass(drawn: Mass, waste: Ratio) -> Mass:
    """Mass to order for a mass drawn.

    ``M = Md (1 + w)``

    drawn  Md  as laid
    waste  w   share lost, broken, or of the wrong shape
    """
    return drawn * (1 + waste)


@published(source="hse-l23", place="reductions for twisting and for lifting again and again")
def filter_left(single: Mass, cut: Ratio) -> Mass:
    """What is left of a filter when the lift is a worse one.

    ``M = m (1 - r)``

    single  m  filter for one person
    cut     r  share it is reduced by
    """
    return single * (1 - cut)


@published(source="iso-10567", place="rated: the lower of 75 % of the tipping load and 87 % of the hydraulic one")
def hook_lift(charted: Mass, share: Ratio, gear: Mass) -> Mass:
    """What a machine lifts at one reach besides what hangs on its arm.

    ``M = s C - G``

    charted  C  by its chart, at that reach
    share    s  of the chart that is rated: 1 for a chart of rated loads
    gear     G  bucket, hitch, chains and sling
    """
    return share * charted - gear


@published(source="definition", place="length over the length one container fills")
def containers(joint: Length, fills: Length) -> Ratio:
    """Containers of foam or mortar for a length of joint.

    ``N = L / y``

    joint  L  to be filled
    fills  y  filled by one container
    """
    return joint / fills
