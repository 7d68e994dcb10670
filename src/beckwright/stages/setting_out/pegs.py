"""The pegs along the course."""

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length, Lengths, Level
from beckwright.base.values import value
from beckwright.job.model import Job, Pool, Service, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import CrossSection, Groundwork
from beckwright.stages.ground import Ground
from beckwright.stages.setting_out.clear import CLEAR, clear_of, nail_over, works_limits
from beckwright.stages.setting_out.tapes import spots
from beckwright.stages.setting_out.values import Dug, Peg, Side, SidePeg, Spot
from beckwright.stages.surroundings import Surroundings

if TYPE_CHECKING:
    from shapely import LineString, MultiPolygon, Polygon

_SAME: Length = 1e-6
_LEVEL: Length = 1e-3
"""A floor is flat to this."""


def places_of(course: SetOutCourse) -> tuple[tuple[Length, str], ...]:
    """What stands where along the course, in order downstream."""
    found: list[tuple[Length, str]] = [(0.0, "source")]
    for stretch in course.stretches:
        reach = stretch.reach
        if isinstance(reach, Step):
            found.append((stretch.start, reach.name))
        elif isinstance(reach, Pool):
            found += [(stretch.start, f"{reach.name} starts"), (stretch.end, f"{reach.name} ends")]
        else:
            found += [(stretch.start + sill, f"sill of {reach.name}") for sill in reach.sills]
    return (*sorted(found, key=lambda place: place[0]), (course.length, "lower end"))


@value
class Lip:
    """One lip in its place; ``formal`` where it is a made edge rather than boulders."""

    name: str
    chainage: Length
    level: Level
    formal: bool


def lips_in_place(job: Job, course: SetOutCourse) -> tuple[Lip, ...]:
    """The source's lip and the lip of every step, in order downstream."""
    source = job.source
    steps = tuple(
        Lip(name=reach.name, chainage=stretch.start, level=stretch.bed_start, formal=reach.lip != "boulders")
        for stretch in course.stretches
        if isinstance(reach := stretch.reach, Step)
    )
    return (Lip(name="source", chainage=0.0, level=source.lip_level, formal=source.lip != "boulders"), *steps)


def set_pegs(
    job: Job,
    course: SetOutCourse,
    ground: Ground,
    around: Surroundings,
    groundwork: Groundwork,
    works: "Polygon | MultiPolygon",
) -> tuple[Peg, ...]:
    """Number a peg at every whole metre and every change, and stand a nail left and right of each."""
    stands = _stands(job, course, ground, groundwork, works)
    steps = [float(np.hypot(*np.subtract(after.middle.at, stand.middle.at))) for stand, after in pairwise(stands)]
    return tuple(_peg(job, course, around, stand, step) for stand, step in zip(stands, [*steps, None], strict=True))


@value
class _Placed:
    """A side peg before its nail: signed offset, spot, and whether it stands clear."""

    offset: Length
    spot: Spot
    clear: bool


@value
class _Stand:
    """A peg before its nail."""

    number: int
    chainage: Length
    stations: tuple[int, ...]
    cuts: tuple[CrossSection, ...]
    middle: Spot
    left: _Placed
    right: _Placed


def _stands(
    job: Job, course: SetOutCourse, ground: Ground, groundwork: Groundwork, works: "Polygon | MultiPolygon"
) -> list[_Stand]:
    chainages = _chainages(course)
    stations = [_stations(course, at) for at in chainages]
    cuts = [tuple(groundwork.sections[row] for row in rows) for rows in stations]
    otherwise = np.array([_ground_at(cut[0], 0.0) for cut in cuts])
    middles = spots(course.alignment.at(chainages), ground, otherwise, job.site.marks)
    sides = [_side_spots(job, course, ground, chainages, cuts, works, left) for left in (1.0, -1.0)]
    return [
        _Stand(
            number=row + 1,
            chainage=float(chainages[row]),
            stations=stations[row],
            cuts=cuts[row],
            middle=middles[row],
            left=sides[0][row],
            right=sides[1][row],
        )
        for row in range(len(chainages))
    ]


def _chainages(course: SetOutCourse) -> Lengths:
    changes = [at for at, _ in places_of(course)]
    ends = [at for stretch in course.stretches for at in (stretch.start, stretch.end)]
    every = np.sort(np.concatenate([np.arange(0.0, course.length), changes, ends]))
    apart: Lengths = every[np.concatenate([[True], np.diff(every) > _SAME])]
    return apart


def _stations(course: SetOutCourse, chainage: Length) -> tuple[int, ...]:
    """The station at a chainage, or both where the course changes there."""
    at = course.stations
    rows = np.flatnonzero(np.abs(at.chainage - chainage) < _SAME)
    first, last = int(rows[0]), int(rows[-1])
    same = abs(at.dig[first] - at.dig[last]) < _LEVEL and abs(at.width[first] - at.width[last]) < _LEVEL
    return (first,) if same else (first, last)


def _ground_at(section: CrossSection, offset: Length) -> Level:
    """Ground on a section, beyond its ends that of the end."""
    return float(np.interp(offset, section.offsets[::-1], section.ground[::-1]))


