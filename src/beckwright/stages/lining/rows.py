"""The lining where it lies: cut across at every station, under the outlet box, and on into the reservoir."""

import numpy as np

from beckwright.base.quantities import Area, FloatArray, IntArray, Length, Lengths
from beckwright.base.values import value
from beckwright.equations.lining import half_girth
from beckwright.job.model import Job, Pool, Reservoir, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.lining.values import LEFT_EDGE, LEFT_END, RIGHT_EDGE, RIGHT_END, Rows
from beckwright.stages.reservoir import Pit
from beckwright.tables.practice import STEP_FOLD

LINES = 7
SLACK: Length = STEP_FOLD.high
"""Loose sheet at each upright face: the most the trade leaves, since a sheet cut short is the dearest mistake."""


@value
class Sections:
    """The lining cut across at n stations: the seven lines in plan, on the flat sheet, and over the floor, (n, 7)."""

    out: FloatArray
    beside: FloatArray
    up: FloatArray


@value
class _End:
    """What goes on beyond the course, k rows in order downstream, and the k lengths of sheet that join them to it."""

    chainage: Lengths
    level: FloatArray
    beside: FloatArray
    lengths: Lengths
    slack: Lengths


def sections(course: SetOutCourse, allowance: FloatArray) -> Sections:
    """Floor at the lining's own level, sides up to either edge, ``allowance`` (n, 2) beyond them left and right."""
    at, slope = course.stations, course.side_slope
    floor = np.maximum(at.width / 2 - slope * (at.rim - at.bed), 0.0)
    rise = np.maximum(np.stack([at.edge_left, at.edge_right], axis=1) - at.liner[:, None], 0.0)
    in_plan = floor[:, None] + slope * rise
    along = half_girth.over(2 * floor[:, None], rise, slope, 0.0)
    level = np.zeros(len(floor))
    return Sections(
        out=_across(floor, in_plan, in_plan + allowance),
        beside=_across(floor, along, along + allowance),
        up=np.stack([*[rise[:, 0]] * 2, level, level, level, *[rise[:, 1]] * 2], axis=1),
    )


def lay_rows(job: Job, course: SetOutCourse, pit: Pit, cut: Sections) -> Rows:
    """Every row of the lining: the outlet box's, the stations', and the end in the reservoir."""
    at = course.stations
    lengths, surface = _between(course, cut)
    head, tail = _head(job, course, cut), _tail(job, course, pit, cut)
    ends = [np.repeat(end.lengths[:, None], LINES, axis=1) for end in (head, tail)]
    east, north = course.alignment.direction(at.chainage).T
    straight = [np.zeros(len(end.lengths)) for end in (head, tail)]
    beside = np.concatenate([head.beside, cut.beside, tail.beside])
    girths = beside[:, LEFT_END] - beside[:, RIGHT_END]
    between = (girths[1:] + girths[:-1]) / 2
    covers = [between[: len(head.lengths)] * head.lengths, between[-len(tail.lengths) :] * tail.lengths]
    return Rows(
        chainage=np.concatenate([head.chainage, at.chainage, tail.chainage]),
        reach=np.concatenate([np.full(len(head.level), -1), at.reach, np.full(len(tail.level), len(course.stretches))]),
        level=np.concatenate([head.level, at.liner, tail.level]),
        beside=beside,
        out=np.concatenate([head.beside, cut.out, tail.beside]),
        lengths=np.concatenate([ends[0], lengths, ends[1]]),
        turn=np.concatenate([straight[0], np.diff(np.unwrap(np.arctan2(north, east))), straight[1]]),
        slack=np.concatenate([head.slack, _slack(course), tail.slack]),
        surface=np.concatenate([covers[0], surface, covers[1]]),
    )


def faces(course: SetOutCourse) -> IntArray:
    """Stations at the foot of an upright face that wants loose sheet: below every step, and at a pool's head."""
    at, feet = course.stations, []
    for number, stretch in enumerate(course.stretches):
        above = course.stretches[number - 1].reach if number else None
        wants = isinstance(above, Step) or (isinstance(stretch.reach, Pool) and above is not None)
        foot = at.of(number).start
        if wants and not isinstance(stretch.reach, Step) and foot > 0:
            feet.append(foot)
    return np.array(feet, dtype=np.int64)


def _slack(course: SetOutCourse) -> Lengths:
    slack = np.zeros(len(course.stations.chainage) - 1)
    slack[faces(course) - 1] = SLACK
    return slack


