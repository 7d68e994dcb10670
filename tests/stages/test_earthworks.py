"""The ground work against closed forms, against an overlay by shapely, and against what must hold for any job."""

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from beckwright.base.findings import Finding
from beckwright.figures.earthworks import earthworks_figures
from beckwright.job.model import Boundary, Job, Pool, Run, Service, Step, Survey, Tree, WishedHeap
from beckwright.job.read import read_job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.earthworks import Groundwork, Part, dig, level_that_balances
from beckwright.stages.earthworks.net import join
from beckwright.stages.earthworks.overlay import amounts, lay_over
from beckwright.stages.earthworks.sections import lay_sections
from beckwright.stages.findings.earthworks import earthworks_findings
from beckwright.stages.ground import Ground, build_ground, level_at
from beckwright.stages.reservoir import dig_pit
from beckwright.stages.surroundings import look_around, radius_of
from beckwright.tables.soils import BULKING, DENSITY, RAMMED
from tests.stages.conftest import EXAMPLES

LAYERS = 0.07
"""Fleece 4, lining 1, fleece 5 and blinding 60 mm of the plain job."""

NO_SHRINK = (Phase.explicit, Phase.reuse, Phase.generate)
"""A design is too large a thing to be shrunk."""

NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


def worked(job: Job) -> tuple[SetOutCourse, Ground, Groundwork]:
    ground = build_ground(job.survey)
    course = set_out_course(job.course, job.source, job.layers, ground, job.site.topsoil)
    return course, ground, dig(job, course, ground, dig_pit(job.reservoir), look_around(job, course))


def groundwork(job: Job) -> Groundwork:
    return worked(job)[2]


def part(work: Groundwork, name: str) -> Part:
    (found,) = [each for each in work.parts if each.name == name]
    return found


def findings(job: Job, **changes: float) -> tuple[Finding, ...]:
    course, _, work = worked(job)
    return earthworks_findings(job, course, replace(work, **changes))


def found(job: Job, code: str, **changes: float) -> list[Finding]:
    return [finding for finding in findings(job, **changes) if finding.code == code]


def the(job: Job, code: str, **changes: float) -> Finding:
    (finding,) = found(job, code, **changes)
    return finding


def flat(job: Job, level: float) -> Job:
    """Level ground all over."""
    return replace(job, survey=replace(job.survey, levels=np.full(len(job.survey.points), level)))


def digging(job: Job, **changes: object) -> Job:
    return replace(job, earthworks=replace(job.earthworks, **changes))


def sited(job: Job, **changes: object) -> Job:
    return replace(job, site=replace(job.site, **changes))


@pytest.fixture
def bare_job(plain: Job) -> Job:
    """The plain job in clay without topsoil, the pit 12 m farther on so that nothing of it meets the course.

    Pit in ground at 99.90 less 1 in 20; banks 0.3 m wide on top, 1 down to 2.5 out; batter 1 to 1.
    """
    wide = replace(plain.survey, points=plain.survey.points * np.array([2.0, 2.0]))
    level = 99.9 - wide.points[:, 0] / 20
    job = replace(
        plain, survey=replace(wide, levels=level), reservoir=replace(plain.reservoir, centre=(24.0, 0.0), cover=99.0)
    )
    return digging(
        sited(job, soil="clay", topsoil=0.0),
        fill="rammed",
        bank_top=0.3,
        bank_slope=2.5,
        batter=1.0,
        working_space=0.3,
        heap_height=1.0,
        heaps=(),
        load=None,
        load_price=None,
        digger_width=None,
        digger_reach=None,
    )


