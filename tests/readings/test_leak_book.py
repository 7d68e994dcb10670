"""The record of a leak test: the job's table and rows typed beside the stream, one after the other, nothing dropped."""

import shutil
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak import LeakBook, LeakTest, Series, full_of, leak_book, leak_test, next_step, plain_sheet
from beckwright.readings.leak import read_leak_tests as read
from beckwright.readings.leak.sheet import RULE
from beckwright.readings.leak.state import State, condition_of, state_of

WITHY = Path(__file__).parents[2] / "examples" / "withy_lane"
NIGHT = datetime(2026, 9, 2, 23, 0, tzinfo=UTC)


@value
class Kept:
    """A row as the keeper hands it out."""

    number: int
    seen: datetime
    kept: datetime
    content: Mapping[str, Any]


@cache
def _designed() -> Design:
    return design(read_job(WITHY))


def typed(at: str, level: str, number: int, /, **more: Any) -> Kept:
    content = {"row": f"row-{number:04d}", "at": f"2026-09-02T{at}+01:00", "level": level, "from": "floor"}
    return Kept(number=number, seen=NIGHT, kept=NIGHT, content=content | {"pump": "off"} | more)


def said(number: int, word: str) -> Kept:
    return Kept(number=900 + number, seen=NIGHT, kept=NIGHT, content={"row": f"row-{number:04d}", "word": word})


def book(tmp_path: Path, *rows: Kept, words: tuple[Kept, ...] = ()) -> LeakBook:
    return leak_book(tmp_path / "leak_test.csv", rows, words, _designed())


def series_of(tmp_path: Path, text: str) -> tuple[tuple[Series, ...], LeakTest]:
    path = tmp_path / "record.csv"
    path.write_text(text)
    series, doubts, digest = read(
        path, flows=_designed().water.names, full=full_of(_designed()), length=_designed().course.length
    )
    return series, leak_test(_designed(), series, doubts, digest)


def even(*levels: float, first: int = 1, hour: int = 9, **more: Any) -> list[Kept]:
    return [typed(f"{hour + place:02d}:00", f"{each:g}", first + place, **more) for place, each in enumerate(levels)]


@pytest.mark.parametrize(
    "state", [State(flow="", below=0.0), State(flow="full", below=0.0), State(flow="low", below=4.25)]
)
def test_a_condition_is_read_back_as_it_was_meant(state: State) -> None:
    condition = condition_of(state.flow, state.below, "lip 1" if state.below else "")
    assert state_of(condition, ("low", "full"), 12.0, "here") == state


def test_the_file_of_the_job_is_the_record_to_the_byte(tmp_path: Path) -> None:
    shutil.copy(WITHY / "leak_test.csv", tmp_path)
    held = book(tmp_path)
    assert held.text.encode() == (WITHY / "leak_test.csv").read_bytes()
    assert sum(each.counts for each in held.entries) == 76
    assert held.lines[-2] == 2


def test_a_pan_of_minus_one_stays_one_when_the_table_is_written_anew(tmp_path: Path) -> None:
    head = "test,condition,time_h,reservoir_level_mm_above_floor,evaporation_mm_in_interval,water_temperature_c"
    (tmp_path / "leak_test.csv").write_text(f"{head}\nT1,pump off,0,400,,\nT1,pump off,1,399.8,-1,-5\n")
    held = book(tmp_path, *even(398.0))
    assert [(each.pan, each.warmth) for each in held.entries] == [(None, None), (-0.001, -5.0), (None, None)]
    _, _, *rows = held.text.splitlines()
    assert [row.split(",")[5:8] for row in rows] == [["", "0", ""], ["-1", "0", "-5"], ["", "0", ""]]


def test_a_row_struck_out_of_the_file_leaves_the_rest(tmp_path: Path) -> None:
    shutil.copy(WITHY / "leak_test.csv", tmp_path)
    word = book(tmp_path).entries[5].row.key
    struck = Kept(number=1, seen=NIGHT, kept=NIGHT, content={"row": word, "word": "struck"})
    held = book(tmp_path, words=(struck,))
    assert [each.row.struck for each in held.entries].count(True) == 1
    assert "416.7" not in held.text
    assert "416.7" in (tmp_path / "leak_test.csv").read_text()
    assert series_of(tmp_path, held.text)[1].measured[0].loss.count == 24


def test_a_row_of_the_file_written_anew_keeps_its_test(tmp_path: Path) -> None:
    shutil.copy(WITHY / "leak_test.csv", tmp_path)
    word = book(tmp_path).entries[5].row.key
    content = {"row": "row-0001", "instead_of": word, "at": "", "hours": "2,5", "level": "418.1", "from": "floor"}
    held = book(tmp_path, Kept(number=1, seen=NIGHT, kept=NIGHT, content=content))
    assert [(each.test, each.hours, each.level) for each in held.entries[5:6]] == [("T1", 2.5, 0.4181)]
    assert series_of(tmp_path, held.text)[0][0].levels[5] == pytest.approx(0.4181)


