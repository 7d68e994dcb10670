"""Roots, services, boundaries, footings and the way in: plane geometry, with shapely's polygons as a second opinion."""

from dataclasses import replace
from math import cos, pi, sin, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.compose import Design
from beckwright.job.model import Boundary, Foundation, Job, Service, Tree
from beckwright.stages.course import set_out_course
from beckwright.stages.ground import build_ground
from beckwright.stages.surroundings import (
    Footing,
    RootCircle,
    Surroundings,
    footings,
    look_around,
    pit_corners,
    pit_outline,
    stem_of,
)
from beckwright.stages.surroundings.plane import meetings, spans_inside
from beckwright.stages.surroundings.works import footprint

few = settings(max_examples=25)


def tree(*stems: float, at: tuple[float, float] = (5.0, 3.0)) -> Tree:
    return Tree(name="T9", species="ash", at=at, stems=stems, protected=True)


def looked(job: Job) -> Surroundings:
    return look_around(job, set_out_course(job.course, job.source, job.layers, build_ground(job.survey)))


def circle_of(job: Job, one: Tree, *others: Tree) -> RootCircle:
    return looked(replace(job, site=replace(job.site, trees=(one, *others)))).circles[0]


def around(job: Job, service: Service | None = None, boundary: Boundary | None = None) -> Surroundings:
    things = replace(job.site, services=(service,) if service else (), boundaries=(boundary,) if boundary else ())
    return looked(replace(job, site=things))


def hosed(job: Job, north: float) -> Job:
    return replace(job, route=replace(job.route, line=((-5.0, north), (15.0, north))))


@pytest.fixture(scope="module")
def narrow(plain: Job) -> Job:
    """The plain job with no bank: 0.3 m from the line to the lining's edge and 0.1 m of bank's top beyond it, 20 m
    long, on a plane a hair under the edges.
    """
    run = replace(plain.course.reaches[0], length=20.0, fall=1.0)
    course = replace(plain.course, line=np.array([[0.0, 0.0], [20.0, 0.0]]), reaches=(run,))
    corners = np.array([[-10.0, -20.0], [40.0, -20.0], [40.0, 20.0], [-10.0, 20.0]])
    survey = replace(plain.survey, points=corners, levels=100.2 - 1e-6 - corners[:, 0] / 20)
    return replace(plain, course=course, survey=survey, earthworks=replace(plain.earthworks, bank_top=0.1))


