"""The course set out: levels by hand arithmetic, lines by plane geometry."""

from dataclasses import replace
from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from beckwright.compose import design
from beckwright.job.model import BedMakeUp, Edge, Job, MeasuredEdges, Pool, Run, Step
from beckwright.stages.alignment import smooth_line
from beckwright.stages.course import STATION_SPACING, SetOutCourse, pool_depths, set_out_course
from beckwright.stages.ground import build_ground


def set_out(job: Job) -> SetOutCourse:
    return set_out_course(job.course, job.source, job.layers, build_ground(job.survey))


def stepped(job: Job, bed: BedMakeUp) -> Job:
    """4 m of run falling 0.2 m, a drop of 0.25 m, a pool of 1.0 m, and 3 m of run falling 0.15 m."""
    reaches = (
        Run(name="upper", length=4.0, fall=0.2, width=0.6, bed=bed, sills=(1.1,)),
        Step(name="lip", drop=0.25, lip_width=0.6, lip="sharp edge"),
        Pool(name="pool", length=1.0, width=1.2, depth=0.25),
        Run(name="lower", length=3.0, fall=0.15, width=0.5, bed=bed, sills=()),
    )
    return replace(job, course=replace(job.course, reaches=reaches))


def test_falls_add_up_to_the_end_level(plain: Job, bare: BedMakeUp) -> None:
    """Hand calculation: 100.00 - 0.20 - 0.25 - 0.15 = 99.40 after 4 + 1 + 3 = 8 m."""
    course = set_out(stepped(plain, bare))
    assert course.end_level == pytest.approx(99.40, abs=1e-9)
    assert course.stations.rim[-1] == pytest.approx(99.40, abs=1e-9)
    assert course.fall == pytest.approx(0.60, abs=1e-9)
    assert course.length == pytest.approx(8.0, abs=1e-12)


def test_scenario_ends_where_its_brief_says(hazel: Job) -> None:
    """Source lip 101.45, fall 1.60, end of bed 99.85 after 18.0 m: figures of the brief."""
    course = set_out(hazel)
    assert course.stations.bed[-1] == pytest.approx(99.85, abs=1e-9)
    assert course.length == pytest.approx(18.0, abs=1e-9)


def test_step_stands_between_its_levels(plain: Job, bare: BedMakeUp) -> None:
    """Hand calculation: the lip at 4 m stands at 99.80, the pool below at 99.55."""
    course = set_out(stepped(plain, bare))
    (step,) = course.of_kind(Step)
    assert (step.start, step.end) == (4.0, 4.0)
    assert (step.bed_start, step.bed_end) == pytest.approx((99.80, 99.55), abs=1e-9)
    upper, pool, lower = (course.stations.of(number) for number in (0, 2, 3))
    assert course.stations.rim[upper][-1] == pytest.approx(99.80, abs=1e-9)
    assert course.stations.rim[pool] == pytest.approx(99.55, abs=1e-9)
    assert course.stations.rim[lower][0] == pytest.approx(99.55, abs=1e-9)


def test_stations_stand_close_and_at_every_end_and_sill(plain: Job, bare: BedMakeUp) -> None:
    course = set_out(stepped(plain, bare))
    at = course.stations
    assert np.diff(at.chainage).max() <= STATION_SPACING + 1e-9
    assert np.diff(at.chainage).min() >= 0
    for number, (start, end) in {0: (0.0, 4.0), 2: (4.0, 5.0), 3: (5.0, 8.0)}.items():
        here = at.chainage[at.of(number)]
        assert (here[0], here[-1]) == pytest.approx((start, end), abs=1e-12)
    assert np.abs(at.chainage[at.of(0)] - 1.1).min() < 1e-12


def test_lining_and_dig_under_the_bed(plain: Job, pebbles: BedMakeUp) -> None:
    """Hand calculation: 100 mm of stones and 4 mm of fleece, then 1 + 5 + 60 mm: 104 and 170 mm down."""
    at = set_out(stepped(plain, pebbles)).stations
    run = at.of(0)
    assert at.bed[run] - at.liner[run] == pytest.approx(0.104, abs=1e-9)
    assert at.bed[run] - at.dig[run] == pytest.approx(0.170, abs=1e-9)


def test_no_stones_lie_in_a_pool(plain: Job, pebbles: BedMakeUp) -> None:
    """Hand calculation: 250 mm of pool and 4 mm of fleece under the rim."""
    at = set_out(stepped(plain, pebbles)).stations
    pool = at.of(2)
    assert at.rim[pool][0] - at.liner[pool][0] == pytest.approx(0.254, abs=1e-9)
    assert at.bed[pool] - at.liner[pool] == pytest.approx(0.004, abs=1e-9)


