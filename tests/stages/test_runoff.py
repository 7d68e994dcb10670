"""Rain over the ground and the overflow's way on planes whose every level can be worked in the head."""

from dataclasses import replace

import numpy as np
import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.job.model import Boundary, Job, Runoff
from beckwright.stages.course import set_out_course
from beckwright.stages.findings.closer import closer_findings
from beckwright.stages.ground import build_ground
from beckwright.stages.surroundings import Seen, WaterPaths, look_around, look_closer, water_paths

FOOT = 0.3 + 0.35 + 2.5 * 0.3
"""The plain job's bank: half its bed, its top, and 2.5 to 1 down 0.3 m."""


def paths(job: Job) -> WaterPaths:
    ground = build_ground(job.survey)
    return water_paths(job, ground, set_out_course(job.course, job.source, job.layers, ground))


def found(job: Job) -> list[Finding]:
    ground = build_ground(job.survey)
    return list(
        closer_findings(job, look_closer(job, ground, set_out_course(job.course, job.source, job.layers, ground)))
    )


@pytest.fixture(scope="module")
def crossfall(plain: Job) -> Job:
    """The plain job on a plane that falls 1 in 5 to the south and not along the stream: 99.90 - 0.05 under its line."""
    points = plain.survey.points
    return replace(plain, survey=replace(plain.survey, levels=99.65 + points[:, 1] / 5))


class TestAcross:
    def test_all_the_ground_above_sheds_onto_the_left_bank(self, crossfall: Job) -> None:
        """10 m of stream, 10 m of ground to the north less the bank; each drop stands for 40 x 20 / 600 m2. At the head
        the bank, 100.20 - (y - 0.65) / 2.5, meets the ground, 99.65 + y / 5, at 1.35 m; at the lower end the edge lies
        in the ground, 0.3 m out: 1.0 m on the whole."""
        (across,) = paths(crossfall).across
        assert across.side == "left"
        assert across.area == pytest.approx(10 * (10 - 1.0), rel=0.07)
        assert across.start < 1.2
        assert across.end > 8.8
        assert across.line[0, 1] > 9.0
        assert 0.3 <= across.line[-1, 1] <= 1.35 + 1e-9

    def test_the_bank_stands_in_its_way(self, crossfall: Job) -> None:
        """At the head the edge stands at 100.20, 0.3 m to the left the ground lies at 99.71: 0.49 m there."""
        (across,) = paths(crossfall).across
        assert across.dams == pytest.approx(0.49, abs=0.05)
        finding = next(each for each in found(crossfall) if each.code == "water-path")
        assert finding.severity is Severity.CAUTION
        assert "dams up" in finding.says
        assert "left bank" in finding.cure

    def test_it_runs_in_where_the_edge_is_low(self, crossfall: Job) -> None:
        high = replace(crossfall, survey=replace(crossfall.survey, levels=crossfall.survey.levels + 1.0))
        (across,) = paths(high).across
        assert across.dams < 0
        assert "runs in" in next(each for each in found(high) if each.code == "water-path").says

    def test_turned_over_it_comes_from_the_right(self, crossfall: Job) -> None:
        points = crossfall.survey.points
        (across,) = paths(replace(crossfall, survey=replace(crossfall.survey, levels=99.65 - points[:, 1] / 5))).across
        assert across.side == "right"

    def test_water_that_runs_beside_the_stream_does_not_cross_it(self, plain: Job) -> None:
        """The plain ground falls along the stream: only what lies above its head comes to it, between its banks."""
        assert sum(across.area for across in paths(plain).across) < 10 * 2 * FOOT + 5


def seen(job: Job, *line: tuple[float, float]) -> Seen:
    runoff = Runoff(name="track", line=line, note="")
    wet = replace(job, site=replace(job.site, runoff=(runoff,)))
    (told,) = look_around(wet, set_out_course(job.course, job.source, job.layers, build_ground(job.survey))).seen
    return told