class TestRoots:
    @pytest.mark.parametrize(("name", "radius"), [("T1", 7.44), ("T2", 3.36), ("T3", 4.20)])
    def test_root_circles_of_the_brief(self, hazel_design: Design, name: str, radius: float) -> None:
        """Hand calculation of the brief: 12 stems of 620, 280 and 350 mm (BS 5837:2012 4.6.1)."""
        (circle,) = (circle for circle in hazel_design.surroundings.circles if circle.tree.name == name)
        assert circle.radius == pytest.approx(radius, abs=5e-3)

    def test_many_stems_stand_for_one(self) -> None:
        """BS 5837:2012: stems of 200, 250 and 300 mm stand for 438.75 mm; eight of 120 mm for 339.41 mm (the latter
        from memory)."""
        assert stem_of(tree(0.2, 0.25, 0.3)) == pytest.approx(0.43875, rel=1e-4)
        assert stem_of(tree(*[0.12] * 8)) == pytest.approx(0.33941, rel=1e-4)
        assert stem_of(tree(0.5)) == 0.5

    def test_root_circle_is_capped(self, plain: Job) -> None:
        """BS 5837:2012 Annex D: 1400 mm would be 16.8 m; the area need not exceed 707 m2, 15 m."""
        assert circle_of(plain, tree(1.4)).radius == 15.0

    def test_distance_and_chord(self, plain: Job) -> None:
        """Tree 3 m off a straight line, circle of 3.6 m: nearest 3.0 m, half a chord of (3.6**2 - 3**2)**0.5."""
        circle = circle_of(plain, tree(0.3))
        half = sqrt(3.6**2 - 3.0**2)
        assert circle.nearest == pytest.approx(3.0, abs=1e-9)
        assert circle.inside == (pytest.approx((5 - half, 5 + half), abs=1e-9),)
        assert circle.length == pytest.approx(2 * half, abs=1e-9)

    def test_tree_far_off_is_not_entered(self, plain: Job) -> None:
        """The banks reach 0.3 + 0.35 + 2.5 x 0.3 = 1.4 m: 1.6 m from the tree, 1.2 m in its circle."""
        circle = circle_of(plain, tree(0.1))
        assert circle.inside == ()
        assert circle.works == ()
        assert circle.raised == ()
        assert circle.by_hand == 0
        assert circle.shift is None
        assert not circle.pit
        assert not circle.hose

    def test_banks_enter_where_the_line_does_not(self, plain: Job) -> None:
        """Circle of 2.4 m: short of the line at 3 m, over the bank's foot at 1.6 m, half a chord of 1.789 m."""
        circle = circle_of(plain, tree(0.2))
        half = sqrt(2.4**2 - 1.6**2)
        assert circle.inside == ()
        ((start, end),) = circle.works
        assert 0 <= start - (5 - half) < 0.25
        assert 0 <= (5 + half) - end < 0.25
        assert circle.raised == circle.works
        assert circle.highest == pytest.approx(0.3, abs=1e-9)
        assert circle.deepest == 0
        assert circle.dug == 0
        assert circle.closest == pytest.approx(2.7, abs=1e-9)

    def test_ground_is_raised_where_an_edge_stands_over_it(self, plain: Job) -> None:
        """The plain job stands 0.1 m over its ground all along; dug in half a metre, nothing is raised: 0.5 less 0.1,
        and 0.07 of make-up under the bed."""
        one = circle_of(plain, tree(0.3))
        assert one.raised == one.works
        dug_in = circle_of(replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.5)), tree(0.3))
        assert dug_in.raised == ()
        assert dug_in.highest == 0
        assert dug_in.deepest == pytest.approx(0.4 + 0.07, abs=1e-9)

    def test_areas_against_polygons(self, narrow: Job) -> None:
        """Strips of 0.6 m (dig) and 0.8 m (with banks) cut by a circle: shapely's polygons within 1 %."""
        circle = circle_of(narrow, tree(0.3, at=(10.0, 2.0)))
        disc = shapely.Point(10.0, 2.0).buffer(3.6, quad_segs=500)
        for half, area in ((0.3, circle.dug), (0.4, circle.covered)):
            assert area == pytest.approx(disc.intersection(shapely.box(0.0, -half, 20.0, half)).area, rel=0.01)

    def test_pit_and_hose_inside_the_circle(self, plain: Job) -> None:
        """The pit's side lies at x = 11: 2.3 m from a tree at 8.7, inside 2.4 m and outside 2.2 m. So a hose at y = 5:
        half a chord of (2.4**2 - 2.3**2)**0.5.
        """
        inside = circle_of(plain, tree(0.2, at=(8.7, 0.0)))
        assert inside.pit
        assert inside.pit_into == pytest.approx(0.1, abs=1e-9)
        segment = 2.4**2 * np.arccos(2.3 / 2.4) - 2.3 * sqrt(2.4**2 - 2.3**2)
        assert inside.pit_area == pytest.approx(segment, rel=0.01)
        assert not circle_of(plain, tree(2.2 / 12, at=(8.7, 0.0))).pit
        half = sqrt(2.4**2 - 2.3**2)
        crossed = circle_of(hosed(plain, 5.0), tree(0.2, at=(5.0, 7.3)))
        assert crossed.hose_spans == (pytest.approx((10 - half, 10 + half), abs=1e-9),)
        assert crossed.by_hand == pytest.approx(2 * half, abs=1e-9)
        assert not circle_of(hosed(plain, 5.0), tree(0.2, at=(5.0, 7.5))).hose


