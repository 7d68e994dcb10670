"""How large a stone must be to stay: on a slope, under gentle water, and where a fall lands."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY, WATER_DENSITY
from beckwright.base.published import published
from beckwright.base.quantities import Density, Length, Mass, Ratio, UnitFlow, Velocity


@published(source="robinson-1998", place="eq. 1, slopes below 0.10", slope=(0.02, 0.10))
def gentle_chute_size(unit_flow: UnitFlow, slope: Ratio) -> Length:
    """Median size of angular rock, laid two stones deep, that just stays on a slope of 2 to 10 %.

    ``D50 = (q S**1.5 / 9.76e-7)**(1/1.89) / 1000``

    unit_flow  q  flow for each metre of width
    slope      S  fall along the bed
    """
    return (unit_flow * slope**1.5 / 9.76e-7) ** (1 / 1.89) / 1000


@published(source="robinson-1998", place="eq. 1, slopes of 0.10 to 0.40", slope=(0.10, 0.40))
def steep_chute_size(unit_flow: UnitFlow, slope: Ratio) -> Length:
    """Median size of angular rock, laid two stones deep, that just stays on a slope of 10 to 40 %.

    ``D50 = (q S**0.58 / 8.07e-6)**(1/1.89) / 1000``

    unit_flow  q  flow for each metre of width
    slope      S  fall along the bed
    """
    return (unit_flow * slope**0.58 / 8.07e-6) ** (1 / 1.89) / 1000


@published(source="lamb-2008", place="fit of the critical Shields stress to slope; range recalled", slope=(1e-4, 0.2))
def critical_shields(slope: Ratio) -> Ratio:
    """Shear on a stone, over its weight under water, at which natural streams begin to move it.

    ``tc = 0.15 S**0.25``

    slope  S  fall along the bed
    """
    return 0.15 * slope**0.25


@published(source="definition", place="definition of the Shields stress, solved for the size")
def shields_size(hydraulic_radius: Length, slope: Ratio, relative_density: Ratio, critical_shields: Ratio) -> Length:
    """Size of stone at the point of moving under uniform flow.

    ``D = R S / ((s - 1) tc)``

    hydraulic_radius  R   of the visible water
    slope             S   fall along the bed
    relative_density  s   of the stone, over that of water
    critical_shields  tc  Shields stress at which stones begin to move
    """
    return hydraulic_radius * slope / ((relative_density - 1) * critical_shields)


@published(source="isbash-1936", place="stones in running water, C 1.20 in calm and 0.86 in rough water")
def isbash_size(velocity: Velocity, relative_density: Ratio, coefficient: Ratio) -> Length:
    """Size of stone that water of one velocity just does not move.

    ``D = V**2 / (2 g C**2 (s - 1))``

    velocity          V  of the water that strikes the stone
    relative_density  s  of the stone, over that of water
    coefficient       C  1.20 in calm water, 0.86 in rough
    """
    return velocity**2 / (2 * STANDARD_GRAVITY * coefficient**2 * (relative_density - 1))


@published(source="definition", place="density over that of water")
def relative_density(density: Density) -> Ratio:
    """Density of stone over that of water.

    ``s = rho / rho_w``

    density  rho  of solid stone
    """
    return density / WATER_DENSITY


@published(source="robinson-1998", place="a factor of safety of 1.2 on the size")
def safe_size(size: Length, safety: Ratio) -> Length:
    """Size to lay, with a margin over the size that just stays.

    ``D = k Ds``

    size    Ds  that just stays
    safety  k   factor of safety
    """
    return safety * size


@published(source="definition", place="volume of a ball")
def ball_mass(density: Density, size: Length) -> Mass:
    """Mass of one stone, as a ball of its size.

    ``M = rho pi D**3 / 6``

    density  rho  of solid stone
    size     D    of the stone
    """
    return density * np.pi * size**3 / 6
