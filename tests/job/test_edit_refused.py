"""Edits that cannot be made: each refused with place, what was found, the rule and the remedy, and nothing changed."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.errors import JobError
from beckwright.job.edit import MovePoint, edit, read_edit
from beckwright.job.read import read_job_text
from beckwright.job.written import Written

FOLDER = Path(__file__).parents[2] / "examples" / "hazel_bank"
HAZEL = (FOLDER / "job.toml").read_text(encoding="utf-8")

UNREADABLE: list[tuple[object, str]] = [
    ([], "edit: the edit is an empty list"),
    ({}, "edit do: do is missing"),
    ({"do": "mve point"}, 'Did you mean "move point"'),
    ({"do": 3}, "edit do: do is 3"),
    ({"do": "move point", "point": 1, "x_m": 2.0}, 'edit "move point" y_m: y_m is missing'),
    ({"do": "move point", "point": 1, "x_m": "2", "y_m": 1}, "It must be a number. Write x_m: easting, in m"),
    ({"do": "move point", "point": 1, "x_m": float("nan"), "y_m": 1}, "finite"),
    ({"do": "move point", "point": 1, "x_m": 1e9, "y_m": 1}, "at most 10000000 m"),
    ({"do": "move point", "point": 1.0, "x_m": 1, "y_m": 1}, "whole number"),
    ({"do": "move point", "point": True, "x_m": 1, "y_m": 1}, "whole number"),
    ({"do": "move point", "point": -1, "x_m": 1, "y_m": 1}, "at least 0"),
    ({"do": "take point", "pont": 1}, "Did you mean point"),
    ({"do": "set flow", "name": "full", "l_h": 0}, "at least 1 l/h"),
    ({"do": "add reach", "after": 0, "reach": {"kind": "weir"}}, 'A reach is a "run", a "step" or a "pool"'),
    ({"do": "add reach", "after": 0, "reach": {"kind": "step", "drop_mm": 5, "lip_width_mm": 500, "lip": "boulders"}},
     "drop_mm is 5 mm"),
    ({"do": "change reach", "reach": 0, "keys": {}}, "at least 1"),
]  # fmt: skip


@pytest.mark.parametrize(("told", "says"), UNREADABLE, ids=str)
def test_an_edit_that_cannot_be_read(told: object, says: str) -> None:
    with pytest.raises(JobError) as refused:
        read_edit(told)
    assert says in str(refused.value)
    assert all(problem.place.startswith("edit") for problem in refused.value.problems)


def test_a_whole_number_may_stand_for_a_decimal() -> None:
    assert read_edit({"do": "move point", "point": 3, "x_m": 1, "y_m": 2}) == MovePoint(point=3, x_m=1.0, y_m=2.0)


IMPOSSIBLE: list[tuple[dict[str, Any], str]] = [
    ({"do": "move point", "point": 13, "x_m": 1, "y_m": 1}, "there is no point 13. There are 13, counted from 0"),
    ({"do": "add point", "after": 13, "x_m": 1, "y_m": 1}, "there is no point 13"),
    ({"do": "slide reach", "reach": 9, "by_m": 0.1}, "the end of run 4 has no run or pool below it"),
    ({"do": "slide reach", "reach": 10, "by_m": 0.1}, "there is no reach 10"),
    ({"do": "slide reach", "reach": 0, "by_m": 3.95}, "run 2 would be 0.05 m long. A reach is at least 0.1 m long"),
    ({"do": "set level", "lip": "lip 4", "level_m": 100.0}, '"lip 4". Known are source, lip 1, lip 2, lip 3'),
    ({"do": "set level", "lip": "lip 2", "level_m": 100.95}, "run 2 would rise by 40 mm"),
    ({"do": "set level", "lip": "lip 2", "level_m": 100.44}, "drop_mm is 10 mm. It must be at least 20 mm"),
    ({"do": "set lower end", "level_m": 100.04}, "run 4 would rise by 10 mm. Water runs down. Leave 10 mm more for it"),
    ({"do": "add hose point", "after": 13, "x_m": 1, "y_m": 1}, "there is no point 13. There are 13, counted from 0"),
    ({"do": "take hose point", "point": 13}, "hose.line_m: there is no point 13"),
    ({"do": "begin hose line"}, "the hose has a line of 13 points. A line is begun where there is none"),
    ({"do": "set value", "key": "reservoir.voids", "value": 2}, "voids is 2. It must be at most 1"),
    ({"do": "set value", "key": "reservoir.voids", "value": "much"}, "It must be a number"),
    ({"do": "set value", "key": "reservoir.voids", "value": None}, "voids is missing"),
    ({"do": "set value", "key": "reservoir.viods", "value": 0.5}, "Did you mean voids"),
    ({"do": "set value", "key": "nothing", "value": 0.5}, "nothing is not a key of this section"),
    ({"do": "set value", "key": "reservoir", "value": 0.5}, "the key names a section"),
    ({"do": "set value", "key": "reservoir.voids.more", "value": 0.5}, "A value has no keys inside it"),
    ({"do": "set value", "key": "trees.4.x_m", "value": 0.5}, 'there is no "4" in this list. There are 3'),
    ({"do": "set value", "key": "trees.0.x_m", "value": 0.5}, 'there is no "0" in this list'),
    ({"do": "set value", "key": "trees.x.x_m", "value": 0.5}, 'there is no "x" in this list'),
    ({"do": "set value", "key": "course.reaches.2", "value": None}, "Use take reach"),
    ({"do": "set value", "key": "job.title", "value": "a\nb"}, "cannot be printed"),
    ({"do": "set value", "key": "job.date", "value": "soon"}, "It must be a date"),
    ({"do": "take reach", "reach": 10}, "there is no reach 10"),
    ({"do": "change reach", "reach": 1, "keys": {"kind": "pool"}}, "Take lip 1 out and add another"),
    ({"do": "change reach", "reach": 1, "keys": {"width_mm": 500}}, "width_mm is not a key of this section"),
    ({"do": "add reach", "after": 10, "reach": {"kind": "pool", "length_m": 1, "width_mm": 500, "depth_mm": 200}},
     "there is no reach 10"),
    ({"do": "add reach", "after": 0, "reach": {"kind": "pool", "length_m": 9, "width_mm": 500, "depth_mm": 200}},
     "run 1 would be -4.50 m long"),
    ({"do": "add row", "key": "course.reaches", "row": {"kind": "pool"}}, "Use add reach"),
    ({"do": "add row", "key": "trees", "row": {"name": "T9"}}, "x_m is missing"),
    ({"do": "add row", "key": "reservoir", "row": {"name": "T9"}}, "the key names no list"),
    ({"do": "add row", "key": "job.doubts", "row": {"name": "T9"}}, "It must be a text in quotes"),
]  # fmt: skip


@pytest.mark.parametrize(("told", "says"), IMPOSSIBLE, ids=str)
def test_an_edit_that_cannot_be_made(told: dict[str, Any], says: str) -> None:
    with pytest.raises(JobError) as refused:
        edit(HAZEL, read_edit(told))
    assert says in str(refused.value)


AT = {"x_m": 1, "y_m": 1}


@pytest.mark.parametrize(
    "told",
    [
        {"do": "move hose point", "point": 0, **AT},
        {"do": "add hose point", "after": -1, **AT},
        {"do": "take hose point", "point": 0},
    ],
    ids=lambda told: str(told["do"]),
)
def test_without_a_hose_line_it_has_no_points(told: dict[str, Any]) -> None:
    text = (FOLDER.parent / "withy_lane" / "job.toml").read_text(encoding="utf-8")
    with pytest.raises(JobError, match=r"hose.line_m: the hose has no line\. .* Begin its line first, straight"):
        edit(text, read_edit(told))


@pytest.mark.parametrize("point", [0, 1])
def test_a_hose_keeps_two_points(point: int) -> None:
    text = (FOLDER.parent / "larkspur_court" / "job.toml").read_text(encoding="utf-8")
    for _ in range(2):
        text = edit(text, read_edit({"do": "take hose point", "point": 1}))
    assert tomllib.loads(text)["hose"]["line_m"] == [[0.6, 0.0], [6.9, 0.0]]
    with pytest.raises(JobError, match=r"has 2 points\. A line has at least 2\. Move the point instead"):
        edit(text, read_edit({"do": "take hose point", "point": point}))


def test_a_hose_shorter_than_the_way_begins_no_line() -> None:
    """Withy Lane, by hand: 14.00 m east and 1.25 m north are 14.056 m."""
    text = (FOLDER.parent / "withy_lane" / "job.toml").read_text(encoding="utf-8")
    with pytest.raises(JobError, match=r"14.00 m long, and straight .* 14.06 m\. .* Write 14.06 m or more"):
        edit(text.replace("length_m = 17.0", "length_m = 14.0"), read_edit({"do": "begin hose line"}))


def test_the_last_run_stays() -> None:
    head, rest = HAZEL.split("[[course.reaches]]", 1)
    run, tail = rest.split("[[course.reaches]]", 1)[0], rest.split("[beds.pebbles]", 1)[1]
    text = f"{head}[[course.reaches]]{run}[beds.pebbles]{tail}"
    with pytest.raises(JobError, match="no other run is left"):
        edit(text, read_edit({"do": "take reach", "reach": 0}))


def test_a_fault_elsewhere_is_no_bar_and_an_edit_can_mend_it() -> None:
    text = HAZEL.replace("voids = 0.95", "voids = 2.0")
    moved = edit(text, read_edit({"do": "move point", "point": 3, "x_m": 9.5, "y_m": 6.6}))
    with pytest.raises(JobError, match="voids is 2"):
        read_job_text(moved, FOLDER)
    read_job_text(edit(moved, read_edit({"do": "set value", "key": "reservoir.voids", "value": 0.95})), FOLDER)


def test_a_course_that_cannot_be_read_is_told_with_its_line() -> None:
    text = HAZEL.replace("side_slope = 0.5", 'side_slope = "steep"')
    with pytest.raises(JobError, match=r"job.toml line \d+ course.side_slope: side_slope is .*steep"):
        edit(text, read_edit({"do": "take point", "point": 3}))


@pytest.mark.parametrize(
    "text",
    ["[course\n", "a = " + "[" * 5000, ".".join("a" * 400_000) + " = 1", "a = 1\na = 2\n"],
    ids=["open", "deep", "deep name", "twice"],
)
def test_a_text_that_is_no_toml(text: str) -> None:
    with pytest.raises(JobError):
        edit(text, read_edit({"do": "take point", "point": 3}))


keys = st.sampled_from(["job.client", "site.notes", "flows.x", "beds.pebbles.voids", "trees.1.species", "a.b", "x"])
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(), lambda inner: st.lists(inner, max_size=3)
)


@given(keys | st.text(min_size=1, max_size=20), values)
@settings(max_examples=200)
def test_whatever_is_sent_the_job_reads_or_a_problem_is_told(key: str, held: object) -> None:
    """Nothing but a ``JobError`` may come of it; what goes through keeps within the schema."""
    try:
        text = edit(HAZEL, read_edit({"do": "set value", "key": key, "value": held}))
    except JobError:
        return
    Written.model_validate(tomllib.loads(text))