class TestFootprint:
    def feet(self, job: Job, above: float) -> list[float]:
        """Left and right foot at the head, on ground that falls 1 in 5 to the south, ``above`` under the line."""
        tilted = replace(job.survey, levels=above + job.survey.points[:, 1] / 5)
        course = set_out_course(job.course, job.source, job.layers, build_ground(tilted))
        told: list[float] = footprint(job, course).foot[:, 0].tolist()
        return told

    def test_banks_on_a_side_slope(self, plain: Job) -> None:
        """Edge at 100.20, its bank 0.35 m wide from 0.3 m out, then 1 in 2.5 down: 100.20 - (y - 0.65) / 2.5 meets
        99.65 + y / 5 at 1.35 m uphill, and 99.65 - y / 5 at 4.05 m downhill."""
        assert self.feet(plain, 99.65) == pytest.approx([1.35, 4.05], abs=1e-9)

    def test_cut_into_a_side_slope(self, plain: Job) -> None:
        """Clay stands at 1 to 1: 100.20 + (y - 0.3) meets 100.65 + y / 5 at 0.9375 m, and 100.65 - y / 5 at 0.625 m."""
        assert self.feet(plain, 100.65) == pytest.approx([0.9375, 0.625], abs=1e-9)


class TestShift:
    def moved(self, job: Job, circle: RootCircle) -> Job:
        assert circle.shift is not None
        return replace(job, course=replace(job.course, line=circle.shift.line))

    def test_smallest_shift(self, narrow: Job) -> None:
        """Tree 3 m to the left, circle 3.6 m: the works' edge at 0.4 m is 1.0 m inside. Told to the next 50 mm and one
        more to spare: 1.05 to 1.10 m to the right."""
        shift = circle_of(narrow, tree(0.3, at=(10.0, 3.0))).shift
        assert shift is not None
        assert -1.10 - 1e-9 <= shift.offset <= -1.0
        assert shift.start > 10 - sqrt(3.6**2 - 2.6**2) - 1e-9
        assert shift.line[0] == pytest.approx([0.0, 0.0], abs=1e-12)
        assert shift.line[-1] == pytest.approx([20.0, 0.0], abs=1e-12)
        assert shift.line[:, 1].min() == pytest.approx(shift.offset, abs=1e-12)

    @given(st.floats(6, 14), st.floats(1.0, 3.2), st.sampled_from([1.0, -1.0]), st.floats(0.1, 0.3))
    @few
    def test_the_shifted_course_clears_the_circle(
        self, narrow: Job, east: float, north: float, side: float, stem: float
    ) -> None:
        """Set out again along the shifted line and looked at again, nothing of the stream lies in the circle."""
        one = tree(stem, at=(east, side * north))
        before = circle_of(narrow, one)
        if before.shift is not None:
            after = circle_of(self.moved(narrow, before), one)
            assert after.works == ()
            assert after.covered == 0

    def test_half_the_shift_does_not_clear_it(self, narrow: Job) -> None:
        one = tree(0.3, at=(10.0, 3.0))
        before = circle_of(narrow, one)
        assert before.shift is not None
        halfway = before.shift.line * [1.0, 0.5]
        assert circle_of(replace(narrow, course=replace(narrow.course, line=halfway)), one).works

    def test_a_second_circle_is_not_entered(self, narrow: Job) -> None:
        """A tree on the other side, its circle 0.2 m off the works: the way to the right is shut, and to the left it is
        7 m."""
        one, other = tree(0.3, at=(10.0, 3.0)), tree(0.2, at=(10.0, -3.0))
        assert circle_of(narrow, one).shift is not None
        assert circle_of(narrow, one, other).shift is None

    def test_the_other_side_is_taken_where_the_nearer_is_shut(self, narrow: Job) -> None:
        """Tree 0.5 m to the left, circle 1.2 m: 1.1 m to the right, or past the tree 2.1 m to the left."""
        one = tree(0.1, at=(10.0, 0.5))
        shut = Boundary(name="wall", line=((0.0, -1.0), (20.0, -1.0)), clearance=0.0, damp_proof=None)
        walled = replace(narrow, site=replace(narrow.site, boundaries=(shut,)))
        free, turned = circle_of(narrow, one).shift, circle_of(walled, one).shift
        assert free is not None
        assert turned is not None
        assert -1.25 < free.offset < -1.1
        assert 2.1 < turned.offset < 2.25

    def test_not_over_a_boundary_nor_off_the_survey_nor_past_the_most(self, narrow: Job) -> None:
        one = tree(0.3, at=(10.0, 3.0))
        fence = Boundary(name="fence", line=((0.0, -1.2), (20.0, -1.2)), clearance=0.0, damp_proof=None)
        assert circle_of(replace(narrow, site=replace(narrow.site, boundaries=(fence,))), one).shift is None
        corners = np.array([[-10.0, -1.2], [40.0, -1.2], [40.0, 20.0], [-10.0, 20.0]])
        short = replace(narrow.survey, points=corners)
        assert circle_of(replace(narrow, survey=short), one).shift is None
        assert circle_of(narrow, tree(0.5, at=(10.0, 3.0))).shift is None

    def test_not_where_the_ends_would_move(self, narrow: Job) -> None:
        """The circle reaches 1.4 m from the source: no room to come away in."""
        assert circle_of(narrow, tree(0.3, at=(4.0, 3.0))).shift is None

    @given(st.floats(0, 2 * pi), st.floats(-200, 200))
    @few
    def test_turned_and_moved_it_is_the_same(self, narrow: Job, angle: float, far: float) -> None:
        turn = np.array([[cos(angle), sin(angle)], [-sin(angle), cos(angle)]])

        def there(points: object) -> np.ndarray:
            return np.asarray(points) @ turn + [far, -far]

        one = tree(0.3, at=(10.0, 2.93))
        here = circle_of(narrow, one)
        moved = replace(
            narrow,
            course=replace(narrow.course, line=there(narrow.course.line)),
            survey=replace(narrow.survey, points=there(narrow.survey.points)),
        )
        east, north = there([one.at])[0]
        other = circle_of(moved, replace(one, at=(float(east), float(north))))
        assert here.shift is not None
        assert other.shift is not None
        assert other.shift.offset == pytest.approx(here.shift.offset, abs=1e-9)
        assert other.shift.line == pytest.approx(there(here.shift.line), abs=1e-6)
        assert other.covered == pytest.approx(here.covered, abs=1e-6)
        assert other.inside == (pytest.approx(here.inside[0], abs=1e-6),)


