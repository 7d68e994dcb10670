"""Where the survey is too thin: triangles of a grid, whose sides are known."""

from dataclasses import replace
from math import inf, sqrt

import numpy as np
import pytest

from beckwright.job.model import Job
from beckwright.stages.course import set_out_course
from beckwright.stages.findings.closer import closer_findings
from beckwright.stages.ground import build_ground
from beckwright.stages.ground.thin import mean_spacing, sides_at, thin_at
from beckwright.stages.surroundings import ThinSurvey, look_closer, thin_survey


def surveyed(job: Job, points: np.ndarray) -> Job:
    levels = 99.9 - points[:, 0] / 20
    return replace(job, survey=replace(job.survey, points=points, levels=levels, codes=("GL",) * len(points)))


def grid(east: np.ndarray, north: np.ndarray) -> np.ndarray:
    return np.stack(np.meshgrid(east, north), axis=2).reshape(-1, 2)


def thin(job: Job) -> ThinSurvey:
    ground = build_ground(job.survey)
    return thin_survey(job, ground, set_out_course(job.course, job.source, job.layers, ground))


def test_square_grid(plain: Job) -> None:
    """2 m squares: spacing 2 m, longest sides 2 times the root of 2, infinite off it."""
    ground = build_ground(surveyed(plain, grid(np.arange(0.0, 11.0, 2.0), np.arange(0.0, 7.0, 2.0))).survey)
    assert mean_spacing(ground) == pytest.approx(2.0, rel=1e-12)
    spots = np.array([[1.1, 0.3], [20.0, 0.0]])
    assert sides_at(ground, spots) == pytest.approx([2 * sqrt(2), inf])
    assert thin_at(ground, spots, 2.83).tolist() == [False, True]
    assert thin_at(ground, spots, 2.82).tolist() == [True, True]


def test_a_gap_across_the_stream(plain: Job) -> None:
    """Rows 2 m apart but for one of 6 m from x = 4 to x = 10: the stream from 4 to 10 m, both banks, not the pit."""
    east = np.concatenate([np.arange(-10.0, 5.0, 2.0), np.arange(10.0, 31.0, 2.0)])
    job = surveyed(plain, grid(east, np.arange(-10.0, 11.0, 2.0)))
    told = thin(job)
    for spans in (told.stream, told.left, told.right):
        ((start, end),) = spans
        assert (start, end) == pytest.approx((4.0, 10.0), abs=0.26)
    assert told.pit == 0
    assert told.widest == pytest.approx(sqrt(6**2 + 2**2), rel=1e-9)
    ground = build_ground(job.survey)
    closer = look_closer(job, ground, set_out_course(job.course, job.source, job.layers, ground))
    (finding,) = (each for each in closer_findings(job, closer) if each.code == "survey-thin")
    assert "4." in finding.place
    assert finding.chainage == told.stream[0]


def test_hose_and_pit(plain: Job) -> None:
    """The same gap from x = 12 to x = 18: half of the pit, 1.5 m2; and 6 m of a hose along y = 5 from x = 10 on."""
    east = np.concatenate([np.arange(-10.0, 13.0, 2.0), np.arange(18.0, 31.0, 2.0)])
    job = surveyed(plain, grid(east, np.arange(-10.0, 11.0, 2.0)))
    told = thin(replace(job, route=replace(job.route, line=((10.0, 5.0), (22.0, 5.0)))))
    assert told.stream == ()
    assert told.pit == pytest.approx(1.5, rel=1e-9)
    ((start, end),) = told.hose
    assert (start, end) == pytest.approx((2.0, 8.0), abs=0.26)


def test_close_enough(plain: Job) -> None:
    told = thin(surveyed(plain, grid(np.arange(-10.0, 31.0, 2.0), np.arange(-10.0, 11.0, 2.0))))
    assert (told.stream, told.left, told.right, told.hose, told.pit) == ((), (), (), (), 0.0)