def test_tests_begin_where_something_else_goes_on(tmp_path: Path) -> None:
    rows = [*even(400, 399.8, 399.7), *even(330, 328, first=4, hour=12, pump="full")]
    rows += even(329, 328, first=6, hour=14, pump="full", comes_in="lip 1") + even(402, first=8, hour=16, begins=True)
    series, _ = series_of(tmp_path, book(tmp_path, *rows).text)
    told = [(each.name, each.flow, each.below, len(each.times)) for each in series]
    assert told == [("T1", "", 0.0, 3), ("T2", "full", 0.0, 2), ("T3", "full", 4.0, 2), ("T4", "", 0.0, 1)]
    assert series[0].times.tolist() == [0.0, 3600.0, 7200.0]


def test_names_go_on_after_those_of_the_file(tmp_path: Path) -> None:
    shutil.copy(WITHY / "leak_test.csv", tmp_path)
    series, _ = series_of(tmp_path, book(tmp_path, *even(400, 399.8)).text)
    assert [each.name for each in series] == ["T1", "T2", "T3", "T4", "T5"]


def test_what_was_written_out_is_not_taken_twice(tmp_path: Path) -> None:
    rows = even(400, 399.8, 399.7)
    first = book(tmp_path, *rows)
    (tmp_path / "leak_test.csv").write_text(first.text)
    again = book(tmp_path, *rows)
    assert (again.text, len(again.entries)) == (first.text, 3)
    (tmp_path / "leak_test.csv").write_text(first.text.replace("399.8", "389.8"))
    assert "389.8" in book(tmp_path, *rows).entries[1].asked[0]
    # The rows alone, where the folder was copied without what was typed: they are the file's.
    assert len(book(tmp_path).entries) == 3


@pytest.mark.parametrize(
    ("bad", "asks", "usable"),
    [
        ({"level": "34O"}, "Write digits", False),
        ({"level": "39.95"}, "Is it 399.5 mm, typed in cm?", True),
        ({"level": "0.3995"}, "Is it 399.5 mm, typed in m?", True),
        ({"level": "601"}, "overflow lies 560 mm", True),
        ({"level": "600", "from": "overflow"}, "below the floor", False),
        ({"level": "20", "from": "mark", "mark": ""}, "How far does it lie above the floor?", False),
        ({"at": "2026-09-02T09:20+01:00"}, "mistyped minute", True),
        ({"at": "2026-09-02T10:00+01:00"}, "mistyped minute", False),
        ({"at": "2026-09-03T10:30+01:00"}, "still to come", False),
        ({"at": "soon"}, "is no time", False),
        ({"pump": "fall"}, "none of the flows", False),
        ({"pump": "full", "comes_in": "lip 9"}, "no lip and no chainage", False),
        ({"pump": "full", "comes_in": "99"}, "Say where the water came in", False),
        ({"rain": "wet"}, "Rain", False),
        ({"rain": "900"}, "lies outside", False),
        ({"temperature": "70"}, "Water temperature", False),
    ],
)
def test_what_looks_wrong_is_asked_about_and_left_out(
    tmp_path: Path, bad: dict[str, str], asks: str, usable: bool
) -> None:
    rows = [*even(400, 399.8), typed("10:30", "399.6", 3, **bad), *even(399.5, first=4, hour=12)]
    held = book(tmp_path, *rows)
    (odd,) = held.left_out
    assert odd.row.number == 3
    assert asks in " ".join(odd.asked)
    assert odd.usable is usable
    assert "row-0003" not in held.text


def test_a_row_called_right_counts_and_is_sorted_by_its_clock(tmp_path: Path) -> None:
    rows = [*even(400, 399.8), typed("09:20", "399.9", 3)]
    held = book(tmp_path, *rows, words=(said(3, "right"),))
    assert held.left_out == ()
    assert series_of(tmp_path, held.text)[0][0].levels.tolist() == pytest.approx([0.4, 0.3999, 0.3998])


def test_levels_read_down_and_in_inches_are_the_same_levels(tmp_path: Path) -> None:
    """By hand: the overflow lies 560 mm above the floor; 15 3/4 in are 400.05 mm."""
    rows = [
        typed("09:00", "160", 1, **{"from": "overflow"}),
        typed("10:00", "43,2 cm", 2, **{"from": "mark", "mark": "832"}),
        typed("11:00", "15 3/4", 3, units="us"),
    ]
    held = book(tmp_path, *rows)
    assert [each.level for each in held.entries] == pytest.approx([0.4, 0.4, 0.40005])
    assert "typed 160 mm down from the overflow" in held.text