class TestPlane:
    @given(st.lists(st.tuples(st.floats(-5, 5), st.floats(-5, 5)), min_size=2, max_size=8), st.floats(0.5, 4))
    @few
    def test_length_inside_a_circle(self, line: list[tuple[float, float]], radius: float) -> None:
        """Shapely's intersection with a circle of 4000 sides."""
        points = np.round(np.array(line), 3)
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
        told = sum(end - start for start, end in spans_inside(points, along, (0.3, -0.2), radius))
        pieces = shapely.linestrings(np.stack([points[:-1], points[1:]], axis=1))
        disc = shapely.Point(0.3, -0.2).buffer(radius, quad_segs=1000)
        assert told == pytest.approx(float(shapely.length(shapely.intersection(pieces, disc)).sum()), abs=1e-2)

    def test_crossings_in_order_and_from_which_side(self) -> None:
        """A line east crossed northwards at 3 and southwards at 7: first from the right, then from the left."""
        east = np.array([[0.0, 0.0], [5.0, 0.0], [10.0, 0.0]])
        found = meetings(east, np.array([0.0, 50.0, 100.0]), ((3.0, -1.0), (3.0, 1.0), (7.0, 1.0), (7.0, -1.0)))
        assert [each.along for each in found] == pytest.approx([30.0, 70.0])
        assert [each.way for each in found] == pytest.approx([1.0, 7.0])
        assert [each.from_left for each in found] == [False, True]

    def test_a_crossing_at_a_corner_is_one(self) -> None:
        east = np.array([[0.0, 0.0], [5.0, 0.0], [10.0, 0.0]])
        assert len(meetings(east, np.array([0.0, 5.0, 10.0]), ((5.0, -1.0), (5.0, 1.0)))) == 1


