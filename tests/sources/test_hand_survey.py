"""Hand calculations for levels and tapes: geometry, and variances that add.

Provenance: closed-form arithmetic, worked apart from this code; the two-peg tests with the readings of question pages.
"""

import math

import numpy as np
import pytest

from beckwright.equations.levelling import closed_change_sigma, closed_point_sigma, open_level_sigma, sight_tilt
from beckwright.equations.taping import level_length, tape_sigma, tie_across, tie_along, tie_cosine
from beckwright.survey import fix_points, two_peg
from tests.survey.books import side, slope, tape, taped


def test_two_pegs_from_beside_the_first() -> None:
    """40 m apart: 1.425 and 1.210 from midway, 1.552 and 1.344 from A: 7 mm in 40 m upwards, so 1.337 on B."""
    assert sight_tilt(0.215, 0.208, 0, 40) == pytest.approx(7e-3 / 40)
    found = two_peg((1.425, 1.210), (1.552, 1.344), apart=40)
    assert found.rise == pytest.approx(0.215)
    assert found.readings == (pytest.approx(1.552), pytest.approx(1.337))
    assert not found.sound


def test_two_pegs_from_beyond() -> None:
    """100 m apart: 3.0 and 2.0 from midway, 2.75 and 1.50 from 20 m and 120 m: 2.5 mm down a metre: 2.80 and 1.80."""
    found = two_peg((3.0, 2.0), (2.75, 1.50), apart=100, first_length=20)
    assert found.tilt == pytest.approx(-2.5e-3)
    assert found.readings == (pytest.approx(2.80), pytest.approx(1.80))


def test_two_pegs_from_beyond_the_other_way() -> None:
    """50 m apart: 0.860 and 1.283 from midway, 1.219 and 1.612 from 5 m and 55 m: 30 mm in 50 m downwards."""
    assert two_peg((0.860, 1.283), (1.219, 1.612), apart=50, first_length=5).tilt * 50 == pytest.approx(-0.030)


def test_slope() -> None:
    """10 m with 1.2 m of fall: 9.9277 m in plan."""
    assert level_length(10, 1.2) == pytest.approx(9.9277, abs=5e-5)


def test_tape_by_its_causes() -> None:
    """3 mm of reading and 0.4 mm a metre over 10 m: 5 mm."""
    assert tape_sigma(0.003, 0.0004, 10) == pytest.approx(0.005)


def test_two_tapes() -> None:
    """From (0, 0) 8.06 m and from (12, 0) 8.94 m: 5.3767, 6.0046, at an angle of 89.65 degrees."""
    along = tie_along(12, 8.06, 8.94)
    assert (along, tie_across(8.06, along)) == (pytest.approx(5.3767, abs=5e-5), pytest.approx(6.0046, abs=5e-5))
    assert math.degrees(math.acos(tie_cosine(12, 8.06, 8.94))) == pytest.approx(89.65, abs=5e-3)


@pytest.mark.parametrize(("way", "sign"), [("left", 1), ("right", -1)])
def test_two_tapes_and_a_side(way: str, sign: int) -> None:
    marks = (("A", 0, 0), ("B", 12, 0))
    fixed = fix_points(taped(tape("A", "P", 8.06), tape("B", "P", 8.94), side("A", "B", "P", way), marks=marks))
    assert fixed.places[2] == pytest.approx(np.array([5.3767, sign * 6.0046]), abs=5e-5)


def test_a_slope_with_its_fall() -> None:
    fixed = fix_points(taped(slope("A", "B", 10.0, -1.2)))
    assert fixed.places[1] == pytest.approx(np.array([9.9277, 0]), abs=5e-5)


def test_variances_of_levels() -> None:
    """2 mm a reading. Open after two set-ups: four readings, 4 mm. Closed over four, the middle: half of that twice."""
    assert open_level_sigma(0.002, 2) == pytest.approx(0.004)
    assert closed_change_sigma(0.002, 2, 4) == pytest.approx(0.002 * math.sqrt(2))
    assert closed_change_sigma(0.002, 4, 4) == 0


def test_variance_of_a_point_in_a_closed_set_up() -> None:
    """Opened and closed on one mark from one place, all the misclosure goes to it: it hangs on the last sight."""
    assert closed_point_sigma(0.002, 1, 1) == pytest.approx(0.002 * math.sqrt(2))
