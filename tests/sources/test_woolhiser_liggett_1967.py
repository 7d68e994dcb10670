"""Woolhiser, D. A. & Liggett, J. A. (1967). Unsteady, one-dimensional flow over a plane. Water Resources Research 3(3).

Provenance: memory. The number is k = S L / (h F**2); above 20 the kinematic solution stands (recalled, not looked up).
"""

import pytest

from beckwright.equations.open_channel import froude_number
from beckwright.equations.unsteady import kinematic_wave_number


def test_number_by_hand() -> None:
    """5 % over 10 m, 20 mm deep at Froude 0.5: 0.05 x 10 / (0.02 x 0.25) = 100."""
    assert kinematic_wave_number(0.05, 10.0, 0.02, 0.5) == pytest.approx(100.0)


def test_number_by_gravity_and_velocity() -> None:
    """With F**2 = V**2 / (g h) it is g S L / V**2: the fall of the run over twice the velocity head."""
    assert kinematic_wave_number(0.05, 10.0, 0.02, froude_number(0.3, 0.02)) == pytest.approx(
        9.80665 * 0.05 * 10.0 / 0.3**2
    )
