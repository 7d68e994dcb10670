"""Data sheets of rubber sheet (stored): 1.02 mm at 1.17 kg/m2 (EN 1849-2); 1.14 mm at 0.29 lb/ft2 (ASTM D7465)."""

import pytest

from beckwright.equations.lining import sheet_density, sheet_mass
from beckwright.tables.lining import SHEET_DENSITY

POUND, FOOT = 0.45359237, 0.3048


def test_density_of_a_sheet() -> None:
    """Check L03: 1147 kg/m3."""
    assert sheet_density(1.17, 1.02e-3) == pytest.approx(1147.1, rel=1e-3)
    assert SHEET_DENSITY.low < sheet_density(1.17, 1.02e-3) < SHEET_DENSITY.high


def test_mass_of_a_square_metre() -> None:
    """Check L02: 0.29 pounds a square foot is 1.416 kg/m2, told as 1.4."""
    per_area = 0.29 * POUND / FOOT**2
    assert per_area == pytest.approx(1.416, rel=0.01)
    assert sheet_mass(1.0, per_area) == pytest.approx(1.4, rel=0.02)


def test_a_roll_weighs_what_the_trade_says() -> None:
    """6 by 20 m of 1.0 mm at 1.15 kg/m2: 138 kg."""
    assert sheet_mass(6.0 * 20.0, 1.15) == pytest.approx(138.0, abs=0.5)
