"""Water in a channel of trapezoidal section: its geometry, critical depth, energy and mean velocity."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.published import published
from beckwright.base.quantities import Area, Flow, Length, ManningN, Ratio, UnitFlow, Velocity


@published(source="definition", place="area of a trapezium")
def wetted_area(width: Length, depth: Length, side_slope: Ratio) -> Area:
    """Area of running water in a section with equal side slopes.

    ``A = (b + z h) h``

    width       b  across the bed
    depth       h  water over the bed
    side_slope  z  horizontal for each 1 up
    """
    return (width + side_slope * depth) * depth


@published(source="definition", place="perimeter of a trapezium without its top")
def wetted_perimeter(width: Length, depth: Length, side_slope: Ratio) -> Length:
    """Length of bed and sides that running water touches.

    ``P = b + 2 h (1 + z**2)**0.5``

    width       b  across the bed
    depth       h  water over the bed
    side_slope  z  horizontal for each 1 up
    """
    return width + 2 * depth * np.sqrt(1 + side_slope**2)


@published(source="definition", place="top of a trapezium")
def surface_width(width: Length, depth: Length, side_slope: Ratio) -> Length:
    """Width of the water surface.

    ``B = b + 2 z h``

    width       b  across the bed
    depth       h  water over the bed
    side_slope  z  horizontal for each 1 up
    """
    return width + 2 * side_slope * depth


@published(source="definition", place="least specific energy in a rectangular section")
def critical_depth(unit_flow: UnitFlow) -> Length:
    """Depth at which a flow runs with the least energy.

    ``yc = (q**2 / g)**(1/3)``

    unit_flow  q  flow for each metre of width
    """
    return (unit_flow**2 / STANDARD_GRAVITY) ** (1 / 3)


@published(source="definition", place="definition of the Froude number; depth is area over surface width")
def froude_number(velocity: Velocity, depth: Length) -> Ratio:
    """Speed of the water against the speed of a small wave on it; 1 is critical.

    ``Fr = V / (g h)**0.5``

    velocity  V  mean velocity
    depth     h  mean depth, area over surface width
    """
    return velocity / np.sqrt(STANDARD_GRAVITY * depth)


@published(source="definition", place="Bernoulli's law over the bed")
def specific_energy(depth: Length, velocity: Velocity) -> Length:
    """Energy of the water over the bed, as a height.

    ``E = h + V**2 / (2 g)``

    depth     h  water over the bed
    velocity  V  mean velocity
    """
    return depth + velocity**2 / (2 * STANDARD_GRAVITY)


@published(source="definition", place="definition of the Darcy friction factor, (8/f)**0.5 = V / u*")
def velocity_by_ratio(velocity_ratio: Ratio, hydraulic_radius: Length, slope: Ratio) -> Velocity:
    """Mean velocity of uniform flow from the ratio of velocity to shear velocity.

    ``V = (8/f)**0.5 (g R S)**0.5``

    velocity_ratio    (8/f)**0.5  mean velocity over shear velocity
    hydraulic_radius  R           wetted area over wetted perimeter
    slope             S           fall along the bed, sine of its angle on steep beds
    """
    return velocity_ratio * np.sqrt(STANDARD_GRAVITY * hydraulic_radius * slope)


@published(source="chow-1959", place="eq. 5-6")
def manning_velocity(manning_n: ManningN, hydraulic_radius: Length, slope: Ratio) -> Velocity:
    """Mean velocity of uniform flow by Manning.

    ``V = R**(2/3) S**0.5 / n``

    manning_n         n  roughness
    hydraulic_radius  R  wetted area over wetted perimeter
    slope             S  fall along the bed
    """
    return hydraulic_radius ** (2 / 3) * np.sqrt(slope) / manning_n


@published(source="definition", place="Manning's formula and the Darcy friction factor set equal")
def manning_ratio(manning_n: ManningN, hydraulic_radius: Length) -> Ratio:
    """Ratio of velocity to shear velocity that a Manning roughness means at one depth.

    ``(8/f)**0.5 = R**(1/6) / (n g**0.5)``

    manning_n         n  roughness
    hydraulic_radius  R  wetted area over wetted perimeter
    """
    return hydraulic_radius ** (1 / 6) / (manning_n * np.sqrt(STANDARD_GRAVITY))


@published(source="definition", place="flow over width")
def unit_flow(flow: Flow, width: Length) -> UnitFlow:
    """Flow for each metre of width.

    ``q = Q / b``

    flow   Q  over the whole width
    width  b  of the bed or lip
    """
    return flow / width


@published(source="definition", place="area over perimeter")
def hydraulic_radius(area: Area, perimeter: Length) -> Length:
    """Area of water for each metre of wetted boundary.

    ``R = A / P``

    area       A  of running water
    perimeter  P  of bed and sides that the water touches
    """
    return area / perimeter


@published(source="definition", place="depth measured in stones")
def relative_depth(hydraulic_radius: Length, grain84: Length) -> Ratio:
    """How deep the water is, counted in stones.

    ``x = R / D84``

    hydraulic_radius  R    of the visible water
    grain84           D84  stone size that 84 % of the bed is smaller than
    """
    return hydraulic_radius / grain84


@published(source="definition", place="conservation of volume")
def flow_carried(area: Area, velocity: Velocity) -> Flow:
    """Flow of a section.

    ``Q = A V``

    area      A  of running water
    velocity  V  mean velocity
    """
    return area * velocity
