"""Every level the crew sets, with how far off it may be."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Length
from beckwright.base.words import with_unit
from beckwright.job.model import Job, Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import Groundwork, Trench
from beckwright.stages.reservoir import dig_pit
from beckwright.stages.setting_out.pegs import lips_in_place
from beckwright.stages.setting_out.values import LevelToSet, Peg

LIP: Length = 0.002
"""A made lip, out of level across, m (common practice): more, and a trickle runs over one end only."""

TRENCH_EVERY: Length = 2.0
"""Levels along the hose trench are told this far apart, m."""


def levels_to_set(
    job: Job, course: SetOutCourse, groundwork: Groundwork, pegs: tuple[Peg, ...]
) -> tuple[LevelToSet, ...]:
    """Source, lips, edges and pool rims down the course, then reservoir and hose trench."""
    return (
        *_source(job),
        *_lips(job, course, pegs),
        *_edges(job, pegs),
        *_rims(job, course, pegs),
        *_reservoir(job, groundwork),
        *(() if groundwork.trench is None else _trench(job, groundwork.trench)),
    )


def _source(job: Job) -> Iterator[LevelToSet]:
    floor = job.source.lip_level - job.source.box_depth
    yield LevelToSet(what="source box", where="floor", level=floor, tolerance=job.tolerances.stone)
    yield LevelToSet(
        what="source box", where="hose outlet", level=job.source.hose_outlet, tolerance=job.tolerances.stone
    )


def _lips(job: Job, course: SetOutCourse, pegs: tuple[Peg, ...]) -> Iterator[LevelToSet]:
    at_lips = [peg for peg in pegs if peg.lip is not None]
    for lip, peg in zip(lips_in_place(job, course), at_lips, strict=True):
        name = "source lip" if lip.name == "source" else lip.name
        for where in ("left", "middle", "right"):
            yield LevelToSet(
                what=name,
                where=where,
                level=lip.level,
                tolerance=LIP if lip.formal else job.tolerances.stone,
                peg=peg.number,
                below=peg.lip_below,
            )


def _edges(job: Job, pegs: tuple[Peg, ...]) -> Iterator[LevelToSet]:
    for peg in pegs:
        for dug in peg.dug:
            where = f"{with_unit(peg.chainage, 'm'):.2f} {dug.side}".strip()
            for side in (0, 1):
                yield LevelToSet(
                    what=f"edge {('left', 'right')[side]}",
                    where=where,
                    level=dug.edge_levels[side],
                    tolerance=job.tolerances.stone,
                    peg=peg.number,
                    below=dug.edges_below[side],
                )


def _rims(job: Job, course: SetOutCourse, pegs: tuple[Peg, ...]) -> Iterator[LevelToSet]:
    for stretch in course.of_kind(Pool):
        peg = min(pegs, key=lambda each: abs(each.chainage - stretch.end))
        yield LevelToSet(
            what=f"{stretch.reach.name}, rim",
            where=f"{with_unit(stretch.end, 'm'):.2f}",
            level=stretch.bed_end,
            tolerance=job.tolerances.stone,
            peg=peg.number,
            below=peg.nail - stretch.bed_end,
        )


def _reservoir(job: Job, groundwork: Groundwork) -> Iterator[LevelToSet]:
    pit, dig, stone = dig_pit(job.reservoir), job.tolerances.dig, job.tolerances.stone
    for what, where, level, tolerance in (
        ("pit", "floor as dug", groundwork.pit.floor_level, dig),
        ("reservoir", "under the fill", pit.floor, dig),
        ("chamber", "floor, the pump stands on it", pit.sump_floor, dig),
        ("reservoir", "top of the fill", pit.fill_top, stone),
        ("overflow", "invert", pit.overflow, stone),
        ("reservoir", "cover", pit.cover, stone),
    ):
        yield LevelToSet(what=what, where=where, level=level, tolerance=tolerance)


def _trench(job: Job, trench: Trench) -> Iterator[LevelToSet]:
    """Both ends of every stretch of the trench, and places between them."""
    for number in np.unique(trench.piece):
        along, bottom = trench.along[trench.piece == number], trench.bottom[trench.piece == number]
        start, end = float(along[0]), float(along[-1])
        for place in np.append(np.arange(start, end - TRENCH_EVERY / 2, TRENCH_EVERY), end):
            yield LevelToSet(
                what="hose trench, bottom",
                where=f"{with_unit(place, 'm'):.2f} from the pump",
                level=float(np.interp(place, along, bottom)),
                tolerance=job.tolerances.dig,
            )
