"""The lining laid flat: developed lengths and areas by hand and by an independent unrolling, laps, pleats, the pit."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from beckwright.compose import Design
from beckwright.figures.lining import lining_figures
from beckwright.job.model import BedMakeUp, Job, Run
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Fall
from beckwright.stages.findings.lining import lining_findings
from beckwright.stages.lining import Lap, Lining, line, lining_items
from beckwright.stages.lining.breaks import break_places
from beckwright.tables.practice import LAP_HEIGHT, STEP_FOLD
from tests.stages.lining import lined, stepped, with_course, with_rolls, worked_out

SLACK = 0.15


def codes(job: Job, lining: Lining) -> set[str]:
    return {finding.code for finding in lining_findings(job, lining)}


def line_design(designed: Design) -> Lining:
    return line(designed.job, designed.course, designed.water, designed.falls, designed.reservoir.pit)


class TestStraight:
    """A bare run of 10 m, upright sides: every length in the head. The lining lies 4 mm under the bed."""

    def test_girth(self, plain: Job) -> None:
        """0.6 of bed, twice 0.2 m of side and the 4 mm of fleece, twice 0.3 m over the edge."""
        assert lined(plain).girths == pytest.approx(np.full(len(lined(plain).girths), 0.6 + 2 * 0.204 + 2 * 0.3))

    def test_developed_length(self, plain: Job) -> None:
        """Behind the box 0.3, down 0.5 from edge to its floor, 0.4 along, 0.296 up its front and the loose sheet.

        10.0125 down the slope; 1.0 m to the fill, 0.196 down to its cover, a lap of 0.3.
        """
        run = np.hypot(10.0, 0.5)
        box = 0.3 + 0.5 + 0.4 + 0.296 + SLACK
        assert lined(plain).strip.length == pytest.approx(box + run + 1.0 + 0.196 + 0.3, abs=1e-9)
        assert STEP_FOLD.high == SLACK

    def test_area(self, plain: Job) -> None:
        """Girth over the box: 0.5 of lip, twice 0.5 m up to the edge, twice 0.3 m: 2.1 m. Over the course 1.608 m.

        Where it lies, an upright side of 0.204 m on a slope is a parallelogram: as long as the run in plan.
        """
        run = np.hypot(10.0, 0.5)
        by_hand = 2.1 * 1.2 + (2.1 + 1.608) / 2 * (0.296 + SLACK) + 1.608 * (run + 1.496)
        strip = lined(plain).strip
        assert strip.area == pytest.approx(by_hand, abs=1e-9)
        assert strip.surface == pytest.approx(by_hand - 2 * 0.204 * (run - 10.0), abs=1e-9)
        assert np.ptp(strip.heading) == pytest.approx(0.0, abs=1e-12)

    def test_no_sheet_under_the_box(self, plain: Job) -> None:
        job = replace(plain, lining=replace(plain.lining, under_box=False))
        assert lined(job).strip.length == pytest.approx(0.3 + np.hypot(10.0, 0.5) + 1.496, abs=1e-9)
        assert "no-lining-under-box" in codes(job, lined(job))
        assert "no-lining-under-box" not in codes(plain, lined(plain))

    def test_left_and_right_stand_apart(self, plain: Job) -> None:
        """The left edge 0.1 m higher: the sheet is 0.1 m wider, all of it on the left."""
        from beckwright.job.model import Edge

        edges = (Edge(start=0.0, end=10.0, side="left", above_bed=0.3),)
        lining = lined(replace(plain, course=replace(plain.course, edges=edges)))
        assert lining.girths == pytest.approx(np.full(len(lining.girths), 1.708))
        here = np.flatnonzero(lining.strip.reach == 0)
        left, right = (
            np.hypot(*(side[here] - lining.strip.middle[here]).T) for side in (lining.strip.left, lining.strip.right)
        )
        assert left - right == pytest.approx(np.full(len(here), 0.1))

    def test_twice_the_allowance_twice_the_apron(self, plain: Job) -> None:
        wider = replace(plain, layers=replace(plain.layers, edge_allowance=0.6))
        assert lined(wider).girths - lined(plain).girths == pytest.approx(np.full(len(lined(plain).girths), 0.6))


def surface_by_hand(job: Job, course: SetOutCourse) -> float:
    """Area of the lining over the course, station by station in space, written apart from the stage (Heron)."""
    at = course.stations
    east, north = course.alignment.direction(at.chainage).T
    area = 0.0
    rows = []
    for n in range(len(at.chainage)):
        left = np.array([-north[n], east[n]])
        floor = at.width[n] / 2 - course.side_slope * (at.rim[n] - at.bed[n])
        out_left = floor + course.side_slope * (at.edge_left[n] - at.liner[n])
        out_right = floor + course.side_slope * (at.edge_right[n] - at.liner[n])
        spare = job.layers.edge_allowance
        marks = [
            (out_left + spare, at.edge_left[n]),
            (out_left, at.edge_left[n]),
            (floor, at.liner[n]),
            (-floor, at.liner[n]),
            (-out_right, at.edge_right[n]),
            (-out_right - spare, at.edge_right[n]),
        ]
        rows.append([np.array([*(at.points[n] + left * out), level]) for out, level in marks])
    for here, there in pairwise(rows):
        for k in range(5):
            area += heron(here[k], here[k + 1], there[k]) + heron(there[k + 1], here[k + 1], there[k])
    return area


def heron(one: np.ndarray, two: np.ndarray, three: np.ndarray) -> float:
    a, b, c = (float(np.linalg.norm(side)) for side in (two - one, three - two, one - three))
    s = (a + b + c) / 2
    return float(np.sqrt(max(s * (s - a) * (s - b) * (s - c), 0.0)))


class TestUnrolled:
    def test_area_in_space_by_an_independent_unrolling(self, hazel_design: Design) -> None:
        """What the strip holds beyond it: the box's sheet, the end in the reservoir, and four folds of loose sheet."""
        job, course, strip = hazel_design.job, hazel_design.course, line_design(hazel_design).strip
        girths = strip.girths()
        head = int(np.flatnonzero(strip.reach == 0)[0])
        tail = int(np.flatnonzero(strip.reach == strip.reach[-1])[0])
        steps = np.diff(strip.along)
        ends = [range(head), range(tail - 1, len(steps))]
        beyond = sum(steps[k] * (girths[k] + girths[k + 1]) / 2 for part in ends for k in part)
        feet = np.flatnonzero(np.diff(strip.reach) == 2)
        loose = sum(SLACK * (girths[k] + girths[k + 1]) / 2 for k in feet)
        assert len(feet) == 3
        # The pieces are hardly plane in a bend: which diagonal parts them counts for some square centimetres.
        assert strip.surface == pytest.approx(surface_by_hand(job, course) + beyond + loose, rel=1e-4)

    def test_the_flat_strip_is_no_smaller_and_hardly_larger(self, hazel_design: Design) -> None:
        """Laid flat with no pleats at bends, it is larger by what pool corners and sides of bends leave over."""
        flat = replace(hazel_design, job=with_rolls(hazel_design.job, 3.05, gathered=0.0))
        strip = line_design(flat).strip
        assert strip.surface < strip.area < 1.04 * strip.surface

    def test_a_flat_ribbon_keeps_its_area_and_its_turn(self, plain: Job) -> None:
        """With edges as low as the lining there is nothing to fold: an annulus comes out of the annulus.

        Quarter of a circle of radius 6 m, 0.6 m of bed and twice 0.3 m over it: 1.2 m times the middle arc.
        """
        ribbon = level_bend(plain, 6.0, np.pi / 2, edge=-0.004)
        strip, bends = lined(ribbon).strip, lined(ribbon).bends
        here = strip.reach == 0
        assert bends[0].turn == pytest.approx(np.pi / 2, rel=0.03)
        assert np.ptp(strip.heading[here]) == pytest.approx(bends[0].turn, rel=1e-9)
        arc = np.ptp(strip.along[here])
        assert arc == pytest.approx(6.0 * np.pi / 2, rel=1e-3)
        assert np.abs(strip.spare).max() < 2e-4
        left, right = strip.left[here], strip.right[here]
        falling, rising = np.hypot(*(left[:-1] - right[1:]).T), np.hypot(*(left[1:] - right[:-1]).T)
        assert falling == pytest.approx(rising, abs=1e-9)
        assert len(bends) == 1
        assert bends[0].difference == pytest.approx(bends[0].turn * 1.2, rel=1e-9)

    def test_a_bend_with_upright_sides(self, plain: Job) -> None:
        """By hand, for each radian at 5 m, y = 0.204: in plan the ends stand 0.6 m out, on the sheet 0.804 m.

        So the strip turns 0.6 / 0.804 of the bend. The outer toe, 0.3 m out, would be 0.3 (1 - 0.6 / 0.804) = 0.0761 m
        short: the strip is that much longer. The outer edge, 0.504 m out on the sheet and 0.3 in plan, then has
        0.0761 + 0.504 x 0.7463 - 0.3 = 0.1522 m to spare, the inner one 0.0761 - 0.3761 + 0.3 = 0.
        """
        lining = lined(level_bend(plain, 5.0, 1.0, edge=0.2))
        strip = lining.strip
        here = strip.reach == 0
        turn = np.ptp(strip.heading[here])
        ratio = 0.6 / 0.804
        assert turn == pytest.approx(lining.bends[0].turn * ratio, rel=1e-6)
        per_radian = strip.spare.sum(axis=0) / lining.bends[0].turn
        assert lining.bends[0].side == "left"
        assert per_radian[5] == pytest.approx(0.3 * (1 - ratio) + 0.504 * ratio - 0.3, rel=2e-3)
        assert per_radian[1] == pytest.approx(0.3 * (1 - ratio) - 0.504 * ratio + 0.3, abs=2e-3)
        pleats = {fold.side: fold for fold in lining.folds}
        assert pleats["right"].taken_up == pytest.approx(0.1522 * lining.bends[0].turn, rel=5e-3)
        assert "left" not in pleats

    def test_a_tight_bend_wants_gores_and_a_wide_one_pleats(self, plain: Job) -> None:
        """As worked above, 0.1522 m to lose a radian: 19 % of an arc of 0.8 m, 8 % of one of 2 m; 15 % is most."""
        wide, tight = (lined(level_bend(plain, radius, 1.0, edge=0.2)) for radius in (2.0, 0.8))
        assert not any(fold.gores for fold in wide.folds)
        assert any(fold.gores for fold in tight.folds)
        codes = [finding.code for finding in lining_findings(plain, tight)]
        assert "lining-gores" in codes
        assert "lining-gores" not in [finding.code for finding in lining_findings(plain, wide)]

    def test_pleats_straighten_the_strip(self, hazel_design: Design) -> None:
        turned = []
        for share in (0.0, 0.05, 0.1, 0.3):
            job = with_rolls(hazel_design.job, 3.05, gathered=share)
            lining = line_design(replace(hazel_design, job=job))
            turned.append(np.abs(np.diff(lining.strip.heading)).sum())
            assert lining.strip.area >= lining.strip.surface
        assert turned == sorted(turned, reverse=True)
        assert turned[0] > 2 * turned[-1]

    def test_no_line_is_shorter_on_the_sheet_than_where_it_lies(self, hazel_design: Design) -> None:
        """Edges and toes measured apart from the stage: in space, and on the flat sheet."""
        for share in (0.0, 0.08):
            job = with_rolls(hazel_design.job, 3.05, gathered=share)
            lining = line_design(replace(hazel_design, job=job))
            assert lining.strip.spare.min() >= -1e-12
            at, course, strip = hazel_design.course.stations, hazel_design.course, lining.strip
            z = course.side_slope
            here = np.flatnonzero((strip.reach >= 0) & (strip.reach < strip.reach[-1]))
            across = strip.left[here] - strip.middle[here]
            across = across / np.hypot(*across.T)[:, None]
            east, north = course.alignment.direction(at.chainage).T
            normal = np.stack([-north, east], axis=1)
            floor = at.width / 2 - z * (at.rim - at.bed)
            rise = at.edge_left - at.liner
            for side in (1.0, -1.0):
                out, flat = floor + z * rise, floor + rise * np.hypot(1.0, z)
                spots = np.column_stack([at.points + normal * (side * out)[:, None], at.edge_left])
                sheet = strip.middle[here] + across * (side * flat)[:, None]
                in_space = np.linalg.norm(np.diff(spots, axis=0), axis=1)
                on_sheet = np.hypot(*np.diff(sheet, axis=0).T)
                assert (on_sheet - in_space).min() > -2e-5