class TestSeen:
    def test_an_arrow_over_the_stream(self, plain: Job) -> None:
        """Due south at x = 4: over the foot of the left bank at 4 m, whose edge stands 0.3 m over the ground."""
        told = seen(plain, (4.0, 6.0), (4.0, -6.0))
        assert (told.chainage, told.side, told.short) == (pytest.approx(4.0, abs=1e-6), "left", 0.0)
        assert told.dams == pytest.approx(0.3, abs=1e-9)
        assert not told.pit

    def test_an_arrow_that_stops_short(self, plain: Job) -> None:
        """1.0 m short of the right bank's foot it is led on; 2.1 m short it is not."""
        assert seen(plain, (4.0, -6.0), (4.0, -FOOT - 1.0)).short == pytest.approx(1.0, abs=1e-6)
        assert seen(plain, (4.0, -6.0), (4.0, -FOOT - 1.0)).side == "right"
        assert seen(plain, (4.0, -6.0), (4.0, -FOOT - 2.1)).chainage is None

    def test_an_arrow_to_the_pit(self, plain: Job) -> None:
        assert seen(plain, (12.0, 6.0), (12.0, 2.0)).pit
        assert not seen(plain, (12.0, 6.0), (12.0, 3.0)).pit

    def test_an_arrow_far_off_is_led_on_over_the_ground(self, crossfall: Job) -> None:
        """From 8 m off, drawn along the slope: as drawn it meets nothing; the ground takes it down to the left bank."""
        runoff = Runoff(name="track", line=((2.0, 9.0), (4.0, 9.0)), note="")
        wet = replace(crossfall, site=replace(crossfall.site, runoff=(runoff,)))
        (told,) = paths(wet).carried
        assert (told.chainage, told.side) == (pytest.approx(4.0, abs=0.01), "left")


class TestOverflow:
    def test_daylight(self, plain: Job) -> None:
        """From the pit's low side at x = 13.05 the ground falls 1 in 20 from 99.2475; the invert at 99.05 comes to
        light 3.95 m on, and the way leaves the survey at x = 30. It crosses the fence at x = 25."""
        fence = Boundary(name="fence", line=((25.0, -9.0), (25.0, 9.0)), clearance=0.0, damp_proof=None)
        fenced = replace(plain, site=replace(plain.site, boundaries=(fence,)))
        way = paths(fenced).overflow
        assert way is not None
        assert way.line[0, 0] == pytest.approx(13.05, abs=1e-9)
        assert way.daylight == pytest.approx(3.95, abs=1e-6)
        assert (way.ended, way.crosses, way.chainage, way.pit) == ("leaves the survey", ("fence",), None, False)
        assert way.line[-1, 0] == pytest.approx(30.0, abs=1e-6)
        finding = next(each for each in found(fenced) if each.code == "overflow-way")
        assert finding.severity is Severity.CAUTION
        assert "crosses fence" in finding.says

    def test_no_daylight(self, plain: Job) -> None:
        """At x = 30 the ground is at 98.40."""
        deep = replace(plain, reservoir=replace(plain.reservoir, overflow=98.39))
        way = paths(deep).overflow
        assert way is not None
        assert way.daylight is None

    def test_back_into_the_stream(self, plain: Job) -> None:
        """The pit above the stream on the crossfall: its overflow runs down to the left bank at 5 m."""
        points = plain.survey.points
        above = replace(
            plain,
            survey=replace(plain.survey, levels=99.65 + points[:, 1] / 5),
            reservoir=replace(plain.reservoir, centre=(5.0, 5.0), length=0.1),
        )
        way = paths(above).overflow
        assert way is not None
        assert way.chainage == pytest.approx(5.0, abs=0.11)

    def test_a_pit_in_a_hollow(self, plain: Job) -> None:
        """A funnel with its point under the pit's middle: the water comes back to it and ponds."""
        marks = np.arange(-10.0, 31.0, 2.0)
        points = np.stack(np.meshgrid(marks, np.arange(-10.0, 11.0, 2.0)), axis=2).reshape(-1, 2)
        levels = 99.0 + np.hypot(*(points - [12.0, 0.0]).T) / 20
        survey = replace(plain.survey, points=points, levels=levels, codes=("GL",) * len(points))
        way = paths(replace(plain, survey=survey)).overflow
        assert way is not None
        assert way.pit
        assert way.ended == "ponds"
        assert way.line[-1] == pytest.approx([12.0, 0.0], abs=1e-6)

    def test_unsurveyed(self, plain: Job) -> None:
        away = replace(plain, reservoir=replace(plain.reservoir, centre=(50.0, 0.0)))
        assert paths(away).overflow is None
