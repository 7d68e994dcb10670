"""Jobs of any size, grown from an example: its reaches again and again down a plain slope."""

from dataclasses import replace

import numpy as np

from beckwright.job.model import Job, NamedFlow, Reach, Run, Step, Survey, Tree

LARGEST = 3.0 / 1000.0


def longer(job: Job, times: int) -> Job:
    """The same course ``times`` over, straight, on an even slope that falls as it does."""
    reaches = tuple(
        replace(reach, name=f"{reach.name} ({turn})") for turn in range(times) for reach in job.course.reaches
    )
    length, fall = sum(map(_length, reaches)), sum(map(_fall, reaches))
    line = np.array([(0.0, 0.0), (0.5 * length, 0.0), (length, 0.0)])
    return replace(
        job,
        survey=_slope(length, job.source.lip_level, fall),
        course=replace(job.course, line=line, reaches=reaches, edges=(), measured_edges=None, end=None),
        reservoir=replace(job.reservoir, centre=(length, 3.0)),
        site=replace(job.site, services=(), boundaries=()),
    )


def with_flows(job: Job, count: int) -> Job:
    """The same job with ``count`` flows up to the largest, evenly apart."""
    flows = tuple(NamedFlow(name=f"flow {step}", flow=LARGEST * step / count) for step in range(1, count + 1))
    return replace(job, flows=flows, running=())


def with_trees(job: Job, count: int) -> Job:
    """The same job with ``count`` trees, 4 m off the line, evenly along it."""
    end = job.course.line[-1]
    places = np.linspace(job.course.line[0], end, count) + np.array([0.0, 4.0])
    trees = tuple(
        Tree(name=f"T{number}", species="oak", at=(float(east), float(north)), stems=(0.4,), protected=False)
        for number, (east, north) in enumerate(places)
    )
    return replace(job, site=replace(job.site, trees=trees))


def _length(reach: Reach) -> float:
    return 0.0 if isinstance(reach, Step) else reach.length


def _fall(reach: Reach) -> float:
    return reach.fall if isinstance(reach, Run) else reach.drop if isinstance(reach, Step) else 0.0


def _slope(length: float, top: float, fall: float) -> Survey:
    """Points 2 m apart on an even slope, 10 m to each side of the line and past its ends."""
    east, north = (
        grid.ravel() for grid in np.meshgrid(np.arange(-10.0, length + 12.0, 2.0), np.arange(-10.0, 12.0, 2.0))
    )
    levels = top - fall * east / length
    return Survey(points=np.stack([east, north], axis=1), levels=levels, codes=("GL",) * len(east), breaklines=())
