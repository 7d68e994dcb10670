"""Ergun, S. (1952). Fluid flow through packed columns. Chemical Engineering Progress 48(2), 89-94.

Provenance: computed by the reference library ``fluids``, which takes the velocity and gives the pressure.
"""

import fluids
import pytest

from beckwright.equations.stone_layer import ergun_velocity


def test_worked_example_of_the_library() -> None:
    """Grains of 0.8 mm, voids 0.40, 1 mm/s: 1338.867 Pa/m."""
    assert ergun_velocity(8e-4, 0.4, 1338.867 / 9806.65, 1e-6) == pytest.approx(1e-3, rel=1e-6)


@pytest.mark.parametrize("size", [0.005, 0.02, 0.08])
@pytest.mark.parametrize("gradient", [0.01, 0.1, 0.4])
def test_pressure_by_the_library(size: float, gradient: float) -> None:
    velocity = ergun_velocity(size, 0.38, gradient, 1.1e-6)
    pressure = fluids.Ergun(dp=size, voidage=0.38, vs=velocity, rho=1000, mu=1.1e-3, L=1)
    assert pressure == pytest.approx(gradient * 9806.65, rel=1e-9)
