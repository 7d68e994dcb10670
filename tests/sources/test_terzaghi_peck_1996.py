"""Terzaghi, K., Peck, R. B. & Mesri, G. (1996). Soil Mechanics in Engineering Practice, 3rd ed. Wiley. Earth pressure.

Provenance: rule from memory, the example worked by hand.
"""

import pytest

from beckwright.equations.reservoir import lateral_pressure
from beckwright.tables.partial_factors import REST_COEFFICIENT, SOIL_UNIT_WEIGHT


def test_side_of_the_pit() -> None:
    """1.3 m down under 10 kPa: 0.5 (18 x 1.3 + 10) = 16.7 kPa."""
    pressure = lateral_pressure(REST_COEFFICIENT.amount, SOIL_UNIT_WEIGHT.amount, 1.3, 10e3)
    assert pressure == pytest.approx(16.7e3, rel=1e-12)
