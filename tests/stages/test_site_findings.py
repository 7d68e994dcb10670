"""Findings about what stands round the works: told with a number, and the number cures it."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.compose import design
from beckwright.figures import figures_of
from beckwright.job.model import Boundary, Foundation, Job, Runoff, Service, Tree
from beckwright.job.read import read_job
from beckwright.stages.findings.closer import closer_findings
from beckwright.stages.surroundings import look_closer

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").iterdir())


def found(job: Job, code: str) -> list[Finding]:
    return [finding for finding in design(job).findings if finding.code == code]


def the(job: Job, code: str) -> Finding:
    (finding,) = found(job, code)
    return finding


def closer(job: Job, code: str) -> list[Finding]:
    whole = design(job)
    told = closer_findings(job, look_closer(job, whole.ground, whole.course))
    return [finding for finding in told if finding.code == code]


def number(text: str, pattern: str) -> float:
    told = re.search(pattern, text)
    assert told is not None, text
    return float(told[1])


def standing(job: Job, **things: object) -> Job:
    return replace(job, site=replace(job.site, **things))


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda folder: folder.name)
def test_every_closer_finding_says_everything(folder: Path) -> None:
    job = read_job(folder)
    whole = design(job)
    names = {figure.name for figure in figures_of(whole)}
    for finding in closer_findings(job, look_closer(job, whole.ground, whole.course)):
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", finding.code)
        assert finding.place
        assert finding.source
        assert finding.figure in {*names, ""}
        assert len(finding.chainage) in {0, 2}
        for sentence in (finding.says, finding.cure):
            assert sentence.endswith("."), finding
            assert not re.search(r"nan|None|inf\b|safe", sentence)


class TestRoots:
    def test_the_shift_told_is_the_shift_found(self, plain: Job) -> None:
        """A stream 30 m long, a tree 4.5 m to its left with a circle of 3.6 m: the banks reach 1.4 m, 0.5 m inside."""
        run = replace(plain.course.reaches[0], length=30.0, fall=1.5)
        line = np.array([[0.0, 0.0], [30.0, 0.0]])
        long = replace(
            plain,
            course=replace(plain.course, line=line, reaches=(run,)),
            survey=replace(plain.survey, points=plain.survey.points * 2, levels=99.9 - plain.survey.points[:, 0] / 10),
            reservoir=replace(plain.reservoir, centre=(32.0, 0.0)),
        )
        ash = Tree(name="T9", species="ash", at=(15.0, 4.5), stems=(0.3,), protected=False)
        job = standing(long, trees=(ash,))
        finding = the(job, "inside-root-circle")
        assert finding.place.endswith(f"bank, {finding.chainage[0]:.1f} to {finding.chainage[1]:.1f} m")
        assert 0.5 < number(finding.cure, r"Shift the line ([\d.]+) m to the right") <= 0.6
        (circle,) = design(job).surroundings.circles
        assert circle.shift is not None
        assert not found(replace(job, course=replace(job.course, line=circle.shift.line)), "inside-root-circle")

    def test_near_a_stem(self, plain: Job) -> None:
        """0.9 m from the line is 0.6 m from the lining's edge."""
        ash = Tree(name="T9", species="ash", at=(5.0, 0.9), stems=(0.2,), protected=False)
        assert "within 0.60 m of the stem" in the(standing(plain, trees=(ash,)), "inside-root-circle").says


class TestServices:
    @pytest.mark.parametrize(
        ("depth", "severity"), [(0.6, Severity.CAUTION), (0.2, Severity.FAIL), (None, Severity.CAUTION)]
    )
    def test_crossed(self, plain: Job, depth: float | None, severity: Severity) -> None:
        """Dug 0.28 m down, as in the tests of the geometry."""
        dug_in = replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.31))
        pipe = Service(name="P", kind="gas", line=((5.0, -3.0), (5.0, 3.0)), depth=depth, clearance=0.5, note="")
        finding = the(standing(dug_in, services=(pipe,)), "near-service")
        assert finding.severity is severity
        assert "at 5.0 m, dug 280 mm" in finding.says
        assert "trial holes dug by hand at 5.0 m" in finding.cure
        if depth == 0.2:
            assert "80 mm shallower" in finding.cure
        if depth is None:
            assert "depth unknown" in finding.place
            assert "nobody knows" in finding.says

    def test_under_hose_and_pit(self, plain: Job) -> None:
        hosed = replace(plain, route=replace(plain.route, line=((12.0, 5.0), (-1.0, 5.0))))
        pipe = Service(name="P", kind="gas", line=((12.0, 9.0), (11.9, -3.0)), depth=2.0, clearance=0.5, note="")
        finding = the(standing(hosed, services=(pipe,)), "near-service")
        assert finding.severity is Severity.FAIL
        assert "from the pump" in finding.says
        assert "below its cover" in finding.says