def level_bend(plain: Job, radius: float, turn: float, *, edge: float) -> Job:
    """A level bare run bent to the left along an arc."""
    angles = np.linspace(0.0, turn, 25)
    arc = np.stack([radius * np.sin(angles), radius * (1 - np.cos(angles))], axis=1)
    run = plain.course.reaches[0]
    assert isinstance(run, Run)
    job = with_course(plain, arc, (replace(run, length=radius * turn, fall=1e-6),), edge_above_bed=edge)
    return replace(job, lining=replace(job.lining, gathered=0.0))


class TestLaps:
    def test_a_loose_lap_hangs_down_the_face_of_a_step(self, plain: Job, bare: BedMakeUp) -> None:
        """Lining over the lip less running water in the pool: the fall of 0.4 m less 4 mm and the head over its rim."""
        job = with_course(plain, np.array([[0.0, 0.0], [10.2, 0.0]]), stepped(bare))
        lining = lined(with_rolls(job, 3.0, join="loose", roll_length=9.0))
        course, water, _, _ = worked_out(job)
        pool = course.stations.of(2)
        assert [lap.place for lap in lining.laps] == ["lip 1"]
        lap = lining.laps[0]
        running = float(water.level[2, :, pool.start].max())
        lip = course.stretches[1].bed_start - 0.004
        assert lap.height == pytest.approx(lip - running, abs=1e-9)
        assert not lap.bonded
        assert lap.at_step
        assert lap.end - lap.start >= job.layers.lap - 1e-9
        assert codes(job, lining) & {"lap-under-water"} == set()

    def test_a_loose_lap_on_flat_ground_must_be_bonded_and_is_told(self, plain: Job) -> None:
        """Ten metres at 1 in 20 and rolls of 6 m: no lap can be loose."""
        job = with_rolls(plain, 3.0, join="loose", roll_length=8.0)
        lining = lined(job)
        assert lining.laps
        assert all(lap.bonded for lap in lining.laps)
        assert "lap-under-water" in codes(job, lining)

    def test_steep_runs_take_loose_laps(self, plain: Job) -> None:
        """1 in 4: a lap of 0.3 m climbs 72 mm along it; water of 3 l/s stands less than 20 mm deep."""
        run = plain.course.reaches[0]
        assert isinstance(run, Run)
        steep = with_course(plain, np.array([[0.0, 0.0], [10.0, 0.0]]), (replace(run, fall=2.5),))
        lap = lined(with_rolls(steep, 3.0, join="loose", roll_length=8.0)).laps[0]
        assert not lap.bonded
        assert lap.height >= LAP_HEIGHT.amount

    @pytest.mark.parametrize("join", ["bonded", "loose"])
    def test_never_in_a_pool_nor_where_a_fall_lands(self, plain: Job, bare: BedMakeUp, join: str) -> None:
        job = with_rolls(
            with_course(plain, np.array([[0.0, 0.0], [10.2, 0.0]]), stepped(bare)), 3.0, join=join, roll_length=4.5
        )
        _, _, falls, _ = worked_out(job)
        lining = lined(job)
        assert len(lining.laps) >= 3
        for lap in lining.laps:
            if not lap.at_step:
                assert not overlaps(lap.chainage, (4.0, 5.2))
                assert not overlaps(lap.chainage, landing(falls[1]))

    def test_a_fall_onto_stones_keeps_seams_off_where_it_lands(self, plain: Job, bare: BedMakeUp) -> None:
        """No pool below: the run itself is kept clear, and 0.3 m more."""
        reaches = tuple(reach for reach in stepped(bare) if reach.name != "pool 1")
        job = with_rolls(with_course(plain, np.array([[0.0, 0.0], [9.0, 0.0]]), reaches), 3.0)
        falls = worked_out(job)[2]
        far = landing(falls[1])[1] + 0.3
        below = [lap for lap in places_for_laps(job) if lap.place == "run 2"]
        assert below
        assert min(lap.chainage[0] for lap in below) >= far - 1e-9
        assert far > 4.3

    @pytest.mark.parametrize(
        ("fall", "lap", "loose"),
        [
            (1.2, 0.3, False),  # steep enough, but 36 mm of rise are less than 50
            (0.8, 1.2, False),  # 96 mm of rise, but 1 in 12.5 is too flat
            (2.5, 0.3, True),  # 75 mm of rise at 1 in 4
        ],
    )
    def test_a_loose_lap_is_steep_and_high(self, plain: Job, fall: float, lap: float, loose: bool) -> None:
        run = plain.course.reaches[0]
        assert isinstance(run, Run)
        job = with_course(plain, np.array([[0.0, 0.0], [10.0, 0.0]]), (replace(run, fall=fall),))
        job = with_rolls(replace(job, layers=replace(job.layers, lap=lap)), 3.0, join="loose")
        laps = places_for_laps(job)
        assert laps
        assert {lap.bonded for lap in laps} == {not loose}

    def test_a_lap_over_a_low_lip_reaches_back_up_the_run(self, plain: Job, bare: BedMakeUp) -> None:
        """A drop of 0.12 m shows less than 0.12 m of face: the lower sheet goes on over the lip for a whole lap."""
        reaches = tuple(replace(reach, drop=0.12) if reach.name == "lip 1" else reach for reach in stepped(bare))
        job = with_rolls(with_course(plain, np.array([[0.0, 0.0], [10.2, 0.0]]), reaches), 3.0)
        lap = next(lap for lap in places_for_laps(job) if lap.at_step)
        assert lap.end - lap.start == pytest.approx(job.layers.lap)
        assert lap.chainage[0] < 4.0 - 0.05

    def test_a_short_lap_is_told(self, plain: Job) -> None:
        job = with_rolls(plain, 3.0, roll_length=8.0)
        assert "lap-short" not in codes(job, lined(job))
        short = replace(job, layers=replace(job.layers, lap=0.06))
        assert "lap-short" in codes(short, lined(short))


