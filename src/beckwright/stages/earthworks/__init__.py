"""The ground work: what is dug, what is filled, what it weighs, where it lies and how far it sinks."""

from collections.abc import Callable
from dataclasses import replace

from beckwright.base.quantities import Length, Volume
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse, Stretch
from beckwright.stages.earthworks.balance import balances, haul
from beckwright.stages.earthworks.heaps import lay_heaps
from beckwright.stages.earthworks.net import folds, surface
from beckwright.stages.earthworks.pit import describe, shape_of
from beckwright.stages.earthworks.sections import cross_sections
from beckwright.stages.earthworks.settling import settle
from beckwright.stages.earthworks.trench import beyond_survey, lay_trench, outlines, rim_of
from beckwright.stages.earthworks.values import (
    CrossSection,
    Groundwork,
    Haul,
    Heap,
    Kind,
    LipFill,
    Part,
    PitDig,
    Settling,
    SoilBalance,
    Surface,
    Trench,
)
from beckwright.stages.earthworks.volumes import parts_of, work_out
from beckwright.stages.ground import Ground
from beckwright.stages.reservoir import Pit
from beckwright.stages.surroundings import Surroundings
from beckwright.tables.soils import SANE_SHIFT

__all__ = [
    "CrossSection",
    "Groundwork",
    "Haul",
    "Heap",
    "LipFill",
    "Part",
    "PitDig",
    "Settling",
    "SoilBalance",
    "Surface",
    "Trench",
    "dig",
    "level_that_balances",
]

CLOSE_ENOUGH: Length = 1e-4
"""The balancing shift is told in whole millimetres, and what moves it by less than one is to be seen too."""

MOVED: tuple[Kind, ...] = ("channel", "pool", "bank")
"""Parts that rise with the course."""

TURNS = 8


def dig(job: Job, course: SetOutCourse, ground: Ground, pit: Pit, surroundings: Surroundings) -> Groundwork:
    """Work out all of the ground work.

    Topsoil is stripped first over everything that is dug or filled; the channel is dug and its banks are made between
    neighbouring stations, the pit at its batter, the hose's trench upright. ``raised`` is left None: it takes many
    designs to find, and ``level_that_balances`` does.
    """
    shape = shape_of(job, pit)
    worked = work_out(job, course, ground, shape)
    works = outlines(job, ground, worked)
    parts = parts_of(job, course, worked, works.trench.area)
    soils, dug = balances(job, parts), describe(ground, shape, worked.dug.depth, rim_of(works))
    return Groundwork(
        parts=parts,
        sections=cross_sections(course, worked.sections, ground),
        pit=dug,
        trench=lay_trench(job, ground, works),
        balances=soils,
        haul=haul(job, course, worked),
        heaps=lay_heaps(job, ground, surroundings, works, soils),
        settling=settle(job, course, ground),
        raised=None,
        formation=surface(worked.sections, worked.net),
        folds=folds(course, worked.net),
        off_survey=worked.off_survey + beyond_survey(ground, dug),
    )


def level_that_balances(
    job: Job, course: SetOutCourse, ground: Ground, pit: Pit, dug: Groundwork, near: Length | None = None
) -> Length | None:
    """How far to raise the whole course, below 0 lower it, for as much subsoil to be wanted as is dug.

    The reservoir and the trench stay where they are. None where no shift within half a metre does it.

    dug   the ground work as designed
    near  where to look first: the answer for a job that differs little
    """
    known = {0.0: dug.balances[-1].left}

    # Every level tried works all volumes out again: what is known is not asked for, and the slope is followed first.
    def left(shift: Length) -> Volume:
        if shift not in known:
            known[shift] = _subsoil_left(*_shifted(job, course, shift), ground, pit)
        return known[shift]

    moved = sum(part.plan for part in dug.parts if part.kind in MOVED)
    if moved <= 0.0:
        return None
    # A shift too small to step by says nothing of the slope.
    first = known[0.0] / moved if near is None or abs(near) <= CLOSE_ENOUGH else near
    found = _followed(left, first)
    if found is not None:
        return found
    least, most = -SANE_SHIFT.amount, SANE_SHIFT.amount
    if left(least) * left(most) > 0:
        return None
    from scipy.optimize import brentq

    return float(brentq(left, least, most, xtol=CLOSE_ENOUGH))


def _followed(left: Callable[[Length], Volume], first: Length) -> Length | None:
    """Follow the slope to where nothing is left; None where that leads out of the sane or does not close."""
    before, here = 0.0, first
    for _ in range(TURNS):
        if abs(here) > SANE_SHIFT.amount:
            return None
        if abs(here - before) <= CLOSE_ENOUGH:
            return here
        slope = (left(here) - left(before)) / (here - before)
        if slope == 0.0:
            return None
        before, here = here, here - left(here) / slope
    return None


def _subsoil_left(job: Job, course: SetOutCourse, ground: Ground, pit: Pit) -> Volume:
    worked = work_out(job, course, ground, shape_of(job, pit))
    works = outlines(job, ground, worked)
    return balances(job, parts_of(job, course, worked, works.trench.area))[-1].left


def _shifted(job: Job, course: SetOutCourse, shift: Length) -> tuple[Job, SetOutCourse]:
    """Every level of the course and its outlet box ``shift`` higher; nothing moves in plan."""
    at = course.stations
    levels = ("bed", "rim", "liner", "dig", "edge_left", "edge_right")
    stations = replace(at, **{name: getattr(at, name) + shift for name in levels})
    source = replace(job.source, lip_level=job.source.lip_level + shift)
    return replace(job, source=source), replace(
        course, stations=stations, stretches=tuple(_raise(stretch, shift) for stretch in course.stretches)
    )


def _raise(stretch: Stretch, shift: Length) -> Stretch:
    return replace(stretch, bed_start=stretch.bed_start + shift, bed_end=stretch.bed_end + shift)