class TestPit:
    def test_pit_on_plan(self, plain: Job) -> None:
        """2.0 by 1.5 m round (12, 0); turned a quarter it is 1.5 by 2.0 m; its area is 3 m2 however it is turned."""
        corners = np.array(pit_corners(plain.reservoir))
        assert corners == pytest.approx(np.array([[11, -0.75], [13, -0.75], [13, 0.75], [11, 0.75]]), abs=1e-12)
        turned = replace(plain.reservoir, turned=pi / 2)
        assert pit_outline(turned).bounds == pytest.approx((11.25, -1.0, 12.75, 1.0), abs=1e-12)
        assert pit_outline(replace(plain.reservoir, turned=0.4)).area == pytest.approx(3.0, rel=1e-12)
        assert pit_outline(turned).exterior.is_ccw

    def test_anticlockwise_turn(self, plain: Job) -> None:
        """A turn of 30 degrees anticlockwise takes the far end of the long side north."""
        low, high = pit_corners(replace(plain.reservoir, turned=pi / 6))[:2]
        assert high[1] - low[1] == pytest.approx(2.0 * 0.5, abs=1e-12)


MAIN = Service(name="main", kind="water", line=((-5.0, -2.0), (20.0, -2.0)), depth=0.75, clearance=0.5, note="")


class TestServices:
    def test_service_beside_bed_pit_and_hose(self, plain: Job) -> None:
        """A main at y = -2: the bed's half width is 0.3, so 1.7 m; the bank's foot is 1.4 m off the line; the pit's
        side lies at -0.75: 1.25 m; hose at 5: 7 m; the outlet box on the line: 2 m."""
        (near,) = around(hosed(plain, 5.0), service=MAIN).services
        assert (near.course, near.pit, near.hose) == pytest.approx((1.7, 1.25, 7.0), abs=1e-9)
        assert (near.bank, near.source) == pytest.approx((0.6, 2.0), abs=1e-9)
        assert near.crossings == ()
        (undrawn,) = around(plain, service=MAIN).services
        assert undrawn.hose is None

    def test_service_that_crosses_the_bed_is_no_distance_away(self, plain: Job) -> None:
        """At 5.1 m, between two stations; and though the bed is so narrow that it reaches neither."""
        across = replace(MAIN, line=((5.1, -2.0), (5.1, 2.0)))
        thread = replace(plain.course.reaches[0], width=0.02)
        for job in (plain, replace(plain, course=replace(plain.course, reaches=(thread,)))):
            assert around(job, service=across).services[0].course == 0
        near = around(plain, service=across).services[0]
        ((start, end),) = near.within
        assert start < 5.1 < end

    @pytest.mark.parametrize(("depth", "left"), [(0.75, 0.75 - 0.28), (0.2, 0.2 - 0.28), (None, None)])
    def test_what_is_left_over_it(self, plain: Job, depth: float | None, left: float | None) -> None:
        """Ground raised by 0.31 m: the dig lies 0.31 - 0.10 (bed over the old ground) + 0.07 (make-up) = 0.28 down."""
        dug_in = replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.31))
        across = replace(MAIN, line=((4.0, -2.0), (6.0, 2.0)), depth=depth)
        (crossing,) = around(dug_in, service=across).services[0].crossings
        assert (crossing.part, crossing.along) == ("stream", pytest.approx(5.0, abs=1e-9))
        assert crossing.dug == pytest.approx(0.28, abs=1e-9)
        assert crossing.left == (None if left is None else pytest.approx(left, abs=1e-9))

    def test_under_hose_and_pit(self, plain: Job) -> None:
        """Hose from x = -5: crossed at 17 m; trench 0.45 m. The pit: 0.2 + 0.8 + 0.1 m and 0.066 m of layers."""
        across = replace(MAIN, line=((12.0, -9.0), (12.0, 9.0)))
        trenched = replace(plain, earthworks=replace(plain.earthworks, trench_depth=0.45))
        hose, pit = around(hosed(trenched, 5.0), service=across).services[0].crossings
        assert (hose.part, hose.along, hose.dug) == ("hose trench", pytest.approx(17.0), 0.45)
        assert hose.left == pytest.approx(0.30, abs=1e-9)
        assert (pit.part, pit.along) == ("reservoir pit", None)
        assert pit.dug == pytest.approx(1.1 + 0.066, abs=1e-9)
        assert pit.at == pytest.approx((12.0, 0.0), abs=0.76)

    def test_service_known_at_one_point(self, plain: Job) -> None:
        """3-4-5 from the pit's corner at (13, 0.75)."""
        shaft = replace(MAIN, line=((16.0, 4.75),))
        near = around(plain, service=shaft).services[0]
        assert near.pit == pytest.approx(5.0, abs=1e-9)
        assert near.crossings == ()