def test_pool_has_a_flat_floor_and_a_way_out_of_one_in_two() -> None:
    """Hand calculation: 0.2 m deep, so the last 0.4 m of 1.0 m rise; 0.1 m deep half way up."""
    pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)
    depths = pool_depths(pool, np.array([0.0, 0.3, 0.6, 0.8, 1.0]))
    assert depths == pytest.approx([0.2, 0.2, 0.2, 0.1, 0.0], abs=1e-12)


def test_short_pool_keeps_half_its_floor() -> None:
    """Hand calculation: 0.5 m long and 0.3 m deep, the way out is 0.25 m, not 0.6 m."""
    pool = Pool(name="pool", length=0.5, width=1.2, depth=0.3)
    assert pool_depths(pool, np.array([0.0, 0.25, 0.375, 0.5])) == pytest.approx([0.3, 0.3, 0.15, 0.0], abs=1e-12)


def test_edges_stand_over_the_bed_and_are_raised_where_told(plain: Job) -> None:
    edges = (
        Edge(start=2.0, end=3.0, side="left", above_bed=0.35),
        Edge(start=6.0, end=7.0, side="both", above_bed=0.15),
    )
    at = set_out(replace(plain, course=replace(plain.course, edges=edges))).stations
    left, right = at.edge_left - at.rim, at.edge_right - at.rim
    raised, lowered = (at.chainage >= 2) & (at.chainage <= 3), (at.chainage >= 6) & (at.chainage <= 7)
    assert left[raised] == pytest.approx(0.35, abs=1e-9)
    assert right[raised] == pytest.approx(0.20, abs=1e-9)
    assert left[lowered] == pytest.approx(0.15, abs=1e-9)
    assert right[lowered] == pytest.approx(0.15, abs=1e-9)
    assert left[~raised & ~lowered] == pytest.approx(0.20, abs=1e-9)


def test_fill_under_an_edge_settles(plain: Job) -> None:
    """Hand calculation: 0.2 m over the bed is 0.3 m over the ground; a tenth of that is 0.03 m."""
    at = set_out(plain).stations
    assert at.edge_left - at.settled_left == pytest.approx(0.03, abs=1e-9)
    assert at.edge_right - at.settled_right == pytest.approx(0.03, abs=1e-9)


def test_edge_cut_into_the_ground_does_not_settle(plain: Job) -> None:
    dug_in = replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.5))
    at = set_out(dug_in).stations
    assert np.array_equal(at.settled_left, at.edge_left)


def test_ground_is_read_under_the_line_and_under_both_edges(plain: Job) -> None:
    """Hand calculation: ground falling 1 in 10 to the left; edges stand 0.3 + 0.5 x 0.2 = 0.4 m off the line."""
    across = replace(plain.survey, levels=100.0 - plain.survey.points[:, 1] / 10)
    at = set_out(replace(plain, survey=across, course=replace(plain.course, side_slope=0.5))).stations
    assert at.ground == pytest.approx(100.0, abs=1e-9)
    assert at.ground_left == pytest.approx(99.96, abs=1e-9)
    assert at.ground_right == pytest.approx(100.04, abs=1e-9)
    assert at.surveyed.all()


def test_bank_off_the_survey_takes_the_level_of_the_line_and_says_so(plain: Job) -> None:
    narrow = replace(plain.survey, points=plain.survey.points * [1.0, 0.02])
    at = set_out(replace(plain, survey=narrow)).stations
    assert not at.surveyed.any()
    assert np.array_equal(at.ground_left, at.ground)


def measured(job: Job, chainages: list[float], left: list[float]) -> Job:
    shot = MeasuredEdges(chainages=np.array(chainages), left=np.array(left), right=np.array(left))
    return replace(job, course=replace(job.course, measured_edges=shot))


def test_shot_edges_stand_in_place_of_the_designed_ones(plain: Job) -> None:
    """Hand calculation: 0.1 m over the bed at the head, 0.3 m at the foot, 0.2 m half way."""
    at = set_out(measured(plain, [0.0, 10.0], [100.1, 99.8])).stations
    assert at.edge_left[0] == pytest.approx(100.1, abs=1e-6)
    assert at.edge_left[-1] == pytest.approx(99.8, abs=1e-6)
    assert np.interp(5.0, at.chainage, at.edge_left - at.rim) == pytest.approx(0.2, abs=1e-6)


