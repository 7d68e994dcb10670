"""Head lost in the hose. Three friction laws meet at Reynolds numbers 2000 and 4000; the stage picks by number."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.published import published
from beckwright.base.quantities import Flow, Length, Ratio, Velocity, Viscosity, Volume


@published(source="definition", place="flow over the area of the bore")
def pipe_velocity(flow: Flow, bore: Length) -> Velocity:
    """Mean velocity in a full round pipe.

    ``V = 4 Q / (pi D**2)``

    flow  Q  through the pipe
    bore  D  true inside diameter
    """
    return 4 * flow / (np.pi * bore**2)


@published(source="definition", place="definition of the Reynolds number")
def reynolds_number(velocity: Velocity, bore: Length, viscosity: Viscosity) -> Ratio:
    """How far inertia outweighs viscosity.

    ``Re = V D / nu``

    velocity   V   mean velocity
    bore       D   true inside diameter
    viscosity  nu  kinematic viscosity of the water
    """
    return velocity * bore / viscosity


@published(source="epanet-2.2", place="ch. 12, Hagen-Poiseuille, Re below 2000", reynolds=(0, 2000))
def laminar_friction(reynolds: Ratio) -> Ratio:
    """Darcy friction factor of quiet flow.

    ``f = 64 / Re``

    reynolds  Re  Reynolds number
    """
    return 64 / reynolds


@published(
    source="swamee-jain-1976", place="explicit friction factor", reynolds=(4e3, 1e8), relative_roughness=(1e-6, 1e-2)
)
def swamee_jain_friction(reynolds: Ratio, relative_roughness: Ratio) -> Ratio:
    """Darcy friction factor of turbulent flow, within 2 % of Colebrook-White up to a relative roughness of 0.001.

    ``f = 0.25 / log10(e/3.7 + 5.74 / Re**0.9)**2``

    reynolds            Re  Reynolds number
    relative_roughness  e   roughness of the wall over the bore
    """
    return 0.25 / np.log10(relative_roughness / 3.7 + 5.74 / reynolds**0.9) ** 2


@published(source="dunlop-1991", place="cubic as printed in EPANET 2.2 ch. 12", reynolds=(2000, 4000))
def transition_friction(reynolds: Ratio, relative_roughness: Ratio) -> Ratio:
    """Darcy friction factor between quiet and turbulent flow: a cubic that joins both with the same slope.

    ``f = X1 + R (X2 + R (X3 + R X4)), R = Re/2000, X1 = 7 FA - FB, X2 = 0.128 - 17 FA + 2.5 FB,
    X3 = -0.128 + 13 FA - 2 FB, X4 = 0.032 - 3 FA + 0.5 FB, FA = Y3**-2, FB = FA (2 - 0.00514215 / (Y2 Y3)),
    Y2 = e/3.7 + 5.74 / 4000**0.9, Y3 = -2 log10(Y2)``

    reynolds            Re  Reynolds number
    relative_roughness  e   roughness of the wall over the bore
    """
    y2 = relative_roughness / 3.7 + 5.74 / 4000**0.9
    y3 = -2 * np.log10(y2)
    fa = y3**-2
    fb = fa * (2 - 0.00514215 / (y2 * y3))
    r = reynolds / 2000
    x2 = 0.128 - 17 * fa + 2.5 * fb
    x3 = -0.128 + 13 * fa - 2 * fb
    x4 = 0.032 - 3 * fa + 0.5 * fb
    return 7 * fa - fb + r * (x2 + r * (x3 + r * x4))


@published(source="definition", place="Darcy-Weisbach formula")
def friction_loss(friction: Ratio, length: Length, bore: Length, velocity: Velocity) -> Length:
    """Head lost along a pipe.

    ``hf = f L V**2 / (2 g D)``

    friction  f  Darcy friction factor
    length    L  of the pipe
    bore      D  true inside diameter
    velocity  V  mean velocity
    """
    return friction * length / bore * velocity**2 / (2 * STANDARD_GRAVITY)


@published(source="definition", place="loss factors multiply the velocity head")
def fittings_loss(loss_sum: Ratio, velocity: Velocity) -> Length:
    """Head lost in bends, valves, entrance and exit.

    ``hk = K V**2 / (2 g)``

    loss_sum  K  sum of the loss factors
    velocity  V  mean velocity
    """
    return loss_sum * velocity**2 / (2 * STANDARD_GRAVITY)


@published(source="definition", place="volume of a cylinder")
def pipe_volume(bore: Length, length: Length) -> Volume:
    """Water that a full pipe holds.

    ``W = pi D**2 L / 4``

    bore    D  true inside diameter
    length  L  of the pipe
    """
    return np.pi * bore**2 * length / 4
