"""Sturm, T. W. (2001). Open Channel Hydraulics. McGraw-Hill. Example 5.1.

Provenance: from memory. Bed 8 m, sides 2:1, n 0.025, slope 0.001, 30 m3/s: normal depth 1.754 m, critical 1.03 m.
"""

import pytest

from beckwright.equations.open_channel import (
    froude_number,
    manning_velocity,
    surface_width,
    wetted_area,
    wetted_perimeter,
)


def test_normal_depth() -> None:
    area = wetted_area(8, 1.754, 2)
    assert area * manning_velocity(0.025, area / wetted_perimeter(8, 1.754, 2), 0.001) == pytest.approx(30, rel=1e-3)


def test_critical_depth_is_where_froude_is_one() -> None:
    area = wetted_area(8, 1.03, 2)
    assert froude_number(30 / area, area / surface_width(8, 1.03, 2)) == pytest.approx(1, abs=5e-3)
