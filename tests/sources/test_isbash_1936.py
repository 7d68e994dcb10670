"""Isbash, S. V. (1936). Construction of dams by depositing rock in running water. 2nd Congress on Large Dams.

Provenance: the form D = V**2 / (2 g C**2 (S - 1)), C 0.86 for highly turbulent and 1.2 for low turbulence, quoted from
NCHRP Report 568 on a stored calculator page; the form 0.692 V**2 / ((S - 1) 2 g) on another, for C 1.20.
"""

import pytest

from beckwright.equations.stability import isbash_size
from beckwright.tables.stones import ISBASH


def test_calm_water() -> None:
    """1 m/s against stone of 2.65: 0.692 / (1.65 x 19.613) is 21.4 mm."""
    assert isbash_size(1.0, 2.65, ISBASH.high) == pytest.approx(0.692 / (1.65 * 2 * 9.80665), rel=5e-3)
    assert isbash_size(1.0, 2.65, 1.20) == pytest.approx(0.02138, rel=5e-3)


def test_rough_water_wants_stones_of_about_twice_the_size() -> None:
    """(1.20 / 0.86)**2 is 1.947."""
    assert isbash_size(2.4, 2.65, ISBASH.low) / isbash_size(2.4, 2.65, ISBASH.high) == pytest.approx(1.947, abs=1e-3)
