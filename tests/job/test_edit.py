"""Edits of job.toml on the four examples: what changes, what stays, and the laws they keep.

Expected numbers are sums by hand from the numbers in examples/*/job.toml, or laws: what one reach gains another gives,
an edit and its inverse leave the job as it was, setting one lip leaves every other crest where it is.
"""

import difflib
import shutil
import subprocess
import sys
import time
import tomllib
from itertools import pairwise
from math import dist, hypot
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from beckwright.base.errors import JobError
from beckwright.compose import design
from beckwright.job.convert import line_length, reach_lengths, reach_names
from beckwright.job.edit import Edit, edit, read_edit
from beckwright.job.model import Job
from beckwright.job.read import read_job, read_job_text
from beckwright.job.written.course import CourseWritten

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("fennymoor_park", "hazel_bank", "larkspur_court", "withy_lane")
TEXTS = {name: (EXAMPLES / name / "job.toml").read_text(encoding="utf-8") for name in NAMES}
HAZEL = TEXTS["hazel_bank"]


def made(text: str, do: str, **told: object) -> str:
    return edit(text, read_edit({"do": do, **told}))


def course_of(text: str) -> CourseWritten:
    return CourseWritten.model_validate(tomllib.loads(text)["course"])


def differing(old: str, new: str) -> list[str]:
    return [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line[:2] in ("- ", "+ ")]


def over(text: str) -> float:
    """How much longer the reaches are together than the line."""
    course = course_of(text)
    return sum(reach_lengths(course)) - line_length(course.line_m)


def same_job(one: str, other: str) -> bool:
    return tomllib.loads(one) == tomllib.loads(other)


def some_edits(name: str) -> list[Edit]:
    """One edit of each kind, lawful in each of the four examples: the first reach is a run and the second a step."""
    job = read_job(EXAMPLES / name)
    (x, y), second = job.course.line[0], job.course.line[1]
    course = course_of(TEXTS[name])
    first = course.reaches[0]
    lip, crest = reach_names(course)[1], job.source.lip_level - job.course.reaches[0].fall  # type: ignore[union-attr]
    centre = job.reservoir.centre
    kept = {"kind": "run", "length_m": 0.5, "fall_mm": 5, "width_mm": first.width_mm, "bed": first.bed}  # type: ignore[union-attr]
    told = [
        {"do": "move point", "point": 1, "x_m": second[0] - 0.05, "y_m": second[1] + 0.03},
        {"do": "add point", "after": 0, "x_m": (x + second[0]) / 2, "y_m": (y + second[1]) / 2},
        {"do": "take point", "point": 1},
        {"do": "slide reach", "reach": 0, "by_m": -0.1},
        {"do": "set level", "lip": lip, "level_m": crest + 0.004},
        {"do": "set level", "lip": "source", "level_m": job.source.lip_level + 0.01},
        {"do": "set lower end", "level_m": course.end_level_m + 0.004},  # type: ignore[operator]
        {"do": "set value", "key": "hose.length_m", "value": 30},
        {"do": "set value", "key": "tolerances.stone_mm", "value": 4},
        {"do": "add reach", "after": 0, "reach": kept},
        {"do": "change reach", "reach": 0, "keys": {"length_m": 1.5}},
        {"do": "add row", "key": "heaps", "row": {"name": "H1", "holds": "topsoil", "x_m": x, "y_m": y}},
        {"do": "move reservoir", "x_m": centre[0] + 0.05, "y_m": centre[1]},
        {"do": "set flow", "name": "a new flow", "l_h": 1111},
    ]
    if job.route.line:
        px, py = job.route.line[1]
        told.append({"do": "move hose point", "point": 1, "x_m": px + 0.1, "y_m": py})
        told.append({"do": "add hose point", "after": 0, "x_m": px + 0.1, "y_m": py})
    if len(job.route.line) > 2:
        told.append({"do": "take hose point", "point": 1})
    if not job.route.line:
        told.append({"do": "begin hose line"})
    return [read_edit(one) for one in told]


@pytest.mark.parametrize("name", NAMES)
def test_every_lawful_edit_leaves_a_job_that_reads_from_a_folder(name: str, tmp_path: Path) -> None:
    folder = shutil.copytree(EXAMPLES / name, tmp_path / name)
    before = read_job(folder)
    for one in some_edits(name):
        (folder / "job.toml").write_text(edit(TEXTS[name], one), encoding="utf-8")
        assert read_job(folder) != before, one


