"""The smallest sideways shift of the course that takes it out of a root circle, and whether there is room for it."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Lengths, Points
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.job.surveyed import ground_surveyed
from beckwright.stages.surroundings.works import LEFT, RIGHT, Footprint
from beckwright.tables.trees import SHIFT_MOST, SHIFT_STEP, SHIFT_TAPER

if TYPE_CHECKING:
    from shapely import LineString, Polygon

Circle = tuple[tuple[Length, Length], Length]

_ROUNDING = 1e-9


@value
class Shift:
    """A stretch of the course moved sideways.

    offset      how far, positive to the left looking downstream
    start, end  chainages between which it is moved by all of that
    ease        lengths over which it comes away from the old line before ``start`` and returns to it after ``end``
    line        the whole line so moved, (n, 2)
    """

    offset: Length
    start: Length
    end: Length
    ease: tuple[Length, Length]
    line: Points


@value
class Barriers:
    """What a shifted course may not meet.

    circles   middle and radius of every root circle
    lines     boundaries and footings, each with the distance to be kept
    surveyed  the ground that was surveyed, its hull
    """

    circles: tuple[Circle, ...]
    lines: "tuple[tuple[LineString, Length], ...]"
    surveyed: "Polygon"


def barriers_of(job: Job, circles: tuple[Circle, ...]) -> Barriers:
    """Collect what stands in the way of a shift."""
    from shapely import LineString

    kept = [(each.line, each.clearance) for each in job.site.boundaries]
    kept += [(each.line, 0.0) for each in job.site.foundations]
    return Barriers(
        circles=circles,
        lines=tuple((LineString(line), clear) for line, clear in kept if len(line) > 1),
        surveyed=ground_surveyed(job.survey),
    )


def clearing_shift(
    works: Footprint, middle: tuple[Lengths, Lengths], radius: Length, barriers: Barriers
) -> Shift | None:
    """Find the smaller of the shifts to either side that clears a circle, if there is room for one.

    ``middle``: the circle's, as ``Footprint.toward`` tells it.
    """
    left, away = middle
    half = np.sqrt(np.maximum(radius**2 - away**2, 0.0))
    entered = (left - works.foot[LEFT] < half) & (-works.foot[RIGHT] - left < half) & (half > 0.0)
    to_left = float(np.max(left + works.foot[RIGHT] + half, where=entered, initial=0.0))
    to_right = float(np.max(works.foot[LEFT] + half - left, where=entered, initial=0.0))
    held = works.chainage[entered]
    for needed, side in sorted(((to_left, 1.0), (to_right, -1.0))):
        offset = (np.floor(needed / SHIFT_STEP.amount) + 2.0) * SHIFT_STEP.amount
        if offset > SHIFT_MOST.amount + _ROUNDING:
            continue
        ease = _ease(works.chainage, float(held[0]), float(held[-1]), float(offset))
        if ease is None:
            continue
        moved = side * offset * _share(works.chainage, float(held[0]), float(held[-1]), ease)
        if _has_room(works, moved, barriers):
            return Shift(
                offset=float(side * offset),
                start=float(held[0]),
                end=float(held[-1]),
                ease=ease,
                line=_line(works, moved),
            )
    return None


def _ease(chainage: Lengths, start: Length, end: Length, offset: Length) -> tuple[Length, Length] | None:
    """Both lengths to ease back over: source and lower end stay where they are. None where they are too short."""
    room = start - float(chainage[0]), float(chainage[-1]) - end
    if min(room) < SHIFT_TAPER.low * offset:
        return None
    before, after = (min(each, SHIFT_TAPER.amount * offset) for each in room)
    return before, after


def _share(chainage: Lengths, start: Length, end: Length, ease: tuple[Length, Length]) -> FloatArray:
    """Share of the shift at each station: all of it from start to end, leaving and coming back without a corner."""
    along = np.minimum((chainage - start) / ease[0], (end - chainage) / ease[1]) + 1.0
    share = np.clip(along, 0.0, 1.0)
    smooth: FloatArray = share**2 * (3.0 - 2.0 * share)
    return smooth


def _line(works: Footprint, moved: Lengths) -> Points:
    points = works.points + works.sideways * moved[:, np.newaxis]
    keep = np.append(True, np.diff(works.chainage) > _ROUNDING)
    line: Points = points[keep]
    return line


def _has_room(works: Footprint, moved: Lengths, barriers: Barriers) -> bool:
    import shapely

    there = np.flatnonzero(moved)
    if any(_nearer(works, moved, there, circle) for circle in _in_reach(works, moved, there, barriers.circles)):
        return False
    side, sign = (LEFT, 1.0) if moved[there[0]] > 0 else (RIGHT, -1.0)
    points, sideways = works.points[there], works.sideways[there]
    outer = points + sideways * (moved[there] + sign * works.foot[side, there])[:, np.newaxis]
    if not bool(shapely.contains_xy(barriers.surveyed, outer).all()):
        return False
    swept = shapely.linestrings(np.stack([points, outer], axis=1))
    return not any(bool(shapely.dwithin(swept, line, clear).any()) for line, clear in barriers.lines)


def _in_reach(works: Footprint, moved: Lengths, there: IntArray, circles: tuple[Circle, ...]) -> tuple[Circle, ...]:
    """Circles that the moved stations could come to at all: in a wood most of them stand too far off to ask."""
    points = works.points[there]
    wide = float(np.abs(moved[there]).max() + np.abs(works.foot[:, there]).max())
    low, high = points.min(axis=0) - wide, points.max(axis=0) + wide
    middles, radii = np.array([middle for middle, _ in circles]), np.array([[radius] for _, radius in circles])
    near = np.all((middles >= low - radii) & (middles <= high + radii), axis=1)
    return tuple(circle for circle, is_near in zip(circles, near, strict=True) if is_near)


def _nearer(works: Footprint, moved: Lengths, there: IntArray, circle: Circle) -> bool:
    """Whether a moved station lies in a circle and deeper in it than before."""
    middle, radius = circle
    left, away = (each[there] for each in works.toward(middle))
    before, after = (_distance(works, there, left - by, away) for by in (0.0, moved[there]))
    return bool(np.any(after < np.minimum(before, radius) - _ROUNDING))


def _distance(works: Footprint, there: IntArray, left: Lengths, away: Lengths) -> Lengths:
    beyond = np.maximum(left - works.foot[LEFT, there], -works.foot[RIGHT, there] - left)
    distance: Lengths = np.hypot(np.maximum(beyond, 0.0), away)
    return distance
