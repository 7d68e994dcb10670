"""The course set out: its reaches placed by chainage, and the levels that are dug and built.

Five of the eight lines of the level story are made here (existing ground, dig level, liner, bed, and the two edges);
the water stage adds still and running water.
"""

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Length, Lengths, Level, Levels, Points, Ratio
from beckwright.base.values import value
from beckwright.base.words import with_unit
from beckwright.equations.lining import settled_edge
from beckwright.job.model import BedMakeUp, Course, Layers, Pool, Reach, Run, Source, Step
from beckwright.stages.alignment import Alignment, smooth_line
from beckwright.stages.ground import Ground, level_where

STATION_SPACING = 0.25
"""Farthest apart two stations may be, m: a peg's worth of detail, and a quarter of the shortest usual pool."""

JUST = 1e-6
"""A mark shot at a step stands on its upper side; this far upstream the bed is that side's, m."""

_RAMP = 2.0
"""Horizontal for each 1 up of a pool's way out to its rim (assumed: stones lie on it)."""


@value
class Stretch:
    """One reach in its place. For a step both chainages are the same and the levels are above and below the drop."""

    reach: Reach
    start: Length
    end: Length
    bed_start: Level
    bed_end: Level

    @property
    def slope(self) -> Ratio:
        """Fall for each metre of plan length; 0 for pools and steps."""
        return (self.bed_start - self.bed_end) / (self.end - self.start) if isinstance(self.reach, Run) else 0.0


@value
class Stations:
    """The course cut into stations, source first; both ends of every run and pool are stations.

    reach  number of the stretch each station belongs to
    bed    top of the stones; in a pool, its floor
    rim    what edges are measured from: the bed of a run, the rim of a pool
    fill_left, fill_right  made ground under each edge that stands over the ground, from where the topsoil was stripped
    """

    chainage: Lengths
    reach: IntArray
    points: Points
    bed: Levels
    rim: Levels
    width: Lengths
    stone: Lengths
    ground: Levels
    liner: Levels
    dig: Levels
    edge_left: Levels
    edge_right: Levels
    ground_left: Levels
    ground_right: Levels
    fill_left: Lengths
    fill_right: Lengths
    settled_left: Levels
    settled_right: Levels
    surveyed: BoolArray

    def of(self, number: int) -> slice:
        """The stations of one stretch."""
        return slice(*(int(edge) for edge in np.searchsorted(self.reach, [number, number + 1])))


@value
class SetOutCourse:
    """The course in its place on the ground."""

    alignment: Alignment
    stretches: tuple[Stretch, ...]
    stations: Stations
    length: Length
    fall: Length
    side_slope: Ratio
    settlement: Ratio
    beds: tuple[BedMakeUp, ...]

    @property
    def end_level(self) -> Level:
        """Bed at the lower end."""
        return self.stretches[-1].bed_end

    def of_kind(self, kind: type[Run] | type[Step] | type[Pool]) -> tuple[Stretch, ...]:
        """The stretches of one kind, in order downstream."""
        return tuple(stretch for stretch in self.stretches if isinstance(stretch.reach, kind))


def set_out_course(
    course: Course, source: Source, layers: Layers, ground: Ground, topsoil: Length = 0.0
) -> SetOutCourse:
    """Place every reach by chainage and read the levels at every station; fill begins ``topsoil`` under the ground."""
    stretches = _place(course.reaches, source.lip_level)
    length = stretches[-1].end
    alignment = smooth_line(course.line, length)
    return SetOutCourse(
        alignment=alignment,
        stretches=stretches,
        stations=_read_stations(course, layers, ground, topsoil, alignment, stretches),
        length=length,
        fall=source.lip_level - stretches[-1].bed_end,
        side_slope=course.side_slope,
        settlement=course.settlement,
        beds=tuple({s.reach.bed.name: s.reach.bed for s in stretches if isinstance(s.reach, Run)}.values()),
    )


def pool_depths(pool: Pool, along: FloatArray) -> FloatArray:
    """Depth below the rim at distances from the lip: a flat floor, then a way out rising 1 in 2 to the rim."""
    depths: FloatArray = pool.depth * np.clip((pool.length - along) / _way_out(pool), 0.0, 1.0)
    return depths


def _way_out(pool: Pool) -> Length:
    return min(_RAMP * pool.depth, pool.length / 2)


def _place(reaches: tuple[Reach, ...], level: Level) -> tuple[Stretch, ...]:
    placed: list[Stretch] = []
    chainage = 0.0
    for reach in reaches:
        length = 0.0 if isinstance(reach, Step) else reach.length
        down = reach.fall if isinstance(reach, Run) else reach.drop if isinstance(reach, Step) else 0.0
        end, below = chainage + length, level - down
        placed.append(Stretch(reach=reach, start=chainage, end=end, bed_start=level, bed_end=below))
        chainage, level = end, below
    return tuple(placed)


