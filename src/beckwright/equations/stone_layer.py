"""Water hidden between the stones: the velocity at which a full layer carries water down its slope.

Both laws have the form i = a V + b V**2. Smooth grains (Ergun) give the high end of the band, rough ones the low.
"""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.published import published
from beckwright.base.quantities import Flow, Length, Ratio, Velocity, Viscosity


def _superficial_velocity(
    *, viscous: float, inertial: float, size: Length, voids: Ratio, gradient: Ratio, viscosity: Viscosity
) -> Velocity:
    solid, pore = 1 - voids, STANDARD_GRAVITY * voids**3 * size
    a = viscous * viscosity * solid**2 / (pore * size)
    b = inertial * solid / pore
    # The rationalised root: no cancellation where the viscous term rules, and 0 at no slope.
    return 2 * gradient / (a + np.sqrt(a**2 + 4 * b * gradient))


@published(source="ergun-1952", place="the general equation, 150 and 1.75, solved for V")
def ergun_velocity(size: Length, voids: Ratio, gradient: Ratio, viscosity: Viscosity) -> Velocity:
    """Velocity over the whole section of a full layer of smooth grains: the high end.

    ``V = 2 i / (a + (a**2 + 4 b i)**0.5), a = 150 nu (1-n)**2 / (g n**3 d**2), b = 1.75 (1-n) / (g n**3 d)``

    size       d   of the grains; the fine end where they are mixed
    voids      n   share of the layer that is not stone
    gradient   i   fall of the water surface along the layer
    viscosity  nu  kinematic viscosity of the water
    """
    return _superficial_velocity(
        viscous=150, inertial=1.75, size=size, voids=voids, gradient=gradient, viscosity=viscosity
    )


@published(source="macdonald-1979", place="modified Ergun equation for rough particles, 180 and 4.0, solved for V")
def rough_grain_velocity(size: Length, voids: Ratio, gradient: Ratio, viscosity: Viscosity) -> Velocity:
    """Velocity over the whole section of a full layer of rough grains: the low end.

    ``V = 2 i / (a + (a**2 + 4 b i)**0.5), a = 180 nu (1-n)**2 / (g n**3 d**2), b = 4.0 (1-n) / (g n**3 d)``

    size       d   of the grains; the fine end where they are mixed
    voids      n   share of the layer that is not stone
    gradient   i   fall of the water surface along the layer
    viscosity  nu  kinematic viscosity of the water
    """
    return _superficial_velocity(
        viscous=180, inertial=4.0, size=size, voids=voids, gradient=gradient, viscosity=viscosity
    )


@published(source="definition", place="velocity times area")
def layer_flow(velocity: Velocity, depth: Length, width: Length) -> Flow:
    """Flow between the stones of a layer.

    ``Qh = V t b``

    velocity  V  flow for each square metre of layer
    depth     t  of water among the stones
    width     b  of the layer
    """
    return velocity * depth * width


@published(source="definition", place="conservation of volume")
def share_shown(flow: Flow, hidden: Flow) -> Ratio:
    """Share of a flow that is in view over the stones.

    ``s = 1 - Qh / Q``

    flow    Q   all of it
    hidden  Qh  between the stones
    """
    return 1 - hidden / flow
