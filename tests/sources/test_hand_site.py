"""Hand calculations of depths and widths beside what stands there, in the head."""

import pytest

from beckwright.equations.site import cover_left, load_line, reach_needed, way_needed


def test_as_far_out_as_down() -> None:
    """A footing founded at 99.40, a dig 1.20 m off: 45 degrees down to 98.20."""
    assert load_line(99.40, 1.20) == pytest.approx(98.20, abs=1e-12)


def test_ground_left_over_a_pipe() -> None:
    """A pipe 750 mm down under a dig of 200 mm keeps 550; a cable 300 mm down is 100 mm above the bottom of 400."""
    assert cover_left(0.75, 0.20) == pytest.approx(0.55, abs=1e-12)
    assert cover_left(0.30, 0.40) == pytest.approx(-0.10, abs=1e-12)


def test_way_for_a_digger() -> None:
    """990 mm with 50 mm each side."""
    assert way_needed(0.99, 0.05) == pytest.approx(1.09, abs=1e-12)


def test_reach_over_a_pit() -> None:
    """Half of 1.0 m, tracks 0.5 m back, 2.2 m across: 3.2 m."""
    assert reach_needed(1.0, 0.5, 2.2) == pytest.approx(3.2, abs=1e-12)
