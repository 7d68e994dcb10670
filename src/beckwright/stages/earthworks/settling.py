"""Made ground under the edges and lips, and how far it sinks."""

import numpy as np

from beckwright.base.quantities import Lengths
from beckwright.equations.earthworks import overbuild
from beckwright.job.model import Job, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.rays import ground_under
from beckwright.stages.earthworks.sections import formation_floor
from beckwright.stages.earthworks.values import LipFill, Settling
from beckwright.stages.ground import Ground


def settle(job: Job, course: SetOutCourse, ground: Ground) -> Settling:
    """Fill counted from the stripped ground; it sinks by the share the designer told."""
    at, share = course.stations, job.course.settlement
    left, right = at.fill_left, at.fill_right
    return Settling(
        fill_left=left,
        fill_right=right,
        sinks_left=share * left,
        sinks_right=share * right,
        higher_left=overbuild.over(left, share),
        higher_right=overbuild.over(right, share),
        lips=_lips(job, course, ground),
    )


def _lips(job: Job, course: SetOutCourse, ground: Ground) -> tuple[LipFill, ...]:
    """The outlet box, and the last station above each step: the deepest made ground anywhere across the floor."""
    at, share = course.stations, job.course.settlement
    heads = [at.of(number - 1).stop - 1 for number, s in enumerate(course.stretches) if isinstance(s.reach, Step)]
    names = [s.reach.name for s in course.stretches if isinstance(s.reach, Step)]
    fills = _made_ground(job, course, ground, heads) if heads else np.empty(0)
    box = max(job.source.lip_level - job.source.box_depth - (float(at.ground[0]) - job.site.topsoil), 0.0)
    rows = [("outlet box", 0.0, box), *zip(names, at.chainage[heads].tolist(), fills.tolist(), strict=True)]
    return tuple(LipFill(name=name, chainage=along, fill=fill, sinks=share * fill) for name, along, fill in rows)


def _made_ground(job: Job, course: SetOutCourse, ground: Ground, heads: list[int]) -> Lengths:
    at, half = course.stations, formation_floor(course)[heads]
    chainage, offsets = np.tile(at.chainage[heads], 3), np.concatenate([half, np.zeros(len(half)), -half])
    across = course.alignment.beside(chainage, offsets)
    levels = ground_under(ground, across, np.tile(at.ground[heads], 3)).reshape(3, -1)
    deepest: Lengths = np.maximum(at.dig[heads] - levels + job.site.topsoil, 0.0).max(axis=0)
    return deepest
