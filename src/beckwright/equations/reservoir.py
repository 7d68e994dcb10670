"""The covered reservoir: what it holds, how long it lasts, and what presses on it from above, below and the side."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY, WATER_DENSITY
from beckwright.base.published import Grade, published
from beckwright.base.quantities import (
    Area,
    Duration,
    Flow,
    Force,
    Length,
    Pressure,
    Ratio,
    UnitWeight,
    Velocity,
    Volume,
)


@published(source="definition", place="volume of the voids")
def stored_water(plan: Area, depth: Length, voids: Ratio) -> Volume:
    """Water held between crates or stones.

    ``W = A h n``

    plan   A  of the filled pit
    depth  h  of the water
    voids  n  share of the filling that is not solid
    """
    return plan * depth * voids


@published(source="definition", place="volume of the voids, solved for the depth")
def level_change(volume: Volume, plan: Area, voids: Ratio) -> Length:
    """How far the level moves when water is put in or taken out.

    ``dh = W / (A n)``

    volume  W  put in or taken out
    plan    A  of the filled pit
    voids   n  share of the filling that is not solid
    """
    return volume / (plan * voids)


@published(source="definition", place="conservation of volume")
def reserve_time(volume: Volume, loss: Flow) -> Duration:
    """How long a reserve lasts without rain or topping up.

    ``t = W / L``

    volume  W  in reserve
    loss    L  all that is lost in a time
    """
    return volume / loss


@published(source="definition", place="weight of a column of water")
def uplift_pressure(head: Length) -> Pressure:
    """Pressure of ground water under the floor of the pit.

    ``u = rho g h``

    head  h  ground water above the floor
    """
    return WATER_DENSITY * STANDARD_GRAVITY * head


@published(source="en-1997-1", place="2.4.7.4 (UPL), factors of table A.NA.15")
def uplift_use(uplift: Pressure, weight: Pressure) -> Ratio:
    """Share of the holding-down weight that uplift uses up; above 1 the empty pit floats.

    ``L = 1.1 U / (0.9 G)``

    uplift  U  water pressure under the floor
    weight  G  least permanent weight over each area, without friction
    """
    return 1.1 * uplift / (0.9 * weight)


@published(source="definition", place="weight of a column of soil")
def cover_pressure(unit_weight: UnitWeight, depth: Length) -> Pressure:
    """Pressure of the cover on the crates.

    ``p = gamma z``

    unit_weight  gamma  weight of the cover for each volume
    depth        z      of the cover
    """
    return unit_weight * depth


@published(
    source="ciria-c680", place="load spread 2 down to 1 out, so each side grows by the cover", grade=Grade.PRACTICE
)
def spread_pressure(force: Force, contact_length: Length, contact_width: Length, cover: Length) -> Pressure:
    """Pressure of a wheel or foot after it has spread through the cover.

    ``p = P / ((a + z) (b + z))``

    force           P  of one wheel or foot
    contact_length  a  length of its patch
    contact_width   b  width of its patch
    cover           z  depth of the cover
    """
    return force / ((contact_length + cover) * (contact_width + cover))


@published(source="en-1990", place="6.4.3.2 (6.10), factors of table A1.2(B)")
def design_pressure(permanent: Pressure, variable: Pressure) -> Pressure:
    """Pressure to hold against the strength of the crates.

    ``p = 1.35 G + 1.5 Q``

    permanent  G  of the cover
    variable   Q  of wheels and feet
    """
    return 1.35 * permanent + 1.5 * variable


@published(source="terzaghi-peck-1996", place="earth pressure at rest")
def lateral_pressure(rest_coefficient: Ratio, unit_weight: UnitWeight, depth: Length, surcharge: Pressure) -> Pressure:
    """Pressure of dry ground on the side of the crates; ground water comes on top.

    ``p = K (gamma z + q)``

    rest_coefficient  K      side pressure over pressure from above
    unit_weight       gamma  weight of the ground for each volume
    depth             z      below the surface
    surcharge         q      pressure on the surface beside the pit
    """
    return rest_coefficient * (unit_weight * depth + surcharge)


@published(source="definition", place="conservation of volume")
def water_lent(film: Volume, pools: Volume, pores: Volume, box: Volume, hose: Volume) -> Volume:
    """Water the reservoir lends at a start and takes back at a stop.

    ``W = Wf + Wp + Wn + Wb + Wh``

    film   Wf  visible over the beds
    pools  Wp  rise of the pools above their rims
    pores  Wn  between the stones, less what stays at rest
    box    Wb  rise in the outlet box
    hose   Wh  in the hose, where it drains back
    """
    return film + pools + pores + box + hose


@published(source="definition", place="conservation of volume")
def useful_water(rested: Volume, least: Volume) -> Volume:
    """Water the pump may use.

    ``W = Wr - Wm``

    rested  Wr  held at the rest level
    least   Wm  held at the pump's least level
    """
    return rested - least


@published(source="boussinesq-1885", place="elastic ground, under the middle of a loaded rectangle")
def patch_pressure(force: Force, contact_length: Length, contact_width: Length, cover: Length) -> Pressure:
    """Pressure under the very middle of a wheel or foot, as elastic ground carries it down.

    ``p = 2 P / (pi a b) (atan(m n / r) + m n (1 / (1 + m**2) + 1 / (1 + n**2)) / r),
    m = a / (2 z), n = b / (2 z), r = (1 + m**2 + n**2)**0.5``

    force           P  of one wheel or foot
    contact_length  a  length of its patch
    contact_width   b  width of its patch
    cover           z  depth of the cover
    """
    m, n = contact_length / (2 * cover), contact_width / (2 * cover)
    r = (1 + m**2 + n**2) ** 0.5
    share = np.arctan(m * n / r) + m * n * (1 / (1 + m**2) + 1 / (1 + n**2)) / r
    return 2 / np.pi * share * force / (contact_length * contact_width)


@published(source="definition", place="velocity times area")
def slot_velocity(flow: Flow, area: Area) -> Velocity:
    """Velocity of the water through the slots of a chamber.

    ``V = Q / A``

    flow  Q  to the pump
    area  A  of all slots under water
    """
    return flow / area


@published(source="definition", place="one sheet round a block, and one for each of its two ends, with laps")
def wrap_area(length: Length, width: Length, height: Length, lap: Length) -> Area:
    """Geotextile round a block of crates.

    ``A = (2 (b + h) + s) (l + 2 s) + 2 (b + 2 s) (h + 2 s)``

    length  l  of the block
    width   b  of the block
    height  h  of the block
    lap     s  of one sheet over the next
    """
    return (2 * (width + height) + lap) * (length + 2 * lap) + 2 * (width + 2 * lap) * (height + 2 * lap)


@published(source="definition", place="velocity times area, solved for the area")
def slot_area(flow: Flow, velocity: Velocity) -> Area:
    """Area of slots through which the water runs no faster than wanted.

    ``A = Q / V``

    flow      Q  to the pump
    velocity  V  through the slots
    """
    return flow / velocity
