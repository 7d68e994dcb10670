"""How much lining a section of the course takes."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import Grade, published
from beckwright.base.quantities import Angle, Area, Density, Length, Level, Mass, MassPerArea, Ratio


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
def settled_edge(edge: Level, fill: Length, settlement: Ratio) -> Level:
    """Edge level once the fill under it has settled.

    ``zs = ze - s h``

    edge        ze  as built
    fill        h   depth of the fill under it
    settlement  s   share of its depth that the fill loses
    """
    return edge - settlement * fill


@published(source="definition", place="developed length of half a trapezoidal section")
def half_girth(width: Length, side_height: Length, side_slope: Ratio, allowance: Length) -> Length:
    """Width of lining from the middle of the bed over one edge, measured along the ground it lies on.

    ``G = b / 2 + y (1 + z**2)**0.5 + e``

    width        b  across the bed
    side_height  y  that edge above the bed
    side_slope   z  horizontal for each 1 up
    allowance    e  over the edge
    """
    return width / 2 + side_height * np.sqrt(1 + side_slope**2) + allowance


@published(source="definition", place="common practice: rule of thumb for one sheet", grade=Grade.PRACTICE)
def thumb_size(size: Length, depth: Length, overlap: Length) -> Length:
    """Length or width of sheet by the rule of thumb.

    ``S = a + 2 d + 2 o``

    size     a  length or width in plan
    depth    d  greatest depth below the edge
    overlap  o  beyond each edge
    """
    return size + 2 * depth + 2 * overlap


@published(source="definition", place="pieces in a row, each over the next")
def length_with_laps(developed: Length, pieces: Ratio, lap: Length) -> Length:
    """Length of sheet that pieces in a row take.

    ``L = D + (n - 1) l``

    developed  D  length covered, risers included
    pieces     n  how many
    lap        l  of each over the next
    """
    return developed + (pieces - 1) * lap


@published(source="definition", place="strips side by side, each over the next")
def joined_width(strips: Ratio, roll: Length, lap: Length) -> Length:
    """Width that strips of a roll cover once they are joined along their sides.

    ``W = n r - (n - 1) l``

    strips  n  how many
    roll    r  its width
    lap     l  of each seam
    """
    return strips * roll - (strips - 1) * lap


@published(source="definition", place="lengths of two arcs of one bend")
def arc_difference(turn: Angle, width: Length) -> Length:
    """How much longer one side of a bend is than the other.

    ``d = t w``

    turn   t  of the bend
    width  w  between the two sides
    """
    return turn * width


@published(source="definition", place="a fold laid over lies three thick")
def pleats_needed(taken_up: Length, flap: Length) -> Ratio:
    """How many pleats take up a length.

    ``n = d / (2 f)``

    taken_up  d  length to lose
    flap      f  depth of one pleat as it lies
    """
    return taken_up / (2 * flap)


@published(source="definition", place="mass of a sheet")
def sheet_mass(area: Area, per_area: MassPerArea) -> Mass:
    """Mass of a sheet.

    ``M = A m``

    area      A  of it
    per_area  m  mass of a square metre
    """
    return area * per_area


@published(source="definition", place="mass of a square metre over thickness")
def sheet_density(per_area: MassPerArea, thickness: Length) -> Density:
    """Density that weight and thickness of a sheet imply.

    ``r = m / t``

    per_area   m  mass of a square metre
    thickness  t  of the sheet
    """
    return per_area / thickness


@published(source="hse-l23", place="filter values of one person, and shares of a team")
def team_carries(people: Ratio, each: Mass, share: Ratio) -> Mass:
    """Mass that people carry between them before it wants a closer look.

    ``M = n c s``

    people  n  how many
    each    c  filter value of one
    share   s  of the sum that a team of that size manages
    """
    return people * each * share


@published(source="definition", place="common practice: fleece over lining, by area", grade=Grade.PRACTICE)
def fleece_area(lining: Area, factor: Ratio) -> Area:
    """Fleece of one layer with its own laps.

    ``F = A f``

    lining  A  area it lies on
    factor  f  fleece for each square metre
    """
    return lining * factor
