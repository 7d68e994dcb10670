"""Rain that runs over the ground: arrows seen on site, ways computed on the survey, and where the overflow goes."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.lately import lately
from beckwright.base.quantities import Area, FloatArray, Length, Lengths, Points
from beckwright.base.values import value
from beckwright.job.model import Job, Runoff
from beckwright.stages.course import SetOutCourse
from beckwright.stages.ground import Ground, extent, inside, level_at
from beckwright.stages.surroundings.descent import Descent, Ended, Net
from beckwright.stages.surroundings.meets import Met, Side, first_meetings
from beckwright.stages.surroundings.plane import Line, densely, distances, joined, meetings
from beckwright.stages.surroundings.works import LEFT, RIGHT, Footprint, footprint, pit_corners, pit_outline
from beckwright.tables.site import CATCHMENT_TOLD, HOLLOW_RUN_OVER, PATHS_JOINED, RUNOFF_AHEAD

if TYPE_CHECKING:
    from shapely import Polygon

SEEDS = 600
"""About so many drops are let run: enough that a catchment of a twentieth of the survey is told to a fifth."""

AROUND: Length = 0.25
"""The overflow is tried at points of the pit's outline this far apart."""

BEYOND_PIT: Length = 0.05
"""The overflow's pipe is taken to end this far outside the pit, so that its way does not begin by crossing the edge."""


@value
class Seen:
    """An arrow of seen water against the works.

    chainage  where it comes to the foot of a bank, or to the line of the stream; None where it does not
    side      the bank it comes to
    dams      lining's edge above the ground on that side there: above 0 the bank stands in its way, else it runs in
    short     how far the arrow as drawn stops short of that; 0 where it gets there
    pit       whether it meets the reservoir's pit
    """

    runoff: Runoff
    chainage: Length | None
    side: Side | None
    dams: Length
    short: Length
    pit: bool


@value
class Across:
    """One place where ways of water come to the stream from one side.

    chainage    in the middle of the ground that sheds; ``start`` and ``end`` of all of it
    area        ground that sheds there, in plan
    dams        lining's edge above the ground on that side, at most within the place
    line        the longest way there, (n, 2), to the foot of the bank
    """

    chainage: Length
    start: Length
    end: Length
    side: Side
    area: Area
    dams: Length
    line: Points


@value
class OverflowWay:
    """Where water that leaves the reservoir's overflow runs on the ground.

    line      (n, 2) from the lowest ground beside the pit
    ended     how the way ends, and how deep it ponds
    daylight  along the way to where the ground is down to the pipe's invert; None where it never is on the survey
    crosses   boundaries it runs over
    chainage  where it runs back into the stream; None where it does not
    pit       whether it runs back into the pit
    """

    line: Points
    ended: Ended
    deep: Length
    daylight: Length | None
    crosses: tuple[str, ...]
    chainage: Length | None
    pit: bool


@value
class WaterPaths:
    """Ways of water over the ground as surveyed.

    across    the largest first
    carried   arrows of seen water that as drawn meet nothing, led on over the ground
    overflow  None where the ground beside the pit was not surveyed
    spacing   each drop stands for a square of ground of this side
    """

    across: tuple[Across, ...]
    carried: tuple[Seen, ...]
    overflow: OverflowWay | None
    spacing: Length


def seen_water(job: Job, works: Footprint) -> tuple[Seen, ...]:
    """Where the arrows on the plan meet the stream or the pit, led on a little beyond their points."""
    pit = pit_outline(job.reservoir)
    return tuple(_seen(runoff, works, pit, (_ahead(runoff),)) for runoff in job.site.runoff if len(runoff.line) > 1)


def _ahead(runoff: Runoff) -> tuple[Length, Length]:
    line = np.array(runoff.line[-2:])
    step = line[1] - line[0]
    ahead = line[1] + step / np.hypot(*step) * RUNOFF_AHEAD.amount
    return float(ahead[0]), float(ahead[1])


def _seen(runoff: Runoff, works: Footprint, pit: "Polygon", onward: Line) -> Seen:
    """One arrow, led on over the points of ``onward``."""
    from shapely import LineString

    line = (*runoff.line, *onward)
    (first,) = first_meetings(works, [np.array(line)])
    drawn = float(distances(np.array(runoff.line))[-1])
    return Seen(
        runoff=runoff,
        chainage=None if first is None else first.chainage,
        side=None if first is None else first.side,
        dams=0.0 if first is None else _raised(works, first),
        short=0.0 if first is None else max(first.way - drawn, 0.0),
        pit=bool(LineString(line).intersects(pit)),
    )


def _raised(works: Footprint, met: Met) -> Length:
    return float(np.interp(met.chainage, works.chainage, works.raised[LEFT if met.side == "left" else RIGHT]))


def water_paths(job: Job, ground: Ground, course: SetOutCourse) -> WaterPaths:
    """Let drops run down the surveyed ground: which meet the stream, and where the overflow's water goes.

    The ground is as it was before digging. Hollows no deeper than the survey's doubt are run over.
    """
    works = footprint(job, course)
    net, ways, spacing = _drained(ground, HOLLOW_RUN_OVER.amount * job.tolerances.survey)
    return WaterPaths(
        across=_across(works, ways, spacing),
        carried=_carried(job, works, net),
        overflow=_overflow(job, ground, works, net),
        spacing=spacing,
    )