class TestPit:
    def pit(self, job: Job, *, floor: tuple[float, float], depth: float, **changes: object) -> Job:
        """A pit with a floor of that size, so deep under level ground at 99.0, without a sump."""
        space = 0.25
        top = 99.0 - depth + LAYERS
        reservoir = replace(
            job.reservoir,
            length=floor[0] - 2 * space,
            width=floor[1] - 2 * space,
            fill_depth=0.5,
            cover_depth=0.2,
            cover=top + 0.7,
            sump=0.0,
        )
        return digging(flat(replace(job, reservoir=reservoir), 99.0), working_space=space, **changes)

    def test_frustum(self, bare_job: Job) -> None:
        """Floor 4 by 4, top 8 by 8, 2 m deep: (16 + 32 + 64) 2 / 3 = 74.67 m3. End areas give 80, 7.1 % too much."""
        exact = (16 + 32 + 64) * 2 / 3
        work = groundwork(self.pit(bare_job, floor=(4.0, 4.0), depth=2.0))
        assert part(work, "pit").cut == pytest.approx(exact)
        assert exact * 1.071 == pytest.approx((16 + 64) / 2 * 2, rel=1e-3)
        assert part(work, "pit").plan == pytest.approx(64.0)
        assert work.pit.depth == pytest.approx(2.0)

    def test_frustum_of_a_rectangular_pyramid(self, bare_job: Job) -> None:
        """A stored page's h (a b + (a + a1)(b + b1) + a1 b1) / 6: floor 3 by 2, top 6 by 5 over 1.5 m at 1 to 1."""
        exact = 1.5 / 6 * (3 * 2 + (3 + 6) * (2 + 5) + 6 * 5)
        work = groundwork(self.pit(bare_job, floor=(3.0, 2.0), depth=1.5))
        assert part(work, "pit").cut == pytest.approx(exact)

    def test_what_is_filled_back(self, bare_job: Job) -> None:
        """All but the fill and the room over it, up to the ground."""
        work = groundwork(self.pit(bare_job, floor=(3.0, 2.0), depth=1.5))
        assert part(work, "pit").fill == pytest.approx(part(work, "pit").cut - 2.5 * 1.5 * 1.5)

    def test_upright(self, bare_job: Job) -> None:
        work = groundwork(self.pit(bare_job, floor=(3.0, 2.0), depth=1.5, batter=0.0))
        assert part(work, "pit").cut == pytest.approx(9.0)
        assert work.pit.top == pytest.approx(work.pit.floor)

    @pytest.mark.parametrize("turned", [0.0, 0.7])
    def test_on_a_slope(self, bare_job: Job, turned: float) -> None:
        """Floor 3 by 2 in ground that falls 1 in 20. By hand, a slice of the cut at a height h over the floor.

        The batter's plane and the ground meet at distances in which the slope enters as 1 / (1 -+ g): the volume is
        worked by a fine sum over squares of 10 mm, each of them up to the ground.
        """
        job = replace(bare_job, reservoir=replace(bare_job.reservoir, turned=turned))
        work = groundwork(job)
        turn = np.array([[np.cos(turned), -np.sin(turned)], [np.sin(turned), np.cos(turned)]])
        east, north = np.meshgrid(np.arange(20.005, 28, 0.01), np.arange(-4.0 + 0.005, 4, 0.01))
        along, across = (np.stack([east - 24, north], -1) @ turn).transpose(2, 0, 1)
        outside = np.maximum(np.maximum(np.abs(along) - 1.3, np.abs(across) - 1.05), 0.0)
        floor = 99.0 - 1.0 - LAYERS
        depth = np.maximum(99.9 - east / 20 - (floor + outside), 0.0)
        assert part(work, "pit").cut == pytest.approx(depth.sum() * 1e-4, rel=2e-4)
        assert part(work, "pit").plan == pytest.approx((depth > 0).sum() * 1e-4, rel=2e-3)
        assert shapely.Polygon(work.pit.rim).area == pytest.approx(part(work, "pit").plan)

    def test_corners(self, bare_job: Job) -> None:
        """The ray of a corner rises 1 for each 1 out on both sides until it meets 99.9 - x / 20."""
        pit = groundwork(bare_job).pit
        out = pit.top - pit.floor
        assert np.abs(out[:, 0]) == pytest.approx(np.abs(out[:, 1]))
        assert pit.top_levels == pytest.approx(99.9 - pit.top[:, 0] / 20)
        assert pit.top_levels == pytest.approx(pit.floor_level + np.abs(out[:, 0]))
        assert pit.floor[0] == pytest.approx([24 - 1.3, -1.05])

    def test_sump(self, bare_job: Job) -> None:
        """0.6 by 0.6 m and 0.1 m under the floor."""
        assert part(groundwork(bare_job), "sump").cut == pytest.approx(0.6**2 * 0.1)

    def test_topsoil_is_not_dug_twice(self, bare_job: Job) -> None:
        """64 m2 of 0.25 m are stripped; what is left is the frustum of 1.75 m: (16 + 30 + 56.25) 1.75 / 3."""
        job = sited(self.pit(bare_job, floor=(4.0, 4.0), depth=2.0), topsoil=0.25)
        assert part(groundwork(job), "pit").cut == pytest.approx((16 + 30 + 56.25) * 1.75 / 3)

    def test_over_the_ground_there_is_nothing_to_dig(self, bare_job: Job) -> None:
        work = groundwork(self.pit(bare_job, floor=(3.0, 2.0), depth=-0.5))
        assert part(work, "pit").cut == part(work, "pit").plan == work.pit.depth == 0


