"""A blunder planted in a book that closes is named, with the row and what it was before."""

import dataclasses

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from beckwright.survey import LevelBook, level_findings, reduce_book
from beckwright.survey.blunders import Slip, Suspect
from beckwright.survey.reduction import Line
from tests.survey.test_reduction import Setups, line

upright = st.integers(100, 3900).map(lambda count: count / 1000)
setups = st.lists(st.tuples(upright, st.lists(upright, min_size=1, max_size=2), upright), min_size=2, max_size=5)
noises = st.integers(-4, 4).map(lambda count: count / 1000)


def closing(taken: Setups, noise: float) -> LevelBook:
    """A book that closes on a known mark but for ``noise``."""
    return line(taken, 100.0, round(100.0 + sum(back - fore for back, _, fore in taken) - noise, 3))


def altered(book: LevelBook, changed: dict[int, float]) -> LevelBook:
    readings = book.readings.copy()
    readings[list(changed)] = list(changed.values())
    return dataclasses.replace(book, readings=readings)


def refused(book: LevelBook) -> Line:
    (one,) = reduce_book(book).lines
    assume(one.standing == "refused")
    return one


def named(found: Line, slip: Slip, book: LevelBook, truth: dict[int, float]) -> list[Suspect]:
    """The suspects of a kind whose mends are the truth."""
    wanted = sorted((book.lines[place], book.points[place], reading) for place, reading in truth.items())
    return [
        one
        for one in found.suspects
        if one.slip == slip
        and [(mend.line, mend.point) for mend in sorted(one.mends, key=lambda mend: (mend.line, mend.point))]
        == [(number, point) for number, point, _ in wanted]
        and sorted(mend.mended for mend in one.mends) == pytest.approx(sorted(truth.values()))
    ]


def of_kind(book: LevelBook, *kinds: str) -> list[int]:
    return [place for place, kind in enumerate(book.kinds) if kind in kinds]


def check(book: LevelBook, slip: Slip, wrong: dict[int, float], noise: float) -> None:
    """The planted slip is named, and mending it leaves no more than the noise that was there before."""
    found = refused(altered(book, wrong))
    assume(abs(found.misclosure or 0) > 2 * found.allowed)
    suspects = named(found, slip, book, {place: float(book.readings[place]) for place in wrong})
    assert [one.left for one in suspects] == [pytest.approx(noise, abs=1e-9)]


@pytest.mark.parametrize(("slip", "step"), [("metre", 1.0), ("decimetre", 0.1)])
@given(setups, st.data(), noises)
def test_misread(slip: Slip, step: float, taken: Setups, draw: st.DataObject, noise: float) -> None:
    book = closing(taken, noise)
    place = draw.draw(st.sampled_from(of_kind(book, "back", "fore")))
    check(book, slip, {place: float(book.readings[place]) + step}, noise)


@given(setups, st.data(), noises)
def test_two_digits_swapped(taken: Setups, draw: st.DataObject, noise: float) -> None:
    book = closing(taken, noise)
    place, at = draw.draw(st.sampled_from(of_kind(book, "back", "fore"))), draw.draw(st.integers(0, 2))
    digits = list(f"{round(book.readings[place] * 1000):04d}")
    digits[at], digits[at + 1] = digits[at + 1], digits[at]
    check(book, "digits", {place: int("".join(digits)) / 1000}, noise)


@given(setups, st.data(), noises)
def test_staff_on_its_head(taken: Setups, draw: st.DataObject, noise: float) -> None:
    book = closing(taken, noise)
    place = draw.draw(st.sampled_from(of_kind(book, "back", "fore")))
    check(book, "upside down", {place: 4.0 - float(book.readings[place])}, noise)


@given(setups, st.data(), noises)
def test_sights_booked_for_each_other(taken: Setups, draw: st.DataObject, noise: float) -> None:
    """Of one set-up, or of one change point."""
    book = closing(taken, noise)
    sights = of_kind(book, "back", "fore")
    place = draw.draw(st.integers(0, len(sights) - 2))
    one, other = sights[place], sights[place + 1]
    check(book, "sights", {one: float(book.readings[other]), other: float(book.readings[one])}, noise)


@given(setups, st.data(), noises)
def test_reading_in_the_wrong_place(taken: Setups, draw: st.DataObject, noise: float) -> None:
    book = closing(taken, noise)
    passing = draw.draw(st.sampled_from(of_kind(book, "intermediate")))
    fore = next(place for place in of_kind(book, "fore") if place > passing)
    check(book, "column", {passing: float(book.readings[fore]), fore: float(book.readings[passing])}, noise)


@given(setups, noises, st.sampled_from([-1.0, -0.1, 0.1, 1.0]))
def test_known_level_copied_wrong(taken: Setups, noise: float, step: float) -> None:
    book = closing(taken, noise)
    mark = book.known[1]
    wrong = dataclasses.replace(book, known=(book.known[0], dataclasses.replace(mark, level=mark.level + step)))
    mended = [one.mends[0].mended for one in refused(wrong).suspects if one.slip == "known level"]
    assert any(level == pytest.approx(mark.level) for level in mended)


@given(setups, st.sampled_from([-4e-4, 4e-4]))
def test_level_out_of_adjustment(taken: Setups, tilt: float) -> None:
    """Back sights of 60 m and fore sights of 20 m by a line of sight that climbs 4 mm in 10 m."""
    book = closing(taken, 0.0)
    lengths = {"back": 60.0, "intermediate": 0.0, "fore": 20.0}
    sights = np.array([lengths[kind] for kind in book.kinds])
    found = refused(dataclasses.replace(book, readings=book.readings + tilt * sights, sights=sights))
    (uneven,) = [one for one in found.suspects if one.slip == "uneven sights"]
    assert uneven.tilt == pytest.approx(tilt)


def test_the_mend_is_told_in_words() -> None:
    """Set-ups of +0.500 and -0.300; the second back sight 1.354 for 1.345 leaves 9 mm, which one of 5 sqrt 2 misses."""
    book = closing([(1.512, [1.1], 1.012), (1.345, [1.2], 1.645)], 0.0)
    (finding,) = level_findings(reduce_book(altered(book, {3: 1.354})))
    assert "misses by 9.0 mm, and 7.1 mm are allowed" in finding.says
    assert "line 4 back sight on M1 1.345 for 1.354" in finding.says


def test_what_no_single_slip_explains() -> None:
    book = closing([(1.512, [], 1.012), (1.345, [], 1.645)], 0.0)
    (finding,) = level_findings(reduce_book(altered(book, {0: 1.549})))
    assert "No single slip explains it" in finding.says