@pytest.mark.parametrize("name", NAMES)
def test_an_edit_touches_few_lines_and_no_comment(name: str) -> None:
    for one in some_edits(name):
        lines = differing(TEXTS[name], edit(TEXTS[name], one))
        assert 0 < len(lines) <= 12, one
        gone = "\n".join(line for line in lines if line.startswith("- "))
        new = "\n".join(line for line in lines if line.startswith("+ "))
        assert all(part.split("#")[1] in new for part in gone.splitlines() if "#" in part), one


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("kind", ["move point", "add point", "take point", "slide reach", "add reach", "change reach"])
def test_the_reaches_keep_up_with_the_line(name: str, kind: str) -> None:
    """Law: whatever is done to line or reaches, they differ in length by what they differed before, to 1 mm."""
    [one] = [one for one in some_edits(name) if one.do == kind]
    assert over(edit(TEXTS[name], one)) == pytest.approx(over(TEXTS[name]), abs=0.001)


@pytest.mark.parametrize("name", NAMES)
def test_setting_one_lip_moves_that_crest_alone(name: str) -> None:
    """Law: every other crest and the end stay; the crest stands where it was wanted."""
    before = design(read_job(EXAMPLES / name))
    for lip in before.water.lips:
        wanted = round(lip.crest + 0.003, 3)
        after = design(read_job_text(made(TEXTS[name], "set level", lip=lip.name, level_m=wanted), EXAMPLES / name))
        crests = {each.name: each.crest for each in before.water.lips} | {lip.name: wanted}
        assert {each.name: each.crest for each in after.water.lips} == pytest.approx(crests, abs=1e-9)
        assert after.course.end_level == pytest.approx(before.course.end_level, abs=1e-9)
        assert [s.start for s in after.course.stretches] == [s.start for s in before.course.stretches]


small = st.integers(-150, 150).map(lambda mm: mm / 1000)
names = st.sampled_from(NAMES)


@given(names, st.data(), small, small)
@settings(max_examples=60)
def test_a_point_moved_there_and_back(name: str, data: st.DataObject, right: float, up: float) -> None:
    text = TEXTS[name]
    line = course_of(text).line_m
    point = data.draw(st.integers(0, len(line) - 1))
    x, y = line[point]
    there = made(text, "move point", point=point, x_m=x + right, y_m=y + up)
    assert over(there) == pytest.approx(over(text), abs=0.001)
    assert course_of(there).line_m[point] == pytest.approx((x + right, y + up), abs=0.0005)
    changed = [old != new for old, new in zip(course_of(text).reaches, course_of(there).reaches, strict=True)]
    assert sum(changed) <= 1
    back = made(there, "move point", point=point, x_m=x, y_m=y)
    taker = [old != new for old, new in zip(course_of(there).reaches, course_of(back).reaches, strict=True)]
    assume(changed == taker)  # near the end of a run another may lie nearest on the way back
    assert same_job(back, text)


@given(names, st.data(), small, small)
@settings(max_examples=40)
def test_a_point_added_and_taken(name: str, data: st.DataObject, right: float, up: float) -> None:
    text = TEXTS[name]
    line = course_of(text).line_m
    after = data.draw(st.integers(0, len(line) - 2))
    middle = [(a + b) / 2 for a, b in zip(line[after], line[after + 1], strict=True)]
    there = made(text, "add point", after=after, x_m=middle[0] + right, y_m=middle[1] + up)
    assert over(there) == pytest.approx(over(text), abs=0.001)
    back = made(there, "take point", point=after + 1)
    changed = [old != new for old, new in zip(course_of(text).reaches, course_of(there).reaches, strict=True)]
    taker = [old != new for old, new in zip(course_of(there).reaches, course_of(back).reaches, strict=True)]
    assume(changed == taker)
    assert same_job(back, text)


