"""Differences in words, worked by hand beside each; and the drawing of the revisions, checked place by place."""

from collections.abc import Sequence
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.site import Revision
from beckwright.web.versions.differences import Answer, difference, held_against
from beckwright.web.versions.tree import beside, lanes, ways


def answer(name: str, band: tuple[float, float, float], words: str, unit: str = "m", flow: str = "") -> Answer:
    low, amount, high = band
    told = {"name": name, "label": name, "low": low, "amount": amount, "high": high}
    return told | {"unit": unit, "grade": "published", "words": words, "flow": flow}


BY_HAND = [
    # 8 600 to 9 400 L/h, then 8 715 to 9 552: the ends rise by 115 and 152, outward to ten.
    ("supply.flow", 3.6e6, (8600, 9000, 9400), (8715, 9130, 9552), "110 to 160 L/h more"),
    # 99.213 m, then 99.198 m: only the low end is printed.
    ("reservoir.level.lowest", 1, (99.213, 99.3, 99.4), (99.198, 99.4, 99.5), "15 mm lower"),
    ("reservoir.level.running.full", 1, (99.198, 99.3, 99.4), (99.213, 99.4, 99.5), "15 mm higher"),
    # 100 to 200 L, then 90 to 230: one end falls by 10, the other rises by 30.
    ("stored.full.in_motion", 1000, (100, 150, 200), (90, 150, 230), "10 L less to 30 L more"),
    # 0.4 L down and 0.4 L up: under one either way.
    ("stored.full.in_motion", 1000, (100, 150, 200), (99.6, 150, 200.4), "under 1 L either way"),
    # 60 mm left, then 45.
    ("freeboard.full.left", 1000, (60, 60, 60), (45, 45, 45), "15 mm less"),
    # 0.4 mm is told as under one, never as nothing.
    ("freeboard.full.left", 1000, (60.3, 60.3, 60.3), (60.7, 60.7, 60.7), "under 1 mm more"),
    # 0.16 to 0.57 of all water, then 0.21 to 0.60: 5 and 3 of 100.
    ("water.full.run_1.shown", 1, (0.16, 0.40, 0.57), (0.21, 0.44, 0.60), "3 to 5 of 100 parts more"),
    # 20 crates, then 24.
    ("crates.count", 1, (20, 20, 20), (24, 24, 24), "4 more"),
    # 2 700 to 2 750 L: fifty litres more at both ends.
    ("reservoir.useful", 1000, (2700, 2700, 2700), (2750, 2750, 2750), "50 L more"),
]


@pytest.mark.parametrize(("name", "scale", "old", "new", "told"), BY_HAND)
def test_a_difference_as_worked_by_hand(
    name: str, scale: float, old: tuple[float, ...], new: tuple[float, ...], told: str
) -> None:
    was, now = (
        answer(name, (side[0] / scale, side[1] / scale, side[2] / scale), words)
        for side, words in ((old, "as it was"), (new, "as it is"))
    )
    assert difference(was, now) == told
    assert difference(now, was) == swapped(told)


def swapped(told: str) -> str:
    """What is more one way is less the other; both at once change places."""
    if " to " in told and "less" in told and "more" in told:
        less, more = told.split(" less to ")
        return f"{more.removesuffix(' more')} less to {less} more"
    for one, other in (("more", "less"), ("less", "more"), ("higher", "lower"), ("lower", "higher")):
        if told.endswith(one):
            return told.removesuffix(one) + other
    return told


def test_money_keeps_its_currency() -> None:
    was = answer("money.p50", (15400.0, 15400.0, 15400.0), "15 400 GBP", "currency")
    now = answer("money.p50", (17000.0, 17000.0, 17000.0), "17 000 GBP", "currency")
    assert difference(was, now).replace("\u2009", " ") == "1 600 GBP more"


def test_an_answer_without_limit_has_no_difference() -> None:
    was, now = (answer("season.reserve", (1.0, 2.0, 3.0), words, "s") for words in ("a", "b"))
    assert difference(was, now | {"high": None}) == ""


def test_the_least_freeboard_is_one_question_wherever_it_lies() -> None:
    was = answer("freeboard.full.left", (0.060, 0.060, 0.060), "60 mm", flow="full")
    now = answer("freeboard.full.right", (0.045, 0.045, 0.045), "45 mm", flow="full")
    (pair,) = held_against([was], [now])
    assert (pair["before"], pair["after"], pair["difference"]) == ("60 mm", "45 mm", "15 mm less")
    assert pair["label_before"] == "freeboard.full.left"


def test_what_one_side_alone_can_tell_stands_alone() -> None:
    was = answer("supply.full.watts", (200.0, 200.0, 200.0), "200 W", "W", "full")
    (pair,) = held_against([was], [])
    assert (pair["before"], pair["after"], pair["difference"], pair["differs"]) == ("200 W", None, "", True)


def revision(number: int, parent: int | None, onward: int | None = None, name: str = "") -> Revision:
    kept = datetime(2026, 5, 1, tzinfo=UTC)
    return Revision(number=number, parent=parent, onward=onward, kept=kept, why="", name=name, origin="saved")


@st.composite
def trees(draw: st.DrawFn) -> tuple[Sequence[Revision], int]:
    """Any way revisions can follow: each made from one before it."""
    count = draw(st.integers(1, 25))
    parents = [None, *(draw(st.integers(1, number - 1)) for number in range(2, count + 1))]
    made = [revision(number, parent) for number, parent in enumerate(parents, 1)]
    return made, draw(st.integers(1, count))


@given(trees())
def test_no_line_of_the_drawing_lies_over_another(tree: tuple[Sequence[Revision], int]) -> None:
    revisions, stands = tree
    lane = lanes(revisions, stands)
    taken: set[tuple[int, int]] = set()
    for each in revisions:
        cells = {(lane[each.number], each.number)}
        if each.parent is not None:
            cells |= {(lane[each.number], column) for column in range(each.parent + 1, each.number)}
        assert not cells & taken
        taken |= cells


@given(trees())
def test_the_line_that_stands_lies_on_top_and_only_it(tree: tuple[Sequence[Revision], int]) -> None:
    revisions, stands = tree
    parents = {each.number: each.parent for each in revisions}
    line, at = {stands}, parents[stands]
    while at is not None:
        line.add(at)
        at = parents[at]
    assert {number for number, lane in lanes(revisions, stands).items() if lane == 0} == line
    found = ways(revisions, stands)
    assert {number for number, way in found.items() if way in ("stands", "before")} == line
    assert found[stands] == "stands"


def test_one_text_alone_is_held_against_itself() -> None:
    assert beside([revision(1, None)], 1) == (1, 1)
    assert beside([revision(1, None, onward=2), revision(2, 1)], 1) == (2, 1)
