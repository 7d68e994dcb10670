"""Rauschen im Detail. Press account of measurements on waterfalls by J. Lilly; Deutschlandfunk.

Provenance: stored; "twice as loud as another, eight times the water". Twice as loud is read as 10 dB (textbooks).
"""

import pytest

from beckwright.equations.sound import louder_by


def test_eight_times_the_water() -> None:
    assert louder_by(8.0, 1.0) == pytest.approx(10)
    assert louder_by(10.0, 1.0) == pytest.approx(11.07, abs=5e-3)


def test_each_doubling() -> None:
    """Eight is two three times over."""
    assert louder_by(0.002, 0.001) == pytest.approx(10 / 3)
    assert louder_by(0.001, 0.002) == pytest.approx(-10 / 3)
