"""Baarda, W. (1968). A testing procedure for use in geodetic networks. Netherlands Geodetic Commission.

Provenance: the test as quoted on a page on gross errors; the numbers by hand. One length taped three times with 5 mm,
the third 30 mm long: the mean is 10 mm too long, each tape is checked to 2/3, and the third has a residual of -20 mm.
"""

import math

import numpy as np
import pytest

from beckwright.equations.taping import gross_error, standardized_residual
from beckwright.survey import fix_points
from tests.survey.books import tape, taped


def test_by_hand() -> None:
    assert standardized_residual(-0.020, 0.005, 2 / 3) == pytest.approx(-4 / math.sqrt(2 / 3))
    assert gross_error(-0.020, 2 / 3) == pytest.approx(0.030)


def test_one_length_three_times() -> None:
    fixed = fix_points(taped(tape("A", "B", 10.0), tape("A", "B", 10.0), tape("A", "B", 10.03)), tape_sigma=0.005)
    assert fixed.places[1] == pytest.approx(np.array([10.01, 0]))
    assert fixed.residuals == pytest.approx(np.array([0.010, 0.010, -0.020]))
    assert fixed.redundancies == pytest.approx(np.full(3, 2 / 3))
    assert fixed.standardized == pytest.approx(np.array([2, 2, -4]) / math.sqrt(2 / 3))
    assert fixed.gross[2] == pytest.approx(0.030)
    assert fixed.suspects == (2,)
    assert fixed.sigma0 == pytest.approx(math.sqrt((4 + 4 + 16) / 2))
