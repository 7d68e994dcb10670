"""Ground work: prisms between two surfaces, soil in the bank, loose and rammed, and the heaps it makes."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Area, Density, Length, Mass, Ratio, Volume


@published(source="definition", place="prism on a triangle, its top a plane")
def prism(area: Area, first: Length, second: Length, third: Length) -> Volume:
    """Volume between two planes over a triangle where one lies above the other all over.

    ``V = A (h1 + h2 + h3) / 3``

    area    A   of the triangle in plan, below 0 where it runs clockwise
    first   h1  how far one plane lies over the other at the first corner
    second  h2  at the second
    third   h3  at the third
    """
    return area * (first + second + third) / 3


@published(source="definition", place="pyramid over the corner that the zero line cuts off a triangle")
def corner(area: Area, height: Length, second: Length, third: Length) -> Volume:
    """Volume between two planes over a triangle where one lies above the other at one corner only.

    ``V = A h**3 / (3 (h + g2) (h + g3))``

    area    A   of the whole triangle in plan
    height  h   how far the plane lies above the other at that corner
    second  g2  how far it lies below at the second
    third   g3  at the third
    """
    return area * height**3 / (3 * (height + second) * (height + third))


@published(source="definition", place="swell counted on the bank")
def loose_volume(bank: Volume, bulking: Ratio) -> Volume:
    """Volume of dug soil as it lies in a heap or on a lorry.

    ``V = Vb (1 + s)``

    bank     Vb  as it lay in the ground
    bulking  s   how much it grows, as a share of that
    """
    return bank * (1 + bulking)


@published(source="definition", place="volume of the fill over the volume it was dug from")
def bank_volume(placed: Volume, factor: Ratio) -> Volume:
    """Soil to be dug for a fill.

    ``Vb = Vf / f``

    placed  Vf  of the fill as it stands
    factor  f   volume in the fill over volume in the bank
    """
    return placed / factor


@published(source="definition", place="mass does not change as soil is moved")
def soil_mass(bank: Volume, density: Density) -> Mass:
    """Mass of soil.

    ``M = Vb r``

    bank     Vb  as it lay in the ground
    density  r   of the soil in the ground, damp as it is dug
    """
    return bank * density


@published(source="definition", place="fill that loses a share of its depth")
def overbuild(wanted: Length, share: Ratio) -> Length:
    """How much higher to build fill so that it sinks to the height wanted.

    ``e = h s / (1 - s)``

    wanted  h  depth of the fill once it has settled
    share   s  of its depth as built that it loses
    """
    return wanted * share / (1 - share)


@published(source="definition", place="cone that stands at its angle of repose")
def cone_radius(volume: Volume, slope: Ratio) -> Length:
    """Radius at the foot of a heap tipped in one place.

    ``R = (3 V z / pi)**(1/3)``

    volume  V  loose
    slope   z  horizontal for each 1 up of its sides
    """
    return (3 * volume * slope / np.pi) ** (1 / 3)


@published(source="definition", place="cone with its top taken off, solved for its foot")
def flat_heap_radius(volume: Volume, height: Length, slope: Ratio) -> Length:
    """Radius at the foot of a round heap with a flat top.

    ``R = z h / 2 + (V / (pi h) - (z h)**2 / 12)**0.5``

    volume  V  loose
    height  h  of the top
    slope   z  horizontal for each 1 up of its sides
    """
    return slope * height / 2 + np.sqrt(volume / (np.pi * height) - (slope * height) ** 2 / 12)
