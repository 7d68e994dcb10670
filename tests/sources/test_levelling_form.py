"""Pages of a booking form with examples: misclosure by length, and two worked books of question pages.

Provenance: the rule x sqrt s mm (s in km; x of 5, 10 or 15) as stored; the two books as stored with their solutions on
question pages, no author.
"""

import numpy as np
import pytest

from beckwright.equations.levelling import allowed_by_length
from beckwright.survey import Tolerance, reduce_book
from beckwright.tables.levelling import ALLOWED_EACH_ROOT_LENGTH
from tests.survey.books import booked


def test_allowed_by_length() -> None:
    """10 sqrt 0.5 = 7.07 mm; 5 sqrt 1 = 5 mm; 15 sqrt 0.25 = 7.5 mm."""
    row = ALLOWED_EACH_ROOT_LENGTH
    assert allowed_by_length(row.amount, 500) == pytest.approx(7.071e-3, abs=5e-7)
    assert allowed_by_length(row.low, 1000) == pytest.approx(5e-3)
    assert allowed_by_length(row.high, 250) == pytest.approx(7.5e-3)


INVERTED = booked(
    ("1", 1.355, None, None, 185.205),
    ("2", None, 1.605, None),
    ("3", None, 2.125, None),
    ("4", None, 0.685, None),
    ("5", 2.015, None, 1.365),
    ("6", None, 1.355, None),
    ("7", None, -1.385, None),
    ("8", None, 0.685, None),
    ("9", 1.685, None, 2.105),
    ("10", None, 1.155, None, 185.635),
    ("11", None, 1.105, None),
    ("12", 1.085, None, 2.015),
    ("13", None, 1.345, None),
    ("14", None, 1.355, None),
    ("15", None, -2.015, None),
    ("16", 1.655, None, 1.305),
    ("17", None, 1.685, None),
    ("18", None, None, 1.455),
)
INVERTED_LEVELS = (
    184.955, 184.435, 185.875, 185.195, 185.855, 188.595, 186.525, 185.105, 185.635,
    185.685, 184.775, 184.515, 184.505, 187.875, 184.555, 184.525, 184.755,
)  # fmt: skip


def test_staff_hung_upside_down() -> None:
    """Eighteen stations, five set-ups, two staffs inverted; sums 7.795 and 8.245, rises 9.02 and falls 9.47."""
    reduced = reduce_book(INVERTED)
    kinds = np.array(INVERTED.kinds)
    assert reduced.levels[kinds != "back"] == pytest.approx(np.array(INVERTED_LEVELS))
    assert INVERTED.readings[kinds == "back"].sum() == pytest.approx(7.795)
    assert INVERTED.readings[kinds == "fore"].sum() == pytest.approx(8.245)
    assert reduced.rises[reduced.rises > 0].sum() == pytest.approx(9.02)
    assert reduced.rises[reduced.rises < 0].sum() == pytest.approx(-9.47)
    assert all(check.holds for check in reduced.checks)
    assert [line.standing for line in reduced.lines] == ["open"]


CLOSED = booked(
    ("TBM 1", 1.379, None, None, 175.5),
    ("PEG 1", None, 2.795, None),
    ("PEG 2", None, 3.215, None),
    ("PEG 3", None, 0.595, None),
    ("PEG 4", None, 1.270, None),
    ("CP B", 1.280, None, 3.215),
    ("PEG 5", None, 1.030, None),
    ("PEG 6", None, 3.045, None),
    ("CP C", 2.312, None, 3.815),
    ("CP D", 1.743, None, 3.227),
    ("PEG 7", None, 2.735, None),
    ("TBM 2", None, None, 3.623, 168.50),
)


def test_book_between_two_marks() -> None:
    """Sums 6.714 and 13.88, falls 10.036; it reaches 168.334 where 168.500 is known, and may by the question."""
    reduced = reduce_book(CLOSED, Tolerance(basis="total", amount=0.2))
    kinds = np.array(CLOSED.kinds)
    levels = (174.084, 173.664, 176.284, 175.609, 173.664, 173.914, 171.899, 171.129, 170.214, 169.222, 168.334)
    assert reduced.levels[kinds != "back"] == pytest.approx(np.array(levels))
    assert reduced.checks[0].one == pytest.approx(6.714 - 13.88)
    assert reduced.rises[reduced.rises < 0].sum() == pytest.approx(-10.036)
    (line,) = reduced.lines
    assert (line.misclosure, line.setups, line.standing) == (pytest.approx(-0.166), 4, "closed")
    assert reduced.adjusted[-1] == pytest.approx(168.5)


def test_the_same_book_is_refused_by_set_ups() -> None:
    """166 mm over four set-ups, against 5 sqrt 4 = 10 mm."""
    assert reduce_book(CLOSED).refused