class TestChannel:
    def test_banks_by_hand(self, bare_job: Job) -> None:
        """Bed 0.1 m over the ground, edges 0.3 m over it, both falling 1 in 20, sides upright.

        Bank: 0.3 wide and 0.3 high, and outside it a triangle of 0.75 by 0.3. Along 10 m, on both sides. Under the bed
        the fill is 0.1 less the layers.
        """
        work = groundwork(bare_job)
        assert part(work, "banks").fill == pytest.approx(2 * 10 * (0.3 * 0.3 + 0.75 * 0.3 / 2))
        assert part(work, "channel").fill == pytest.approx(10 * 0.6 * (0.1 - LAYERS))
        assert part(work, "banks").cut == part(work, "channel").cut == 0

    def test_topsoil_goes_back_over_the_banks(self, bare_job: Job) -> None:
        """0.2 m stripped: as much more under the bed, and on the banks the same subsoil with topsoil over it."""
        work = groundwork(sited(bare_job, topsoil=0.2))
        assert part(work, "channel").fill == pytest.approx(10 * 0.6 * (0.1 - LAYERS + 0.2))
        assert part(work, "banks").fill == pytest.approx(2 * 10 * (0.3 * 0.3 + 0.75 * 0.3 / 2))
        strip, trench = part(work, "topsoil"), part(work, "pit")
        assert strip.cut == pytest.approx(0.2 * strip.plan)
        back = 2 * 10 * 1.05 * 0.2 + 0.2 * (trench.plan - 2.0 * 1.5)
        box = strip.fill - back
        assert 0 < box < 0.2 * part(work, "outlet box").plan

    def test_a_section_by_hand(self, bare_job: Job) -> None:
        """Half the bed 0.3, bank to 0.6, toe 0.3 / (1 / 2.5) = 0.75 farther out."""
        section = groundwork(bare_job).sections[20]
        half = [1.35, 0.6, 0.3, 0.3]
        assert section.offsets == pytest.approx([*half, 0.0, *[-each for each in half[::-1]]])
        over = section.formation - section.ground
        assert over == pytest.approx([0, 0.3, 0.3, 0.03, 0.03, 0.03, 0.3, 0.3, 0])
        assert section.edges == pytest.approx((0.3, -0.3))

    def test_in_a_cutting(self, bare_job: Job) -> None:
        """The ground 1 m higher: no bank, and from the edge up 0.7 m at the slope clay stands at, 1 to 1."""
        high = replace(bare_job, survey=replace(bare_job.survey, levels=bare_job.survey.levels + 1.0))
        work = groundwork(high)
        assert work.sections[20].offsets[[0, 1, 2]] == pytest.approx([0.3 + 0.7, 0.3, 0.3])
        assert part(work, "banks").cut == pytest.approx(2 * 10 * 0.7**2 / 2)
        assert part(work, "channel").cut == pytest.approx(10 * 0.6 * (0.9 + LAYERS))
        assert part(work, "banks").fill == 0

    def test_a_side_slope_of_the_hill(self, bare_job: Job) -> None:
        """Ground that rises 1 in 5 to the left of an even line: the toe by hand, both ways."""
        points = bare_job.survey.points
        tilted = replace(bare_job, survey=replace(bare_job.survey, levels=99.9 - points[:, 0] / 20 + points[:, 1] / 5))
        section = groundwork(tilted).sections[20]
        # Edge 0.3 over the middle. The bank's top ends at 0.6; then 0.3 - (o - 0.6) / 2.5 = o / 5 on the left.
        assert section.offsets[0] == pytest.approx((0.3 + 0.6 / 2.5) / (1 / 5 + 1 / 2.5))
        assert section.offsets[-1] == pytest.approx(-(0.3 + 0.6 / 2.5) / (1 / 2.5 - 1 / 5))

    @pytest.mark.parametrize("name", ["hazel_bank", "fennymoor_park", "withy_lane"])
    def test_toes_are_where_the_bank_first_meets_the_ground(self, name: str) -> None:
        """On the ground, and from the bank's top to there on one side of it."""
        course, ground, work = worked(read_job(EXAMPLES / name))
        for section in work.sections:
            for toe, bank in ((0, 1), (-1, -2)):
                assert section.formation[toe] == pytest.approx(section.ground[toe], abs=1e-6)
                share = np.linspace(0.0, 1.0, 12)[1:-1]
                out = section.offsets[bank] + share * (section.offsets[toe] - section.offsets[bank])
                slope = section.formation[bank] + share * (section.formation[toe] - section.formation[bank])
                over = slope - level_at(ground, course.alignment.beside(np.full(10, section.chainage), out))
                assert (over >= -1e-6).all() or (over <= 1e-6).all()

    def test_a_step_loses_nothing(self, bare_job: Job) -> None:
        """Two runs and a drop between them: each prism by itself."""
        bed = bare_job.course.reaches[0].bed  # type: ignore[union-attr]
        reaches = (
            Run(name="upper", length=5.0, fall=0.25, width=0.6, bed=bed, sills=()),
            Step(name="lip", drop=0.05, lip_width=0.6, lip="flat slab"),
            Run(name="lower", length=5.0, fall=0.25, width=1.0, bed=bed, sills=()),
        )
        job = replace(bare_job, course=replace(bare_job.course, reaches=reaches))
        work = groundwork(job)
        assert part(work, "channel").fill == pytest.approx(5 * 0.6 * 0.03)
        assert part(work, "channel").cut == pytest.approx(5 * 1.0 * 0.02)
        sides = [(h * 0.3 + 2.5 * h * h / 2) * 2 * 5 for h in (0.3, 0.25)]
        assert part(work, "banks").fill == pytest.approx(sum(sides))

    def test_pools_are_named_and_narrower_at_the_floor(self, bare_job: Job) -> None:
        """1.2 m at the rim, sides 1 to 0.5, 0.2 m deep: 1.0 m at the floor."""
        pool = Pool(name="pool 1", length=10.0, width=1.2, depth=0.2)
        course = replace(bare_job.course, reaches=(pool,), side_slope=0.5)
        section = groundwork(replace(bare_job, course=course)).sections[2]
        assert section.offsets[3] == pytest.approx(0.5)
        assert section.offsets[2] == pytest.approx(0.6 + 0.5 * 0.2)
        assert part(groundwork(replace(bare_job, course=course)), "pool 1").plan > 0

    def test_raised_box_stands_on_fill(self, bare_job: Job) -> None:
        """Level ground 0.5 m under the lip and a box 0.3 m deep: under it 0.2 m, round it a bank to the edge."""
        job = flat(bare_job, 99.5)
        work = groundwork(job)
        box, height = job.source, 0.2 + 0.5
        sides = 2 * box.box_length * (height * 0.3 + 2.5 * height**2 / 2)
        base = box.box_length * box.lip_width * 0.2
        back = (box.lip_width + 2 * 0.3) * (height * 0.3 + 2.5 * height**2 / 2)
        beside_back = 2 * 0.3 * 2.5 * height**2 / 2
        corners = 2 * (2.5 * height) ** 2 * height / 3
        assert part(work, "outlet box").fill == pytest.approx(sides + base + back + beside_back + corners)


def shapely_volumes(course: SetOutCourse, ground: Ground, work: Groundwork, strip: float) -> tuple[float, float, float]:
    """Plan, and volumes of the formation under and over the stripped ground: every overlap of two triangles a polygon.

    Each polygon is cut at the zero line by a half-plane and its volume is area times height at the centroid.
    """
    surface = work.formation
    above = shapely.polygons(surface.points[surface.triangles])
    below = shapely.polygons(ground.corners)
    one, other = shapely.STRtree(below).query(above, predicate="intersects")
    plan = cut = fill = 0.0
    for upper, lower in zip(one, other, strict=True):
        shape = shapely.intersection(above[upper], below[lower])
        if shape.area < 1e-14:
            continue
        corners = surface.triangles[upper]
        planes = [
            np.linalg.solve(np.column_stack([points, np.ones(3)]), levels)
            for points, levels in (
                (surface.points[corners], surface.levels[corners]),
                (ground.corners[lower], ground.levels[ground.triangles[lower]] - strip),
            )
        ]
        height = planes[0] - planes[1]
        plan += shape.area
        for sign in (1.0, -1.0):
            kept = shapely.intersection(shape, half_plane(sign * height)) if np.hypot(*height[:2]) > 1e-12 else shape
            middle = kept.centroid
            volume = 0.0 if kept.is_empty else sign * kept.area * float(height @ (middle.x, middle.y, 1.0))
            fill, cut = (fill + max(volume, 0.0), cut) if sign > 0 else (fill, cut + max(volume, 0.0))
    return plan, cut, fill


def half_plane(height: np.ndarray) -> shapely.Polygon:
    """Where a x + b y + c is above 0, far enough out to hold any garden."""
    normal = height[:2] / np.hypot(*height[:2])
    along, far = np.array([-normal[1], normal[0]]), 1e3
    foot = -normal * height[2] / np.hypot(*height[:2])
    # The line nearest the site: the foot from the origin, with the site within reach of it.
    return shapely.Polygon(
        [foot - far * along, foot + far * along, foot + far * (along + normal), foot + far * (normal - along)]
    )