@given(names, st.data(), st.integers(-300, 300))
@settings(max_examples=60)
def test_a_slide_there_and_back(name: str, data: st.DataObject, mm: int) -> None:
    text = TEXTS[name]
    course = course_of(text)
    reach = data.draw(st.integers(0, len(course.reaches) - 3))
    there = made(text, "slide reach", reach=reach, by_m=mm / 1000)
    assert sum(reach_lengths(course_of(there))) == pytest.approx(sum(reach_lengths(course)), abs=1e-9)
    assert same_job(made(there, "slide reach", reach=reach, by_m=-mm / 1000), text)


@given(names, st.data(), st.integers(-15, 15))
@settings(max_examples=60)
def test_a_level_set_there_and_back(name: str, data: st.DataObject, mm: int) -> None:
    text = TEXTS[name]
    crests = crests_of(text)
    lip = data.draw(st.sampled_from(sorted(crests)))
    there = made(text, "set level", lip=lip, level_m=crests[lip] + mm / 1000)
    assert crests_of(there) == pytest.approx(crests | {lip: crests[lip] + mm / 1000}, abs=1e-9)
    assert same_job(made(there, "set level", lip=lip, level_m=crests[lip]), text)


def crests_of(text: str) -> dict[str, float]:
    """Crest of each lip by its name: the source's lip less the falls above."""
    course, level = course_of(text), float(tomllib.loads(text)["source"]["lip_level_m"])
    crests = {"source": level}
    for name, reach in zip(reach_names(course), course.reaches, strict=True):
        if reach.kind == "step":
            crests[name] = level
        level -= (getattr(reach, "fall_mm", 0) + getattr(reach, "drop_mm", 0)) / 1000
    return crests


@given(names, st.data(), st.integers(100, 400), st.integers(0, 15))
@settings(max_examples=60)
def test_a_reach_added_and_taken(name: str, data: st.DataObject, mm: int, fall: int) -> None:
    text = TEXTS[name]
    course = course_of(text)
    after = data.draw(st.integers(-1, len(course.reaches) - 1))
    bed = next(iter(tomllib.loads(text)["beds"]))
    reach = {"kind": "run", "length_m": mm / 1000, "fall_mm": fall, "width_mm": 300, "bed": bed}
    there = made(text, "add reach", after=after, reach=reach)
    assert len(course_of(there).reaches) == len(course.reaches) + 1
    assert over(there) == pytest.approx(over(text), abs=1e-9)
    assert fall_of(there) == pytest.approx(fall_of(text), abs=1e-9)
    back = made(there, "take reach", reach=after + 1)
    assert over(back) == pytest.approx(over(text), abs=1e-9)
    assert fall_of(back) == pytest.approx(fall_of(text), abs=1e-9)
    assert same_job(back, text)


def fall_of(text: str) -> float:
    return sum(getattr(reach, "fall_mm", 0) + getattr(reach, "drop_mm", 0) for reach in course_of(text).reaches)


@given(names, st.integers(50, 5000), st.integers(1, 100_000))
@settings(max_examples=30)
def test_a_value_set_there_and_back(name: str, mm: int, l_h: int) -> None:
    text = TEXTS[name]
    old = tomllib.loads(text)
    there = made(text, "set value", key="course.edge_above_bed_mm", value=min(mm, 3000))
    back = made(there, "set value", key="course.edge_above_bed_mm", value=old["course"]["edge_above_bed_mm"])
    assert back == text
    flow = next(iter(old["flows"]))
    assert made(made(text, "set flow", name=flow, l_h=l_h), "set flow", name=flow, l_h=old["flows"][flow]) == text
    assert made(made(text, "set flow", name="x", l_h=l_h), "set value", key="flows.x", value=None) == text


def test_the_run_that_lies_at_a_point_takes_up_its_length() -> None:
    """Point 4, 4.9 m along, lies in pool 1 or beside it; by hand: the two chords there grow by what run 2 gains."""
    line = course_of(HAZEL).line_m
    to = (8.0, 6.5)
    grown = sum(dist(to, line[other]) - dist(line[4], line[other]) for other in (3, 5))
    course = course_of(made(HAZEL, "move point", point=4, x_m=8.0, y_m=6.5))
    assert [reach_lengths(course)[place] for place in (0, 2, 3, 6, 9)] == [
        4.5, 1.0, pytest.approx(4.0 + grown, abs=0.0005), 3.3, 3.2,
    ]  # fmt: skip


