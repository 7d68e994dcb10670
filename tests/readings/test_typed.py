"""Numbers as typed on a slope: kept as they are, asked about where odd. Limits: common practice, no source."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.readings.rows import standing
from beckwright.readings.typed import level, number, staff_reading

NOON = datetime(2026, 9, 1, 12, tzinfo=UTC)


@dataclass
class Sent:
    """A reading as the keeper hands it out."""

    number: int
    seen: datetime
    kept: datetime
    content: dict[str, Any]


def sent(row: str, minutes: float = 0, late: float = 1, **content: Any) -> Sent:
    seen = NOON + timedelta(minutes=minutes)
    return Sent(number=1, seen=seen, kept=seen + timedelta(minutes=late), content={"row": row, **content})


@pytest.mark.parametrize("typed", ["1.205", " 1.205 ", "0", "4.999", ".5", "+1.2"])
def test_a_usual_reading_is_taken_without_a_question(typed: str) -> None:
    assert staff_reading(typed) == staff_reading(typed).__class__(text=typed, amount=float(typed))


@pytest.mark.parametrize(
    ("typed", "amount", "meant"),
    [
        ("14.2", None, "1.420"),
        ("1432", None, "1.432"),
        ("1,205", 1.205, ""),
        ("-1.385", -1.385, ""),
        ("7.5", 7.5, ""),
        ("1.2.3", None, ""),
        ("l.205", None, ""),
        ("nan", None, ""),
        ("1e9", None, ""),
        ("", None, ""),
        ("١.٢", None, ""),
    ],
)
def test_an_odd_one_is_asked_about_and_its_text_stays(typed: str, amount: float | None, meant: str) -> None:
    read = staff_reading(typed)
    assert (read.text, read.amount, read.meant) == (typed, amount, meant)
    assert read.asked


def test_a_staff_on_its_head_counts_below_zero() -> None:
    assert staff_reading("1.385", hung=True).amount == -1.385
    assert not staff_reading("1.385", hung=True).asked


def test_a_level_far_from_the_datum_is_asked_about() -> None:
    assert not level("101.950", 101.95).asked
    assert level("1019.50", 101.95).asked
    assert level("99999", 101.95).amount is None


@given(st.text(max_size=20))
def test_any_text_gives_a_number_or_a_question(text: str) -> None:
    read = staff_reading(text)
    assert read.text == text
    assert read.asked or read.amount is not None
    assert (number(text) is None) or abs(float(number(text) or 0)) < 1e7


def test_a_row_written_anew_takes_the_old_place_and_the_old_is_kept() -> None:
    rows = standing([sent("a", 0, typed="1"), sent("b", 1, typed="2"), sent("c", 9, typed="3", instead_of="a")], [])
    assert [(row.key, row.text("typed")) for row in rows] == [("c", "3"), ("b", "2")]
    assert [dict(each)["typed"] for each in rows[0].before] == ["1"]
    assert rows[0].keys == ("a", "c")


def test_a_word_holds_for_what_stood_there_when_it_was_said() -> None:
    kept = [sent("a", 0, typed="1"), sent("b", 9, typed="3", instead_of="a")]
    (row,) = standing(kept, [sent("a", 1, word="struck")])
    assert not row.struck
    (row,) = standing(kept, [sent("b", 10, word="struck")])
    assert row.struck


def test_a_time_going_backwards_is_asked_about_until_it_is_right() -> None:
    kept = [sent("a", 0), sent("b", 10), sent("c", 5, late=20)]
    assert [bool(row.asked) for row in standing(kept, [])] == [False, False, True]
    assert standing(kept, [sent("c", 11, word="right")])[2].agreed


def test_a_clock_ahead_of_the_laptop_is_asked_about() -> None:
    (row,) = standing([sent("a", 0, late=-10)], [])
    assert "ahead" in row.asked