class TestAgainstShapely:
    @pytest.mark.parametrize("name", ["hazel_bank", "larkspur_court", "withy_lane"])
    def test_overlay(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        course, ground, work = worked(job)
        sections = lay_sections(job, course, ground)
        net = join(course, sections)
        pieces = lay_over(ground, net.corners, net.levels, np.zeros(2))
        made = amounts(pieces, job.site.topsoil, net.lined[pieces.owner])
        plan, cut, fill = shapely_volumes(course, ground, work, job.site.topsoil)
        assert made.plan.sum() == pytest.approx(plan, rel=1e-9)
        assert made.cut.sum() == pytest.approx(cut, rel=1e-7, abs=1e-8)
        assert (made.fill + made.topsoil).sum() == pytest.approx(fill, rel=1e-7)

    @pytest.mark.parametrize("name", ["hazel_bank", "withy_lane"])
    def test_all_of_it_once(self, name: str) -> None:
        """Squares of 25 mm over all of the works, pit and course together: the lower of both where they meet.

        Dug: from the stripped ground to the lower of pit and formation. Filled: from there to the formation where the
        course is, else to the ground, but not over the reservoir's fill.
        """
        job = read_job(EXAMPLES / name)
        _, ground, work = worked(job)
        without = [each for each in work.parts if each.kind not in ("trench", "strip") and each.name != "sump"]
        cut, filled, footprint = squares(job, ground, work)
        trench = sum(each.plan for each in work.parts if each.kind == "trench")
        assert sum(each.cut for each in without) == pytest.approx(cut, rel=4e-3)
        strip = part(work, "topsoil")
        back = strip.fill - trench * min(job.site.topsoil, job.earthworks.trench_depth)
        assert sum(each.fill for each in without) + back == pytest.approx(filled, rel=4e-3)
        assert strip.plan - trench == pytest.approx(footprint, rel=2e-3)

    @pytest.mark.parametrize(("lower", "strip"), [(0.0, 0.0), (0.0, 0.15), (0.5, 0.0), (0.5, 0.15)])
    def test_the_end_of_the_course_over_the_pit(self, bare_job: Job, lower: float, strip: float) -> None:
        """The bed runs out over the batter, the working space and the fill; lowered, it cuts deeper than the batter."""
        near = replace(bare_job.reservoir, centre=(10.6, 0.2), turned=0.3, sump=0.0)
        job = sited(lowered(replace(bare_job, reservoir=near), lower), topsoil=strip)
        _, ground, work = worked(job)
        cut, filled, footprint = squares(job, ground, work)
        assert sum(each.cut for each in work.parts if each.kind != "strip") == pytest.approx(cut, rel=2e-3)
        assert sum(each.fill for each in work.parts) == pytest.approx(filled, rel=2e-3)
        assert part(work, "topsoil").plan == pytest.approx(footprint, rel=2e-3)


def squares(job: Job, ground: Ground, work: Groundwork, side: float = 0.025) -> tuple[float, float, float]:
    low, high = ground.hull.min(axis=0), ground.hull.max(axis=0)
    grid = np.stack(np.meshgrid(*(np.arange(low[k] + side / 2, high[k], side) for k in (0, 1))), -1)
    existing = levels_on(grid, ground.corners, ground.levels[ground.triangles])
    surface = work.formation
    course = levels_on(grid, surface.points[surface.triangles], surface.levels[surface.triangles])
    reservoir, pit = job.reservoir, work.pit
    turn = np.array(
        [[np.cos(reservoir.turned), -np.sin(reservoir.turned)], [np.sin(reservoir.turned), np.cos(reservoir.turned)]]
    )
    along = np.abs((grid - np.array(reservoir.centre)) @ turn)
    half = np.array([reservoir.length, reservoir.width]) / 2
    outside = np.maximum((along - half - job.earthworks.working_space).max(axis=2), 0.0)
    level = pit.floor_level + outside / pit.batter
    in_pit, in_course = level < existing, ~np.isnan(course)
    over_fill = (along <= half).all(axis=2) & in_pit
    stripped = existing - job.site.topsoil
    done = np.where(in_course, course, existing)
    dug = np.where(in_pit, np.fmin(level, np.where(in_course & ~over_fill, course, np.inf)), course)
    works = in_pit | in_course
    base = np.minimum(dug, stripped)
    cut = np.where(works, stripped - base, 0.0)
    filled = np.where(works & ~over_fill, np.maximum(done - base, 0.0), 0.0)
    return (float(np.nansum(each)) * side**2 for each in (cut, filled, works))  # type: ignore[return-value]


def levels_on(grid: np.ndarray, corners: np.ndarray, levels: np.ndarray) -> np.ndarray:
    """Level at each point of a square grid (rows, columns, 2) on a net of triangles, not a number outside it."""
    found = np.full(grid.shape[:2], np.nan)
    for triangle, height in zip(corners, levels, strict=True):
        columns = slice(*np.searchsorted(grid[0, :, 0], [triangle[:, 0].min(), triangle[:, 0].max()]))
        rows = slice(*np.searchsorted(grid[:, 0, 1], [triangle[:, 1].min(), triangle[:, 1].max()]))
        near = grid[rows, columns].reshape(-1, 2)
        weights = np.linalg.solve(np.vstack([triangle.T, np.ones(3)]), np.vstack([near.T, np.ones(len(near))]))
        inside = (weights >= -1e-12).all(axis=0).reshape(found[rows, columns].shape)
        found[rows, columns][inside] = (height @ weights).reshape(inside.shape)[inside]
    return found


class TestLaws:
    @pytest.mark.parametrize("name", NAMES)
    def test_soil_is_neither_made_nor_lost(self, name: str) -> None:
        """Dug and brought is wanted and carted away, in one measure: as it lay in the ground."""
        job = read_job(EXAMPLES / name)
        work = groundwork(job)
        rammed = RAMMED[job.site.soil].amount if job.earthworks.fill == "rammed" else 1 + BULKING[job.site.soil].amount
        subsoil = [each for each in work.parts if each.kind != "strip"]
        balance = work.balances[-1]
        carted, brought = max(balance.left, 0.0), max(-balance.left, 0.0)
        dug, filled = sum(each.cut for each in subsoil), sum(each.fill for each in subsoil)
        assert dug + brought == pytest.approx(filled / rammed + carted)
        assert balance.mass == pytest.approx(balance.left * DENSITY[job.site.soil].amount)
        assert balance.lefts[0] <= balance.left <= balance.lefts[2]
        assert balance.loose[0] <= balance.loose[1] <= balance.loose[2]

    @pytest.mark.parametrize("name", NAMES)
    def test_what_moves_along_the_course_is_what_its_parts_leave(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        work = groundwork(job)
        factor = work.balances[-1].placed / work.balances[-1].wanted
        course = [each for each in work.parts if each.kind in ("channel", "pool", "source", "bank")]
        left = sum(each.cut - each.fill / factor for each in course)
        assert work.haul.moved[-1] == pytest.approx(left)

    def test_haul_downstream_of_a_cutting(self, bare_job: Job) -> None:
        """Ground that crosses the bed at half way: soil of the upper half moves down, past the middle most."""
        points = bare_job.survey.points
        job = replace(bare_job, survey=replace(bare_job.survey, levels=100.9 - points[:, 0] / 5))
        haul = groundwork(job).haul
        assert haul.moved[20] > 0
        assert np.diff(haul.moved)[:10].min() > 0 > np.diff(haul.moved)[-5:].max()

    @settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture], phases=NO_SHRINK)
    @given(turn=st.floats(-np.pi, np.pi), east=st.floats(-5e5, 5e5), north=st.floats(-5e5, 5e5), up=st.floats(-50, 50))
    def test_turned_and_shifted(self, hazel: Job, turn: float, east: float, north: float, up: float) -> None:
        """The whole job somewhere else: the same volumes, heaps as large, lips on as much fill.

        Its survey shaken by 20 mm: four points of a square may be joined either way.
        """
        chance = np.random.default_rng(7)
        shaken = hazel.survey.points + chance.uniform(-0.02, 0.02, hazel.survey.points.shape)
        job = replace(hazel, survey=replace(hazel.survey, points=shaken))
        here, there = groundwork(job), groundwork(moved(job, turn, np.array([east, north]), up))
        for one, other in zip(here.parts, there.parts, strict=True):
            for name in ("plan", "cut", "fill"):
                assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-4, abs=1e-4), (one.name, name)
        assert there.pit.depth == pytest.approx(here.pit.depth, abs=1e-6)
        assert [lip.fill for lip in there.settling.lips] == pytest.approx(
            [lip.fill for lip in here.settling.lips], abs=1e-5
        )
        assert {heap.holds: heap.height for heap in there.heaps} == {heap.holds: heap.height for heap in here.heaps}

    @settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
    @given(seed=st.integers(0, 10_000), drop=st.floats(0.02, 0.4))
    def test_lower_digs_more_and_fills_less(self, bare_job: Job, seed: int, drop: float) -> None:
        rough = bumpy(bare_job, seed)
        high, low = groundwork(rough), groundwork(lowered(rough, drop))
        course = ("channel", "outlet box", "banks")
        assert sum(part(low, name).cut for name in course) > sum(part(high, name).cut for name in course)
        assert sum(part(low, name).fill for name in course) < sum(part(high, name).fill for name in course)

    @settings(max_examples=25)
    @given(seed=st.integers(0, 10_000))
    def test_over_itself_there_is_nothing(self, seed: int) -> None:
        """The ground laid over itself: no depth, no volume, and all of its plan."""
        ground = build_ground(rough_survey(seed))
        pieces = lay_over(ground, ground.corners, ground.levels[ground.triangles], ground.hull.mean(axis=0))
        made = amounts(pieces, 0.0, np.ones(len(pieces.owner), dtype=bool))
        assert made.plan.sum() == pytest.approx(shapely.Polygon(ground.hull).area)
        assert abs(made.cut).sum() + abs(made.fill).sum() == pytest.approx(0.0, abs=1e-9)

    @settings(max_examples=25)
    @given(one=st.integers(0, 10_000), other=st.integers(0, 10_000), strip=st.floats(0, 0.4))
    def test_cut_less_fill_is_the_difference_of_two_surfaces(self, one: int, other: int, strip: float) -> None:
        """Each surface down to zero by its own prisms: they differ by cut less fill and topsoil, whatever they are."""
        ground, above = build_ground(rough_survey(one)), build_ground(rough_survey(other))
        pieces = lay_over(ground, above.corners, above.levels[above.triangles], np.zeros(2))
        made = amounts(pieces, strip, np.zeros(len(pieces.owner), dtype=bool))

        def under(net: Ground) -> float:
            return float(sum(shapely.area(shapely.polygons(net.corners)) * net.levels[net.triangles].mean(axis=1)))

        assert (made.cut >= -1e-12).all()
        assert (made.fill >= -1e-12).all()
        assert (made.topsoil >= -1e-12).all()
        plan = shapely.Polygon(ground.hull).area
        assert float((made.cut - made.fill - made.topsoil).sum()) == pytest.approx(
            under(ground) - under(above) - strip * plan, abs=1e-7
        )


