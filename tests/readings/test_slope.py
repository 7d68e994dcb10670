"""Level books, shots and lips as typed on the slope, against published books, the reader of files, and laws."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.compose import Design
from beckwright.readings import as_built
from beckwright.readings.against import against, drawn_level
from beckwright.readings.lip_check import lip_check
from beckwright.readings.notebook import Notebook, notebook
from beckwright.readings.rows import Row, standing
from beckwright.readings.staff import set_ups, shots_of, staff_shots
from tests.readings.test_typed import sent
from tests.sources.test_levelling_form import INVERTED, INVERTED_LEVELS
from tests.sources.test_nptel_levelling import BACKS, FORES, LEVELS

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


def rows(*contents: dict[str, Any]) -> tuple[Row, ...]:
    return standing([sent(f"row-{place}", place, **content) for place, content in enumerate(contents)], [])


def book(*rows_of_it: tuple[str, str, str, str], hung: frozenset[int] = frozenset()) -> Notebook:
    contents = (
        {"sight": sight, "point": point, "typed": typed, "level": level, "hung": place in hung}
        for place, (sight, point, typed, level) in enumerate(rows_of_it)
    )
    return notebook(rows(*contents), datum=150.0)


def nptel(count: int = 16) -> list[tuple[str, str, str, str]]:
    """Example 13-1 of the programme, row by row: eight set-ups from BM and back to it."""
    points = ["BM", *(f"TP{place}" for place in range(1, 8)), "BM"]
    every = []
    for place, (back, fore) in enumerate(zip(BACKS, FORES, strict=True)):
        every.append(("back", points[place], f"{back:.3f}", "150.485" if place == 0 else ""))
        every.append(("fore", points[place + 1], f"{fore:.3f}", ""))
    return every[:count]


@pytest.mark.parametrize("setups", range(1, 9))
def test_nptel_book_is_reduced_as_printed_after_each_row(setups: int) -> None:
    """National Programme on Technology Enhanced Learning, Modern Surveying Techniques, example 13-1."""
    held = book(*nptel(2 * setups))
    assert held.reduced is not None
    fores = np.array(held.reduced.book.kinds) == "fore"
    assert held.reduced.levels[fores] == pytest.approx(np.array(LEVELS[:setups]))
    assert held.reduced.levels_by_rise[fores] == pytest.approx(np.array(LEVELS[:setups]))
    assert (held.as_far, held.problems) == (2 * setups, ())


def test_nptel_book_misses_by_50_mm_where_14_are_allowed() -> None:
    held = book(*nptel())
    assert held.reduced is not None
    (line,) = held.reduced.lines
    assert line.misclosure == pytest.approx(0.050)
    assert line.allowed == pytest.approx(0.01414, abs=5e-6)
    assert line.standing == "refused"


def test_staff_on_its_head_as_the_question_page_has_it() -> None:
    """The book of question pages with two staffs inverted, no author: typed as read, and ticked as hung."""
    levels = {mark.point: f"{mark.level:.3f}" for mark in INVERTED.known}
    typed, hung = [], set()
    for place, (kind, point, reading) in enumerate(
        zip(INVERTED.kinds, INVERTED.points, INVERTED.readings, strict=True)
    ):
        typed.append((kind, point, f"{abs(reading):.3f}", levels.pop(point, "")))
        hung |= {place} if reading < 0 else set()
    assert len(hung) == 2
    held = book(*typed, hung=frozenset(hung))
    assert held.reduced is not None
    reached = np.array(held.reduced.book.kinds) != "back"
    assert held.reduced.levels[reached] == pytest.approx(np.array(INVERTED_LEVELS))


def test_a_last_back_sight_waits() -> None:
    held = book(*nptel(3))
    assert (held.waits, held.as_far, held.problems) == (True, 2, ())


def test_a_number_that_is_none_stops_the_book_there_and_is_asked_about() -> None:
    typed = nptel()
    typed[5] = ("fore", "TP3", "26.15", "")
    held = book(*typed)
    assert held.as_far == 4
    assert [place for place, each in enumerate(held.rows) if each.asked] == [5]
    assert len(held.rows) == 16


def test_a_row_out_of_order_is_told_by_its_number() -> None:
    held = book(*nptel(4), ("intermediate", "X", "1.000", ""))
    assert [problem.place for problem in held.problems] == ["row 5"]
    assert held.as_far == 4


def test_a_book_without_a_level_says_so_at_once() -> None:
    assert [problem.place for problem in book(("back", "BM", "1.205", "")).problems] == ["row 1"]


def staffs(hazel: Design, *contents: dict[str, Any], level: str = "101.950", typed: str = "1.000") -> Any:
    ups = set_ups(standing([sent("up", -1, mark="P1", level=level, typed=typed)], []), hazel.job.datum.level)
    return staff_shots(rows(*({"given": "staff", "set_up": "up", **content} for content in contents)), ups, hazel)


def test_a_shot_is_the_line_of_sight_less_the_staff(hazel: Design) -> None:
    """Hand calculation: 101.950 + 1.000 = 102.950; 102.950 - 1.800 = 101.150."""
    (shot,) = staffs(hazel, {"place": "lip 1", "side": "left", "typed": "1.800"})
    assert shot.level == pytest.approx(101.150)


def test_shots_are_held_as_a_file_of_them_would_be(hazel: Design) -> None:
    """Two ways to one thing: typed one by one, and as rows of ``as_built.csv``."""
    typed = staffs(
        hazel,
        *(
            {"place": place, "side": side, "given": "level", "typed": f"{at:.3f}"}
            for place, side, at in (("7.0", "left", 101.0), ("7.0", "right", 101.015), ("7.0", "middle", 100.812),
                                    ("7.0", "dig", 100.66), ("lip 2", "left", 100.648), ("lip 2", "right", 100.651))
        ),
    )  # fmt: skip
    found = against(hazel, typed)
    built = as_built(hazel, shots_of(typed))
    offs = {off.what: off for off in (*built.edges, *built.others)}
    assert len(offs) == 4
    for held in found.held[:4]:
        assert held.off == pytest.approx(offs[held.what].off)
        assert held.allowed == offs[held.what].allowed
        assert held.freeboard == pytest.approx(offs[held.what].freeboard)
    assert found.built.lips[0].tilt == pytest.approx(0.003)


def test_built_as_drawn_nothing_is_to_be_done(hazel: Design) -> None:
    sides = [
        {"place": "6.0", "side": side, "given": "level", "typed": "100"} for side in ("left", "middle", "right", "dig")
    ]
    drawn = [drawn_level(hazel, each) for each in staffs(hazel, *sides)]
    found = against(
        hazel,
        staffs(hazel, *({**side, "typed": f"{at:.5f}"} for side, at in zip(sides, drawn, strict=True))),
        settled=True,
    )
    assert [held.to_do for held in found.held] == [False] * 4
    assert all(abs(held.off or 0.0) < 1e-5 for held in found.held)


def test_a_gross_shot_counts_only_once_it_is_said_to_be_right(hazel: Design) -> None:
    shot = {"place": "7.0", "side": "left", "given": "level", "typed": "102.0"}
    (held,) = against(hazel, staffs(hazel, shot)).held
    assert held.asked
    assert not held.counted
    (said,) = staffs(hazel, shot)
    agreed = replace(said, row=replace(said.row, agreed=True))
    (held,) = against(hazel, (agreed,)).held
    assert held.counted
    assert not held.asked


def test_the_later_shot_of_a_spot_stands_and_the_first_is_told(hazel: Design) -> None:
    here = {"place": "7.0", "side": "left", "given": "level"}
    first, second = against(hazel, staffs(hazel, {**here, "typed": "101.000"}, {**here, "typed": "101.012"})).held
    assert (first.counted, second.counted) == (False, True)
    assert second.before == (pytest.approx(0.012), pytest.approx(101.0))


def test_lips_that_cannot_run_are_told_and_the_edges_still_held(hazel: Design) -> None:
    """Lip 2 shot 5 mm over lip 1, and said to be right: water does not climb."""
    high = {"place": "lip 2", "side": "left", "given": "level", "typed": f"{hazel.water.lips[1].crest + 0.005:.3f}"}
    (lip, edge) = staffs(hazel, high, {"place": "7.0", "side": "left", "given": "level", "typed": "101.0"})
    found = against(hazel, (replace(lip, row=replace(lip.row, agreed=True)), edge))
    assert found.problems
    assert len(found.held[1].freeboard) == len(found.built.flows)


@pytest.mark.parametrize("place", ["99", "lip 9", "-1", "here"])
def test_a_place_that_is_none_is_asked_about(hazel: Design, place: str) -> None:
    (held,) = against(hazel, staffs(hazel, {"place": place, "side": "left", "typed": "1.8"})).held
    assert "no place" in held.asked[0]
    assert held.off is None


def test_a_staff_reading_without_a_set_up_is_asked_about(hazel: Design) -> None:
    (held,) = against(hazel, staffs(hazel, {"place": "7.0", "side": "left", "typed": "1.8", "set_up": "gone"})).held
    assert held.asked
    assert held.off is None


def check(hazel: Design, left: str, middle: str, right: str, given: str = "staff") -> Any:
    (row,) = rows({"lip": "lip 2", "given": given, "left": left, "middle": middle, "right": right})
    return lip_check(row, hazel)


def test_less_on_the_staff_is_higher_and_the_other_end_is_shimmed(hazel: Design) -> None:
    """Hand calculation: 1.302 left and 1.297 right: the right end is 5 mm high, so the left is shimmed 5 mm."""
    found = check(hazel, "1.302", "1.300", "1.297")
    assert found.tilt == pytest.approx(0.005)
    assert (found.shimmed, found.shim) == ("left", pytest.approx(0.005))
    assert found.bow == pytest.approx(-0.0005)
    assert check(hazel, "100.648", "", "100.653", "level").tilt == pytest.approx(0.005)


def test_the_low_side_carries_more_and_the_less_the_flow_the_more_so(hazel: Design) -> None:
    low, high = check(hazel, "1.302", "1.300", "1.297").share_left
    assert (low > 0.5).all()
    assert (low <= high).all()
    assert (np.diff(low) < 0).all()
    mirrored = check(hazel, "1.297", "1.300", "1.302").share_left
    assert mirrored[1] == pytest.approx(1 - low)


def test_a_level_lip_shares_in_halves_within_what_a_staff_can_tell(hazel: Design) -> None:
    found = check(hazel, "1.300", "1.300", "1.300")
    assert found.shimmed == ""
    low, high = found.share_left
    assert low + high == pytest.approx(1.0)
    assert (low < 0.5).all()


def test_a_lip_with_one_end_read_is_asked_about(hazel: Design) -> None:
    assert check(hazel, "1.300", "", "").asked
    assert check(hazel, "13.00", "", "1.300").asked