def _across(floor: FloatArray, edge: FloatArray, end: FloatArray) -> FloatArray:
    nothing = np.zeros(len(floor))
    return np.stack([end[:, 0], edge[:, 0], floor, nothing, -floor, -edge[:, 1], -end[:, 1]], axis=1)


def _between(course: SetOutCourse, cut: Sections) -> tuple[FloatArray, FloatArray]:
    """Lengths of the seven lines between stations, straight down the sheet, and the areas between them.

    A line that goes out sideways is longer in space by just that, and on the flat sheet as well: it is taken off here.
    """
    at = course.stations
    east, north = course.alignment.direction(at.chainage).T
    left = np.stack([-north, east], axis=1)
    spots = np.empty((len(left), LINES, 3))
    spots[..., :2] = at.points[:, None] + left[:, None] * cut.out[..., None]
    spots[..., 2] = at.liner[:, None] + cut.up
    in_space = ((spots[1:] - spots[:-1]) ** 2).sum(axis=2)
    lengths = np.sqrt(np.maximum(in_space - (cut.beside[1:] - cut.beside[:-1]) ** 2, 0.0))
    here, there, across, over = spots[:-1, :-1], spots[1:, :-1], spots[:-1, 1:], spots[1:, 1:]
    quads = _triangles(here, there, across) + _triangles(over, there, across)
    return lengths, quads.sum(axis=1)


def _triangles(one: FloatArray, two: FloatArray, three: FloatArray) -> FloatArray:
    areas: FloatArray = np.linalg.norm(np.cross(two - one, three - one), axis=2) / 2
    return areas


def _head(job: Job, course: SetOutCourse, cut: Sections) -> _End:
    """From behind the outlet box to the first station: up its back, over its floor, down or up its front.

    Without a sheet under the box the lining is turned up at the lip, and only the allowance is left of it.
    """
    at, allowance = course.stations, job.layers.edge_allowance
    first = cut.beside[:1]
    if not job.lining.under_box:
        return _End(
            chainage=np.array([-allowance]),
            level=at.liner[:1],
            beside=first,
            lengths=np.array([allowance]),
            slack=np.zeros(1),
        )
    source = job.source
    top, floor = float(max(at.edge_left[0], at.edge_right[0])), source.lip_level - source.box_depth
    half = source.lip_width / 2
    row = _across(
        *(np.array([half]), np.full((1, 2), half + top - floor), np.full((1, 2), half + top - floor + allowance))
    )
    back = -source.box_length
    return _End(
        chainage=np.array([back - allowance, back, back, 0.0]),
        level=np.array([top, top, floor, floor]),
        beside=np.repeat(row, 4, axis=0),
        lengths=np.array([allowance, top - floor, source.box_length, abs(float(at.liner[0]) - floor)]),
        slack=np.array([0.0, 0.0, 0.0, SLACK]),
    )


def _tail(job: Job, course: SetOutCourse, pit: Pit, cut: Sections) -> _End:
    """From the last station over the pit's own sheet: across to the fill, down to the cover, and a lap."""
    at = course.stations
    level = float(at.liner[-1])
    away = outside(job.reservoir, (float(at.points[-1, 0]), float(at.points[-1, 1])))
    length = away + max(level - pit.cover, 0.0) + job.layers.lap
    return _End(
        chainage=np.array([course.length + away]),
        level=np.array([min(level, pit.cover)]),
        beside=cut.beside[-1:],
        lengths=np.array([length]),
        slack=np.zeros(1),
    )


def outside(reservoir: Reservoir, point: tuple[Length, Length]) -> Length:
    """How far a point lies outside the fill in plan; 0 inside."""
    east, north = point[0] - reservoir.centre[0], point[1] - reservoir.centre[1]
    cosine, sine = np.cos(reservoir.turned), np.sin(reservoir.turned)
    beyond = (
        abs(east * cosine + north * sine) - reservoir.length / 2,
        abs(north * cosine - east * sine) - reservoir.width / 2,
    )
    return float(np.hypot(*np.maximum(beyond, 0.0)))


def top_widths(cut: Sections) -> Lengths:
    """Plan width from edge to edge at the stations."""
    widths: Lengths = cut.out[:, LEFT_EDGE] - cut.out[:, RIGHT_EDGE]
    return widths


def net_area(rows: Rows) -> Area:
    """Area of the lining where it lies, slack included at the width it has there."""
    girths = rows.beside[:, LEFT_END] - rows.beside[:, RIGHT_END]
    return float(rows.surface.sum() + (rows.slack * (girths[1:] + girths[:-1]) / 2).sum())
