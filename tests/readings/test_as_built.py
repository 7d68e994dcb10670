"""Levels shot against levels drawn: by hand, by laws, and against the answer key of an invented job that leaks."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright import JobError, design, read_job
from beckwright.compose import Design
from beckwright.job.model import MeasuredEdges
from beckwright.readings import Shot, as_built, read_shots

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


def shot(chainage: float, lip: str = "", **levels: float) -> Shot:
    held = {side: levels.get(side) for side in ("left", "middle", "right", "dig")}
    return Shot(chainage=chainage, lip=lip, note="", **held)


def as_drawn(designed: Design, chainage: float) -> Shot:
    at = designed.course.stations
    station = int(np.argmin(np.abs(at.chainage - chainage)))
    return shot(
        chainage,
        left=float(at.edge_left[station]),
        middle=float(at.bed[station]),
        right=float(at.edge_right[station]),
        dig=float(at.dig[station]),
    )


def written(folder: Path, *rows: str, head: str = "place,left_m,middle_m,right_m,dig_m,note") -> Path:
    path = folder / "shots.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return path


def test_built_as_drawn_is_nowhere_off(hazel: Design) -> None:
    drawn = [as_drawn(hazel, float(chainage)) for chainage in range(18)]
    lips = [shot(lip.chainage, lip.name, left=lip.crest, right=lip.crest) for lip in hazel.water.lips]
    found = as_built(hazel, (*drawn, *lips), settled=True)
    assert max(abs(off.off) for off in (*found.edges, *found.others)) < 1e-5  # a step's station is shot 1 um upstream
    assert all(abs(lip.off.off) < 1e-9 and lip.share_left == pytest.approx(0.5) for lip in found.lips)
    assert np.allclose(found.built.water.level, hazel.water.level, atol=1e-6)
    assert not any(edge.raised for edge in found.edges)


def test_an_edge_built_low_leaves_so_much_less(hazel: Design) -> None:
    """Hand calculation: 60 mm low on ground that does not settle takes 60 mm off the freeboard at every flow."""
    true = as_drawn(hazel, 7.0)
    assert true.left is not None
    assert true.right is not None
    low = replace(true, right=true.right - 0.060)
    right, left = as_built(hazel, (low,), settled=True).edges
    assert (right.what, left.what) == ("right edge", "left edge")
    assert right.off == pytest.approx(-0.060, abs=1e-6)  # a step's upper side is read 1 um upstream
    assert left.freeboard - right.freeboard == pytest.approx(0.060, abs=1e-9)
    wanted = hazel.job.course.freeboard_wanted
    assert right.raised >= wanted - right.freeboard[-1] > right.raised - 0.005


def test_what_is_still_to_sink_is_taken_off(hazel: Design) -> None:
    one = as_drawn(hazel, 1.0)
    now, later = (as_built(hazel, (one,), settled=settled).edges for settled in (True, False))
    assert all(float(a.freeboard[-1]) >= float(b.freeboard[-1]) for a, b in zip(now, later, strict=True))


def test_a_lip_built_low_lowers_the_water_behind_it(hazel: Design) -> None:
    """20 mm off lip 2: the water at its crest sinks by as much, that at lip 1 not at all."""
    lip_1, lip_2 = hazel.water.lips[1], hazel.water.lips[2]
    level = lip_2.crest - 0.020
    built = as_built(hazel, (shot(lip_2.chainage, "lip 2", left=level, middle=level, right=level),)).built
    behind = int(np.searchsorted(hazel.course.stations.chainage, lip_2.chainage - 1e-9))
    before = int(np.searchsorted(hazel.course.stations.chainage, lip_1.chainage - 1e-9))
    assert built.water.lips[2].crest == pytest.approx(level, abs=1e-12)
    assert built.water.level[..., behind] - hazel.water.level[..., behind] == pytest.approx(-0.020, abs=1e-9)
    assert np.allclose(built.water.level[..., : before + 1], hazel.water.level[..., : before + 1], atol=1e-12)
    assert built.course.end_level == pytest.approx(hazel.course.end_level, abs=1e-12)


def test_the_source_built_high_stands_alone(hazel: Design) -> None:
    level = hazel.job.source.lip_level + 0.015
    built = as_built(hazel, (shot(0.0, "source", middle=level),)).built
    assert built.water.lips[0].crest == pytest.approx(level, abs=1e-12)
    assert [lip.crest for lip in built.water.lips[1:]] == pytest.approx([lip.crest for lip in hazel.water.lips[1:]])


def test_left_and_right_are_a_mirror(hazel: Design) -> None:
    lip = hazel.water.lips[1]
    one = as_built(hazel, (shot(lip.chainage, lip.name, left=lip.crest, right=lip.crest + 0.004),)).lips[0]
    other = as_built(hazel, (shot(lip.chainage, lip.name, left=lip.crest + 0.004, right=lip.crest),)).lips[0]
    assert one.share_left + other.share_left == pytest.approx(1.0)
    assert np.all(one.share_left > 0.5)
    assert (one.shimmed, other.shimmed) == ("left", "right")
    assert one.tilt == pytest.approx(0.004)


def test_the_worst_comes_first(hazel: Design) -> None:
    shots = read_shots(EXAMPLES / "hazel_bank" / "as_built.csv", hazel.course)
    found = as_built(hazel, shots)
    least = [float(edge.freeboard.min()) for edge in found.edges]
    assert least == sorted(least)
    assert (found.edges[0].what, found.edges[0].chainage) == ("right edge", 8.0)
    assert found.lips[0].name == "lip 3"


def test_the_leak_of_withy_lane_is_found() -> None:
    """Answer key of the invented job: at full, the left edge at 9.0 m lies 12 mm under the water."""
    withy = read_job(EXAMPLES / "withy_lane")
    shot_edges = withy.course.measured_edges
    assert isinstance(shot_edges, MeasuredEdges)
    drawn = design(replace(withy, course=replace(withy.course, measured_edges=None)))
    rows = zip(shot_edges.chainages, shot_edges.left, shot_edges.right, strict=True)
    shots = tuple(shot(float(at), left=float(left), right=float(right)) for at, left, right in rows)
    worst = as_built(drawn, shots, settled=True).edges[0]
    assert (worst.what, worst.chainage) == ("left edge", 9.0)
    assert worst.freeboard[-1] == pytest.approx(-0.012, abs=0.003)


def test_a_course_that_would_climb_is_refused(hazel: Design) -> None:
    lip_1, lip_2 = hazel.water.lips[1], hazel.water.lips[2]
    with pytest.raises(JobError, match="run 2 falls") as told:
        as_built(hazel, (shot(lip_2.chainage, lip_2.name, middle=lip_1.crest + 0.1),))
    assert "Shoot that lip" in str(told.value)


def test_every_problem_of_a_file_at_once(hazel: Design, tmp_path: Path) -> None:
    path = written(tmp_path, "3.0,101.4,,,,", "lipp 1,,101.1,,,", "99,1.0,,,,", "4.0,,,,,only a note", "3,101.5,,,,")
    with pytest.raises(JobError) as told:
        read_shots(path, hazel.course)
    text = str(told.value)
    assert all(f"line {line}" in text for line in (3, 4, 5, 6))
    assert 'Did you mean "lip 1"' in text


def test_rows_may_come_in_any_order_and_leave_cells_out(hazel: Design, tmp_path: Path) -> None:
    path = written(tmp_path, "lip 1;;101,15;", "2,5 m;101,40;;101,41", head="place;left_m;middle_m;right_m")
    first, second = read_shots(path, hazel.course)
    assert (first.chainage, first.left, first.middle, first.right) == (2.5, 101.40, None, 101.41)
    assert (second.lip, second.middle, second.dig) == ("lip 1", 101.15, None)
