"""How much lining a section of the course takes."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Length, Level, Ratio


@published(source="definition", place="developed length of a trapezoidal section")
def girth(width: Length, side_height: Length, side_slope: Ratio, allowance: Length) -> Length:
    """Width of lining from edge to edge, measured along the ground it lies on.

    ``G = b + 2 y (1 + z**2)**0.5 + 2 e``

    width        b  across the bed
    side_height  y  edge above the bed
    side_slope   z  horizontal for each 1 up
    allowance    e  over each edge
    """
    return width + 2 * side_height * np.sqrt(1 + side_slope**2) + 2 * allowance


@published(source="definition", place="difference of levels")
def edge_over_water(edge: Level, running: Level) -> Length:
    """Freeboard: height of the lining's edge over running water.

    ``F = ze - zw``

    edge     ze  top of the lining once the fill has settled
    running  zw  water level at its high end
    """
    return edge - running


@published(source="definition", place="share of its depth that fill loses")
def settled_edge(edge: Level, ground: Level, settlement: Ratio) -> Level:
    """Edge level once the fill under it has settled.

    ``zs = ze - s (ze - zg)``

    edge        ze  as built
    ground      zg  existing ground under it, where the edge stands on fill
    settlement  s   share of its depth that the fill loses
    """
    return edge - settlement * (edge - ground)
