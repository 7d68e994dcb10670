"""Boussinesq, J. (1885). Pressure in elastic ground under a load on its surface.

Provenance: (a) a question page, stored: 400 kN on a point, 2 m down, 47.75 kPa; (b) influence values under the corner
of a rectangle, stored as a table of a textbook problem; (c) the value 0.1752 for a square as wide as deep, recalled
from Fadum's chart of 1948.
"""

import pytest

from beckwright.equations.reservoir import patch_pressure, spread_pressure


def test_far_below_a_small_patch_it_is_a_point() -> None:
    """A patch of 20 by 20 mm."""
    assert patch_pressure(400e3, 0.02, 0.02, 2.0) == pytest.approx(47.75e3, rel=1e-3)


@pytest.mark.parametrize(
    ("m", "n", "corner"),
    [(0.5, 1.2, 0.12626), (0.1, 1.2, 0.02926), (0.8, 1.6, 0.17739), (0.6, 1.4, 0.14749), (1.0, 1.0, 0.1752)],
)
def test_four_corners_make_a_middle(m: float, n: float, corner: float) -> None:
    """Under the middle of a rectangle four corners of its quarters meet; 1 Pa on it."""
    length, width = 2 * n * 0.3, 2 * m * 0.3
    assert patch_pressure(length * width, length, width, 0.3) == pytest.approx(4 * corner, abs=2.5e-4)


def test_close_under_the_patch_it_is_the_patch() -> None:
    """Elastic ground carries all of it straight down where there is hardly any: 10 kN on 0.2 by 0.2 m is 250 kPa."""
    assert patch_pressure(10e3, 0.2, 0.2, 1e-4) == pytest.approx(250e3, rel=1e-3)


def test_the_spread_of_the_trade_is_of_the_same_size() -> None:
    """Between 0.5 and 1.5 of the peak for a wheel of 0.2 by 0.2 m under covers of 0.2 to 1 m: both are worth asking."""
    for cover in (0.2, 0.5, 1.0):
        assert 0.5 < spread_pressure(10e3, 0.2, 0.2, cover) / patch_pressure(10e3, 0.2, 0.2, cover) < 1.5
