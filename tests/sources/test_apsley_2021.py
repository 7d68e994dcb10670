"""Apsley, D. (2021). Hydraulics 3: Open-Channel Flow, answers to the examples. University of Manchester.

Provenance: stored page excerpt. Example 1: a rectangular channel 5 m wide carries 20 m3/s, Manning n 0.02.
"""

import pytest

from beckwright.equations.open_channel import (
    critical_depth,
    froude_number,
    manning_velocity,
    wetted_area,
    wetted_perimeter,
)

WIDTH, FLOW, ROUGHNESS = 5.0, 20.0, 0.02


def _velocity(depth: float, slope: float) -> float:
    radius = wetted_area(WIDTH, depth, 0) / wetted_perimeter(WIDTH, depth, 0)
    return manning_velocity(ROUGHNESS, radius, slope)


def test_normal_depth_q1a() -> None:
    assert _velocity(2.257, 0.001) * wetted_area(WIDTH, 2.257, 0) == pytest.approx(FLOW, rel=1e-3)


def test_froude_number_q1a() -> None:
    assert froude_number(FLOW / (WIDTH * 2.257), 2.257) == pytest.approx(0.3766, rel=5e-4)


def test_critical_slope_q1d() -> None:
    depth = critical_depth(FLOW / WIDTH)
    assert _velocity(depth, 0.006218) == pytest.approx(FLOW / (WIDTH * depth), rel=1e-3)
