"""The crates laid, clipped, wrapped and screened; and the chamber that must be got at."""

import math

from beckwright.equations.reservoir import stored_water, wrap_area
from beckwright.job.model import Job
from beckwright.stages.crates.bond import joints_of, two_layers
from beckwright.stages.crates.chamber import fit_chamber, taken_by
from beckwright.stages.crates.loads import creep, press_sideways, screen
from beckwright.stages.crates.packing import fills, nearest_pit
from beckwright.stages.crates.values import (
    ChamberFit,
    CrateLayout,
    Creep,
    Layer,
    OtherPit,
    Placed,
    Screened,
    Side,
    Slots,
)
from beckwright.stages.reservoir import FilledReservoir
from beckwright.tables.crates import CLIPS, GAP_VOIDS, SEARCHED, WRAP_LAP

__all__ = [
    "ChamberFit",
    "CrateLayout",
    "Creep",
    "Layer",
    "OtherPit",
    "Placed",
    "Screened",
    "Side",
    "Slots",
    "fit_chamber",
    "lay_crates",
]


def lay_crates(job: Job, filled: FilledReservoir) -> CrateLayout | None:
    """Lay whole crates in the pit and screen what presses on them; None where something else fills it."""
    pit = job.reservoir
    if pit.fill != "crates" or pit.crate is None:
        return None
    *sides, height = pit.crate
    plan = (sides[0], sides[1])
    lower, upper, stacked = two_layers(pit.length, pit.width, plan)
    layers, each = round(pit.fill_depth / height), plan[0] * plan[1]
    outside = None if job.chamber.inside is None else [side + 2 * job.chamber.wall for side in job.chamber.inside]
    out = 0 if outside is None else taken_by(lower, pit.length, pit.width, (outside[0], outside[1]))
    count = (len(lower.crates) - out) * layers
    suits = fills(lower, pit.length, pit.width)
    gap = 0.0 if suits else filled.pit.plan - len(lower.crates) * each
    around = 0.0 if outside is None else max(out * each - outside[0] * outside[1], 0.0)
    gap_fill = (gap + around) * pit.fill_depth
    side_joints = sum(map(len, joints_of(lower)))
    joints = side_joints * layers + len(lower.crates) * (layers - 1)
    clips = [math.ceil(joints * row - 1e-9) for row in (CLIPS.low, CLIPS.amount, CLIPS.high)]
    return CrateLayout(
        lower=lower,
        upper=upper,
        layers=layers,
        stacked=stacked if layers > 1 else 0.0,
        places=len(lower.crates) * layers,
        taken=out * layers,
        count=count,
        volume=count * each * height,
        gap=gap,
        around=around,
        gap_fill=gap_fill,
        lost=stored_water(gap + around, pit.fill_depth, max(pit.voids - GAP_VOIDS.amount, 0.0)),
        suits=suits,
        nearest=None if suits else nearest_pit(pit.length, pit.width, plan, SEARCHED.amount * max(plan)),
        joints=joints,
        clips=(clips[0], clips[1], clips[2]),
        wrap=wrap_area(pit.length, pit.width, pit.fill_depth, WRAP_LAP.amount),
        loads=screen(job, filled),
        side=press_sideways(job),
        creep=creep(job),
    )
