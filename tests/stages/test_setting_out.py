"""Setting out: tapes give the spots back, nails and digs add up, nothing depends on where north is."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import acos, cos, hypot, radians, sin, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, union_all

from beckwright.compose import Design, design
from beckwright.job.model import Boundary, Edge, Job, Mark, Pool, Run, Step, Survey
from beckwright.job.read import read_job
from beckwright.stages.earthworks import Groundwork, PitDig, dig
from beckwright.stages.ground import build_ground, inside, level_at
from beckwright.stages.setting_out import SettingOut, Spot, pieces, set_out, short_name, worst_taped
from beckwright.stages.setting_out.pit import guessed_corners, whole_rim
from beckwright.stages.setting_out.tapes import tapes_to
from tests.whole.test_laws import moved, off_its_grid

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
MARKS = (
    Mark(name="M1, gate", at=(-3.0, 7.0), level=101.0),
    Mark(name="M2, post", at=(12.0, 8.0), level=None),
    Mark(name="M3, kerb", at=(4.0, -9.0), level=None),
)


def dug(designed: Design) -> Groundwork:
    """The ground work of a design."""
    return dig(designed.job, designed.course, designed.ground, designed.reservoir.pit, designed.surroundings)


def put_out(designed: Design) -> SettingOut:
    """A design set out."""
    return set_out(designed.job, designed.course, designed.ground, designed.surroundings, dug(designed))


@pytest.fixture(scope="module", params=NAMES)
def designed(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param))


@pytest.fixture(scope="module")
def done(designed: Design) -> SettingOut:
    return put_out(designed)


@pytest.fixture
def marked(plain: Job) -> Job:
    """The plain job with three marks."""
    return replace(plain, site=replace(plain.site, marks=MARKS))


def spots_of(done: SettingOut) -> Iterator[Spot]:
    for peg in done.pegs:
        yield from (peg.spot, peg.left.spot, peg.right.spot)
    for corner in done.pit.corners:
        yield from (corner.floor, corner.top)
    for line in done.pit.pegs:
        yield line.spot


def found_again(spot: Spot, marks: tuple[Mark, ...]) -> tuple[float, float]:
    """Where two circles about the marks meet, on the side that is told: closed form, independent of the stage."""
    tapes = spot.tapes
    assert tapes is not None
    by_name = {short_name(mark, marks): mark.at for mark in marks}
    (ax, ay), (bx, by) = by_name[tapes.first.mark], by_name[tapes.second.mark]
    base = hypot(bx - ax, by - ay)
    along = (base**2 + tapes.first.length**2 - tapes.second.length**2) / (2 * base)
    across = sqrt(max(tapes.first.length**2 - along**2, 0.0)) * (1 if tapes.on_left else -1)
    ux, uy = (bx - ax) / base, (by - ay) / base
    return ax + along * ux - across * uy, ay + along * uy + across * ux


class TestTapes:
    def test_two_tapes_give_the_spot_back(self, done: SettingOut) -> None:
        for spot in spots_of(done):
            x, y = found_again(spot, done.marks)
            assert hypot(x - spot.at[0], y - spot.at[1]) < 1e-3

    def test_the_check_is_the_distance_to_a_third_mark(self, done: SettingOut) -> None:
        by_name = {short_name(mark, done.marks): mark.at for mark in done.marks}
        checks = [(spot, spot.tapes.check) for spot in spots_of(done) if spot.tapes is not None and spot.tapes.check]
        assert bool(checks) == (len(done.marks) > 2)
        for spot, check in checks:
            assert spot.tapes is not None
            assert check.mark not in (spot.tapes.first.mark, spot.tapes.second.mark)
            assert check.length == pytest.approx(Point(spot.at).distance(Point(by_name[check.mark])), abs=1e-9)

    def test_the_angle_is_that_of_the_triangle(self, done: SettingOut) -> None:
        """Law of cosines from the three lengths, which is what a crew can measure."""
        by_name = {short_name(mark, done.marks): mark.at for mark in done.marks}
        for spot in spots_of(done):
            assert spot.tapes is not None
            one, other = spot.tapes.first, spot.tapes.second
            base = Point(by_name[one.mark]).distance(Point(by_name[other.mark]))
            cosine = (one.length**2 + other.length**2 - base**2) / (2 * one.length * other.length)
            assert cos(spot.tapes.angle) == pytest.approx(cosine, abs=1e-9)

    def test_no_other_pair_of_good_tapes_meets_nearer_to_square(self, done: SettingOut) -> None:
        for spot in spots_of(done):
            assert spot.tapes is not None
            for number, one in enumerate(done.marks):
                for other in done.marks[number + 1 :]:
                    a, b = (np.subtract(mark.at, spot.at) for mark in (one, other))
                    angle = acos(float(np.clip(a @ b / np.hypot(*a) / np.hypot(*b), -1.0, 1.0)))
                    good = radians(30) <= angle <= radians(150) and max(np.hypot(*a), np.hypot(*b)) <= 30
                    if good:
                        assert spot.tapes.good
                        assert sin(angle) <= sin(spot.tapes.angle) + 1e-8

    @given(
        east=st.floats(-40, 40),
        north=st.floats(-40, 40),
        marks=st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=2, max_size=5, unique=True),
    )
    def test_wherever_the_marks_are(self, east: float, north: float, marks: list[tuple[int, int]]) -> None:
        fixed = tuple(Mark(name=f"M{n}", at=(float(x), float(y)), level=None) for n, (x, y) in enumerate(marks))
        tapes = tapes_to((east, north), fixed)
        assert tapes is not None
        x, y = found_again(Spot(at=(east, north), ground=0.0, surveyed=True, tapes=tapes), fixed)
        # Where tapes lie along each other a rounding in the length moves the spot by its square root.
        assert hypot(x - east, y - north) < (1e-3 if sin(tapes.angle) > 1e-6 else 1e-2)

    def test_below_two_marks_there_are_none_and_it_is_said(self, plain: Job) -> None:
        for marks in ((), MARKS[:1]):
            lonely = put_out(design(replace(plain, site=replace(plain.site, marks=marks))))
            assert all(spot.tapes is None for spot in spots_of(lonely))
            assert "marks-too-few" in [finding.code for finding in lonely.findings]
            assert worst_taped(lonely) is None

    def test_poor_tapes_are_said(self, plain: Job) -> None:
        """Two marks on the line of the course itself: every spot on the line lies flat between or beyond them."""
        flat = (Mark(name="A", at=(-5.0, 0.0), level=None), Mark(name="B", at=(-2.0, 0.0), level=None))
        poor = put_out(design(replace(plain, site=replace(plain.site, marks=flat))))
        assert not any(peg.spot.tapes.good for peg in poor.pegs if peg.spot.tapes is not None)
        assert "tapes-poor" in [finding.code for finding in poor.findings]
        worst = worst_taped(poor)
        assert worst is not None
        assert worst[1].tapes is not None
        assert sin(worst[1].tapes.angle) == pytest.approx(0.0, abs=1e-9)

    def test_a_mark_is_called_by_what_stands_before_the_comma_if_nobody_else_is(self) -> None:
        twins = (replace(MARKS[0], name="post, north"), replace(MARKS[1], name="post, south"))
        assert [short_name(mark, MARKS) for mark in MARKS] == ["M1", "M2", "M3"]
        assert [short_name(mark, twins) for mark in twins] == ["post, north", "post, south"]


class TestPegs:
    def test_by_hand(self, marked: Job) -> None:
        """Worked by hand for the plain job at its source.

        Lining 4 mm under the bed at 100.00, then 1 + 5 + 60 mm: dig 99.93. Edge 100.20 over ground at 99.90: bank is
        0.35 wide from 0.30 off the line, then 0.30 down at 2.5 to 1: its foot lies 1.40 off, the peg 1.70. Everything
        is under 100.20; 100 mm over that is 370 mm over the dig, in whole 50 mm 400: nail 100.33.
        """
        peg = put_out(design(marked)).pegs[0]
        (cut,) = peg.dug
        assert cut.dig == pytest.approx(99.93, abs=1e-9)
        assert cut.works == pytest.approx((1.40, -1.40), abs=1e-6)
        assert (peg.left.offset, peg.right.offset) == pytest.approx((1.70, -1.70), abs=1e-9)
        assert peg.across == pytest.approx(3.40, abs=1e-9)
        assert peg.nail == pytest.approx(100.33, abs=1e-9)
        assert cut.below == pytest.approx(0.40, abs=1e-9)
        assert cut.edges_below == pytest.approx((0.13, 0.13), abs=1e-9)
        assert cut.lift == pytest.approx(-0.03, abs=1e-9)
        assert cut.floor == pytest.approx((0.30, -0.30), abs=1e-9)
        assert peg.left.out == pytest.approx(100.33 - 99.90, abs=1e-9)
        assert (peg.lip, peg.lip_below) == pytest.approx((100.0, 0.33), abs=1e-9)
        assert peg.spot.at == pytest.approx((0.0, 0.0), abs=1e-9)
        assert peg.left.spot.at == pytest.approx((0.0, 1.70), abs=1e-9)
        assert peg.to_next == pytest.approx(1.0, abs=1e-9)
        assert cut.lining == pytest.approx(
            np.array([(0.3, 100.2), (0.3, 99.996), (0.0, 99.996), (-0.3, 99.996), (-0.3, 100.2)]), abs=1e-9
        )

    def test_every_metre_and_every_change_has_one(self, designed: Design, done: SettingOut) -> None:
        wanted = set(np.arange(0.0, designed.course.length).tolist()) | {designed.course.length}
        for stretch in designed.course.stretches:
            wanted |= {stretch.start, stretch.end}
            if isinstance(stretch.reach, Run):
                wanted |= {stretch.start + sill for sill in stretch.reach.sills}
        chainages = np.array([peg.chainage for peg in done.pegs])
        assert [peg.number for peg in done.pegs] == list(range(1, len(done.pegs) + 1))
        assert np.all(np.diff(chainages) > 0)
        assert all(np.abs(chainages - each).min() < 1e-9 for each in wanted)
        named = " ".join(place for peg in done.pegs for place in peg.places)
        for stretch in designed.course.of_kind(Step) + designed.course.of_kind(Pool):
            assert stretch.reach.name in named

    def test_sills_are_pegged(self, marked: Job) -> None:
        (run,) = marked.course.reaches
        assert isinstance(run, Run)
        job = replace(marked, course=replace(marked.course, reaches=(replace(run, sills=(2.5, 5.0)),)))
        places = {peg.chainage: peg.places for peg in put_out(design(job)).pegs}
        assert places[2.5] == ("sill of run 1",)
        assert places[5.0] == ("sill of run 1",)
        assert places[10.0] == ("lower end",)

    def test_nail_less_dig_is_the_dig_level(self, done: SettingOut) -> None:
        for peg in done.pegs:
            assert 100 * peg.dug[0].below / 5 == pytest.approx(round(100 * peg.dug[0].below / 5), abs=1e-6)
            for cut in peg.dug:
                assert peg.nail - cut.below == pytest.approx(cut.dig, abs=1e-12)
                for level, below in zip(cut.edge_levels, cut.edges_below, strict=True):
                    assert peg.nail - below == pytest.approx(level, abs=1e-12)
            assert (peg.lip is None) == (peg.lip_below is None)
            if peg.lip is not None and peg.lip_below is not None:
                assert peg.nail - peg.lip_below == pytest.approx(peg.lip, abs=1e-12)

    def test_the_string_hangs_free(self, done: SettingOut) -> None:
        for peg in done.pegs:
            under = [below for cut in peg.dug for below in (*cut.edges_below, cut.below)]
            assert min(*under, peg.left.out, peg.right.out) >= 0.1 - 1e-9
            # No higher than it must: one step of 50 mm less would touch.
            assert min(*under, peg.left.out, peg.right.out, peg.lip_below or np.inf) < 0.15

    def test_levels_are_those_of_the_course(self, designed: Design, done: SettingOut) -> None:
        at = designed.course.stations
        for peg in done.pegs:
            for cut in peg.dug:
                row = cut.station
                assert at.chainage[row] == pytest.approx(peg.chainage, abs=1e-9)
                assert (cut.dig, *cut.edge_levels) == (at.dig[row], at.edge_left[row], at.edge_right[row])
                assert cut.lining[:, 1].min() == pytest.approx(at.liner[row], abs=1e-6)

    def test_lips_are_those_the_water_runs_over(self, designed: Design, done: SettingOut) -> None:
        told = [(peg.chainage, peg.lip) for peg in done.pegs if peg.lip is not None]
        assert told == [(pytest.approx(lip.chainage), pytest.approx(lip.crest)) for lip in designed.water.lips]

    def test_side_pegs_stand_square_to_the_line(self, designed: Design, done: SettingOut) -> None:
        for peg in done.pegs:
            way = designed.course.alignment.direction(np.array([peg.chainage]))[0]
            for side, hand in ((peg.left, 1.0), (peg.right, -1.0)):
                step = np.subtract(side.spot.at, peg.spot.at)
                assert step @ way == pytest.approx(0.0, abs=1e-9)
                assert way[0] * step[1] - way[1] * step[0] == pytest.approx(side.offset, abs=1e-9)
                assert hand * side.offset > 0
                assert side.offset * 20 == pytest.approx(round(side.offset * 20), abs=1e-9)

    def test_side_pegs_stand_clear_of_everything_dug(self, designed: Design, done: SettingOut) -> None:
        """The plan of the works made anew, from the toes of the sections, the pit and the trench."""
        works = dug(designed)
        toes = [
            designed.course.alignment.beside(np.full(2, cut.chainage), cut.offsets[[0, -1]]) for cut in works.sections
        ]
        pieces_of = [Polygon(np.vstack([a, b[::-1]])).buffer(0) for a, b in pairwise(toes)]
        trench = () if works.trench is None else pieces(works.trench)
        width = 0.0 if works.trench is None else works.trench.width
        lines = [LineString(line).buffer(width / 2, cap_style="flat") for line in trench]
        everything = union_all([*pieces_of, Polygon(done.pit.dig.rim), *lines])
        stuck = 0
        for peg in done.pegs:
            for side in (peg.left, peg.right):
                if side.clear:
                    assert Point(side.spot.at).distance(everything) > 0.29
                else:
                    stuck += 1
        assert bool(stuck) <= ("peg-in-the-dig" in [finding.code for finding in done.findings])

    def test_ground_is_the_surveys(self, designed: Design, done: SettingOut) -> None:
        for spot in spots_of(done):
            at = np.array([spot.at])
            assert spot.surveyed == inside(designed.ground, at)[0]
            if spot.surveyed:
                assert spot.ground == pytest.approx(level_at(designed.ground, at)[0], abs=1e-9)

    def test_roots_and_services_are_dug_by_hand(self, designed: Design, done: SettingOut) -> None:
        """A peg on the line inside a circle of twelve stems can only be dug by hand (BS 5837:2012 4.6.1)."""
        for circle in designed.surroundings.circles:
            name = f"{circle.tree.species} {circle.tree.name}"
            for peg in done.pegs:
                if Point(peg.spot.at).distance(Point(circle.tree.at)) < circle.radius:
                    assert name in peg.by_hand

    def test_a_peg_beyond_a_boundary_is_said(self, marked: Job) -> None:
        """By hand: left pegs stand 1.70 m north of a line that runs east at 0; a fence at 1.60 lies between."""
        fence = Boundary(name="the fence", line=((-5.0, 1.6), (2.5, 1.6)), clearance=0.0, damp_proof=None)
        done = put_out(design(replace(marked, site=replace(marked.site, boundaries=(fence,)))))
        (said,) = [finding for finding in done.findings if finding.code == "peg-over-boundary"]
        assert said.place == "Setting out, pegs 1 L, 2 L, 3 L"

    def test_strings_that_cross_are_said(self, done: SettingOut) -> None:
        crossing = False
        for one, other in pairwise(done.pegs):
            here, there = (LineString([peg.left.spot.at, peg.right.spot.at]) for peg in (one, other))
            crossing |= here.intersects(there)
        assert not crossing or "strings-cross" in [finding.code for finding in done.findings]


class TestPit:
    def test_it_is_square(self, done: SettingOut) -> None:
        """Pythagoras on its sides, and both diagonals alike."""
        pit = done.pit
        assert pit.diagonals[0] == pytest.approx(pit.diagonals[1], abs=1e-9)
        assert pit.diagonals[0] == pytest.approx(hypot(pit.sides[0], pit.sides[1]), abs=1e-9)
        assert pit.sides[:2] == pytest.approx(pit.sides[2:], abs=1e-9)

    def test_levels(self, designed: Design, done: SettingOut) -> None:
        works = dug(designed).pit
        assert done.pit.nail - done.pit.below == pytest.approx(works.floor_level, abs=1e-12)
        assert done.pit.floor_level == works.floor_level
        assert done.pit.nail >= works.top_levels.max() + 0.1 - 1e-9
        assert ("pit-rim-off-survey" in [finding.code for finding in done.findings]) == bool(done.pit.guessed)
        for number, corner in enumerate(done.pit.corners):
            assert corner.floor.at == pytest.approx(tuple(works.floor[number]))
            if corner.name in done.pit.guessed:
                continue
            assert corner.top.at == pytest.approx(tuple(works.top[number]))
            assert corner.top.ground == pytest.approx(works.top_levels[number], abs=1e-6)
        for line in done.pit.pegs:
            assert line.out == pytest.approx(done.pit.nail - line.spot.ground, abs=1e-12)

    def test_a_batter_that_leaves_the_survey_is_led_on_at_its_slope(self) -> None:
        """By hand: a floor at 98.00, ground at 99.00 as far as it is known, 1 out for 1 up: 1 m out on both sides."""
        corners = np.array([(-1.4, -1.4), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0)])
        level = build_ground(Survey(points=corners, levels=np.full(4, 99.0), codes=("GL",) * 4, breaklines=()))
        floor = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
        top = floor * 2.0
        top[0] = (-1.3, -1.3)
        pit = PitDig(
            floor=floor,
            floor_level=98.0,
            top=top,
            top_levels=np.array([98.3, 99, 99, 99]),
            batter=1.0,
            depth=1.0,
            rim=top,
        )
        assert guessed_corners(pit, level) == ("a",)
        assert whole_rim(pit, level).top == pytest.approx(floor * 2.0, abs=1e-9)
        assert whole_rim(pit, level).top_levels == pytest.approx(np.full(4, 99.0), abs=1e-9)

    def test_strings_cross_over_the_floors_corners(self, done: SettingOut) -> None:
        corners = {corner.name: corner.floor.at for corner in done.pit.corners}
        assert len(done.pit.pegs) == 8
        for name in ("ab", "bc", "cd", "ad"):
            ends = [line for line in done.pit.pegs if line.line == name]
            string = LineString([line.spot.at for line in ends])
            assert all(string.distance(Point(corners[corner])) < 1e-9 for corner in name)
            for line in ends:
                assert Point(line.spot.at).distance(Point(corners[line.corner])) == pytest.approx(line.beyond, abs=1e-9)


class TestLevels:
    def test_a_lip_has_one_level_across(self, designed: Design, done: SettingOut) -> None:
        for lip in designed.water.lips:
            name = "source lip" if lip.name == "source" else lip.name
            rows = [row for row in done.levels if row.what == name]
            assert [row.where for row in rows] == ["left", "middle", "right"]
            assert {row.level for row in rows} == {lip.crest}
            stone = designed.job.tolerances.stone
            assert {row.tolerance for row in rows} == {stone if lip.kind == "boulders" else 0.002}

    def test_everything_the_crew_sets_is_there(self, designed: Design, done: SettingOut) -> None:
        job, told = designed.job, {(row.what, row.where): row.level for row in done.levels}
        assert told["overflow", "invert"] == job.reservoir.overflow
        assert told["reservoir", "cover"] == job.reservoir.cover
        assert told["source box", "floor"] == pytest.approx(job.source.lip_level - job.source.box_depth)
        assert told["pit", "floor as dug"] == done.pit.floor_level
        assert told["chamber", "floor, the pump stands on it"] == designed.reservoir.pit.sump_floor
        for pool in designed.water.pools:
            assert [row.level for row in done.levels if row.what == f"{pool.name}, rim"] == [pytest.approx(pool.rim)]
        edges = [row for row in done.levels if row.what.startswith("edge ")]
        assert len(edges) == 2 * sum(len(peg.dug) for peg in done.pegs)
        assert {row.tolerance for row in edges} == {job.tolerances.stone}

    def test_below_the_nail_is_the_nail_less_the_level(self, done: SettingOut) -> None:
        nails = {peg.number: peg.nail for peg in done.pegs}
        for row in done.levels:
            assert (row.peg is None) == (row.below is None)
            if row.peg is not None and row.below is not None:
                assert nails[row.peg] - row.below == pytest.approx(row.level, abs=1e-12)
            assert row.tolerance > 0

    def test_the_trench_lies_as_deep_as_the_ground_work_has_it(self, designed: Design, done: SettingOut) -> None:
        trench = dug(designed).trench
        bottoms = [row.level for row in done.levels if row.what == "hose trench, bottom"]
        assert bool(bottoms) == (trench is not None)
        if trench is not None:
            assert trench.bottom.min() - 1e-9 <= min(bottoms) <= max(bottoms) <= trench.bottom.max() + 1e-9
            assert done.trench_depth == pytest.approx(
                ((trench.ground - trench.bottom).min(), (trench.ground - trench.bottom).max())
            )


@pytest.mark.parametrize("angle", [0.4, -2.2])
def test_turned_and_shifted_it_is_the_same(angle: float) -> None:
    before = off_its_grid(read_job(EXAMPLES / "hazel_bank"))
    turn = np.array([[cos(angle), sin(angle)], [-sin(angle), cos(angle)]])
    after = moved(before, lambda points: points @ turn + [200.0, -80.0], angle)
    marks = tuple(
        replace(mark, at=tuple(map(float, np.array(mark.at) @ turn + [200.0, -80.0]))) for mark in before.site.marks
    )
    one, other = put_out(design(before)), put_out(design(replace(after, site=replace(after.site, marks=marks))))
    assert len(one.pegs) == len(other.pegs)
    for here, there in zip(one.pegs, other.pegs, strict=True):
        assert there.nail == pytest.approx(here.nail, abs=1e-6)
        assert (there.left.offset, there.right.offset) == (here.left.offset, here.right.offset)
        assert there.by_hand == here.by_hand
        assert [cut.below for cut in there.dug] == pytest.approx([cut.below for cut in here.dug], abs=1e-6)
    for here, there in zip(spots_of(one), spots_of(other), strict=True):
        assert here.tapes is not None
        assert there.tapes is not None
        assert (there.tapes.first.mark, there.tapes.second.mark) == (here.tapes.first.mark, here.tapes.second.mark)
        assert there.tapes.on_left == here.tapes.on_left
        assert there.tapes.first.length == pytest.approx(here.tapes.first.length, abs=1e-6)
        assert there.tapes.second.length == pytest.approx(here.tapes.second.length, abs=1e-6)
    assert [line.beyond for line in one.pit.pegs] == [line.beyond for line in other.pit.pegs]


@settings(max_examples=15)
@given(
    first=st.floats(1.2, 5.0),
    drop=st.floats(0.05, 0.3),
    pool=st.floats(0.6, 2.0),
    width=st.floats(0.4, 1.2),
    low=st.floats(0.05, 0.4),
    bend=st.floats(-1.5, 1.5),
)
def test_any_course_can_be_set_out(
    first: float, drop: float, pool: float, width: float, low: float, bend: float
) -> None:
    """Laws that hold for every course: see the tests above, here on courses nobody chose."""
    job = read_job(EXAMPLES / "hazel_bank")
    bed = next(reach.bed for reach in job.course.reaches if isinstance(reach, Run))
    reaches = (
        Run(name="run 1", length=first, fall=0.05 * first, width=width, bed=bed, sills=(first / 2,)),
        Step(name="lip 1", drop=drop, lip_width=width, lip="flat slab"),
        Pool(name="pool 1", length=pool, width=width * 1.5, depth=0.2),
        Run(name="run 2", length=2.0, fall=0.1, width=width, bed=bed, sills=()),
    )
    length = first + pool + 2.0
    line = np.array([(11.0, 7.0), (11.0 - length / 2, 7.0 + bend * 0.3), (11.0 - length, 6.0)])
    course = replace(
        job.course, line=line, reaches=reaches, edges=(Edge(start=0.0, end=first, side="left", above_bed=low),)
    )
    # The reaches are as long as the smooth line, whatever the bend does to it.
    chord = float(np.hypot(*np.diff(line, axis=0).T).sum())
    course = replace(course, line=(line - line[0]) * length / chord + line[0])
    done = put_out(design(replace(job, course=course)))
    for peg in done.pegs:
        for cut in peg.dug:
            assert peg.nail - cut.below == pytest.approx(cut.dig, abs=1e-12)
            assert min(*cut.edges_below, cut.below) >= 0.1 - 1e-9
            assert cut.works[0] >= cut.edges[0] >= cut.floor[0] >= 0 >= cut.floor[1] >= cut.edges[1] >= cut.works[1]
            assert peg.left.offset >= cut.works[0] + 0.3 - 1e-9
            assert peg.right.offset <= cut.works[1] - 0.3 + 1e-9
    for spot in spots_of(done):
        x, y = found_again(spot, done.marks)
        assert hypot(x - spot.at[0], y - spot.at[1]) < 1e-3
