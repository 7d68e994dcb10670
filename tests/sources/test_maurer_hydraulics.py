"""Maurer, E. Package ``hydraulics`` for R, reference pages of ``manningt`` and ``sequent_depth``.

Provenance: stored reference pages; the numbers are the output printed there.
"""

import pytest

from beckwright.equations.open_channel import (
    critical_depth,
    manning_velocity,
    specific_energy,
    wetted_area,
    wetted_perimeter,
)


def test_trapezoid_flow() -> None:
    """Bed 3 m, sides 2:1, n 0.013, slope 0.0005, depth 1.83 m: 22.19996 m3/s."""
    area = wetted_area(3, 1.83, 2)
    radius = area / wetted_perimeter(3, 1.83, 2)
    assert area * manning_velocity(0.013, radius, 0.0005) == pytest.approx(22.19996, rel=1e-6)


def test_energy_before_the_jump() -> None:
    """Flow 0.2 m3/s, bed 0.5 m, sides 1:1, depth 0.1 m: 0.666509 m."""
    assert specific_energy(0.1, 0.2 / wetted_area(0.5, 0.1, 1)) == pytest.approx(0.666509, rel=5e-4)


def test_critical_depth_in_feet() -> None:
    """140 cubic feet a second in 6 ft: 2.566646 ft, with g 32.2 ft/s2."""
    foot = 0.3048
    assert critical_depth(140 / 6 * foot**2) / foot == pytest.approx(2.566646, rel=5e-4)
