"""The ground work: what is dug, what is filled, what it weighs, where it lies and how far it sinks."""

from dataclasses import replace
from functools import cache

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

NEAR: Length = 0.04
"""How far either way the balancing shift is looked for first where a like job's is known."""


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
    job: Job, course: SetOutCourse, ground: Ground, pit: Pit, near: Length | None = None
) -> Length | None:
    """How far to raise the whole course, below 0 lower it, for as much subsoil to be wanted as is dug.

    The reservoir and the trench stay where they are. None where no shift within half a metre does it.

    near  where to look first: the answer for a job that differs little
    """
    from scipy.optimize import brentq

    @cache
    def left(shift: Length) -> Volume:
        return _subsoil_left(*_shifted(job, course, shift), ground, pit)

    least, most = -SANE_SHIFT.amount, SANE_SHIFT.amount
    around = [] if near is None else [(max(near - NEAR, least), min(near + NEAR, most))]
    for low, high in (*around, (least, most)):
        if left(low) * left(high) <= 0:
            # Every level tried works all volumes out again: this asks for the fewest.
            return float(brentq(left, low, high, xtol=CLOSE_ENOUGH))
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
