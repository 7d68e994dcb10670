"""Levelling (continued): booking, checks, misclosure (1998). Lecture slides of a school of civil engineering.

Provenance: stored as text in three copies, which between them give every printed figure but the three intermediate
readings one by one: only their sum, 0.251, stands there (one hangs upside down). Any three with that sum give the
printed check.
"""

import numpy as np
import pytest

from beckwright.equations.levelling import allowed_by_setups, setup_correction
from beckwright.survey import reduce_book
from beckwright.tables.levelling import ALLOWED_EACH_SETUP
from tests.survey.books import booked

BOOK = booked(
    ("TBM 10.00", 1.546, None, None, 10.000),
    ("CP 1", 1.418, None, 1.562),
    ("door", None, -2.100, None),
    ("ground", None, 1.000, None),
    ("point 1", None, 1.351, None),
    ("CP 2", 1.011, None, 1.321),
    ("TBM 9.09", None, None, 2.009, 9.09),
)


def test_allowed() -> None:
    """5 sqrt 3 = 8.66 mm."""
    assert allowed_by_setups(ALLOWED_EACH_SETUP.amount, 3) == pytest.approx(8.66e-3, abs=5e-6)


def test_collimations_and_levels() -> None:
    reduced = reduce_book(BOOK)
    backs = np.array(BOOK.kinds) == "back"
    assert reduced.collimations[backs] == pytest.approx(np.array([11.546, 11.402, 11.092]))
    assert reduced.levels[[1, -1]] == pytest.approx(np.array([9.984, 9.083]))


def test_checks() -> None:
    """3.975 - 4.892 = 9.083 - 10.000; and 0.251 + 4.892 + 63.103 = 11.546 x 1 + 11.402 x 4 + 11.092 x 1 = 68.246."""
    sums, rises, full = reduce_book(BOOK).checks
    assert (sums.one, sums.other) == (pytest.approx(3.975 - 4.892), pytest.approx(-0.917))
    assert rises.other == pytest.approx(-0.917)
    assert (full.one, full.other) == (pytest.approx(68.246), pytest.approx(68.246))
    assert sums.holds
    assert rises.holds
    assert full.holds


def test_misclosure_is_shared_by_instrument_position() -> None:
    """-7 mm over three positions, against 9 mm: 7/3, 14/3 and 7 mm are added."""
    reduced = reduce_book(BOOK)
    (line,) = reduced.lines
    assert (line.misclosure, line.standing) == (pytest.approx(-0.007), "closed")
    added = np.array([0, 7 / 3, 7 / 3, 14 / 3, 14 / 3, 14 / 3, 14 / 3, 14 / 3, 7]) * 1e-3
    assert reduced.adjusted - reduced.levels == pytest.approx(added, abs=1e-12)
    assert reduced.adjusted[-1] == pytest.approx(9.090)
    assert [setup_correction(-0.007, j, 3) for j in (1, 2, 3)] == pytest.approx([7e-3 / 3, 14e-3 / 3, 7e-3])
