"""Laws of a reduced level book, whatever the readings; and its uncertainties by differences."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.base.errors import JobError
from beckwright.survey import (
    LevelBook,
    Tolerance,
    largest_difference,
    level_findings,
    levels_by_point,
    point_levels,
    reduce_book,
)
from tests.survey.books import Row, booked

WIDE = Tolerance(basis="total", amount=100.0)
readings = st.integers(-4000, 4000).map(lambda count: count / 1000)
setups = st.lists(st.tuples(readings, st.lists(readings, max_size=3), readings), min_size=1, max_size=6)
data = st.integers(-900_000, 9_000_000).map(lambda count: count / 1000)
Setups = list[tuple[float, list[float], float]]


def line(taken: Setups, opening: float, closing: float | None = None) -> LevelBook:
    """A line of levels from M0, set-up by set-up, closing on a mark if its level is given."""
    rows: list[Row] = [("M0", taken[0][0], None, None, opening)]
    for number, (_, passing, fore) in enumerate(taken, 1):
        rows += [(f"P{number}.{place}", None, reading, None) for place, reading in enumerate(passing)]
        back = taken[number][0] if number < len(taken) else None
        rows.append((f"M{number}", back, None, fore, closing if number == len(taken) else None))
    return booked(*rows)


@given(setups, data)
def test_both_methods_agree_and_every_sum_checks(taken: Setups, opening: float) -> None:
    reduced = reduce_book(line(taken, opening))
    assert largest_difference(reduced) <= 1e-12 * max(1.0, abs(opening))
    assert all(check.holds for check in reduced.checks)


@given(setups)
def test_there_and_back_rises_what_it_falls(taken: Setups) -> None:
    """The same readings walked the other way: fore sights become back sights."""
    there = reduce_book(line(taken, 100.0))
    back = reduce_book(line([(fore, passing[::-1], first) for first, passing, fore in taken[::-1]], 100.0))
    assert there.levels[-1] - 100.0 == pytest.approx(100.0 - back.levels[-1], abs=1e-9)


@given(setups, data)
def test_another_datum_moves_every_level_alike(taken: Setups, opening: float) -> None:
    one, other = reduce_book(line(taken, 0.0)), reduce_book(line(taken, opening))
    assert other.adjusted - one.adjusted == pytest.approx(np.full(len(one.adjusted), opening), abs=1e-7)
    assert np.array_equal(one.sigmas, other.sigmas)


@given(setups, st.floats(-5, 5))
def test_what_is_shared_out_closes_to_nothing(taken: Setups, closing: float) -> None:
    reduced = reduce_book(line(taken, 100.0, 100.0 + closing), WIDE)
    assert reduced.adjusted[-1] == pytest.approx(100.0 + closing, abs=1e-9)
    assert reduced.adjusted[0] == 100.0
    steps = np.diff((reduced.adjusted - reduced.levels)[[kind == "fore" for kind in reduced.book.kinds]])
    assert steps == pytest.approx(np.full(len(steps), steps.mean() if len(steps) else 0), abs=1e-9)


@given(setups)
def test_fore_sight_and_next_back_sight_stand_on_one_level(taken: Setups) -> None:
    reduced = reduce_book(line(taken, 100.0, 99.0), WIDE)
    for place, kind in enumerate(reduced.book.kinds[1:], 1):
        if kind == "back":
            assert reduced.adjusted[place] == pytest.approx(reduced.adjusted[place - 1], abs=1e-12)
            assert reduced.sigmas[place] == pytest.approx(reduced.sigmas[place - 1], abs=1e-12)


@given(setups, st.booleans())
def test_uncertainty_is_what_every_reading_adds(taken: Setups, closed: bool) -> None:
    """Variances by differences: move each reading in turn, and add up the squares of what that does to each level."""
    book = line(taken, 100.0, 99.0 if closed else None)
    before, variances = reduce_book(book, WIDE), np.zeros(len(book.readings))
    for place in range(len(book.readings)):
        moved = dataclasses.replace(book, readings=book.readings + 0.001 * (np.arange(len(book.readings)) == place))
        variances += (reduce_book(moved, WIDE).adjusted - before.adjusted) ** 2
    sigmas = reduce_book(book, WIDE, reading_sigma=0.001).sigmas
    assert sigmas == pytest.approx(np.sqrt(variances), abs=1e-9)


def test_marks_on_the_way_cut_the_line() -> None:
    """Each stretch is closed by itself: 3 mm here, minus 2 mm there, the tail open."""
    book = booked(
        ("BM1", 1.500, None, None, 100.0),
        ("BM2", 1.200, None, 1.000, 100.497),
        ("CP", 1.100, None, 1.300),
        ("BM3", 1.400, None, 1.250, 100.249),
        ("A", None, None, 1.150),
    )
    reduced = reduce_book(book)
    assert [one.standing for one in reduced.lines] == ["closed", "closed", "open"]
    assert [one.misclosure for one in reduced.lines[:2]] == pytest.approx([0.003, -0.002])
    assert levels_by_point(reduced) == pytest.approx(
        {"BM1": 100.0, "BM2": 100.497, "CP": 100.398, "BM3": 100.249, "A": 100.499}
    )
    assert [finding.code for finding in level_findings(reduced)] == ["levels-unchecked"]


def test_a_point_shot_twice() -> None:
    """14 mm apart, more than one set-up may miss by: the mean is kept and said."""
    book = booked(
        ("BM", 1.500, None, None, 100.0),
        ("A", None, 1.200, None),
        ("CP", 1.400, None, 1.300),
        ("A", None, 1.314, None),
        ("BM", None, None, 1.600),
    )
    reduced = reduce_book(book)
    one = next(one for one in point_levels(reduced) if one.point == "A")
    assert (one.level, one.spread, one.shots) == (pytest.approx(100.293), pytest.approx(0.014), 2)
    assert [finding.code for finding in level_findings(reduced)] == ["levels-differ"]


def test_tolerance_by_length() -> None:
    """Four sights of 25 m: 10 sqrt 0.1 = 3.2 mm, and 4 mm are refused; by two set-ups 7.1 mm are allowed."""
    rows = (
        ("BM", 1.500, None, None, 100.0, 25, None),
        ("CP", 1.400, None, 1.300, None, 25, 25),
        ("BM", None, None, 1.604, None, None, 25),
    )
    by_length = reduce_book(booked(*rows), Tolerance(basis="length", amount=0.010 / 1000**0.5))
    assert by_length.lines[0].length == 100
    assert by_length.lines[0].allowed == pytest.approx(3.162e-3, abs=1e-6)
    assert by_length.refused
    assert not reduce_book(booked(*rows)).refused


def test_tolerance_by_length_needs_lengths() -> None:
    with pytest.raises(JobError, match="lengths"):
        reduce_book(line([(1.0, [], 1.0)], 100.0), Tolerance(basis="length", amount=1e-3))
