"""Planting by hand: one plant to a square or to two triangles, ground on a slope, orders, fleece, closed width.

Values of the site checks N02 to N05: closed-form arithmetic (1 / d**2; 2 / (3**0.5 d**2), which is 1.1547 / d**2);
N03, 16 plants a square metre at 0.25 m, as a stored page on planting density prints it.
"""

import math

import pytest

from beckwright.equations.planting import (
    barrier_area,
    ground_area,
    ordered,
    planted_in_squares,
    planted_in_triangles,
    share_closed,
)


def test_n02_density_at_300_mm() -> None:
    assert planted_in_squares(1.0, 0.3) == pytest.approx(11.111, rel=1e-3)
    assert planted_in_triangles(1.0, 0.3) == pytest.approx(12.83, rel=1e-3)


def test_n03_sixteen_a_square_metre() -> None:
    assert planted_in_squares(1.0, 0.25) == pytest.approx(16.0, abs=1e-6)


def test_n04_ten_square_metres_of_plan_at_30_degrees() -> None:
    assert ground_area(10.0, math.radians(30)) == pytest.approx(11.547, rel=1e-4)


def test_n05_an_order() -> None:
    assert math.ceil(ordered(planted_in_triangles(3.6, 0.25), 0.05)) == 70


def test_fleece_of_a_box() -> None:
    """2 m by 0.5 m, 0.3 m deep: floor 1.0, sides 5.0 by 0.3."""
    assert barrier_area(1.0, 5.0, 0.3) == pytest.approx(2.5)


def test_a_sixth_of_a_bed() -> None:
    assert share_closed(0.1, 0.6) == pytest.approx(1 / 6)
