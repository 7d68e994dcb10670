"""JCGM 100:2008. Guide to the expression of uncertainty in measurement. Annex H.1, end-gauge calibration.

Provenance: from memory. Table H.1 prints four contributions, 25, 9.7, 2.9 and 16.6 nm, and their combination, 32 nm.
"""

import pytest

from beckwright.equations.tolerance import combined_tolerance, settling_doubt


def test_end_gauge() -> None:
    """(25 nm)**2 + (9.7 nm)**2 + (2.9 nm)**2 + (16.6 nm)**2 = 1002 nm**2: 32 nm."""
    together = combined_tolerance(25e-9, 9.7e-9, 2.9e-9, 16.6e-9)
    assert together**2 == pytest.approx(1002e-18, rel=2e-3)
    assert round(together * 1e9) == 32


def test_hand_calculation() -> None:
    """300 mm of tipped fill that may lose 15 % where 10 % was allowed: 15 mm. More allowed than it may lose: none."""
    assert settling_doubt(0.300, 0.15, 0.10) == pytest.approx(0.015, abs=1e-12)
    assert settling_doubt(0.300, 0.05, 0.10) == 0.0
