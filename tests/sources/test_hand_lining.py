"""Hand calculations of sheet: sizes, laps, arcs and pleats, in the head."""

import pytest

from beckwright.equations.lining import (
    arc_difference,
    fleece_area,
    half_girth,
    joined_width,
    length_with_laps,
    pleats_needed,
    thumb_size,
)


def test_half_a_girth() -> None:
    """0.6 m of bed, 0.3 m up at 4 out for 3 up (a 3-4-5 side, 0.5 m), 0.15 m over the edge: 0.3 + 0.5 + 0.15."""
    assert half_girth(0.6, 0.3, 4 / 3, 0.15) == pytest.approx(0.95, abs=1e-12)


def test_rule_of_thumb() -> None:
    """Common practice, check L04: 6.0 by 1.5 m, 0.4 deep, 0.3 of overlap gives 7.4 by 2.9."""
    assert thumb_size(6.0, 0.4, 0.3) == pytest.approx(7.4, abs=1e-9)
    assert thumb_size(1.5, 0.4, 0.3) == pytest.approx(2.9, abs=1e-9)


def test_stepped_length() -> None:
    """Check L06: treads of 2.0, 1.5, 2.5 and risers of 0.25, 0.40, 0.30 m; four pieces with laps of 0.3 m."""
    developed = 2.0 + 1.5 + 2.5 + 0.25 + 0.4 + 0.3
    assert developed == pytest.approx(6.95, abs=1e-6)
    assert length_with_laps(developed, 4, 0.3) == pytest.approx(7.85, abs=1e-6)


def test_strips_side_by_side() -> None:
    """Three strips of 1.5 m, two laps of 0.15 m."""
    assert joined_width(3, 1.5, 0.15) == pytest.approx(4.2, abs=1e-12)


def test_outside_of_a_quarter_turn() -> None:
    """Arcs of a quarter turn 2 m apart differ by pi; at a middle radius of 3 m they are 2 pi and pi long."""
    quarter = 3.14159265 / 2
    assert arc_difference(quarter, 2.0) == pytest.approx(4.0 * quarter - 2.0 * quarter, abs=1e-12)


def test_pleats() -> None:
    """A pleat 75 mm deep takes up 150 mm: four of them 0.6 m."""
    assert pleats_needed(0.6, 0.075) == pytest.approx(4.0, abs=1e-12)


def test_fleece() -> None:
    assert fleece_area(50.0, 1.1) == pytest.approx(55.0, abs=1e-12)