class TestBoundaries:
    fence = Boundary(name="fence", line=((0.0, 3.5), (9.0, 3.5)), clearance=3.5, damp_proof=None)

    def test_cure_cures(self, plain: Job) -> None:
        """3.2 m from the bed, 3.5 m wanted."""
        finding = the(standing(plain, boundaries=(self.fence,)), "near-boundary")
        by = number(finding.cure, r"Move it ([\d.]+) m off")
        assert by == pytest.approx(0.3, abs=1e-9)
        away = replace(self.fence, line=((0.0, 3.501 + by), (9.0, 3.501 + by)))
        assert not found(standing(plain, boundaries=(away,)), "near-boundary")

    def test_notice_only_where_a_boundary_is_near(self, plain: Job) -> None:
        """3 m: one note for all boundaries."""
        assert not found(standing(plain, boundaries=(self.fence,)), "neighbour-notice")
        near = replace(self.fence, line=((0.0, 3.2), (9.0, 3.2)))
        finding = the(standing(plain, boundaries=(near, replace(near, name="wall"))), "neighbour-notice")
        assert finding.severity is Severity.NOTE
        assert finding.place == "Fence, wall"
        assert "England and Wales" in finding.says


class TestDigger:
    def dug_by(self, plain: Job, width: float, reach: float, way: float) -> Job:
        job = standing(plain, access_width=way)
        return replace(job, earthworks=replace(job.earthworks, digger_width=width, digger_reach=reach))

    @pytest.mark.parametrize(("width", "severity"), [(1.2, Severity.FAIL), (0.98, Severity.CAUTION)])
    def test_either_cure_cures(self, plain: Job, width: float, severity: Severity) -> None:
        finding = the(self.dug_by(plain, width, 4.0, 1.0), "way-in")
        assert finding.severity is severity
        assert "not checked" in finding.says
        narrower = number(finding.cure, r"no wider than ([\d.]+) m")
        wider = number(finding.cure, r"open the way to ([\d.]+) m")
        assert not found(self.dug_by(plain, narrower, 4.0, 1.0), "way-in")
        assert not found(self.dug_by(plain, width, 4.0, wider), "way-in")

    def test_reach(self, plain: Job) -> None:
        """Pit 2.1 m across, as in the tests of the geometry: 3.1 m, or 2.05 m from both sides."""
        assert not found(self.dug_by(plain, 1.0, 3.2, 2.0), "reach-short")
        assert the(self.dug_by(plain, 1.0, 2.5, 2.0), "reach-short").severity is Severity.NOTE
        (pit, *_) = found(self.dug_by(plain, 1.0, 1.9, 2.0), "reach-short")
        assert pit.severity is Severity.CAUTION
        assert number(pit.cure, r"reaches ([\d.]+) m") == pytest.approx(2.05, abs=0.005)


class TestWater:
    def test_seen_water(self, plain: Job) -> None:
        gully = Runoff(name="gully", line=((4.0, 6.0), (4.0, -1.0)), note="")
        finding = the(standing(plain, runoff=(gully,)), "runoff-across")
        assert finding.place == "Gully, from the left at 4.0 m"
        assert "300 mm over the ground" in finding.says
        assert "left bank" in finding.cure

    def test_seen_water_to_the_pit(self, plain: Job) -> None:
        gully = Runoff(name="gully", line=((12.0, 6.0), (12.0, 2.0)), note="")
        assert the(standing(plain, runoff=(gully,)), "runoff-into-pit").severity is Severity.CAUTION


class TestFootings:
    @pytest.mark.parametrize(
        ("depth", "code", "severity"),
        [(0.3, "undermines-footing", Severity.FAIL), (None, "footing-depth-unknown", Severity.CAUTION)],
    )
    def test_pit_beside_a_wall(self, plain: Job, depth: float | None, code: str, severity: Severity) -> None:
        level = replace(
            plain,
            survey=replace(plain.survey, levels=np.full(4, 99.3)),
            earthworks=replace(plain.earthworks, working_space=0.3, batter=None),
        )
        wall = Foundation(name="the barn", line=((14.0, -3.0), (14.0, 3.0)), depth=depth, note="")
        (finding,) = closer(standing(level, foundations=(wall,)), code)
        assert finding.severity is severity
        assert "barn" in finding.place
        assert ("engineer" in finding.cure) == (depth is not None)
        assert f"{0.166 if depth else 0.466:.2f}" in finding.cure
