"""What the order list asks for, read off the same levels as everything else."""

from itertools import pairwise

import numpy as np

from beckwright.base.quantities import Area, Length, Mass, Volume
from beckwright.base.values import value
from beckwright.equations.lining import girth
from beckwright.equations.stone import stone_mass
from beckwright.job.model import BedMakeUp, Job, Run, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.reservoir import FilledReservoir


@value
class BedStone:
    """Stone of one bed make-up: bulk volume, and mass from its solid share."""

    name: str
    volume: Volume
    mass: Mass


@value
class Quantities:
    """Amounts before waste, laps and cutting.

    lining_course  sheet over the course: girth with edge allowance along the developed length, risers included
    lining_pit     sheet over the pit's floor and sides up to the cover, with edge allowance
    """

    developed: Length
    lining_course: Area
    lining_pit: Area
    lining_mass: Mass
    fleece: Area
    beds: tuple[BedStone, ...]
    edge_stone: Mass
    banks: Length
    crates: int
    hose: Length
    cover: Volume


def take_off(job: Job, course: SetOutCourse, filled: FilledReservoir) -> Quantities:
    """Take the quantities off the set-out course and the pit."""
    developed, over_course = _course_sheet(job, course)
    over_pit = _pit_sheet(job, filled)
    lining = over_course + over_pit
    banks = 2 * sum(s.end - s.start for s in course.stretches)
    return Quantities(
        developed=developed,
        lining_course=over_course,
        lining_pit=over_pit,
        lining_mass=lining * job.layers.lining_mass,
        fleece=lining * ((job.layers.fleece_under > 0) + (job.layers.fleece_over > 0)),
        beds=tuple(_stone_of(job, course, bed) for bed in course.beds if bed.depth > 0),
        edge_stone=banks * job.materials.edge_stone_per_bank,
        banks=banks,
        crates=_crates(job),
        hose=job.route.length,
        cover=filled.pit.plan * job.reservoir.cover_depth,
    )


def _course_sheet(job: Job, course: SetOutCourse) -> tuple[Length, Area]:
    """Developed length and sheet: along slopes and down risers, across the girth at every station."""
    at, slope, allowance = course.stations, course.side_slope, job.layers.edge_allowance
    floor = at.width - 2 * slope * (at.rim - at.bed)
    side = (at.edge_left + at.edge_right) / 2 - at.liner
    across = girth.over(floor, side, slope, allowance)
    developed, area = 0.0, 0.0
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        steps = np.hypot(np.diff(at.chainage[here]), np.diff(at.liner[here]))
        developed += float(steps.sum())
        area += float((steps * (across[here][1:] + across[here][:-1]) / 2).sum())
    ends = [
        (at.of(n).start, at.of(n).stop - 1) for n, s in enumerate(course.stretches) if not isinstance(s.reach, Step)
    ]
    for (_, foot), (head, _) in pairwise(ends):
        riser = abs(float(at.liner[foot] - at.liner[head]))
        developed += riser
        area += riser * float(across[foot] + across[head]) / 2
    return developed, area


def _pit_sheet(job: Job, filled: FilledReservoir) -> Area:
    height = filled.pit.cover - filled.pit.floor
    across, along = (
        side + 2 * (height + job.layers.edge_allowance) for side in (job.reservoir.width, job.reservoir.length)
    )
    return across * along


def _stone_of(job: Job, course: SetOutCourse, bed: BedMakeUp) -> BedStone:
    bulk = 0.0
    for stretch in course.stretches:
        run = stretch.reach
        if isinstance(run, Run) and run.bed.name == bed.name:
            bulk += float(np.hypot(run.length, run.fall)) * run.width * bed.depth
    return BedStone(name=bed.name, volume=bulk, mass=stone_mass(job.materials.stone, bulk, bed.voids))


def _crates(job: Job) -> int:
    """Whole crates that fit the pit's plan, over all layers; 0 without crates."""
    if job.reservoir.crate is None:
        return 0
    length, width, height = job.reservoir.crate
    close = 1e-9
    along, across = int(job.reservoir.length / length + close), int(job.reservoir.width / width + close)
    turned = int(job.reservoir.length / width + close) * int(job.reservoir.width / length + close)
    return max(along * across, turned) * round(job.reservoir.fill_depth / height)
