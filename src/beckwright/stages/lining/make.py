"""The lining in the order it is worked."""

import numpy as np

from beckwright.base.quantities import Area, Levels
from beckwright.equations.lining import fleece_area, thumb_size
from beckwright.job.model import Job, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Fall
from beckwright.stages.lining.breaks import break_places
from beckwright.stages.lining.compare import compare
from beckwright.stages.lining.flat import lay_flat
from beckwright.stages.lining.folds import bends_of, folds_of
from beckwright.stages.lining.pit import pit_sheet
from beckwright.stages.lining.plan import Plan, Search, best_plan, lay_pieces, one_piece, search_of
from beckwright.stages.lining.rolls import cut_rolls
from beckwright.stages.lining.rows import SLACK, faces, lay_rows, sections, top_widths
from beckwright.stages.lining.splash import splashes, widened
from beckwright.stages.lining.values import (
    LEFT_EDGE,
    LEFT_END,
    MIDDLE,
    RIGHT_EDGE,
    RIGHT_END,
    Fleece,
    Lap,
    Lining,
    Rows,
    Slack,
    Strip,
)
from beckwright.stages.reservoir import Pit
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import FLEECE_LAPS


def line(job: Job, course: SetOutCourse, water: Water, falls: tuple[Fall, ...], pit: Pit) -> Lining:
    """Plan the whole lining: lay the course flat, cut it from the rolls on offer, and say what folding it takes."""
    cut = sections(course, widened(job, course, falls))
    rows = lay_rows(job, course, pit, cut)
    strip = lay_flat(rows, _water_at(rows, water), job.lining.gathered)
    search, plan = _searched(job, strip, break_places(job, course, falls, strip))
    laps = () if plan is None else tuple(search.laps[number] for number in plan.used)
    pieces = (one_piece(job, strip),) if plan is None else lay_pieces(job, search, plan)
    sheet = pit_sheet(job, pit)
    return Lining(
        strip=strip,
        laps=laps,
        pieces=pieces,
        pit=sheet,
        fleece=_fleece(job, rows, pit),
        rolls=cut_rolls(job, pieces, sheet),
        folds=folds_of(course, strip),
        bends=bends_of(rows),
        slacks=_slacks(course, strip),
        splashes=splashes(job, course, falls),
        compared=compare(job, course, rows, strip, cut, search, pieces, laps),
        girths=cut.beside[:, LEFT_END] - cut.beside[:, RIGHT_END],
        thumb_girths=thumb_size.over(top_widths(cut), cut.up.max(axis=1), job.layers.edge_allowance),
        join=job.lining.join,
        searched=(len(search.laps), len(search.fan.turns), len(search.widths)),
    )


def _searched(job: Job, strip: Strip, laps: tuple[Lap, ...]) -> tuple[Search, Plan | None]:
    """The best plan. Where loose laps are wanted, one that bonds none goes before all that do."""
    if not job.lining.rolls:
        return search_of(job, strip, ()), None
    loose = tuple(lap for lap in laps if not lap.bonded)
    if job.lining.join == "loose":
        search = search_of(job, strip, loose)
        plan = best_plan(search)
        if plan is not None:
            return search, plan
    search = search_of(job, strip, laps)
    return search, best_plan(search)


def _water_at(rows: Rows, water: Water) -> Levels:
    """Running water at every row, high end, the highest of all flows; off the course the lining's own level."""
    levels = rows.level.copy()
    on_course = (rows.reach >= 0) & (rows.reach < rows.reach[-1])
    levels[on_course] = water.level[HIGH].max(axis=0)
    return levels


def _slacks(course: SetOutCourse, strip: Strip) -> tuple[Slack, ...]:
    """The upright faces with their loose sheet, by the name of the step or else of the pool below."""
    at, first = course.stations, int(np.searchsorted(strip.reach, 0))
    found = []
    for foot in faces(course).tolist():
        number = int(at.reach[foot])
        above = course.stretches[number - 1].reach
        named = above if isinstance(above, Step) else course.stretches[number].reach
        found.append(
            Slack(
                place=named.name,
                chainage=float(at.chainage[foot]),
                along=float(strip.along[first + foot]),
                face=abs(float(at.liner[foot - 1] - at.liner[foot])),
                slack=SLACK,
            )
        )
    return tuple(found)


def _fleece(job: Job, rows: Rows, pit: Pit) -> tuple[Fleece, ...]:
    """Under the lining out to its ends; over it only up to its edges, for fleece over an edge draws water out."""
    layers, reservoir, deep = job.layers, job.reservoir, pit.cover - pit.sump_floor
    floors = [
        (reservoir.length + 2 * (deep + spare)) * (reservoir.width + 2 * (deep + spare))
        for spare in (layers.edge_allowance, 0.0)
    ]
    lies = (
        ("under", layers.fleece_under, _covered(rows, LEFT_END, RIGHT_END) + floors[0]),
        ("over", layers.fleece_over, _covered(rows, LEFT_EDGE, RIGHT_EDGE) + floors[1]),
    )
    return tuple(
        Fleece(
            where=where,  # type: ignore[arg-type]
            lies_on=area,
            area=fleece_area(area, FLEECE_LAPS.amount),
            lengths=tuple((width, fleece_area(area, FLEECE_LAPS.amount) / width) for width in job.lining.fleece_rolls),
        )
        for where, thickness, area in lies
        if thickness > 0
    )


def _covered(rows: Rows, left: int, right: int) -> Area:
    girths = rows.beside[:, left] - rows.beside[:, right]
    lengths = rows.lengths[:, MIDDLE] + rows.slack
    return float((lengths * (girths[1:] + girths[:-1]) / 2).sum())
