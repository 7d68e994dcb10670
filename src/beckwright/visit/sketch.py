"""One stream out of many: every unknown at one place of its band, and the reaches, hose and pit that follow."""

import math
from collections.abc import Mapping

from beckwright.base.quantities import Area, Flow, Length, Ratio, Volume
from beckwright.base.values import value
from beckwright.equations.lips import lip_flow
from beckwright.equations.pipe import pipe_velocity, pipe_volume
from beckwright.equations.reservoir import stored_water
from beckwright.equations.site import way_needed
from beckwright.job.model import Machine
from beckwright.tables import visit as rows
from beckwright.tables.practice import HOSE_VELOCITY, RESERVE_WANTED
from beckwright.tables.site import WAY_CLEARANCE
from beckwright.visit.values import Visit

SOILS = ("clay", "loam", "sand")
"""From those whose sides stand steep to those that lie flat."""
LENGTHS, WIDTHS = range(1, 41), range(1, 81)
LONGEST: Ratio = 2.5
"""Length over width beyond which a pit is a trench."""
GROUND_AT_FOOT: Length = 10.0
"""Level of the ground at the foot of the stream: the sketch's own datum."""


@value
class Sketch:
    """One stream. SI; ``pit`` is (length, width) inside, ``wanted`` a number of steps somebody chose, 0 for nobody."""

    length: Length
    fall: Length
    width: Length
    flow: Flow
    stones: Length
    edges: float
    hose: Length
    dry: float
    pump: Ratio
    hours: float
    pace: Ratio
    soil: str
    machine: Machine
    pit: tuple[Length, Length]
    wanted: int = 0

    @property
    def steps(self) -> int:
        """How many: as the fall wants, as the length lets."""
        if self.wanted:
            return self.wanted
        wanted = math.ceil((1 - rows.RUN_SHARE.amount) * self.fall / rows.DROP_WANTED.amount - 1e-9)
        return max(1, min(wanted, int(self.length / rows.ROOM_FOR_A_STEP.amount)))

    @property
    def drop(self) -> Length:
        """Of each step."""
        return (1 - rows.RUN_SHARE.amount) * self.fall / self.steps

    @property
    def run_length(self) -> Length:
        """Of each run: one more than there are steps."""
        return (self.length - self.steps * rows.POOL_LENGTH.amount) / (self.steps + 1)

    @property
    def run_fall(self) -> Length:
        """Of each run."""
        return rows.RUN_SHARE.amount * self.fall / (self.steps + 1)

    @property
    def bore(self) -> Length:
        """The smallest hose sold that the flow does not rush through; the largest where it does in all."""
        bores = [row.amount for row in rows.HOSE_BORES]
        return next((bore for bore in bores if pipe_velocity(self.flow, bore) <= HOSE_VELOCITY.amount), bores[-1])


def sketch_at(visit: Visit, places: Mapping[str, float], *, steps: int = 0) -> Sketch:
    """Put every unknown at its place, 0 to 1; those not named in the middle. The pit is one crate until it is sized.

    steps  how many there are to be; 0 leaves it to fall and length
    """
    held = {each.key: each.at(places.get(each.key, 0.5)) for each in visit.unknowns}
    water = held["water"]
    return Sketch(
        length=held["length"],
        fall=held["fall"],
        width=held["width"],
        flow=water if visit.flow_given else lip_flow(water, held["width"]),
        stones=held["stones"],
        edges=held["edges"],
        hose=held["length"] * held["hose"],
        dry=held["dry"],
        pump=held["pump"],
        hours=held["hours"],
        pace=held["pace"],
        soil=SOILS[min(int(held["soil"] * len(SOILS)), len(SOILS) - 1)],
        machine=machine_for(held["access"]),
        pit=(2 * rows.CRATE.amount, rows.CRATE.amount),
        wanted=steps,
    )


def machine_for(access: Length) -> Machine:
    """The largest digger that gets through; by hand where none does."""
    sizes: tuple[Machine, ...] = ("8 t", "3 t", "1.5 t")
    clearance = WAY_CLEARANCE.amount
    fits = (name for name in sizes if way_needed(rows.MACHINE_WIDTHS[name].amount, clearance) <= access + 1e-9)
    return next(fits, "by hand")


def water_wanted(sketch: Sketch, in_motion: Volume, wet_area: Area) -> Volume:
    """Water between pump cut-out and overflow: what moves, what drains from the hose, and a week without rain."""
    moves = rows.MOTION_MARGIN.amount * (in_motion + pipe_volume(sketch.bore, sketch.hose))
    return rows.RESERVE_MARGIN.amount * (moves + sketch.dry * RESERVE_WANTED.amount * wet_area)


def pit_for(wanted: Volume) -> tuple[Length, Length]:
    """Length and width of the smallest pit of whole crates that holds so much over what the pump needs."""
    crate, deep = rows.CRATE.amount, fill_depth() - (rows.PUMP_WATER.amount - rows.SUMP.amount)
    patterns = (
        (round(2 * crate * long, 3), round(crate * wide, 3))
        for long in LENGTHS
        for wide in WIDTHS
        if 1.0 <= 2 * long / wide <= LONGEST
    )  # fmt: skip
    holding = [
        pattern
        for pattern in patterns
        if stored_water(pattern[0] * pattern[1], deep, rows.CRATE_VOIDS.amount) >= wanted
    ]
    return min(holding, key=lambda pattern: (pattern[0] * pattern[1], pattern[0]))


def fill_depth() -> Length:
    """Height of the crates on each other."""
    return rows.CRATE.amount * rows.CRATE_LAYERS.amount


def pit_depth() -> Length:
    """Floor of the sump below the ground."""
    return cover_below_ground() + rows.COVER.amount + fill_depth() + rows.SUMP.amount


def cover_below_ground() -> Length:
    """The cover lies a little lower than the last bed, so that the water runs onto it."""
    return rows.DUG_IN.amount + 0.05
