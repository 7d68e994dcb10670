"""Macdonald, I. F., El-Sayed, M. S., Mow, K. & Dullien, F. A. L. (1979). Flow through porous media - the Ergun equation
revisited. Industrial & Engineering Chemistry Fundamentals 18(3), 199-208.

Provenance: coefficients 180 and 4.0 from memory. The velocities were worked apart from this code, to the digits
shown; Wilkins (1956) and Stephenson (1979), both from memory, are other people's laws for rockfill.
"""

import pytest
from scipy.optimize import brentq

from beckwright.equations.stone_layer import layer_flow, rough_grain_velocity, share_shown

NU = 1.004e-6


@pytest.mark.parametrize(
    ("size", "gradient", "printed"),
    [
        (0.01, 0.02, 6.0e-3),
        (0.01, 0.10, 15e-3),
        (0.01, 0.40, 31e-3),
        (0.02, 0.02, 9.6e-3),
        (0.02, 0.10, 22e-3),
        (0.02, 0.40, 45e-3),
        (0.04, 0.02, 14e-3),
        (0.04, 0.10, 32e-3),
        (0.04, 0.40, 64e-3),
    ],
)
def test_worked_velocities(size: float, gradient: float, printed: float) -> None:
    assert rough_grain_velocity(size, 0.40, gradient, NU) == pytest.approx(printed, rel=0.012)


def test_worked_split() -> None:
    """3 L/s over 0.6 m of 150 mm of 20 mm stone on 5 %: 1.40 L/s hidden, at 15.5 mm/s, and 1.60 visible."""
    velocity = rough_grain_velocity(0.02, 0.40, 0.05, NU)
    hidden = layer_flow(velocity, 0.15, 0.6)
    assert velocity == pytest.approx(15.5e-3, abs=5e-5)
    assert hidden == pytest.approx(1.40e-3, abs=5e-6)
    assert share_shown(3e-3, hidden) * 3e-3 == pytest.approx(1.60e-3, abs=5e-6)


@pytest.mark.parametrize("gradient", [0.02, 0.1, 0.4])
def test_wilkins_lies_near(gradient: float) -> None:
    """Wilkins: velocity in the voids 5.24 m**0.5 i**0.54, m the hydraulic radius of voids of angular stone."""
    radius = 0.40 * 0.04 / (6 * 0.60) / 1.3
    wilkins = 0.40 * 5.24 * radius**0.5 * gradient**0.54
    assert rough_grain_velocity(0.04, 0.40, gradient, NU) == pytest.approx(wilkins, rel=0.2)


@pytest.mark.parametrize("gradient", [0.02, 0.1, 0.4])
def test_stephenson_lies_near(gradient: float) -> None:
    """Stephenson for angular stone: i = (800 / Re + 4) V**2 / (g d n**2), Re = V d / (n nu)."""

    def spare(v: float) -> float:
        return (800 * 0.40 * NU / (v * 0.02) + 4) * v**2 / (9.81 * 0.02 * 0.40**2) - gradient

    stephenson = brentq(spare, 1e-6, 1)
    assert rough_grain_velocity(0.02, 0.40, gradient, NU) == pytest.approx(stephenson, rel=0.2)
