"""Footings: which digs go below the line at 45 degrees from their underside."""

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Lengths, Level, Levels, Points
from beckwright.base.values import value
from beckwright.equations.site import load_line
from beckwright.job.model import Foundation, Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.ground import Ground, inside, level_at
from beckwright.stages.levels import places
from beckwright.stages.surroundings.near import Dug
from beckwright.stages.surroundings.plane import Span, densely, distances
from beckwright.stages.surroundings.works import pit_bottom, pit_corners

SAMPLED: Length = 0.25
"""Footing and trench are tried at points this far apart."""

LEDGES = 5
"""Heights at which a battered side of the pit is tried."""


@value
class Undermined:
    """One part of the works that goes below a footing's line.

    spans  chainages of the stream, or distances from the pump along the hose; empty for the pit
    away   from the footing's face to the worst place, in plan
    dug    level of the dig there
    limit  level down to which it may be dug there
    below  dig below that line: dig so much shallower, or move it so far away
    """

    part: Dug
    spans: tuple[Span, ...]
    away: Length
    dug: Level
    limit: Level
    below: Length


@value
class Footing:
    """A footing against the works.

    depth   of its underside; where nobody knows, it is tried as if it stood on the ground: a footing any deeper is
            undermined by less, and by nothing from ``below`` on
    on_survey  whether its ground was surveyed; if not, the nearest survey point stands in
    parts   the worst first
    """

    foundation: Foundation
    on_survey: bool
    parts: tuple[Undermined, ...]


@value
class _Dig:
    """One dig against the m points of a footing's face: how far away (n, m), levels (n,), where along it (n,)."""

    part: Dug
    away: FloatArray
    levels: Levels
    along: Lengths


def footings(job: Job, ground: Ground, course: SetOutCourse) -> tuple[Footing, ...]:
    """Hold pit, stream and trench against every footing."""
    return tuple(_footing(job, ground, course, each) for each in job.site.foundations)


def _footing(job: Job, ground: Ground, course: SetOutCourse, foundation: Foundation) -> Footing:
    face = densely(np.array(foundation.line), SAMPLED) if len(foundation.line) > 1 else np.array(foundation.line)
    on = inside(ground, face)
    levels = np.empty(len(face))
    levels[on] = level_at(ground, face[on])
    for row in np.flatnonzero(~on):
        levels[row] = ground.levels[np.argmin(np.hypot(*(ground.points - face[row]).T))]
    underside = levels - (foundation.depth or 0.0)
    digs = (_pit(job, face), _stream(course, face), *_trench(job, ground, face))
    found = [under for dig in digs if (under := _undermined(dig, underside)) is not None]
    return Footing(
        foundation=foundation,
        on_survey=bool(on.all()),
        parts=tuple(sorted(found, key=lambda part: -part.below)),
    )


def _undermined(dig: _Dig, underside: Levels) -> Undermined | None:
    lines = load_line.over(underside[np.newaxis], dig.away)
    limit = lines.max(axis=1)
    below = limit - dig.levels
    worst = int(np.argmax(below))
    if below[worst] <= 0.0:
        return None
    return Undermined(
        part=dig.part,
        spans=() if dig.part == "reservoir pit" else places(below > 0.0, dig.along),
        away=float(dig.away[worst, np.argmax(lines[worst])]),
        dug=float(dig.levels[worst]),
        limit=float(limit[worst]),
        below=float(below[worst]),
    )


def _between(points: Points, half: Lengths, face: Points) -> FloatArray:
    apart: FloatArray = np.hypot(*np.moveaxis(points[:, np.newaxis] - face[np.newaxis], 2, 0))
    return np.maximum(apart - half[:, np.newaxis], 0.0)


def _stream(course: SetOutCourse, face: Points) -> _Dig:
    at = course.stations
    return _Dig(part="stream", away=_between(at.points, at.width / 2, face), levels=at.dig, along=at.chainage)


def _pit(job: Job, face: Points) -> _Dig:
    """The pit's floor with the room to work, and, where its batter is given, its sides up to the cover."""
    import shapely

    bottom, batter = pit_bottom(job.reservoir, job.layers), job.earthworks.batter or 0.0
    heights = np.linspace(0.0, job.reservoir.cover - bottom, LEDGES if batter else 1)
    grown = job.earthworks.working_space + batter * heights
    plans = [shapely.Polygon(pit_corners(job.reservoir, float(each))) for each in grown]
    away = shapely.distance(np.array(plans)[:, np.newaxis], np.asarray(shapely.points(face))[np.newaxis])
    return _Dig(part="reservoir pit", away=away, levels=bottom + heights, along=heights)


def _trench(job: Job, ground: Ground, face: Points) -> tuple[_Dig, ...]:
    """The hose's trench where the ground was surveyed."""
    if len(job.route.line) < 2:
        return ()
    line = densely(np.array(job.route.line), SAMPLED)
    on = inside(ground, line)
    if not on.any():
        return ()
    half = np.full(int(on.sum()), job.earthworks.trench_width / 2)
    levels = level_at(ground, line[on]) - job.earthworks.trench_depth
    return (_Dig(part="hose trench", away=_between(line[on], half, face), levels=levels, along=distances(line)[on]),)