def places_for_laps(job: Job) -> tuple[Lap, ...]:
    course, _, falls, _ = worked_out(job)
    return break_places(job, course, falls, lined(job).strip)


def overlaps(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] - 1e-9 and other[0] < one[1] - 1e-9


def landing(fall: Fall) -> tuple[float, float]:
    assert fall.sheet is not None
    return fall.lip.chainage, fall.lip.chainage + float(fall.sheet.landed.far.max())


class TestSplash:
    def test_a_high_narrow_fall_widens_the_sheet(self, plain: Job, bare: BedMakeUp) -> None:
        """Half a lip of 0.5 m and a drop of 0.8 m: 1.05 m are wanted from the middle; pool and apron give 0.8 m."""
        reaches = tuple(replace(reach, drop=0.8) if reach.name == "lip 1" else reach for reach in stepped(bare))
        job = with_course(plain, np.array([[0.0, 0.0], [10.2, 0.0]]), reaches)
        splash = lined(job).splashes[0]
        assert splash.wanted == pytest.approx(0.25 + 0.8)
        assert splash.windward == pytest.approx(0.25 + 1.6)
        assert splash.widened == pytest.approx(1.05 - (0.5 + 0.3))
        assert splash.reach == pytest.approx(1.05)
        assert {"splash-widens-sheet", "splash-to-windward"} <= codes(job, lined(job))

    def test_a_low_fall_does_not(self, plain: Job, bare: BedMakeUp) -> None:
        job = with_course(plain, np.array([[0.0, 0.0], [10.2, 0.0]]), stepped(bare))
        assert lined(job).splashes[0].widened == 0.0
        assert "splash-widens-sheet" not in codes(job, lined(job))


