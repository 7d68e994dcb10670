"""The works as built against the works as drawn: what stands too low, by how much, and what that leaves of freeboard.

The levels shot become a job of their own, which is designed like any other: a lip built low lowers the water behind
it, an edge built low is judged by the water that really stands beside it.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Length, Lengths, Level, Levels
from beckwright.base.values import value
from beckwright.compose import Design, design
from beckwright.equations.lips import HEAD_ADDITION
from beckwright.job.model import Job, MeasuredEdges, Pool, Reach, Run, Step
from beckwright.readings.shots import Shot
from beckwright.stages.course import JUST, set_out_course
from beckwright.stages.falls import share_left
from beckwright.stages.levels import Freeboard, raise_wanted
from beckwright.stages.water import Water
from beckwright.stages.water.beds import MIDDLE

Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")

Flowing = tuple[Water, Freeboard, int]
"""A flow: the water it is one of, the freeboard that leaves, its number there."""


@value
class Off:
    """One level that was shot, and the one that was drawn.

    what       left edge, right edge, bed, dig level, or a lip by its name
    off        shot less drawn: below 0 it stands too low
    allowed    tolerance, either way
    freeboard  (k,) of an edge now, at each flow of ``AsBuilt.flows``; empty for anything else
    raised     by how much an edge must be raised for the freeboard wanted at the strongest flow; 0 where it need not
    """

    what: str
    chainage: Length
    shot: Level
    drawn: Level
    off: Length
    allowed: Length
    freeboard: FloatArray
    raised: Length

    @property
    def beyond(self) -> bool:
        """Whether it is farther off than work of this standard should be."""
        return abs(self.off) > self.allowed


@value
class LipBuilt:
    """One lip as shot.

    tilt        how far its right end stands over its left; None where not both were shot
    share_left  (k,) share of each flow over its left half; empty where the tilt is not known
    shimmed     end to be shimmed up by the tilt, or empty
    """

    name: str
    chainage: Length
    off: Off
    tilt: Length | None
    share_left: FloatArray
    shimmed: str


@value
class AsBuilt:
    """All that was shot, against the design.

    built   the design with the levels as shot in place of the drawn ones
    flows   names of the flows, the strongest last: the pump flat out where it gives more than any named one
    edges   the lowest freeboard first
    lips    the farthest out of level or off first
    others  beds and dig levels, the farthest off first
    """

    built: Design
    flows: tuple[str, ...]
    edges: tuple[Off, ...]
    lips: tuple[LipBuilt, ...]
    others: tuple[Off, ...]


def as_built(designed: Design, shots: tuple[Shot, ...], *, settled: bool = False) -> AsBuilt:
    """Hold the levels shot against a design.

    settled  whether the fill has done its sinking: levels shot after the first winters. Otherwise what is still to
             sink is taken off the freeboard.
    Raises JobError where a lip was shot at or above the one before it: that course cannot run.
    """
    job = _with_edges(_with_lips(designed.job, shots, designed), shots, designed, settled=settled)
    built = design(job, designed.ground)
    flows = _flows(built)
    edges = [off for shot in shots if not shot.lip for off in _edges(designed, built, shot, flows)]
    lips = [_lip(designed, shot, flows) for shot in shots if _lip_level(shot) is not None]
    others = [off for shot in shots for off in _others(designed, shot)]
    return AsBuilt(
        built=built,
        flows=tuple(water.names[number] for water, _, number in flows),
        edges=tuple(sorted(edges, key=lambda off: float(off.freeboard.min()))),
        lips=tuple(sorted(lips, key=lambda lip: -max(abs(lip.tilt or 0.0), abs(lip.off.off)))),
        others=tuple(sorted(others, key=lambda off: -abs(off.off))),
    )


def _with_lips(job: Job, shots: tuple[Shot, ...], designed: Design) -> Job:
    """The job with its lips where they were shot; what stands between them keeps its place or takes up the difference.

    A lip built high or low is the lower end of what leads to it and the upper end of its own drop.
    """
    drawn = {lip.name: lip.crest for lip in designed.water.lips}
    moved = {shot.lip: level - drawn[shot.lip] for shot in shots if (level := _lip_level(shot)) is not None}
    downs = [_down(reach) for reach in job.course.reaches]
    for place, reach in enumerate(job.course.reaches):
        if isinstance(reach, Step):
            by = moved.get(reach.name, 0.0)
            downs[place] += by
            downs[_leading(job.course.reaches, place)] -= by
    by = moved.get("source", 0.0)
    downs[_leading(job.course.reaches, len(downs), first=True)] += by
    _refuse_uphill(job.course.reaches, downs)
    reaches = tuple(map(_falling, job.course.reaches, downs))
    return replace(
        job,
        source=replace(job.source, lip_level=job.source.lip_level + by),
        course=replace(job.course, reaches=reaches),
    )


def _down(reach: Reach) -> Length:
    return reach.fall if isinstance(reach, Run) else reach.drop if isinstance(reach, Step) else 0.0


def _falling(reach: Reach, down: Length) -> Reach:
    if isinstance(reach, Run):
        return replace(reach, fall=down)
    return replace(reach, drop=down) if isinstance(reach, Step) else reach


def _leading(reaches: tuple[Reach, ...], place: int, *, first: bool = False) -> int:
    """The nearest reach upstream of a place that falls, or the first of all; itself where none does."""
    order = range(place) if first else range(place - 1, -1, -1)
    return next((at for at in order if not isinstance(reaches[at], Pool)), min(place, len(reaches) - 1))


def _refuse_uphill(reaches: tuple[Reach, ...], downs: list[Length]) -> None:
    problems = [
        Problem(
            place=f"levels shot, {reach.name}",
            found=f"as shot, {reach.name} falls {down * 1000:.0f} mm",
            rule="Every lip stands under the one before it: water does not climb",
            remedy="Shoot that lip and the one before it again; if they are right, the course must be rebuilt there",
        )
        for reach, down in zip(reaches, downs, strict=True)
        if not isinstance(reach, Pool) and down <= 0.0
    ]
    if problems:
        raise JobError(problems)


def _with_edges(job: Job, shots: tuple[Shot, ...], designed: Design, *, settled: bool) -> Job:
    """The job with its edges as shot. Between and beyond the shots an edge keeps the height over its bed."""
    course = replace(job.course, settlement=0.0) if settled else job.course
    rows = [shot for shot in shots if not shot.lip and (shot.left is not None or shot.right is not None)]
    if not rows:
        return replace(job, course=course)
    chainages = np.array([shot.chainage for shot in rows])
    built = set_out_course(course, job.source, job.layers, designed.ground, job.site.topsoil).stations
    rim = np.interp(chainages - JUST, built.chainage, built.rim)
    left, right = (
        rim + _heights(chainages, [getattr(shot, side) for shot in rows], rim, designed, side) for side in SIDES
    )
    return replace(
        job, course=replace(course, measured_edges=MeasuredEdges(chainages=chainages, left=left, right=right))
    )


def _heights(chainages: Lengths, given: list[Level | None], rim: Levels, designed: Design, side: Side) -> Lengths:
    """Height of one edge over its bed at every shot; where nobody held the staff, as its neighbours or as drawn."""
    held = np.array([level is not None for level in given])
    if not held.any():
        at = designed.course.stations
        drawn: Lengths = np.interp(chainages - JUST, at.chainage, getattr(at, f"edge_{side}") - at.rim)
        return drawn
    levels = np.array([level for level in given if level is not None])
    heights: Lengths = np.interp(chainages, chainages[held], levels - rim[held])
    return heights


def _flows(built: Design) -> list[Flowing]:
    """Every flow the works are judged at, the strongest last."""
    rows = [(built.water, built.freeboard, number) for number in range(len(built.water.flows))]
    most = float(built.water.flows.max())
    rows += [
        (built.flat_out, built.flat_out_freeboard, number)
        for number in range(len(built.flat_out.flows))
        if built.flat_out.flows[number] > most
    ]
    return sorted(rows, key=lambda row: float(row[0].flows[row[2]]))


def _edges(designed: Design, built: Design, shot: Shot, flows: list[Flowing]) -> Iterator[Off]:
    at, drawn = built.course.stations, designed.course.stations
    station = int(np.argmin(np.abs(at.chainage - shot.chainage)))
    for side in SIDES:
        level: Level | None = getattr(shot, side)
        if level is None:
            continue
        board = np.array([getattr(held, f"settled_{side}")[number, station] for _, held, number in flows])
        short = designed.job.course.freeboard_wanted - float(board[-1])
        yield _off(
            f"{side} edge",
            shot,
            level,
            float(np.interp(shot.chainage - JUST, drawn.chainage, getattr(drawn, f"edge_{side}"))),
            designed.job.tolerances.stone,
            freeboard=board,
            raised=raise_wanted(short, built.course.settlement),
        )


def _others(designed: Design, shot: Shot) -> Iterator[Off]:
    at, allowed = designed.course.stations, designed.job.tolerances
    if not shot.lip and shot.middle is not None:
        bed = float(np.interp(shot.chainage - JUST, at.chainage, at.bed))
        yield _off("bed", shot, shot.middle, bed, allowed.stone)
    if shot.dig is not None:
        dig = float(np.interp(shot.chainage - JUST, at.chainage, at.dig))
        yield _off("dig level", shot, shot.dig, dig, allowed.dig)


def _lip(designed: Design, shot: Shot, flows: list[Flowing]) -> LipBuilt:
    level, tilt = _lip_level(shot), None
    if shot.left is not None and shot.right is not None:
        tilt = shot.right - shot.left
    drawn = next(lip for lip in designed.water.lips if lip.name == shot.lip)
    shares = np.array([] if tilt is None else [_share(water, shot.lip, number, tilt) for water, _, number in flows])
    return LipBuilt(
        name=shot.lip,
        chainage=shot.chainage,
        off=_off(shot.lip, shot, drawn.crest if level is None else level, drawn.crest, designed.job.tolerances.stone),
        tilt=tilt,
        share_left=shares,
        shimmed="" if not tilt else "left" if tilt > 0 else "right",
    )


def _share(water: Water, name: str, number: int, tilt: Length) -> float:
    lip = next(each for each in water.lips if each.name == name)
    return float(share_left(lip.head[MIDDLE, number] + HEAD_ADDITION, np.array(tilt)))


def _lip_level(shot: Shot) -> Level | None:
    """Mean of what was shot along a lip; None where it is no lip or nothing was."""
    if not shot.lip:
        return None
    held = [level for level in (shot.left, shot.middle, shot.right) if level is not None]
    return sum(held) / len(held) if held else None


def _off(
    what: str,
    shot: Shot,
    level: Level,
    drawn: Level,
    allowed: Length,
    *,
    freeboard: FloatArray | None = None,
    raised: Length = 0.0,
) -> Off:
    return Off(
        what=what,
        chainage=shot.chainage,
        shot=level,
        drawn=drawn,
        off=level - drawn,
        allowed=allowed,
        freeboard=np.array([]) if freeboard is None else freeboard,
        raised=raised,
    )