def test_a_lip_slides_with_its_pool() -> None:
    """Lip 2 ends run 2 and stands over pool 2: 4.0 + 0.25 and 3.3 - 0.25 m, and the pool is 1.0 m long as before."""
    lengths = reach_lengths(course_of(made(HAZEL, "slide reach", reach=3, by_m=0.25)))
    assert (lengths[3], lengths[5], lengths[6]) == (4.25, 1.0, 3.05)


def test_a_pools_own_end_slides_by_itself() -> None:
    lengths = reach_lengths(course_of(made(HAZEL, "slide reach", reach=2, by_m=0.2)))
    assert (lengths[2], lengths[3]) == (1.2, 3.8)


def test_a_run_of_open_length_takes_up_the_rest() -> None:
    text = HAZEL.replace("length_m = 3.3\n", "")
    for new in (
        made(text, "move point", point=0, x_m=13.0, y_m=9.2),
        made(text, "slide reach", reach=3, by_m=0.2),
        made(text, "take reach", reach=2),
    ):
        course = course_of(new)
        assert course.reaches[6 if len(course.reaches) == 10 else 5].length_m is None  # type: ignore[union-attr]
        assert over(new) == pytest.approx(0, abs=1e-9)
    closed = course_of(made(text, "take reach", reach=6))
    assert over(made(text, "take reach", reach=6)) == pytest.approx(0, abs=0.001)
    assert all(reach.kind == "step" or reach.length_m for reach in closed.reaches)


def test_the_hose_goes_along_with_source_and_reservoir() -> None:
    """By hand: the ends of the hose in Hazel Bank lie on the source and in the reservoir's middle."""
    source = tomllib.loads(made(HAZEL, "move point", point=0, x_m=13.4, y_m=9.4))["hose"]
    assert source["line_m"][-1] == [13.4, 9.4]
    assert source["length_m"] == pytest.approx(23.0 + hypot(0.6, 2.0) - hypot(0.3, 1.6), abs=0.0005)
    pit = tomllib.loads(made(HAZEL, "move reservoir", x_m=-2.5, y_m=-0.4))
    assert (pit["reservoir"]["centre_m"], pit["hose"]["line_m"][0]) == ([-2.5, -0.4], [-2.5, -0.4])
    assert pit["hose"]["length_m"] == pytest.approx(23.0 + hypot(0.9, 0.9) - hypot(0.7, 1.1), abs=0.0005)
    away = HAZEL.replace("[-2.3, -0.2],\n  [-1.6", "[-1.0, -0.2],\n  [-1.6")
    assert tomllib.loads(made(away, "move reservoir", x_m=-2.5, y_m=-0.4))["hose"]["line_m"][0] == [-1.0, -0.2]


def test_a_hose_point_takes_the_length_along() -> None:
    hose = tomllib.loads(made(HAZEL, "move hose point", point=0, x_m=-2.3, y_m=-0.3))["hose"]
    assert hose["length_m"] == pytest.approx(23.0 + hypot(0.7, 1.0) - hypot(0.7, 1.1), abs=0.0005)


hosed = st.sampled_from([name for name in NAMES if "line_m" in tomllib.loads(TEXTS[name])["hose"]])


@given(hosed, st.data(), small, small)
@settings(max_examples=40)
def test_a_hose_point_added_and_taken(name: str, data: st.DataObject, right: float, up: float) -> None:
    """Law: the hose stays as much longer than its line as it was; taken out again, the job is what it was."""
    text = TEXTS[name]
    line = tomllib.loads(text)["hose"]["line_m"]
    after = data.draw(st.integers(-1, len(line) - 1))
    x, y = line[max(after, 0)]
    there = made(text, "add hose point", after=after, x_m=x + right, y_m=y + up)
    hose = tomllib.loads(there)["hose"]
    new = hose["line_m"].pop(after + 1)
    assert (new, hose["line_m"]) == (pytest.approx([x + right, y + up], abs=0.0005), line)
    assert beyond_line(there) == pytest.approx(beyond_line(text), abs=0.001)
    assert same_job(made(there, "take hose point", point=after + 1), text)


def beyond_line(text: str) -> float:
    """How much longer the hose is than its line in plan."""
    hose = tomllib.loads(text)["hose"]
    return float(hose["length_m"]) - sum(dist(one, other) for one, other in pairwise(hose["line_m"]))


