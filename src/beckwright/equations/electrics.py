"""Currents, drops along cables, transformers, ducts, and angles of light. Deciding from them is a licensed trade."""
# mypy: no-warn-return-any

from typing import Annotated

import numpy as np

from beckwright.base.published import Grade, published
from beckwright.base.quantities import Angle, Area, Length, Power, Ratio

Voltage = Annotated[float, "V"]
Current = Annotated[float, "A"]
DropRate = Annotated[float, "V/A/m"]
"""Volts lost for each ampere and each metre of cable, both conductors counted; tables print it as mV/A/m."""
ApparentPower = Annotated[float, "VA"]
PerLength = Annotated[float, "1/m"]


@published(source="definition", place="power is voltage times current times power factor, single-phase")
def supply_current(power: Power, voltage: Voltage, power_factor: Ratio) -> Current:
    """Current that a load draws.

    ``I = P / (U f)``

    power         P  drawn from the wall
    voltage       U  of the supply
    power_factor  f  of the load; 1 for direct current and for plain lamps
    """
    return power / (voltage * power_factor)


@published(source="bs-7671", place="Appendix 4, section 6: mV/A/m times current times length")
def voltage_drop(drop_rate: DropRate, current: Current, length: Length) -> Voltage:
    """Voltage lost along a cable.

    ``Vd = m I L``

    For conductors of up to 16 mm2, where resistance alone counts, at the conductor's highest temperature.

    drop_rate  m  of the cable, by its table
    current    I  along it
    length     L  of the cable, one way
    """
    return drop_rate * current * length


@published(source="bs-7671", place="Appendix 4, section 6, solved for the mV/A/m of the cable")
def drop_rate_allowed(drop: Voltage, current: Current, length: Length) -> DropRate:
    """Largest drop rate a cable may have.

    ``m = Vd / (I L)``

    drop     Vd  allowed
    current  I   along it
    length   L   of the cable, one way
    """
    return drop / (current * length)


@published(source="definition", place="part over whole")
def drop_share(drop: Voltage, voltage: Voltage) -> Ratio:
    """Share of the voltage that is lost.

    ``s = Vd / U``

    drop     Vd  lost on the way
    voltage  U   of the supply
    """
    return drop / voltage


@published(source="bs-7671", place="Appendix 4, section 6.4: more drop is allowed on runs over 100 m")
def long_run_share(share: Ratio, more: PerLength, length: Length, free: Length) -> Ratio:
    """Share that may be lost on a long run.

    ``s = s0 + k (L - L0)``

    share   s0  that may be lost on a shorter run
    more    k   for each metre beyond
    length  L   of the run
    free    L0  length up to which nothing is added
    """
    return share + more * (length - free)


@published(source="definition", place="n equal currents leaving at n equal steps: (1 + 2 + ... + n) / n**2")
def even_string_factor(count: Ratio) -> Ratio:
    """Drop at the last of evenly spaced equal lights, over the drop if all of them hung at the end.

    ``k = (n + 1) / (2 n)``

    count  n  lights, the first one step from the transformer
    """
    return (count + 1) / (2 * count)


@published(source="definition", place="currents times lengths over the whole current, one span after the other")
def load_centre(moment: Annotated[float, "A m"], current: Current) -> Length:
    """Length of cable over which the whole current would lose what a string loses to its last light.

    ``Lc = M / I``

    moment   M  sum over the spans of the current in each times its length
    current  I  of all lights
    """
    return moment / current


@published(source="definition", place="power over power factor; the loading is common practice", grade=Grade.PRACTICE)
def transformer_rating(power: Power, power_factor: Ratio, loading: Ratio) -> ApparentPower:
    """Least rating of a transformer.

    ``S = P / (f a)``

    power         P  of its lights
    power_factor  f  of the lights
    loading       a  share of its rating it is loaded to
    """
    return power / (power_factor * loading)


@published(source="definition", place="output over efficiency")
def wall_power(power: Power, efficiency: Ratio) -> Power:
    """Power a transformer draws from the wall.

    ``Pw = P / e``

    power       P  of its lights
    efficiency  e  of the transformer at that load
    """
    return power / efficiency


@published(source="duct-page", place="typical diameters and calculation, step 2")
def cable_section(diameter: Length) -> Area:
    """Room one cable takes in a duct.

    ``a = pi d**2 / 4``

    diameter  d  over its sheath
    """
    return np.pi * diameter**2 / 4


@published(source="duct-page", place="typical diameters and calculation, step 4")
def duct_bore(cables: Area, fill: Ratio) -> Length:
    """Least bore of a duct.

    ``D = (4 A / (pi k))**0.5``

    cables  A  sections of all cables in it
    fill    k  share of its section they may take
    """
    return (4 * cables / (np.pi * fill)) ** 0.5


@published(source="definition", place="dot and cross product of two directions")
def angle_between(along: Ratio, across: Ratio) -> Angle:
    """Angle between the axis of a beam and the line to an eye.

    ``a = atan2(c, d)``

    along   d  dot product of both directions as unit vectors
    across  c  length of their cross product
    """
    return np.arctan2(across, along)
