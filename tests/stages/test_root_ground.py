"""Ground work over roots: the pit's sides by the segment of a circle, heaps by their distance, topsoil by its sum."""

import re
from dataclasses import replace
from math import acos, sqrt

import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.compose import Design, Works, design
from beckwright.job.model import Job, Tree, WishedHeap
from beckwright.stages.earthworks.roots import root_work, stripped_inside
from beckwright.stages.findings import ground_work_findings
from beckwright.stages.surroundings import RootCircle

from .test_earthworks import digging, flat, sited


def level_site(plain: Job, *trees: Tree, **changes: object) -> Works:
    """Level ground at 99.0, the pit at (24, 0) with sides of 1 up to 1 out, the course raised well over it."""
    job = replace(plain, reservoir=replace(plain.reservoir, centre=(24.0, 0.0), width=4.0, cover=99.0))
    wide = replace(job.survey, points=job.survey.points * 2.0)
    made = flat(replace(job, survey=wide), 99.0)
    dug = digging(made, batter=1.0, working_space=0.3, **{"heaps": (), **changes})
    return Works(design(sited(dug, trees=trees, soil="clay")))


def told(works: Works, code: str) -> list[Finding]:
    each = works.design
    found = ground_work_findings(
        each.job, each.course, each.surroundings, works.closer, works.groundwork, works.setting_out
    )
    return [finding for finding in found if finding.code == code]


def tree(at: tuple[float, float], *, stem: float = 0.2, protected: bool = False) -> Tree:
    return Tree(name="T1", species="oak", at=at, stems=(stem,), protected=protected)


RADIUS = 12 * 0.2


def segment(radius: float, into: float) -> float:
    """Area of a segment of a circle cut off ``into`` from its rim (handbooks of mathematics, from memory)."""
    off = radius - into
    return radius**2 * acos(off / radius) - off * sqrt(radius**2 - off**2)


class TestPitSides:
    def east(self, plain: Job) -> float:
        return float(level_site(plain).dug.pit.top[:, 0].max())

    @pytest.mark.parametrize(("into", "upright"), [(0.4, True), (1.9, False)])
    def test_the_sides_cut_a_segment_off_the_circle(self, plain: Job, into: float, upright: bool) -> None:
        """Chords of 2.7 and 4.7 m: both shorter than the pit's side, so nothing but a segment is in."""
        works = level_site(plain, tree((self.east(plain) + RADIUS - into, 0.0)))
        (finding,) = told(works, "pit-sides-in-roots")
        (inside,) = re.findall(r"ground ([\d.]+) m inside, ([\d.]+) m²", finding.says)
        assert float(inside[0]) == pytest.approx(into, abs=0.005)
        assert float(inside[1]) == pytest.approx(segment(RADIUS, into), abs=0.05)
        assert ("supported upright" in finding.cure) is upright

    def test_moved_as_told_it_is_out(self, plain: Job) -> None:
        at = (self.east(plain) + RADIUS - 0.4, 0.0)
        (finding,) = told(level_site(plain, tree(at)), "pit-sides-in-roots")
        by = float(re.search(r"Move the pit ([\d.]+) m", finding.cure)[1])  # type: ignore[index]
        assert not told(level_site(plain, tree((at[0] + by, 0.0))), "pit-sides-in-roots")

    def test_a_protected_tree_asks_its_officer(self, plain: Job) -> None:
        works = level_site(plain, tree((self.east(plain) + RADIUS - 0.4, 0.0), protected=True))
        (finding,) = told(works, "pit-sides-in-roots")
        assert finding.severity is Severity.FAIL
        assert finding.cure.startswith("Ask the tree officer")


class TestHeaps:
    def test_a_heap_over_roots_is_told_whatever_else_it_is_near(self, plain: Job) -> None:
        wished = WishedHeap(name="heap A", holds="subsoil", at=(24.0, 8.0))
        works = level_site(plain, tree((24.0, 11.0)), heaps=(wished,))
        (heap,) = (each for each in works.dug.heaps if each.name == "heap A")
        (finding,) = told(works, "heaps-over-roots")
        # Two circles 3 m apart: the heap's foot reaches in by both radii less that.
        assert f"lies {heap.radius + RADIUS - 3.0:.2f} m inside" in finding.says
        assert "oak T1 (heap A)" in finding.place

    def test_a_heap_clear_of_them_is_not(self, plain: Job) -> None:
        wished = WishedHeap(name="heap A", holds="subsoil", at=(24.0, 9.0))
        assert not told(level_site(plain, tree((40.0, 12.0)), heaps=(wished,)), "heaps-over-roots")


def spread_out(designed: Design, *radii: float) -> list[RootCircle]:
    circle = designed.surroundings.circles[0]
    return [replace(circle, radius=radius) for radius in radii]


class TestTopsoil:
    def test_a_circle_round_everything_holds_all_that_is_stripped(self, hazel_design: Design) -> None:
        """Conservation: triangles in the quantities, sections here, 2 % apart at most; none behind the box."""
        works = Works(hazel_design)
        work, course = works.groundwork, hazel_design.course
        all_of = stripped_inside(spread_out(hazel_design, 500.0), work, course)
        (strip,) = (part.plan for part in work.parts if part.kind == "strip")
        box = sum(part.plan for part in work.parts if part.kind == "source")
        assert strip - box <= (all_of.dug + all_of.banked) * 1.02
        assert all_of.dug + all_of.banked <= strip * 1.02

    def test_ground_in_two_circles_counts_once(self, hazel_design: Design) -> None:
        work, course = Works(hazel_design).groundwork, hazel_design.course
        once, twice = (
            stripped_inside(spread_out(hazel_design, *radii), work, course) for radii in ((4.0,), (4.0, 4.0, 3.0))
        )
        assert once == twice
        row = root_work(spread_out(hazel_design, 4.0)[0], work, course)
        assert once.dug + once.banked == pytest.approx(row.strip_plan, rel=0.01)

    def test_what_stays_on_is_its_plan_times_its_depth(self, hazel_design: Design) -> None:
        works = Works(hazel_design)
        (finding,) = told(works, "strip-over-roots")
        (dug, banked), (kept,) = re.findall(r"([\d.]+) m²", finding.says), re.findall(r"([\d.]+) m³", finding.cure)
        assert float(kept) == pytest.approx(float(banked) * hazel_design.job.site.topsoil, abs=0.07)
        parts = re.findall(r"\(([\d.]+) m²\)", finding.place)
        # The circles of Hazel Bank overlap: together they hold no more than one by one.
        assert float(dug) + float(banked) <= sum(map(float, parts)) + 0.2

    def test_without_topsoil_nothing_is_said(self, hazel: Job) -> None:
        assert not told(Works(design(sited(hazel, topsoil=0.0))), "strip-over-roots")
