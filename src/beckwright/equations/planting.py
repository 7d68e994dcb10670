"""How much ground a pocket has, and how many plants cover it."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Angle, Area, Length, Ratio


@published(source="definition", place="area of a plane seen from above")
def ground_area(plan: Area, slope: Angle) -> Area:
    """Ground on a slope: more than the plan shows.

    ``A = Ap / cos(a)``

    plan   Ap  as drawn
    slope  a   of the ground
    """
    return plan / np.cos(slope)


@published(source="definition", place="one plant to a square")
def planted_in_squares(area: Area, spacing: Length) -> Ratio:
    """Plants that cover an area, in squares.

    ``n = A / d**2``

    area     A  of ground
    spacing  d  between neighbours
    """
    return area / spacing**2


@published(source="definition", place="one plant to two equilateral triangles")
def planted_in_triangles(area: Area, spacing: Length) -> Ratio:
    """Plants that cover an area, each as far from all six neighbours.

    ``n = 2 A / (3**0.5 d**2)``

    area     A  of ground
    spacing  d  between neighbours
    """
    return 2 * area / (np.sqrt(3) * spacing**2)


@published(source="definition", place="planted and lost")
def ordered(planted: Ratio, loss: Ratio) -> Ratio:
    """Plants to order, before rounding up to whole ones.

    ``N = n (1 + p)``

    planted  n  that cover the ground
    loss     p  share ordered beyond them
    """
    return planted * (1 + loss)


@published(source="definition", place="floor and sides of a prism")
def barrier_area(floor: Area, round_it: Length, depth: Length) -> Area:
    """Fleece under and round the soil of a pocket.

    ``F = A + P h``

    floor     A  of the pocket
    round_it  P  its outline
    depth     h  of its soil
    """
    return floor + round_it * depth


@published(source="definition", place="share of the bed's width")
def share_closed(reach: Length, width: Length) -> Ratio:
    """Share of the bed that a pocket standing in the channel closes.

    ``c = r / b``

    reach  r  of the pocket into the channel
    width  b  of the bed
    """
    return reach / width
