"""Ponce, V. M. (2004). CIVE 530, solution of midterm 2, problem 2. San Diego State University.

Provenance: stored page.
"""

import pytest

from beckwright.equations.open_channel import froude_number


def test_froude_number_from_the_slopes() -> None:
    """3 m2/s at 0.568 m on a slope of 0.01, critical slope 0.002: Fr = (0.01 / 0.002)**0.5 = 2.24."""
    assert froude_number(3 / 0.568, 0.568) == pytest.approx(2.24, rel=2e-3)