def test_boundary(plain: Job) -> None:
    """A fence at x = 14; and one at y = 2 behind the source, whose box is 0.4 m long: 2 m, and 3-4-5 halved from
    (-0.4, 0) to a post at (-1.9, 2)."""
    fence = Boundary(name="fence", line=((14.0, -5.0), (14.0, 5.0)), clearance=0.6, damp_proof=None)
    (near,) = around(plain, boundary=fence).boundaries
    assert near.pit == pytest.approx(1.0, abs=1e-9)
    assert near.course == pytest.approx(4.0 - 0.3, abs=1e-9)
    assert near.nearest == pytest.approx(10.0, abs=1e-9)
    assert near.source == pytest.approx(14.0, abs=1e-9)
    post = replace(fence, line=((-1.9, 2.0), (-1.9, 9.0)))
    assert around(plain, boundary=post).boundaries[0].source == pytest.approx(2.5, abs=1e-9)


class TestAccess:
    def test_the_way_and_the_reach(self, plain: Job) -> None:
        """1.0 m and 50 mm each side: 1.10 m. Pit 1.5 + 2 x 0.3 = 2.1 m across: 0.5 + 0.5 + 2.1 = 3.1 m, from both sides
        2.05 m. Stream 0.6 m: 1.6 m."""
        digger = replace(plain.earthworks, digger_width=1.0, digger_reach=3.0, working_space=0.3)
        access = looked(replace(plain, earthworks=digger)).access
        assert access.needed == pytest.approx(1.10, abs=1e-9)
        pit, stream = access.reaches
        assert (pit.across, pit.one_side, pit.both) == pytest.approx((2.1, 3.1, 2.05), abs=1e-9)
        assert stream.one_side == pytest.approx(1.6, abs=1e-9)

    def test_nobody_said_how_wide(self, plain: Job) -> None:
        access = looked(replace(plain, earthworks=replace(plain.earthworks, digger_width=None))).access
        assert access.needed is None
        assert access.reaches == ()


@pytest.fixture(scope="module")
def level(plain: Job) -> Job:
    """The plain job on level ground at 99.30, its pit's cover at the ground, 0.3 m of room to work."""
    return replace(
        plain,
        survey=replace(plain.survey, levels=np.full(4, 99.3)),
        earthworks=replace(plain.earthworks, working_space=0.3, batter=None),
    )


def footing_of(job: Job, foundation: Foundation) -> Footing:
    ground = build_ground(job.survey)
    placed = replace(job, site=replace(job.site, foundations=(foundation,)))
    (footing,) = footings(placed, ground, set_out_course(job.course, job.source, job.layers, ground))
    return footing