def test_shot_edges_do_not_cut_across_a_step(plain: Job, bare: BedMakeUp) -> None:
    """Both shots stand 0.1 m over their bed, so the edge does all along: 3.5 m and 4.5 m, the lip at 4.0 m."""
    at = set_out(measured(stepped(plain, bare), [3.5, 4.5], [99.925, 99.65])).stations
    assert at.edge_left - at.rim == pytest.approx(0.1, abs=1e-6)


def test_an_edge_shot_at_a_lip_is_the_edge_of_the_run_above_it(plain: Job, bare: BedMakeUp) -> None:
    """Hand calculation: bed over the lip at 4.0 m is 99.80; shot 60 mm over it, the edge stands at 99.86."""
    at = set_out(measured(stepped(plain, bare), [3.5, 4.0, 4.5], [99.885, 99.86, 99.65])).stations
    upper = at.of(0)
    assert at.edge_left[upper][-1] == pytest.approx(99.86, abs=1e-6)
    assert np.interp(3.75, at.chainage[upper], at.edge_left[upper] - at.rim[upper]) == pytest.approx(0.06, abs=1e-6)


def test_a_straight_line_is_as_long_as_pythagoras_says() -> None:
    line = smooth_line(np.array([[1.0, 2.0], [4.0, 6.0]]), 10.0)
    assert line.length == pytest.approx(5.0, rel=1e-12)
    assert line.stretch == pytest.approx(0.5, rel=1e-12)
    assert line.at(np.array([5.0])) == pytest.approx(np.array([[2.5, 4.0]]), abs=1e-9)


@given(bends=st.lists(st.floats(0.5, 4), min_size=2, max_size=6))
@settings(max_examples=25)
def test_points_in_a_row_make_a_straight_line(bends: list[float]) -> None:
    along = np.concatenate([[0.0], np.cumsum(bends)])
    line = smooth_line(np.column_stack([3 * along, 4 * along]), float(along[-1]))
    assert line.length == pytest.approx(5 * along[-1], rel=1e-9)


@pytest.mark.parametrize("count", [3, 4, 7, 60])
def test_line_through_points_is_a_natural_cubic_spline(count: int) -> None:
    """General-purpose library: scipy's CubicSpline with ends that do not bend, by the chords."""
    points = np.cumsum(np.random.default_rng(count).uniform(0.2, 3.0, (count, 2)), axis=0)
    chords = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    vertices = smooth_line(points, 10.0).vertices
    fine = np.interp(np.linspace(0.0, count - 1.0, len(vertices)), np.arange(count), chords)
    spline = CubicSpline(chords, points, bc_type="natural")
    assert vertices == pytest.approx(spline(fine), abs=1e-9)


def test_left_is_left_looking_downstream() -> None:
    """Walking east, north is on the left."""
    east = smooth_line(np.array([[0.0, 0.0], [10.0, 0.0]]), 10.0)
    assert east.beside(np.array([4.0]), np.array([1.5])) == pytest.approx(np.array([[4.0, 1.5]]), abs=1e-9)


def test_arc_is_radius_times_angle() -> None:
    """Closed form: a quarter circle of 8 m is 12.566 m, its tangent square to its radius. Points every 4.5 degrees."""
    turns = np.linspace(0.0, pi / 2, 21)
    arc = smooth_line(8 * np.column_stack([np.cos(turns), np.sin(turns)]), 4 * pi)
    assert arc.length == pytest.approx(4 * pi, rel=5e-4)
    middle = arc.at(np.array([2 * pi]))[0]
    assert middle == pytest.approx([8 * cos(pi / 4), 8 * sin(pi / 4)], abs=2e-3)
    assert arc.direction(np.array([2 * pi]))[0] == pytest.approx([-sin(pi / 4), cos(pi / 4)], abs=2e-3)


def test_line_of_the_designer_is_read_in_proportion(plain: Job) -> None:
    """A line of 9 m for a course of 10 m: the foot of the course is the end of the line."""
    at = set_out(replace(plain, course=replace(plain.course, line=np.array([[0.0, 0.0], [0.0, 9.0]])))).stations
    assert at.points[-1] == pytest.approx([0.0, 9.0], abs=1e-9)
    assert np.interp(5.0, at.chainage, at.points[:, 1]) == pytest.approx(4.5, abs=1e-9)


def test_beds_are_listed_once(plain: Job, bare: BedMakeUp) -> None:
    assert [bed.name for bed in set_out(stepped(plain, bare)).beds] == ["bare"]
    assert design(plain).course.beds == (bare,)
