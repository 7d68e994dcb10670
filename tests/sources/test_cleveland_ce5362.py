"""Cleveland, T. CE 5362, lesson 9, and CE 4353, fixed space step. Texas Tech University.

Provenance: stored notebooks.
"""

import pytest

from beckwright.equations.open_channel import critical_depth


def test_critical_depth() -> None:
    """100 m3/s in a rectangular channel 10 m wide: 2.17 m."""
    assert critical_depth(100 / 10) == pytest.approx(2.17, abs=0.005)