def test_a_hose_point_put_in_and_taken_out_by_hand() -> None:
    """Larkspur Court's second stretch runs 6.3 m along y = -0.7: a point 0.4 m off its middle makes two of 3.175 m.

    By hand: sqrt(3.15**2 + 0.4**2) is 3.1753. Its second point out, 0.7 and 6.3 m become one slope of 6.3388 m.
    """
    text = TEXTS["larkspur_court"]
    hose = tomllib.loads(made(text, "add hose point", after=1, x_m=3.75, y_m=-1.1))["hose"]
    assert hose["line_m"] == [[0.6, 0.0], [0.6, -0.7], [3.75, -1.1], [6.9, -0.7], [6.9, 0.0]]
    assert hose["length_m"] == pytest.approx(8.0 + 2 * 3.1753 - 6.3, abs=0.001)
    taken = tomllib.loads(made(text, "take hose point", point=1))["hose"]
    assert taken["line_m"] == [[0.6, 0.0], [6.9, -0.7], [6.9, 0.0]]
    assert taken["length_m"] == pytest.approx(8.0 + 6.3388 - 7.0, abs=0.001)


def test_a_hose_without_a_line_begins_with_a_straight_one() -> None:
    """Withy Lane: from the reservoir's middle to the source; the 17 m of hose are the person's number, and stay."""
    text = TEXTS["withy_lane"]
    begun = made(text, "begin hose line")
    assert tomllib.loads(begun)["hose"] == tomllib.loads(text)["hose"] | {"line_m": [[-1.40, 0.25], [12.60, 1.50]]}
    assert same_job(made(begun, "set value", key="hose.line_m", value=None), text)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("mm", [-4, 4])
def test_setting_the_lower_end_moves_nothing_above_it(name: str, mm: int) -> None:
    """Law: every crest and every bed but the last stay; the lower end stands where it was wanted."""
    before = design(read_job(EXAMPLES / name))
    wanted = round(before.course.end_level + mm / 1000, 3)
    text = made(TEXTS[name], "set lower end", level_m=wanted)
    after = design(read_job_text(text, EXAMPLES / name))
    assert after.course.end_level == pytest.approx(wanted, abs=1e-9)
    assert course_of(text).end_level_m == wanted
    assert [lip.crest for lip in after.water.lips] == pytest.approx([lip.crest for lip in before.water.lips], abs=1e-9)
    assert [s.bed_start for s in after.course.stretches] == pytest.approx(
        [s.bed_start for s in before.course.stretches], abs=1e-9
    )
    assert [s.start for s in after.course.stretches] == [s.start for s in before.course.stretches]


def test_the_last_run_or_step_takes_the_lower_end_up() -> None:
    """By hand, Hazel Bank ends at 99.85 m: 40 mm lower, its last run falls 220 mm, or lip 3 drops 240 mm at the end."""
    lower = made(HAZEL, "set lower end", level_m=99.81)
    assert [line[2:] for line in differing(HAZEL, lower) if line[0] == "+"] == ["end_level_m = 99.81", "fall_mm = 220"]
    assert course_of(lower).reaches[9].fall_mm == 220  # type: ignore[union-attr]
    stepped = made(made(HAZEL, "take reach", reach=9), "take reach", reach=8)
    assert course_of(made(stepped, "set lower end", level_m=99.81)).reaches[-1].drop_mm == 240  # type: ignore[union-attr]


@pytest.mark.parametrize(("level", "backs_up"), [(99.47, False), (99.45, True)])
def test_a_lower_end_below_the_overflow_is_found(level: float, backs_up: bool) -> None:
    """By hand, Hazel Bank: the cover at 99.66 m, the overflow 200 mm below it."""
    found = design(read_job_text(made(HAZEL, "set lower end", level_m=level), EXAMPLES / "hazel_bank")).findings
    assert ("end-below-overflow" in {finding.code for finding in found}) == backs_up


def test_a_lower_end_told_once_is_told_once() -> None:
    untold = made(HAZEL, "set value", key="course.end_level_m", value=None)
    assert differing(untold, made(untold, "set lower end", level_m=99.81)) == ["- fall_mm = 180", "+ fall_mm = 220"]
    assert made(HAZEL, "set lower end", level_m=99.85) == HAZEL