@lately
def _drained(ground: Ground, shallow: Length) -> tuple[Net, list[Descent], Length]:
    """Ways of drops from all over the survey, and how far apart they begin. The ground alone says where they run."""
    net = Net(ground, shallow)
    seeds, spacing = _seeds(ground)
    return net, [way for seed in seeds if (way := net.descend(seed)) is not None], spacing


def _carried(job: Job, works: Footprint, net: Net) -> tuple[Seen, ...]:
    pit = pit_outline(job.reservoir)
    told = []
    for seen in seen_water(job, works):
        way = None if seen.pit or seen.chainage is not None else net.descend(seen.runoff.line[-1])
        if way is not None and len(way.line) > 1:
            led_on = _seen(seen.runoff, works, pit, _as_line(way.line[1:]))
            told += [led_on] if led_on.pit or led_on.chainage is not None else []
    return tuple(told)


def _as_line(points: Points) -> Line:
    return tuple((float(east), float(north)) for east, north in points)


def _seeds(ground: Ground) -> tuple[list[tuple[float, float]], Length]:
    """Middles of squares that cover the survey."""
    low_x, low_y, high_x, high_y = extent(ground)
    spacing = float(np.sqrt((high_x - low_x) * (high_y - low_y) / SEEDS))
    east, north = np.arange(low_x + spacing / 2, high_x, spacing), np.arange(low_y + spacing / 2, high_y, spacing)
    points = np.stack(np.meshgrid(east, north), axis=2).reshape(-1, 2)
    return [(float(x), float(y)) for x, y in points[inside(ground, points)]], spacing


def _across(works: Footprint, ways: list[Descent], spacing: Length) -> tuple[Across, ...]:
    lines = [way.line for way in ways if len(way.line) > 1]
    met = [(first, line) for first, line in zip(first_meetings(works, lines), lines, strict=True) if first is not None]
    sides: tuple[Side, Side] = ("left", "right")
    places = [place for side in sides for place in _gathered(works, met, side, spacing)]
    return tuple(sorted(places, key=lambda place: -place.area))


def _gathered(works: Footprint, met: list[tuple[Met, Points]], side: Side, spacing: Length) -> list[Across]:
    here = [(first, line) for first, line in met if first.side == side]
    marks = [(first.chainage, first.chainage) for first, _ in here]
    told = []
    for start, end in joined(marks, max(PATHS_JOINED.amount, spacing)):
        of_place = [(first, line) for first, line in here if start <= first.chainage <= end]
        area = len(of_place) * spacing**2
        if area >= CATCHMENT_TOLD.amount:
            longest, line = max(of_place, key=lambda pair: pair[0].way)
            told.append(
                Across(
                    chainage=float(np.median([first.chainage for first, _ in of_place])),
                    start=start,
                    end=end,
                    side=side,
                    area=area,
                    dams=max(_raised(works, first) for first, _ in of_place),
                    line=_cut(line, longest.way),
                )
            )
    return told


def _cut(line: Points, length: Length) -> Points:
    """The part of a line up to a distance along it."""
    along = distances(line)
    end = [float(np.interp(length, along, line[:, axis])) for axis in (0, 1)]
    part: Points = np.vstack([line[along < length], end])
    return part


def _overflow(job: Job, ground: Ground, works: Footprint, net: Net) -> OverflowWay | None:
    corners = np.array(pit_corners(job.reservoir, BEYOND_PIT))
    beside = densely(np.vstack([corners, corners[:1]]), AROUND)
    beside = beside[inside(ground, beside)]
    if not len(beside):
        return None
    start = beside[np.argmin(level_at(ground, beside))]
    way = net.descend((float(start[0]), float(start[1])))
    return None if way is None else _follow(job, ground, works, way)


def _follow(job: Job, ground: Ground, works: Footprint, way: Descent) -> OverflowWay:
    from shapely import LineString

    line = _as_line(way.line)
    (back,) = first_meetings(works, [way.line]) if len(line) > 1 else (None,)
    crosses = tuple(
        boundary.name for boundary in job.site.boundaries if meetings(way.line, distances(way.line), boundary.line)
    )
    return OverflowWay(
        line=way.line,
        ended=way.ended,
        deep=way.deep,
        daylight=_daylight(distances(way.line), _levels(ground, way.line), job.reservoir.overflow),
        crosses=crosses,
        chainage=None if back is None else back.chainage,
        pit=len(line) > 1 and bool(LineString(line).intersects(pit_outline(job.reservoir))),
    )


def _levels(ground: Ground, line: Points) -> FloatArray:
    """Levels along a way; a last point a hair over the edge of the survey takes the level before it."""
    on = inside(ground, line)
    levels = np.zeros(len(line))
    levels[on] = level_at(ground, line[on])
    return np.minimum.accumulate(np.where(on, levels, np.inf))


def _daylight(along: Lengths, levels: FloatArray, invert: float) -> Length | None:
    low = np.flatnonzero(levels <= invert)
    if not len(low):
        return None
    first = int(low[0])
    if first == 0:
        return 0.0
    drop = levels[first - 1] - levels[first]
    return float(along[first] - (along[first] - along[first - 1]) * (invert - levels[first]) / drop)