def rough_survey(seed: int) -> Survey:
    """A square of 10 by 10 m with points at random and levels within half a metre."""
    chance = np.random.default_rng(seed)
    points = np.vstack([[(0, 0), (10, 0), (10, 10), (0, 10)], chance.uniform(0.2, 9.8, (30, 2))])
    return Survey(points=points, levels=chance.uniform(0, 0.5, len(points)), codes=("GL",) * len(points), breaklines=())


def bumpy(job: Job, seed: int) -> Job:
    chance = np.random.default_rng(seed)
    points = np.vstack([job.survey.points, chance.uniform((-8.0, -8.0), (35.0, 8.0), (60, 2))])
    levels = 99.9 - points[:, 0] / 20 + chance.uniform(-0.15, 0.15, len(points))
    return replace(job, survey=replace(job.survey, points=points, levels=levels, codes=("GL",) * len(points)))


def lowered(job: Job, drop: float) -> Job:
    return replace(job, source=replace(job.source, lip_level=job.source.lip_level - drop))


def moved(job: Job, turn: float, shift: np.ndarray, up: float) -> Job:
    axes = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])

    def place(points: object) -> np.ndarray:
        placed: np.ndarray = np.asarray(points) @ axes + shift
        return placed

    def pair(at: tuple[float, float]) -> tuple[float, float]:
        east, north = place(at)
        return float(east), float(north)

    site, reservoir = job.site, job.reservoir
    levels = {name: getattr(reservoir, name) + up for name in ("cover", "overflow", "rested")}
    return replace(
        job,
        survey=replace(job.survey, points=place(job.survey.points), levels=job.survey.levels + up),
        source=replace(job.source, lip_level=job.source.lip_level + up),
        course=replace(job.course, line=place(job.course.line)),
        reservoir=replace(reservoir, centre=pair(reservoir.centre), turned=reservoir.turned + turn, **levels),
        route=replace(job.route, line=tuple(map(pair, job.route.line))),
        site=replace(
            site,
            trees=tuple(replace(tree, at=pair(tree.at)) for tree in site.trees),
            services=tuple(replace(each, line=tuple(map(pair, each.line))) for each in site.services),
            boundaries=tuple(replace(each, line=tuple(map(pair, each.line))) for each in site.boundaries),
        ),
    )


