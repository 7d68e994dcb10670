"""Jobs whose lining can be worked by hand, and the stage run on them."""

from dataclasses import replace

import numpy as np

from beckwright.job.model import BedMakeUp, Job, Pool, Reach, Run, Step
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.falls import Fall, fall_water
from beckwright.stages.ground import build_ground
from beckwright.stages.lining import Lining, line
from beckwright.stages.reservoir import Pit, dig_pit
from beckwright.stages.water import Water, run_water


def with_rolls(job: Job, *rolls: float, **other: object) -> Job:
    """The job with rolls on offer, and whatever else of its section."""
    return replace(job, lining=replace(job.lining, rolls=rolls, **other))  # type: ignore[arg-type]


def with_course(job: Job, line: np.ndarray, reaches: tuple[Reach, ...], **other: object) -> Job:
    """The job with another course on a plain wide enough for it."""
    low, high = line.min(axis=0) - 12.0, line.max(axis=0) + 12.0
    corners = np.array([low, (high[0], low[1]), high, (low[0], high[1])])
    survey = replace(job.survey, points=corners, levels=np.full(4, 99.0), codes=("GL",) * 4, breaklines=())
    end = line[-1]
    return replace(
        job,
        survey=survey,
        course=replace(job.course, line=line, reaches=reaches, **other),  # type: ignore[arg-type]
        reservoir=replace(job.reservoir, centre=(float(end[0]) + 2.0, float(end[1]))),
    )


def stepped(bed: BedMakeUp) -> tuple[Reach, ...]:
    """Run, step, pool, run: 4 m, a drop of 0.4 m, 1.2 m, 5 m."""
    return (
        Run(name="run 1", length=4.0, fall=0.2, width=0.6, bed=bed, sills=()),
        Step(name="lip 1", drop=0.4, lip_width=0.5, lip="sharp edge"),
        Pool(name="pool 1", length=1.2, width=1.0, depth=0.2),
        Run(name="run 2", length=5.0, fall=0.25, width=0.6, bed=bed, sills=()),
    )


def worked_out(job: Job) -> tuple[SetOutCourse, Water, tuple[Fall, ...], Pit]:
    """The stages before the lining."""
    course = set_out_course(job.course, job.source, job.layers, build_ground(job.survey))
    water = run_water(course, job.source, job.flows, job.water_temperature)
    return course, water, fall_water(course, water), dig_pit(job.reservoir)


def lined(job: Job) -> Lining:
    """The lining of a job."""
    return line(job, *worked_out(job))