def _read_stations(
    course: Course,
    layers: Layers,
    ground: Ground,
    topsoil: Length,
    alignment: Alignment,
    stretches: tuple[Stretch, ...],
) -> Stations:
    shot = () if course.measured_edges is None else tuple(course.measured_edges.chainages.tolist())
    chainage, reach = _chainages(stretches, shot)
    rim, bed, width, stone = _section_at(stretches, chainage, reach)
    liner = bed - stone - layers.fleece_over
    left, right = _edges(course, chainage, rim)
    points, sideways = alignment.at(chainage), alignment.left(chainage)
    to_left, to_right = (width / 2 + course.side_slope * (edge - rim) for edge in (left, right))
    banks = (points, points + sideways * to_left[:, None], points + sideways * -to_right[:, None])
    (level, ground_left, ground_right), surveyed = _ground_at(ground, banks, chainage)
    fill_left, fill_right = (
        np.where(edge > beside, edge - beside + topsoil, 0.0)
        for edge, beside in ((left, ground_left), (right, ground_right))
    )
    return Stations(
        chainage=chainage,
        reach=reach,
        points=points,
        bed=bed,
        rim=rim,
        width=width,
        stone=stone,
        ground=level,
        liner=liner,
        dig=liner - layers.lining - layers.fleece_under - layers.blinding,
        edge_left=left,
        edge_right=right,
        ground_left=ground_left,
        ground_right=ground_right,
        fill_left=fill_left,
        fill_right=fill_right,
        settled_left=settled_edge.over(left, fill_left, course.settlement),
        settled_right=settled_edge.over(right, fill_right, course.settlement),
        surveyed=surveyed,
    )


def _chainages(stretches: tuple[Stretch, ...], shot: tuple[Length, ...]) -> tuple[Lengths, IntArray]:
    pieces, numbers = [], []
    for number, stretch in enumerate(stretches):
        if stretch.end > stretch.start:
            piece = _cut(stretch, shot)
            pieces.append(piece)
            numbers.append(np.full(len(piece), number))
    return np.concatenate(pieces), np.concatenate(numbers)


def _cut(stretch: Stretch, shot: tuple[Length, ...]) -> Lengths:
    """Stations of one stretch, no gap wider than the spacing.

    Both ends, its sills or the foot of its way out, every peg of a whole metre, and wherever an edge was shot.
    """
    reach = stretch.reach
    sills = (
        reach.sills if isinstance(reach, Run) else (reach.length - _way_out(reach),) if isinstance(reach, Pool) else ()
    )
    inside = [each for each in shot if stretch.start < each < stretch.end]
    metres = np.arange(np.ceil(stretch.start), stretch.end)
    marks = np.concatenate([[stretch.start, stretch.end], stretch.start + np.array(sills), metres, inside])
    marks = np.unique(np.round(marks, 9))
    counts = np.ceil(np.diff(marks) / STATION_SPACING - 1e-9).astype(int)
    between = np.repeat(marks[:-1], counts) + np.concatenate([np.arange(n) for n in counts]) * np.repeat(
        np.diff(marks) / counts, counts
    )
    return np.append(between, marks[-1])


def _section_at(
    stretches: tuple[Stretch, ...], chainage: Lengths, reach: IntArray
) -> tuple[Levels, Levels, Lengths, Lengths]:
    """Rim, bed, width and stone depth at each station."""
    start, end, top, bottom, width, stone = np.array(
        [
            (
                s.start,
                s.end,
                s.bed_start,
                s.bed_end,
                0.0 if isinstance(s.reach, Step) else s.reach.width,
                s.reach.bed.depth if isinstance(s.reach, Run) else 0.0,
            )
            for s in stretches
        ]
    ).T[:, reach]
    rim = top + (bottom - top) * (chainage - start) / (end - start)
    bed = rim.copy()
    for number, stretch in enumerate(stretches):
        if isinstance(stretch.reach, Pool):
            here = slice(*np.searchsorted(reach, [number, number + 1]))
            bed[here] -= pool_depths(stretch.reach, chainage[here] - stretch.start)
    return rim, bed, width, stone


def _edges(course: Course, chainage: Lengths, rim: Levels) -> tuple[Levels, Levels]:
    """Measured edges are carried between shots as heights over the bed: a straight line would cut across steps."""
    if course.measured_edges is not None:
        shot = course.measured_edges
        over = np.interp(shot.chainages - JUST, chainage, rim)
        left, right = (rim + np.interp(chainage, shot.chainages, side - over) for side in (shot.left, shot.right))
        return left, right
    left, right = rim + course.edge_above_bed, rim + course.edge_above_bed
    for edge in course.edges:
        here = (chainage >= edge.start) & (chainage <= edge.end)
        for side, levels in (("left", left), ("right", right)):
            if edge.side in (side, "both"):
                levels[here] = rim[here] + edge.above_bed
    return left, right


def _ground_at(ground: Ground, lines: tuple[Points, ...], chainage: Lengths) -> tuple[tuple[Levels, ...], BoolArray]:
    """Ground under the course line and beside it; off the survey the level on the line stands in, and the mask says so.

    Raises JobError where the line itself leaves the survey: the smooth line may bulge beyond the points it joins.
    """
    found, on = level_where(ground, np.vstack(lines))
    if not on[: len(chainage)].all():
        raise JobError([_off_survey(float(chainage[np.argmin(on[: len(chainage)])]))])
    parts = np.split(np.where(on, found, np.tile(found[: len(chainage)], len(lines))), len(lines))
    return tuple(parts), np.logical_and.reduce(np.split(on, len(lines)))


def _off_survey(chainage: Length) -> Problem:
    return Problem(
        place="job.toml course.line_m",
        found=f"the smooth line leaves the survey at {with_unit(chainage, 'm'):.2f} from the source",
        rule="The course lies on surveyed ground",
        remedy="Shoot points beyond it, or move the line's points inwards",
    )
