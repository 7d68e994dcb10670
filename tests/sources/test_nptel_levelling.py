"""National Programme on Technology Enhanced Learning, India. Modern Surveying Techniques, module 4: levelling.

Provenance: Example 13-1 as stored: eight set-ups from a bench mark at 150.485 m and back to it, reduced by rise and
fall. Two of its printed figures are slips of the press: the second fall, 1.7290 for 0.125 - 1.915 = -1.790, and the
level before the last, 149.450 for 147.660 + 1.740 = 149.400; the levels printed after each of them go on from the true
ones.
"""

import numpy as np
import pytest

from beckwright.equations.levelling import collimation_height, level_from_collimation, rise
from beckwright.survey import largest_difference, level_findings, reduce_book
from tests.survey.books import booked

BACKS = (1.205, 0.125, 0.395, 0.880, 1.960, 2.595, 2.255, 2.305)
FORES = (1.860, 1.915, 2.615, 1.760, 0.920, 0.915, 0.515, 1.170)
RISES = (-0.655, -1.790, -2.220, -0.880, 1.040, 1.680, 1.740, 1.135)
LEVELS = (149.830, 148.040, 145.820, 144.940, 145.980, 147.660, 149.400, 150.535)

BOOK = booked(
    ("BM", BACKS[0], None, None, 150.485),
    *((f"TP{place}", back, None, fore) for place, (back, fore) in enumerate(zip(BACKS[1:], FORES, strict=False), 1)),
    ("BM", None, None, FORES[-1]),
)


def test_one_set_up() -> None:
    assert rise(BACKS[0], FORES[0]) == pytest.approx(RISES[0])
    assert level_from_collimation(collimation_height(150.485, BACKS[0]), FORES[0]) == pytest.approx(LEVELS[0])


def test_reduced_as_printed() -> None:
    reduced = reduce_book(BOOK)
    fores = np.array(BOOK.kinds) == "fore"
    assert reduced.rises[fores] == pytest.approx(np.array(RISES))
    assert reduced.levels[fores] == pytest.approx(np.array(LEVELS))
    assert largest_difference(reduced) < 1e-12
    assert all(check.holds for check in reduced.checks)


def test_arithmetic_closes_and_the_survey_does_not() -> None:
    """It comes back 50 mm too high over eight set-ups, where 5 sqrt 8 = 14.1 mm are allowed."""
    reduced = reduce_book(BOOK)
    (line,) = reduced.lines
    assert line.misclosure == pytest.approx(0.050)
    assert line.allowed == pytest.approx(0.01414, abs=5e-6)
    assert line.standing == "refused"
    assert [finding.code for finding in level_findings(reduced)] == ["levels-do-not-close"]
