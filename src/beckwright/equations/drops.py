"""Water falling over a lip: where the sheet lands, how deep a pool it wants, and what it loses on the way."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.published import published
from beckwright.base.quantities import Length, Ratio, UnitFlow, Velocity


@published(source="rand-1955", place="definition of the drop number")
def drop_number(unit_flow: UnitFlow, drop: Length) -> Ratio:
    """How strong a flow is for its drop.

    ``D = q**2 / (g h**3)``

    unit_flow  q  flow for each metre of lip
    drop       h  from the lip's crest to the floor of the pool
    """
    return unit_flow**2 / (STANDARD_GRAVITY * drop**3)


@published(source="rand-1955", place="drop length; the range of D is recalled", drop_number=(5e-4, 1.0))
def nappe_length(drop: Length, drop_number: Ratio) -> Length:
    """Distance from the foot of the lip to where the sheet has turned along the floor.

    ``Ld = 4.30 h D**0.27``

    drop         h  from the lip's crest to the floor of the pool
    drop_number  D  of the flow over that drop
    """
    return 4.30 * drop * drop_number**0.27


@published(source="rand-1955", place="depth at the toe; the range of D is recalled", drop_number=(5e-4, 1.0))
def toe_depth(drop: Length, drop_number: Ratio) -> Length:
    """Depth of the fast water just past where the sheet lands.

    ``y1 = 0.54 h D**0.425``

    drop         h  from the lip's crest to the floor of the pool
    drop_number  D  of the flow over that drop
    """
    return 0.54 * drop * drop_number**0.425


@published(source="rand-1955", place="tailwater depth; the range of D is recalled", drop_number=(5e-4, 1.0))
def tailwater_depth(drop: Length, drop_number: Ratio) -> Length:
    """Depth over the floor that holds the jump at the foot of the fall.

    ``y2 = 1.66 h D**0.27``

    drop         h  from the lip's crest to the floor of the pool
    drop_number  D  of the flow over that drop
    """
    return 1.66 * drop * drop_number**0.27


@published(source="vertical-drop-sheet", place="length of the basin past the drop length, Lj")
def jump_length(tailwater: Length, toe: Length) -> Length:
    """Length over which fast water at the toe comes to rest in a jump.

    ``Lj = 5 (y2 - y1)``

    tailwater  y2  depth that holds the jump
    toe        y1  depth of the fast water
    """
    return 5 * (tailwater - toe)


@published(source="vertical-drop-sheet", place="total length of the basin, Lj + Ld")
def basin_length(landing: Length, jump: Length) -> Length:
    """Length of pool that takes the sheet and its jump.

    ``Lp = x + Lj``

    landing  x   from the foot of the lip to where the sheet lands
    jump     Lj  length of the jump
    """
    return landing + jump


@published(source="definition", place="mean velocity is flow over area")
def mean_velocity(unit_flow: UnitFlow, depth: Length) -> Velocity:
    """Mean velocity of water of one depth across.

    ``V = q / y``

    unit_flow  q  flow for each metre of width
    depth      y  of the water there
    """
    return unit_flow / depth


@published(source="definition", place="free fall of a body that leaves level")
def free_fall_distance(velocity: Velocity, fall: Length) -> Length:
    """Distance from the foot of the lip to where a sheet that falls freely meets the water.

    ``x = V (2 z / g)**0.5``

    velocity  V  at the brink
    fall      z  from the lip's crest to the water below
    """
    return velocity * np.sqrt(2 * fall / STANDARD_GRAVITY)


@published(source="definition", place="Bernoulli's law; a lip runs at critical depth")
def energy_over_floor(drop: Length, critical_depth: Length) -> Length:
    """Energy of the water at the lip over the floor below, as a height.

    ``E0 = h + 1.5 yc``

    drop            h   from the lip's crest to the floor
    critical_depth  yc  critical depth on the lip
    """
    return drop + 1.5 * critical_depth


@published(source="definition", place="Bernoulli's law without loss")
def impact_velocity(energy: Length) -> Velocity:
    """Velocity with which falling water strikes the floor.

    ``V = (2 g E0)**0.5``

    energy  E0  of the water at the lip over the floor
    """
    return np.sqrt(2 * STANDARD_GRAVITY * energy)


@published(source="definition", place="conservation of energy")
def share_lost(before: Length, after: Length) -> Ratio:
    """Share of the energy that is gone.

    ``s = 1 - E / E0``

    before  E0  energy over the floor before the fall
    after   E   energy over the floor after it
    """
    return 1 - after / before


@published(source="definition", place="critical depth in steps")
def relative_critical_depth(critical_depth: Length, drop: Length) -> Ratio:
    """Critical depth against the height of the step: small where sheets fall, large where the steps drown.

    ``r = yc / h``

    critical_depth  yc  critical depth on the lip
    drop            h   height of the step
    """
    return critical_depth / drop


@published(source="chamani-rajaratnam-1999", place="onset of skimming flow, as quoted on a design page")
def nappe_limit(step_slope: Ratio) -> Ratio:
    """Critical depth over step height up to which a sheet falls from every step.

    ``r = 0.89 - 0.40 h/l``

    step_slope  h/l  height of the step over its length to the next
    """
    return 0.89 - 0.40 * step_slope


@published(source="chanson-1994", place="onset of skimming flow", step_slope=(0.05, 1.7))
def skimming_limit(step_slope: Ratio) -> Ratio:
    """Critical depth over step height above which water skims over the steps.

    ``r = 1.2 - 0.325 h/l``

    step_slope  h/l  height of the step over its length to the next
    """
    return 1.2 - 0.325 * step_slope


@published(source="chanson-1994", place="limit of nappe flow with a full jump", step_slope=(0.2, 6.0))
def full_jump_limit(step_slope: Ratio) -> Ratio:
    """Critical depth over step height up to which each step is long enough for a whole jump.

    ``r = 0.0916 (h/l)**-1.276``

    step_slope  h/l  height of the step over its length to the next
    """
    return 0.0916 * step_slope**-1.276