class TestFootings:
    def test_pit_below_the_line(self, level: Job) -> None:
        """Pit dug to 99.3 - 1.1 - 0.066 = 98.134, its edge at x = 13.3; a wall at x = 14 founded at 98.7: down to 98.0
        at 0.7 m off: clear. Founded at 99.0 it may be dug to 98.3: 0.166 m too deep."""
        wall = Foundation(name="wall", line=((14.0, -3.0), (14.0, 3.0)), depth=0.6, note="")
        assert footing_of(level, wall).parts == ()
        (pit,) = footing_of(level, replace(wall, depth=0.3)).parts
        assert pit.part == "reservoir pit"
        assert (pit.away, pit.limit, pit.below) == pytest.approx((0.7, 98.3, 0.166), abs=1e-9)

    @pytest.mark.parametrize("cure", ["move", "shallower"])
    def test_the_one_number_cures_both_ways(self, level: Job, cure: str) -> None:
        wall = Foundation(name="wall", line=((14.0, -3.0), (14.0, 3.0)), depth=0.3, note="")
        (pit,) = footing_of(level, wall).parts
        for share, left in ((1.001, 0), (0.9, 1)):
            by = pit.below * share
            east, north = level.reservoir.centre
            moved = (
                replace(level.reservoir, centre=(east - by, north))
                if cure == "move"
                else replace(level.reservoir, fill_depth=level.reservoir.fill_depth - by)
            )
            assert len(footing_of(replace(level, reservoir=moved), wall).parts) == left

    def test_depth_nobody_knows_is_tried_as_none(self, level: Job) -> None:
        """0.466 m is what a footing on the ground lacks; founded so deep it is clear."""
        wall = Foundation(name="wall", line=((14.0, -3.0), (14.0, 3.0)), depth=None, note="")
        (pit,) = footing_of(level, wall).parts
        assert pit.below == pytest.approx(0.466, abs=1e-9)
        assert footing_of(level, replace(wall, depth=pit.below + 1e-6)).parts == ()

    def test_a_footing_inside_the_pit(self, level: Job) -> None:
        """A post in its middle: no distance at all."""
        post = Foundation(name="post", line=((12.0, 0.0),), depth=0.5, note="")
        (pit,) = footing_of(level, post).parts
        assert pit.away == 0
        assert pit.below == pytest.approx(98.8 - 98.134, abs=1e-9)

    def test_stream_and_trench(self, plain: Job) -> None:
        """Ground raised by 0.4: at 5 m dug to 99.75 - 0.07 = 99.68; the ground there 100.05. A post 0.1 m off the bed
        on the ground: down to 99.95, so 0.27 m too deep. A trench 0.45 m deep, its side 0.1 m off: 0.35 m."""
        raised = replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.4))
        post = Foundation(name="post", line=((5.0, 0.4),), depth=0.0, note="")
        (stream,) = footing_of(raised, post).parts
        assert stream.part == "stream"
        assert stream.below == pytest.approx(0.27, abs=1e-9)
        ((start, end),) = stream.spans
        assert start < 5.0 < end
        trench = replace(raised.earthworks, trench_depth=0.45, trench_width=0.2)
        parts = footing_of(replace(hosed(raised, 0.6), earthworks=trench), post).parts
        (hose,) = (part for part in parts if part.part == "hose trench")
        assert (hose.away, hose.below) == pytest.approx((0.1, 0.35), abs=1e-9)

    def test_a_flat_batter_reaches_under_it(self, level: Job) -> None:
        """Sides of 2 to 1: the floor's edge is 1.66 m off and 1.166 m down, clear by 45 degrees; but the top comes
        0.67 m past the wall, and at a quarter of the height, 0.8745 down, the side is 1.077 off; at half, 0.583 down
        and 0.494 off: 0.089 m below the line of a wall on the ground."""
        wall = Foundation(name="wall", line=((14.96, -3.0), (14.96, 3.0)), depth=0.0, note="")
        assert footing_of(level, wall).parts == ()
        flat = replace(level, earthworks=replace(level.earthworks, batter=2.0))
        (pit,) = footing_of(flat, wall).parts
        assert pit.below > 0.089 - 1e-9

    def test_off_the_survey_the_nearest_shot_stands_in(self, plain: Job) -> None:
        """The survey ends at x = 30, there at 98.4."""
        far = Foundation(name="barn", line=((31.0, -9.9),), depth=0.5, note="")
        assert not footing_of(plain, far).on_survey
        assert footing_of(plain, replace(far, line=((29.0, -9.0),))).on_survey