class TestTrench:
    def test_by_hand(self, bare_job: Job) -> None:
        """20 m of 0.2 by 0.45 m, away from everything, in 0.15 m of topsoil; and filled again."""
        line = ((0.0, 8.0), (20.0, 8.0))
        job = sited(replace(bare_job, route=replace(bare_job.route, line=line)), topsoil=0.15)
        work = groundwork(digging(job, trench_width=0.2, trench_depth=0.45))
        assert part(work, "hose trench").cut == pytest.approx(20 * 0.2 * 0.30)
        assert part(work, "hose trench").fill == pytest.approx(20 * 0.2 * 0.30)
        assert work.trench is not None
        assert work.trench.ground - work.trench.bottom == pytest.approx(0.45)
        assert work.trench.along == pytest.approx([0, 20])
        assert part(work, "topsoil").cut == pytest.approx(0.15 * part(work, "topsoil").plan)

    def test_not_dug_again_under_the_banks(self, bare_job: Job) -> None:
        """It crosses 2 * 1.35 m of channel and banks at right angles."""
        line = ((5.0, -6.0), (5.0, 6.0))
        work = groundwork(digging(replace(bare_job, route=replace(bare_job.route, line=line)), trench_width=0.2))
        assert part(work, "hose trench").plan == pytest.approx(0.2 * (12 - 2.7))
        assert work.trench is not None
        assert work.trench.piece.tolist() == [0, 0, 1, 1]
        assert work.trench.along == pytest.approx([0, 6 - 1.35, 6 + 1.35, 12])

    def test_none_drawn(self, bare_job: Job) -> None:
        work = groundwork(bare_job)
        assert work.trench is None
        assert not [each for each in work.parts if each.kind == "trench"]


class TestSettling:
    def test_edges(self, bare_job: Job) -> None:
        """0.3 m over the ground and 0.2 m of topsoil gone from under it; a tenth of 0.5 m."""
        settling = groundwork(sited(bare_job, topsoil=0.2)).settling
        assert settling.fill_left == pytest.approx(0.5)
        assert settling.sinks_right == pytest.approx(0.05)
        assert settling.higher_left == pytest.approx(0.5 / 0.9 - 0.5)

    def test_in_a_cutting_nothing_sinks(self, bare_job: Job) -> None:
        high = replace(bare_job, survey=replace(bare_job.survey, levels=bare_job.survey.levels + 1.0))
        assert not groundwork(sited(high, topsoil=0.2)).settling.sinks_left.any()

    def test_lips(self, bare_job: Job) -> None:
        """A lip 0.1 m less the layers over the ground, 0.2 m of it stripped; the box's floor lies 0.2 m below it."""
        bed = bare_job.course.reaches[0].bed  # type: ignore[union-attr]
        reaches = (
            Run(name="upper", length=5.0, fall=0.25, width=0.6, bed=bed, sills=()),
            Step(name="lip 1", drop=0.1, lip_width=0.6, lip="flat slab"),
            Run(name="lower", length=5.0, fall=0.15, width=0.6, bed=bed, sills=()),
        )
        job = sited(replace(bare_job, course=replace(bare_job.course, reaches=reaches)), topsoil=0.2)
        box, lip = groundwork(job).settling.lips
        assert box.fill == pytest.approx(0.0)
        assert (lip.name, lip.chainage) == ("lip 1", 5.0)
        assert lip.fill == pytest.approx(0.03 + 0.2)
        assert lip.sinks == pytest.approx(0.023)
        finding = the(job, "lip-on-fill")
        assert "230 mm of made ground, over 150 mm" in finding.says
        assert "240 mm deeper" not in finding.cure
        assert "230 mm deeper" in finding.cure
        assert not found(sited(job, topsoil=0.1), "lip-on-fill")


