"""Where falls splash the sheet is wider: a drop's height beyond the lip's end at the least, twice that to windward."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length
from beckwright.job.model import Job, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Fall
from beckwright.stages.lining.rows import sections
from beckwright.stages.lining.values import LEFT_END, RIGHT_END, Side, Splash

SIDES: tuple[Side, Side] = ("left", "right")


def widened(job: Job, course: SetOutCourse, falls: tuple[Fall, ...]) -> FloatArray:
    """Allowance beyond the edges at every station, (n, 2): the job's own, and more where a fall splashes beyond it."""
    allowance = np.full((len(course.stations.chainage), 2), job.layers.edge_allowance)
    bare = _reach(course, np.zeros_like(allowance))
    for fall, here in _wetted(course, falls):
        least, _ = _wanted(fall)
        allowance[here] = np.maximum(allowance[here], least - bare[here])
    return allowance


def splashes(job: Job, course: SetOutCourse, falls: tuple[Fall, ...]) -> tuple[Splash, ...]:
    """Each fall's two sides: what is wanted there, and what there is."""
    allowance = widened(job, course, falls)
    reach = _reach(course, allowance)
    found = []
    for fall, here in _wetted(course, falls):
        least, windward = _wanted(fall)
        for side, name in enumerate(SIDES):
            found.append(
                Splash(
                    place=fall.lip.name,
                    chainage=fall.lip.chainage,
                    side=name,
                    reach=float(reach[here, side].min()),
                    wanted=least,
                    windward=windward,
                    widened=float(allowance[here, side].max()) - job.layers.edge_allowance,
                )
            )
    return tuple(found)


def _wanted(fall: Fall) -> tuple[Length, Length]:
    """Reach from the middle of the bed: to the lip's end, and the splash beyond it."""
    least, windward = (0.0, 0.0) if fall.sheet is None else map(float, fall.sheet.splash)
    return fall.lip.width / 2 + least, fall.lip.width / 2 + windward


def _reach(course: SetOutCourse, allowance: FloatArray) -> FloatArray:
    out = sections(course, allowance).out
    return np.stack([out[:, LEFT_END], -out[:, RIGHT_END]], axis=1)


def _wetted(course: SetOutCourse, falls: tuple[Fall, ...]) -> Iterator[tuple[Fall, IntArray]]:
    """Each fall onto the course, and the stations from its foot to where its sheet lands at the farthest."""
    at = course.stations
    numbers = {s.reach.name: number for number, s in enumerate(course.stretches) if isinstance(s.reach, Step)}
    for fall in falls:
        if fall.sheet is None or fall.lip.name not in numbers:
            continue
        below = np.flatnonzero(at.reach > numbers[fall.lip.name])
        far = fall.lip.chainage + float(np.max(fall.sheet.landed.far, initial=0.0))
        if len(below):
            yield fall, below[at.chainage[below] <= max(far, float(at.chainage[below[0]]))]
