"""Chow, V. T. (1959). Open-Channel Hydraulics. McGraw-Hill. Examples 10-1 and 10-7.

Provenance: from memory. Bed 20 ft, sides 2:1, n 0.025, slope 0.0016, 400 cubic feet a second: normal depth 3.36 ft,
critical depth 2.22 ft with an energy coefficient of 1.10.
"""

import pytest

from beckwright.equations.open_channel import (
    froude_number,
    manning_velocity,
    surface_width,
    wetted_area,
    wetted_perimeter,
)

FOOT = 0.3048
BED, SIDES, FLOW = 20 * FOOT, 2.0, 400 * FOOT**3


def test_normal_depth() -> None:
    depth = 3.36 * FOOT
    area = wetted_area(BED, depth, SIDES)
    velocity = manning_velocity(0.025, area / wetted_perimeter(BED, depth, SIDES), 0.0016)
    assert area * velocity == pytest.approx(FLOW, rel=5e-3)


def test_critical_depth_of_a_trapezoid() -> None:
    depth = 2.22 * FOOT
    area = wetted_area(BED, depth, SIDES)
    froude = froude_number(FLOW / area, area / surface_width(BED, depth, SIDES))
    assert froude == pytest.approx(1.10**-0.5, rel=1e-2)