class TestHeaps:
    @pytest.mark.parametrize("name", NAMES)
    def test_clear_of_everything_or_told(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        course, ground, work = worked(job)
        things = [shapely.Point(tree.at).buffer(radius_of(tree), 64) for tree in job.site.trees]
        things += [shapely.LineString(each.line).buffer(each.clearance) for each in job.site.boundaries]
        things += [shapely.LineString(each.line).buffer(each.clearance) for each in job.site.services]
        if len(work.pit.rim) > 2:
            things.append(shapely.Polygon(work.pit.rim).buffer(1.0))
        surface = work.formation
        things.append(shapely.union_all(shapely.polygons(surface.points[surface.triangles]).copy(), grid_size=1e-6))
        told = {finding.place for finding in earthworks_findings(job, course, work) if finding.code == "heap-too-near"}
        for heap in work.heaps:
            foot = shapely.Point(heap.at).buffer(heap.radius, 64)
            apart = [shapely.Point(other.at).buffer(other.radius, 64) for other in work.heaps if other is not heap]
            if heap.clear >= 0:
                assert shapely.Polygon(ground.hull).buffer(1e-6).covers(foot)
                assert not [thing for thing in (*things, *apart) if thing.intersection(foot).area > 1e-6]
            else:
                assert any(heap.holds in place.lower() for place in told)

    def test_volume(self, bare_job: Job) -> None:
        """All the heaps of a soil hold all that is dug of it, loose; a cone with its top off by Simpson's rule."""
        work = groundwork(sited(bare_job, topsoil=0.2))
        for balance in work.balances:
            heaps = [heap for heap in work.heaps if heap.holds == balance.holds]
            loose = balance.dug * (1 + BULKING[balance.soil].amount)
            assert sum(heap.loose for heap in heaps) == pytest.approx(loose)
            for heap in heaps:
                radii = heap.radius - 1.5 * heap.height * np.array([0, 0.5, 1])
                assert np.pi * heap.height / 6 * (radii**2 @ (1, 4, 1)) == pytest.approx(heap.loose)

    def test_nobody_near(self, bare_job: Job) -> None:
        """On an open field there is room by the pit, a metre and more from its rim."""
        work = groundwork(bare_job)
        (heap,) = work.heaps
        assert heap.clear >= 0
        away = shapely.Polygon(work.pit.rim).distance(shapely.Point(heap.at)) - heap.radius
        assert 1.0 <= away < 4.0
        assert not found(bare_job, "heap-too-near")

    @pytest.mark.parametrize(
        ("at", "of"),
        [
            ((24.0, 3.5), "the edge of the pit"),
            ((5.0, 1.0), "the stream and its banks"),
            ((5.0, 9.0), "the root circle of T1, oak"),
            ((-5.0, 9.0), "cable"),
            ((40.0, -9.0), "fence"),
            ((59.0, 19.0), "the edge of the survey"),
        ],
    )
    def test_wished_too_near(self, bare_job: Job, at: tuple[float, float], of: str) -> None:
        job = sited(
            bare_job,
            trees=(Tree(name="T1", species="oak", at=(5.0, 12.0), stems=(0.3,), protected=False),),
            services=(
                Service(
                    name="cable", kind="electricity", line=((-9.0, 9.0), (-1.0, 9.0)), depth=0.6, clearance=0.5, note=""
                ),
            ),
            boundaries=(Boundary(name="fence", line=((30.0, -10.0), (50.0, -10.0)), clearance=0.0, damp_proof=None),),
        )
        job = digging(job, heaps=(WishedHeap(name="heap A", holds="subsoil", at=at),))
        (heap,) = groundwork(job).heaps
        assert (heap.wished, heap.of) == (True, of)
        assert heap.clear < 0
        finding = the(job, "heap-too-near")
        assert of in finding.says
        assert of in finding.cure

    def test_moved_as_told_it_is_clear(self, bare_job: Job) -> None:
        near = digging(bare_job, heaps=(WishedHeap(name="heap A", holds="subsoil", at=(24.0, 4.6)),))
        by = float(re.search(r"Move it (\d+) mm", the(near, "heap-too-near").cure)[1]) / 1000  # type: ignore[index]
        assert not found(
            digging(near, heaps=(WishedHeap(name="heap A", holds="subsoil", at=(24.0, 4.6 + by)),)), "heap-too-near"
        )

    def test_two_wished_share_the_soil(self, bare_job: Job) -> None:
        two = tuple(WishedHeap(name=name, holds="subsoil", at=(x, 14.0)) for name, x in (("A", 10.0), ("B", 30.0)))
        first, second = groundwork(digging(bare_job, heaps=two)).heaps
        assert first.loose == pytest.approx(second.loose)

    def test_beyond_the_fence_is_not_ours(self, bare_job: Job) -> None:
        """Fences along both sides of the pit leave no room between them: told, and nothing heaped beyond them."""
        fences = tuple(
            Boundary(name="fence", line=((-20.0, north), (60.0, north)), clearance=0.0, damp_proof=None)
            for north in (2.6, -2.6)
        )
        job = sited(bare_job, boundaries=fences)
        assert all(abs(heap.at[1]) < 2.6 for heap in groundwork(job).heaps)
        assert found(job, "heap-too-near")


class TestBalance:
    @pytest.mark.parametrize("name", ["hazel_bank", "withy_lane"])
    def test_shifted_by_that_nothing_is_left(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        course, ground, work = worked(job)
        shift = level_that_balances(job, course, ground, dig_pit(job.reservoir), work)
        assert shift is not None
        edges = job.course.measured_edges
        shifted = replace(
            job,
            source=replace(job.source, lip_level=job.source.lip_level + shift),
            course=replace(
                job.course,
                measured_edges=None
                if edges is None
                else replace(edges, left=edges.left + shift, right=edges.right + shift),
            ),
        )
        after = groundwork(shifted).balances[-1]
        assert abs(after.left) < 0.001 * max(abs(work.balances[-1].dug), 1.0) + 0.002
        assert np.sign(shift) == np.sign(work.balances[-1].left)

    def test_the_sentence(self, bare_job: Job) -> None:
        work = groundwork(bare_job)
        code = "soil-left" if work.balances[-1].left > 0 else "soil-short"
        assert "Raise the course by 40 mm and no subsoil leaves the site" in the(bare_job, code, raised=0.04).cure
        assert "Lower the course by 40 mm" in the(bare_job, code, raised=-0.04).cure

    def test_out_of_reach(self, bare_job: Job) -> None:
        """A pit of 8 by 8 m holds more soil than 10 m of banks half a metre higher."""
        deep = replace(bare_job, reservoir=replace(bare_job.reservoir, length=8.0, width=8.0, cover=98.0))
        course, ground, work = worked(deep)
        assert level_that_balances(deep, course, ground, dig_pit(deep.reservoir), work) is None

    def test_where_no_ground_was_surveyed_under_the_course_no_shift_moves_any(self, bare_job: Job) -> None:
        course, ground, work = worked(bare_job)
        bare = replace(work, parts=tuple(replace(part, plan=0.0) for part in work.parts))
        assert level_that_balances(bare_job, course, ground, dig_pit(bare_job.reservoir), bare) is None

    def test_loads(self, bare_job: Job) -> None:
        """Whole loads; a price only for what is taken away."""
        big = digging(
            replace(bare_job, reservoir=replace(bare_job.reservoir, length=4.0, width=3.0)), load=6e3, load_price=100.0
        )
        (balance,) = groundwork(big).balances
        assert balance.left > 0
        assert balance.loads == int(np.ceil(balance.mass / 6e3))
        assert balance.price == balance.loads * 100
        assert f"Cart away {balance.loads} load" in the(big, "soil-left").cure
        assert "earthworks.load_t" in the(digging(big, load=None), "soil-left").cure
        (short,) = groundwork(digging(flat(big, 98.0), load=6e3)).balances
        assert short.left < 0
        assert short.loads is not None
        assert short.price is None

    def test_tipped_fill_wants_less_soil(self, bare_job: Job) -> None:
        rammed, tipped = (groundwork(digging(bare_job, fill=fill)).balances[0] for fill in ("rammed", "tipped"))
        assert rammed.wanted == pytest.approx(rammed.placed / RAMMED["clay"].amount)
        assert tipped.wanted == pytest.approx(tipped.placed / (1 + BULKING["clay"].amount))


class TestFindings:
    def test_pit_sides(self, bare_job: Job) -> None:
        """Clay is told to stand at 1 to 1; 1.2 m is no line behind which a dig is free of risk."""
        low = replace(bare_job, reservoir=replace(bare_job.reservoir, cover=99.0))
        assert groundwork(low).pit.depth < 1.2
        assert not found(low, "pit-sides")
        assert the(digging(low, batter=0.5), "pit-sides").severity.name == "CAUTION"
        deep = replace(bare_job, reservoir=replace(bare_job.reservoir, cover=98.0))
        assert the(deep, "pit-sides").severity.name == "CAUTION"
        steep = the(digging(deep, batter=0.5), "pit-sides")
        assert steep.severity.name == "FAIL"
        assert "Batter the sides 1 up to 1 out" in steep.cure
        assert not found(digging(low, batter=1.0), "pit-sides")
        for finding in (steep, the(deep, "pit-sides")):
            assert "before each shift" in finding.cure
            assert "safe" not in str(finding).lower()

    def test_water_in_the_pit(self, bare_job: Job) -> None:
        depth = groundwork(bare_job).pit.depth
        winter = sited(bare_job, groundwater_winter=depth - 0.2, groundwater_summer=depth + 0.2)
        finding = the(winter, "water-in-pit")
        assert "200 mm deep in winter" in finding.says
        assert finding.cure.startswith("Dig in summer")
        assert "200 mm deep in summer" in the(sited(winter, groundwater_summer=depth - 0.2), "water-in-pit").says
        assert not found(sited(winter, groundwater_winter=depth + 0.1), "water-in-pit")

    def test_settlement_too_small(self, bare_job: Job) -> None:
        small = replace(bare_job, course=replace(bare_job.course, settlement=0.01))
        assert "9 to 15 mm" in the(small, "settlement-small").says
        assert "settlement_percent = 4" in the(small, "settlement-small").cure
        assert not found(replace(small, course=replace(small.course, settlement=0.04)), "settlement-small")
        assert found(
            digging(replace(small, course=replace(small.course, settlement=0.04)), fill="tipped"), "settlement-small"
        )

    def test_fill_over_roots_and_its_cure(self, bare_job: Job) -> None:
        """A circle of 1.2 m whose rim just takes in the right bank."""
        tree = Tree(name="T1", species="oak", at=(5.0, -1.4), stems=(0.1,), protected=False)
        job = sited(bare_job, trees=(tree,))
        finding = the(job, "fill-over-roots")
        assert "up to 300 mm" in finding.says
        by = float(re.search(r"by (\d+) mm", finding.cure)[1]) / 1000  # type: ignore[index]
        cured = replace(job, course=replace(job.course, edge_above_bed=0.2 - by))
        assert not found(cured, "fill-over-roots")
        assert the(sited(bare_job, trees=(replace(tree, protected=True),)), "fill-over-roots").severity.name == "FAIL"
        assert not found(sited(bare_job, trees=(replace(tree, at=(5.0, -2.7)),)), "fill-over-roots")

    def test_bank_slope(self, bare_job: Job) -> None:
        assert not found(bare_job, "bank-steep")
        assert the(digging(bare_job, bank_slope=2.0), "bank-steep").severity.name == "CAUTION"
        assert the(digging(bare_job, bank_slope=1.0), "bank-steep").severity.name == "FAIL"

    def test_off_the_survey(self, bare_job: Job) -> None:
        """Points 1 m to each side of the line: toes 1.35 m out lie beyond them."""
        narrow = replace(bare_job.survey, points=bare_job.survey.points * np.array([1.0, 0.05]))
        finding = the(replace(bare_job, survey=narrow), "works-off-survey")
        assert float(re.match(r"([\d.]+) m²", finding.says)[1]) > 0  # type: ignore[index]
        assert not found(bare_job, "works-off-survey")

    def test_pit_off_the_survey(self, bare_job: Job) -> None:
        """Level ground that ends 0.1 m beyond the floor's east end at 25.3: the sides reach 1 m farther."""
        job = flat(bare_job, bare_job.reservoir.cover)
        points = np.where(job.survey.points > 25, 25.4, job.survey.points) * np.array([1.0, 1.0])
        points[:, 1] = job.survey.points[:, 1]
        cut_short = replace(job, survey=replace(job.survey, points=points))
        out = groundwork(job).pit.top[1, 0] - 25.3
        pit = groundwork(cut_short).pit
        assert pit.top == pytest.approx(groundwork(job).pit.top)
        across = pit.top[2, 1] - pit.top[1, 1]
        assert groundwork(cut_short).off_survey == pytest.approx((out - 0.1) * across, rel=1e-6)
        assert found(cut_short, "works-off-survey")

    def test_banks_that_meet(self, bare_job: Job) -> None:
        """A hairpin of 1.5 m between its arms."""
        line = np.array([[0.0, 0.0], [4.0, 0.0], [4.75, 0.75], [4.0, 1.5], [0.0, 1.5]])
        bent = replace(bare_job, course=replace(bare_job.course, line=line))
        work = groundwork(bent)
        assert len(work.folds) >= 1
        assert found(bent, "banks-meet")
        assert not groundwork(bare_job).folds


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_evaluates_to_its_amount_and_every_finding_names_one(name: str) -> None:
    job = read_job(EXAMPLES / name)
    course, _, work = worked(job)
    figures = earthworks_figures(job, replace(work, raised=0.04))
    names = {figure.name for figure in figures}
    assert len(names) == len(figures)
    for figure in figures:
        assert figure.low - 1e-9 <= figure.amount <= figure.high + 1e-9, figure.name
        if figure.equation is not None:
            inputs = {item.name: item.amount for item in figure.inputs}
            assert figure.equation(**inputs) == pytest.approx(figure.amount, rel=1e-9), figure.name
    told = {finding.figure for finding in earthworks_findings(job, course, work) if finding.figure}
    assert {each for each in told if each.startswith("earthworks")} <= names