def _side_spots(
    job: Job,
    course: SetOutCourse,
    ground: Ground,
    chainages: Lengths,
    cuts: list[tuple[CrossSection, ...]],
    works: "Polygon | MultiPolygon",
    left: float,
) -> list[_Placed]:
    """Signed offset, spot and whether it stands clear, for every peg on one side."""
    side = 0 if left > 0 else 1
    centres = course.alignment.at(chainages)
    ways = course.alignment.beside(chainages, np.full(len(chainages), left)) - centres
    wanted = [max(left * works_limits(cut)[side] for cut in each) + CLEAR for each in cuts]
    found = [clear_of(works, *each) for each in zip(centres, ways, wanted, strict=True)]
    away = np.array([distance for distance, _ in found])
    otherwise = np.array([_ground_at(cut[0], left * far) for cut, far in zip(cuts, away, strict=True)])
    places = spots(centres + ways * away[:, None], ground, otherwise, job.site.marks)
    return [
        _Placed(offset=left * far, spot=spot, clear=clear) for (far, clear), spot in zip(found, places, strict=True)
    ]


def _peg(job: Job, course: SetOutCourse, around: Surroundings, stand: _Stand, to_next: Length | None) -> Peg:
    at, stations = course.stations, list(stand.stations)
    lip = next((each.level for each in lips_in_place(job, course) if abs(each.chainage - stand.chainage) < _SAME), None)
    levels = [*at.edge_left[stations], *at.edge_right[stations], *at.dig[stations], *([] if lip is None else [lip])]
    highest = max(stand.left.spot.ground, stand.right.spot.ground, *map(float, levels))
    nail = nail_over(highest, float(at.dig[stations[0]]))
    sides: tuple[Side, ...] = ("",) if len(stations) == 1 else ("upstream side", "downstream side")
    return Peg(
        number=stand.number,
        chainage=stand.chainage,
        places=tuple(name for place, name in places_of(course) if abs(place - stand.chainage) < _SAME),
        spot=stand.middle,
        left=_side_peg(stand.left, nail),
        right=_side_peg(stand.right, nail),
        across=stand.left.offset - stand.right.offset,
        nail=nail,
        dug=tuple(
            _dug(course, station, side, cut, nail)
            for station, side, cut in zip(stations, sides, stand.cuts, strict=True)
        ),
        lip=lip,
        lip_below=None if lip is None else nail - lip,
        by_hand=_by_hand(course, around, stand.cuts),
        to_next=to_next,
    )


def _side_peg(placed: _Placed, nail: Level) -> SidePeg:
    return SidePeg(offset=placed.offset, spot=placed.spot, clear=placed.clear, out=nail - placed.spot.ground)


def _dug(course: SetOutCourse, station: int, side: Side, cut: CrossSection, nail: Level) -> Dug:
    at = course.stations
    dig, ground = float(at.dig[station]), float(at.ground[station])
    left, right = float(at.edge_left[station]), float(at.edge_right[station])
    # A side may be upright: its foot and its top then have one offset, and only their levels tell them apart.
    top = np.where(cut.offsets > 0, left, right)
    within = (cut.offsets <= cut.edges[0]) & (cut.offsets >= cut.edges[1]) & (cut.formation < top - _LEVEL)
    offsets, formation = cut.offsets[within], cut.formation[within]
    flat = offsets[formation <= formation.min() + _LEVEL]
    lining = np.column_stack([offsets, formation + (at.liner[station] - at.dig[station])])
    ends = ((cut.edges[0], left), (cut.edges[1], right))
    return Dug(
        station=station,
        side=side,
        ground=ground,
        dig=dig,
        below=nail - dig,
        lift=ground - dig,
        floor=(float(flat[0]), float(flat[-1])),
        edges=cut.edges,
        edge_levels=(left, right),
        edges_below=(nail - left, nail - right),
        works=works_limits(cut),
        lining=np.vstack([ends[:1], lining, ends[1:]]),
    )


def _by_hand(course: SetOutCourse, around: Surroundings, cuts: tuple[CrossSection, ...]) -> tuple[str, ...]:
    from shapely import LineString

    limits = [works_limits(cut) for cut in cuts]
    widest = np.array([max(left for left, _ in limits), min(right for _, right in limits)])
    return kept_from(LineString(course.alignment.beside(np.full(2, cuts[0].chainage), widest)), around)


def kept_from(works: "LineString | Polygon", around: Surroundings) -> tuple[str, ...]:
    """Trees into whose root circle, and services into whose clearance, a part of the works reaches."""
    from shapely import LineString, Point

    trees = [
        f"{circle.tree.species} {circle.tree.name}"
        for circle in around.circles
        if works.distance(Point(circle.tree.at)) < circle.radius
    ]
    services = [near.thing for near in around.services if isinstance(near.thing, Service)]
    lines = [LineString(each.line) if len(each.line) > 1 else Point(each.line[0]) for each in services]
    close = [each.name for each, line in zip(services, lines, strict=True) if works.distance(line) < each.clearance]
    return (*trees, *close)