class TestPit:
    def test_its_sheet_by_hand(self, plain: Job) -> None:
        """2.0 by 1.5 m, 1.1 m deep with its sump, 0.3 m over the edge: 4.8 by 4.3 m, and 4.3 m off a roll of 5 m."""
        pit = lined(with_rolls(plain, 3.05, 5.0)).pit
        assert (pit.along, pit.across, pit.roll, pit.strips) == (4.3, 4.8, 5.0, 1)
        assert pit.mass == pytest.approx(5.0 * 4.3 * 1.2)

    def test_joined_where_no_roll_is_wide_enough(self, plain: Job) -> None:
        """Rolls of 3.05 m: two give 5.95 m; 4.3 m of them is less sheet, and less seam, than 4.8 m."""
        pit = lined(with_rolls(plain, 3.05)).pit
        assert (pit.along, pit.strips) == (4.3, 2)
        assert pit.width == pytest.approx(5.95)
        assert pit.seam == pytest.approx(4.3)


class TestWords:
    def test_nobody_said_which_rolls(self, plain: Job) -> None:
        nobody = with_rolls(plain)
        lining = lined(nobody)
        assert codes(nobody, lining) >= {"lining-by-need"}
        assert len(lining.pieces) == 1
        assert lining.pieces[0].roll is None
        assert "lining-by-need" not in codes(plain, lined(with_rolls(plain, 3.0)))

    def test_too_heavy_for_the_crew(self, plain: Job) -> None:
        """2.2 by 13.2 m at 1.2 kg/m2 is 35 kg; two strong people carry 33."""
        job = with_rolls(plain, 2.2)
        job = replace(job, force=replace(job.force, people=2))
        assert "piece-heavy" in codes(job, lined(job))
        light = replace(job, layers=replace(job.layers, lining_mass=0.4, lining=0.0004))
        assert "piece-heavy" not in codes(light, lined(light))

    def test_the_cure_for_a_heavy_piece_works(self, hazel: Job) -> None:
        """Rolls no longer than it says, and the crew can carry every piece of the course."""
        job = with_rolls(hazel, 3.05)
        told = next(finding for finding in lining_findings(job, lined(job)) if finding.code == "piece-heavy")
        length = float(told.cure.split("roll_length_m = ")[1].split(" ")[0])
        lining = lined(with_rolls(hazel, 3.05, roll_length=length))
        assert max(piece.mass for piece in lining.pieces) <= 2 * 25 * 2 / 3

    def test_a_roll_too_narrow_for_the_girth(self, plain: Job) -> None:
        job = with_rolls(plain, 1.2)
        lining = lined(job)
        assert {piece.strips for piece in lining.pieces} == {2}
        assert "roll-narrow" in codes(job, lining)
        assert all(piece.along for piece in lining.pieces)

    def test_an_unlikely_weight(self, plain: Job) -> None:
        assert "lining-mass" not in codes(plain, lined(plain))
        lead = replace(plain, layers=replace(plain.layers, lining_mass=11.3))
        assert "lining-mass" in codes(lead, lined(lead))

    def test_bends_are_told(self, hazel_design: Design, plain: Job) -> None:
        assert "lining-at-bends" in codes(hazel_design.job, line_design(hazel_design))
        assert "lining-at-bends" not in codes(plain, lined(plain))

    def test_fleece_by_hand(self, plain: Job) -> None:
        """Under: course and a pit of 4.8 by 4.3 m. Over: 0.6 m less across, and the pit without its rim."""
        strip = lined(plain).strip
        under, over = lined(plain).fleece
        assert (under.where, over.where) == ("under", "over")
        assert under.lies_on == pytest.approx(strip.area + 4.8 * 4.3)
        assert under.lies_on - over.lies_on == pytest.approx(0.6 * strip.length + 4.8 * 4.3 - 4.2 * 3.7)
        assert under.area == pytest.approx(1.1 * under.lies_on)
        none = replace(plain, layers=replace(plain.layers, fleece_over=0.0, fleece_under=0.0))
        assert lined(none).fleece == ()

    def test_rule_of_thumb_beside_the_exact_girth(self, plain: Job) -> None:
        """Check L04's rule, from edge to edge: upright sides take just that, sloping ones less.

        Sides 1 to 1: 1.008 between the edges and 2 x 0.204 and 0.6 is 2.016; exact 0.6 + 2 x 0.2885 + 0.6 is 1.777.
        """
        assert lined(plain).thumb_girths == pytest.approx(lined(plain).girths)
        sloping = lined(replace(plain, course=replace(plain.course, side_slope=1.0)))
        assert sloping.thumb_girths == pytest.approx(np.full(len(sloping.girths), 2.016))
        assert sloping.girths == pytest.approx(np.full(len(sloping.girths), 1.777), abs=5e-4)

    def test_the_plan_beside_other_ways(self, plain: Job) -> None:
        """A straight course: one sheet, a roll led down it and the strip itself are one and the same."""
        other, strip = lined(with_rolls(plain, 2.1)).compared, lined(plain).strip
        assert other.one_sheet == pytest.approx((np.ceil(strip.length / 0.05) * 0.05, 2.1))
        assert other.rolled == other.one_sheet
        assert other.rolled_pleats == pytest.approx(0.0, abs=1e-9)
        assert other.bound == pytest.approx(strip.surface)
        assert other.single == pytest.approx(2.1 * other.one_sheet[0])
        assert other.thumb == pytest.approx((10.0 + 2 * 0.204 + 0.6, 0.6 + 2 * 0.204 + 0.6))
        longest = lined(with_rolls(plain, 2.1, roll_length=5.0)).compared
        laps = np.ceil((strip.length - 0.3) / 4.7) - 1
        assert longest.bound == pytest.approx(strip.surface + laps * 0.3 * 1.608)
        assert longest.single is None

    def test_items_are_the_sheets(self, hazel_design: Design) -> None:
        lining = line_design(hazel_design)
        items = {item.key: item for item in lining_items(hazel_design.job, lining)}
        assert items["lining.course"].amount == pytest.approx(sum(p.strips * 3.05 * p.length for p in lining.pieces))
        assert items["lining.pit"].amount == pytest.approx(lining.pit.roll * lining.pit.along)  # type: ignore[operator]
        assert items["lining.seam"].amount == pytest.approx(sum(lap.across for lap in lining.laps))
        for item in items.values():
            assert item.low <= item.amount <= item.high

    def test_figures_can_be_followed(self, hazel_design: Design) -> None:
        figures = list(lining_figures(hazel_design.job, hazel_design.course, line_design(hazel_design)))
        assert len({figure.name for figure in figures}) == len(figures)
        for figure in figures:
            assert figure.low <= figure.amount <= figure.high
            if figure.equation is not None:
                inputs = {each.name: each.amount for each in figure.inputs}
                assert figure.equation(**inputs) == pytest.approx(figure.amount, rel=1e-9, abs=1e-12), figure.name

    def test_every_finding_s_figure_exists(self, hazel_design: Design) -> None:
        lining = line_design(hazel_design)
        names = {figure.name for figure in lining_figures(hazel_design.job, hazel_design.course, lining)}
        for finding in lining_findings(hazel_design.job, lining):
            assert not finding.figure or finding.figure in names
