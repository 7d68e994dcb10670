"""Which of the works stand on ground that was surveyed too thinly to trust."""

import numpy as np

from beckwright.base.quantities import Area, Length, Points
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.ground import Ground, thin_places
from beckwright.stages.ground.thin import mean_spacing, sides_at, thin_at
from beckwright.stages.levels import places
from beckwright.stages.surroundings.plane import Span, densely, distances
from beckwright.stages.surroundings.works import footprint, pit_outline
from beckwright.tables.site import SURVEY_SPACING

SAMPLED: Length = 0.25
"""The hose is tried at points this far apart."""


@value
class ThinSurvey:
    """Works on triangles with a side longer than ``wanted``, or off the survey.

    mean    spacing of the whole survey's points
    widest  longest side of a triangle under the stream, its banks' feet or the hose; infinite off the survey
    stream, left, right  chainages: the line, and the feet of the banks
    hose    distances from the pump
    pit     plan area of the pit
    """

    wanted: Length
    mean: Length
    widest: Length
    stream: tuple[Span, ...]
    left: tuple[Span, ...]
    right: tuple[Span, ...]
    hose: tuple[Span, ...]
    pit: Area


def thin_survey(job: Job, ground: Ground, course: SetOutCourse) -> ThinSurvey:
    """Hold the works against the net of the survey."""
    works, wanted = footprint(job, course), SURVEY_SPACING.amount
    lines = (works.points, *works.feet)
    stream, left, right = (places(thin_at(ground, line, wanted), works.chainage) for line in lines)
    hose = densely(np.array(job.route.line), SAMPLED) if len(job.route.line) > 1 else np.empty((0, 2))
    return ThinSurvey(
        wanted=wanted,
        mean=mean_spacing(ground),
        widest=float(sides_at(ground, np.vstack([*lines, hose])).max()),
        stream=stream,
        left=left,
        right=right,
        hose=_along(ground, hose, wanted),
        pit=_pit(job, ground, wanted),
    )


def _along(ground: Ground, line: Points, wanted: Length) -> tuple[Span, ...]:
    return places(thin_at(ground, line, wanted), distances(line)) if len(line) else ()


def _pit(job: Job, ground: Ground, wanted: Length) -> Area:
    """The pit's plan less what of it lies on triangles that are short enough."""
    import shapely

    pit = pit_outline(job.reservoir)
    good = np.delete(ground.corners, thin_places(ground, wanted), axis=0)
    area = float(shapely.area(shapely.intersection(shapely.polygons(good), pit)).sum())
    return max(pit.area - area, 0.0) if area < pit.area * (1 - 1e-9) else 0.0