def test_the_clocks_going_back_make_no_hour(tmp_path: Path) -> None:
    rows = [
        typed("00:00", "400", 1, at="2025-10-26T01:30+01:00"),
        typed("00:00", "399", 2, at="2025-10-26T01:30+00:00"),
    ]
    assert series_of(tmp_path, book(tmp_path, *rows).text)[0][0].times.tolist() == [0.0, 3600.0]


def test_filling_up_is_given_back(tmp_path: Path) -> None:
    """By hand: 5 L into 0.63 m2 of stones with 0.40 voids raise it 19.84 mm; without them it stood still."""
    levels = [400.0, 400.0, 400.0, 419.84, 419.84, 419.84, 419.84]
    rows = [typed(f"{9 + n:02d}:00", f"{each:g}", n + 1, top_up="5" if n == 3 else "") for n, each in enumerate(levels)]
    _, found = series_of(tmp_path, book(tmp_path, *rows).text)
    assert found.measured[0].loss.rate[1] * 3.6e6 == pytest.approx(0.0, abs=1e-3)
    assert found.measured[0].added == pytest.approx(0.005)


def test_rain_up_to_the_overflow_is_asked_about(tmp_path: Path) -> None:
    rows = [*even(540, 540, 540), *even(559, 559, 559, first=4, hour=12, rain="2")]
    doubts = series_of(tmp_path, book(tmp_path, *rows).text)[1].doubts
    assert any("Did it run over?" in doubt.asks for doubt in doubts)


def test_the_sheet_holds_the_readings_unaltered_under_their_digest(tmp_path: Path) -> None:
    shutil.copy(WITHY / "leak_test.csv", tmp_path)
    held = book(tmp_path, typed("09:00", "34O", 1))
    found = series_of(tmp_path, held.text)[1]
    sheet = plain_sheet(_designed(), found, held)
    between = sheet.split(RULE + "\n")[1]
    assert sha256(between.encode()).hexdigest() == found.digest
    assert found.digest == sha256((WITHY / "leak_test.csv").read_bytes()).hexdigest()
    assert f"two rules: {found.digest}" in sheet
    assert "34O" in sheet.split("Not counted: ")[1]


def _leaking(rate: float, count: int = 25, **more: Any) -> list[dict[str, Any]]:
    """Levels that fall by ``rate`` L/h in 0.252 m2, a reading every 10 min, with a scatter of 0.3 mm."""
    falls = 400 - rate / 0.252 * np.arange(count) / 6 + np.random.default_rng(5).normal(0, 0.3, count)
    return [{"level": f"{each:.1f}", **more} for each in falls]


def _all(*tests: list[dict[str, Any]]) -> list[Kept]:
    rows = [row for test in tests for row in test]
    return [typed(f"{each // 6:02d}:{each % 6}0", "", each + 1, **row) for each, row in enumerate(rows)]


OFF, FULL, LOW = {"pump": "off"}, {"pump": "full"}, {"pump": "low"}


REST, MOST, LEAST = _leaking(0.0, **OFF), _leaking(3.0, **FULL), _leaking(1.0, **LOW)
BELOW_1, BELOW_2 = _leaking(3.0, **FULL, comes_in="lip 1"), _leaking(0.0, **FULL, comes_in="lip 2")


@pytest.mark.parametrize(
    ("tests", "begins", "goes_on"),
    [
        ([], "Turn the pump off", ""),
        ([REST[:4]], "Go on with T1", "T1"),
        ([REST], "Run the pump at full", ""),
        ([MOST], "Turn the pump off", ""),
        ([REST, _leaking(0.0, **FULL)], "No further test is wanted", ""),
        ([_leaking(2.0, **OFF), _leaking(2.0, **FULL)], "Look at the reservoir", ""),
        ([REST, MOST], "Run the pump at low", ""),
        ([REST, MOST, LEAST], "Lay the hose to just below lip 2", ""),
        ([REST, MOST, LEAST, BELOW_2], "Lay the hose to just below lip 1", ""),
        ([REST, MOST, LEAST, BELOW_1, BELOW_2], "Look along the edges and laps at 4.0 to 9.2 m while full runs", ""),
    ],
)
def test_the_next_step_halves_where_the_loss_can_be(
    tmp_path: Path, tests: list[list[dict[str, Any]]], begins: str, goes_on: str
) -> None:
    """Rest, most, least, then the lip that halves what is left: common practice of the trade, no source."""
    series: tuple[Series, ...] = ()
    found = LeakTest(measured=(), parts=(), doubts=(), digest="")
    if tests:
        series, found = series_of(tmp_path, book(tmp_path, *_all(*tests)).text)
    step = next_step(_designed(), found, series)
    assert step.do.startswith(begins)
    assert step.test == goes_on
    if goes_on:
        assert step.again == pytest.approx(600.0)