def test_lights_follow_the_lip_they_stand_under() -> None:
    """Two reaches in place of one: the old lip 1 is lip 2 now, and its lights say so."""
    text = made(HAZEL, "add reach", after=0, reach={
        "kind": "run", "length_m": 2.0, "fall_mm": 50, "width_mm": 600, "bed": "pebbles"})  # fmt: skip
    text = made(text, "add reach", after=0, reach={
        "kind": "step", "drop_mm": 60, "lip_width_mm": 500, "lip": "flat slab"})  # fmt: skip
    lips = [light.get("lip") for light in tomllib.loads(text)["lights"]]
    assert lips == [None, None, "lip 2", "lip 2", "lip 3", "lip 3"]
    assert fall_of(text) == fall_of(HAZEL)
    read_job_text(text, EXAMPLES / "hazel_bank")
    with pytest.raises(JobError, match="under lip 1 there are lip 1 left, lip 1 right"):
        made(HAZEL, "take reach", reach=1)
    assert [light.get("lip") for light in tomllib.loads(made(text, "take reach", reach=1))["lights"]] == [
        None, None, "lip 1", "lip 1", "lip 2", "lip 2",
    ]  # fmt: skip


def test_a_row_goes_with_its_own_comments_and_no_others() -> None:
    lines = differing(HAZEL, made(HAZEL, "set value", key="views.2", value=None))
    assert [line[:2] for line in lines] == ["- "] * 7
    assert "[prices]" not in "".join(lines)
    assert made(HAZEL, "set value", key="services.2", value=None).count("[[services]]") == 1


def test_dates_are_dates() -> None:
    assert "date = 2026-10-01\n" in made(HAZEL, "set value", key="job.date", value="2026-10-01")
    assert "holidays = [2026-10-01]\n" in made(HAZEL, "set value", key="programme.holidays", value=["2026-10-01"])
    assert 'client = "2026-10-01"\n' in made(HAZEL, "set value", key="job.client", value="2026-10-01")


def compact(text: str) -> str:
    """The same job with its reaches and trees as lists in braces, and one section as dotted keys."""
    held = tomllib.loads(text)
    reaches = ", ".join(
        "{" + ", ".join(f"{key} = {_toml(v)}" for key, v in row.items()) + "}" for row in held["course"]["reaches"]
    )
    head, rest = text.split("[[course.reaches]]", 1)
    return f"{head}reaches = [{reaches}]  # all of them\n\n[beds.pebbles]{rest.split('[beds.pebbles]', 1)[1]}"


def _toml(held: object) -> str:
    return f'"{held}"' if isinstance(held, str) else str(held)


@pytest.mark.parametrize("one", some_edits("hazel_bank"), ids=lambda one: one.do)
def test_another_spelling_of_the_file_gives_the_same_job(one: Edit) -> None:
    text = compact(HAZEL)
    assert same_job(text, HAZEL)
    new = edit(text, one)
    assert same_job(new, edit(HAZEL, one))
    assert "# all of them" in new


@pytest.mark.parametrize("one", some_edits("hazel_bank"), ids=lambda one: one.do)
def test_line_ends_of_another_system_are_no_bar(one: Edit) -> None:
    new = edit(HAZEL.replace("\n", "\r\n"), one)
    assert same_job(new, edit(HAZEL, one))


def test_the_writer_is_loaded_only_when_an_edit_is_made() -> None:
    code = "import sys, beckwright.job.edit; sys.exit('tomlkit' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_an_edit_is_quick() -> None:
    """The bound is that of a drag, 25 ms an edit; the best of seven, so that a busy machine is no fault."""
    one = read_edit({"do": "move point", "point": 0, "x_m": 13.0, "y_m": 9.2})

    def taken() -> float:
        start = time.perf_counter()
        edit(HAZEL, one)
        return time.perf_counter() - start

    assert min(taken() for _ in range(7)) < 0.025


def test_a_job_is_a_job(tmp_path: Path) -> None:
    """Edits one after another, as a person works, still read from the folder."""
    folder = shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "job")
    text = HAZEL
    for one in some_edits("hazel_bank"):
        text = edit(text, one)
    (folder / "job.toml").write_text(text, encoding="utf-8")
    assert isinstance(read_job(folder), Job)
