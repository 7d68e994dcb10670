"""The chamber: what it takes of the crates, whether the pump comes out, and how fast the water runs to it."""

from beckwright.base.quantities import Length
from beckwright.equations.reservoir import slot_area, slot_velocity
from beckwright.job.model import Job
from beckwright.stages.crates.values import ChamberFit, Layer, Slots
from beckwright.stages.stones import Stability
from beckwright.tables.crates import SLOT_VELOCITY

CLOSE: Length = 1e-6


def taken_by(layer: Layer, length: Length, width: Length, outside: tuple[Length, Length]) -> int:
    """Crates of a layer that give way to a chamber in the corner, and the way round, where fewest do."""
    counts = [
        sum(
            near_along < crate.along + crate.length - CLOSE
            and crate.along < near_along + along - CLOSE
            and near_across < crate.across + crate.width - CLOSE
            and crate.across < near_across + across - CLOSE
            for crate in layer.crates
        )
        for along, across in (outside, outside[::-1])
        if along <= length + CLOSE and across <= width + CLOSE
        for near_along in (0.0, length - along)
        for near_across in (0.0, width - across)
    ]
    return min(counts, default=0)


def fit_chamber(job: Job, stability: Stability) -> ChamberFit:
    """Look at the chamber as somebody who must get the pump out. ``stability`` tells the largest flow there is."""
    chamber, reservoir = job.chamber, job.reservoir
    room = None
    if chamber.inside is not None and chamber.pump is not None:
        inside, pump = sorted(chamber.inside), sorted(chamber.pump[:2])
        room = min((side - body) / 2 for side, body in zip(inside, pump, strict=True))
    least, most = (slot_area(stability.amount, each) for each in (SLOT_VELOCITY.high, SLOT_VELOCITY.low))
    return ChamberFit(
        depth=reservoir.cover_depth + reservoir.fill_depth + reservoir.sump,
        inside=chamber.inside,
        room=room,
        piece=None if chamber.lid is None else chamber.lid / chamber.lid_pieces,
        slots=Slots(
            flow=stability.flow,
            velocity=None if chamber.slots is None else slot_velocity(stability.amount, chamber.slots),
            area=chamber.slots,
            wanted=(least, most),
        ),
    )
