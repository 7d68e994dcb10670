"""The sheet of the reservoir: one rectangle over floor, sides and edge, from one roll or joined."""

import numpy as np

from beckwright.base.quantities import Length
from beckwright.equations.lining import joined_width, sheet_mass, thumb_size
from beckwright.job.model import Job
from beckwright.stages.lining.carry import people_for
from beckwright.stages.lining.plan import cut_length
from beckwright.stages.lining.values import PitSheet
from beckwright.stages.reservoir import Pit
from beckwright.tables.lining import LAP_BONDED


def pit_sheet(job: Job, pit: Pit) -> PitSheet:
    """The cheapest way to cover the pit: either way round, any width on offer, seams counted as sheet."""
    deep, allowance = pit.cover - pit.sump_floor, job.layers.edge_allowance
    sides = [
        float(cut_length(np.array(thumb_size(side, deep, allowance))))
        for side in (job.reservoir.length, job.reservoir.width)
    ]
    offers = [
        offer
        for roll in job.lining.rolls
        for along, across in (sides, sides[::-1])
        for offer in _offers(job, along, across, roll)
    ]
    if not offers:
        return _sheet(job, max(sides), min(sides), None, 1)
    _, along, across, roll, strips = min(offers)
    return _sheet(job, along, across, roll, strips)


def _offers(job: Job, along: Length, across: Length, roll: Length) -> list[tuple[float, Length, Length, Length, int]]:
    longest = job.lining.roll_length
    if longest is not None and along > longest + 1e-9:
        return []
    strips = max(1, int(np.ceil((across - roll) / (roll - LAP_BONDED.amount) - 1e-9)) + 1)
    counted = along * (strips * roll + (strips - 1) * job.lining.seam_counts)
    return [(counted, along, across, roll, strips)]


def _sheet(job: Job, along: Length, across: Length, roll: Length | None, strips: int) -> PitSheet:
    width = across if roll is None else joined_width(strips, roll, LAP_BONDED.amount)
    area = along * (across if roll is None else strips * roll)
    mass = sheet_mass(area, job.layers.lining_mass)
    return PitSheet(
        along=along, across=across, roll=roll, strips=strips, width=width, area=area, mass=mass, people=people_for(mass)
    )
