"""Loads through the cover, ground against the side, and what stands for decades. A screening, never a verdict."""

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.quantities import Force, Length, Pressure, Ratio
from beckwright.equations.reservoir import (
    cover_pressure,
    design_pressure,
    lateral_pressure,
    patch_pressure,
    spread_pressure,
    uplift_pressure,
)
from beckwright.equations.stonework import block_mass
from beckwright.job.model import Job, Reservoir
from beckwright.stages.crates.values import Creep, From, Screened, Side
from beckwright.stages.reservoir import FilledReservoir, Pressed
from beckwright.tables.crates import BESIDE, BESIDE_DIGGER, COMES, DIGGERS
from beckwright.tables.partial_factors import (
    COVER_LEAST,
    CRATE_LONG_TERM,
    CRATE_MATERIAL_FACTOR,
    REST_COEFFICIENT,
    SOIL_UNIT_WEIGHT,
)

DEEPEST: Length = 3.0
"""A cover deeper than this is not looked for."""
STEP: Length = 0.01
ON_FOOT: Force = 5e3
"""A load lighter than this, not moving, is a person's foot."""


def screen(job: Job, filled: FilledReservoir) -> tuple[Screened, ...]:
    """The person's own loads, the digger, the heaviest stone, then what comes to gardens."""
    told = [_told(job, pressed) for pressed in filled.pressed]
    return (*told, *_digger(job), *_stone(job), *_typical(job))


def strength_of(reservoir: Reservoir) -> Pressure | None:
    """What crates bear from above as designed with: the long-term strength, or the short-term one over its factor."""
    if reservoir.strength_long_term is not None:
        return reservoir.strength_long_term
    short = reservoir.strength_vertical
    return None if short is None else short / CRATE_MATERIAL_FACTOR.amount


def _told(job: Job, pressed: Pressed) -> Screened:
    load = pressed.load
    on_foot = load.dynamic == 1.0 and load.force < ON_FOOT
    least = COVER_LEAST["feet" if on_foot else "vehicles"].amount
    return _screened(job, load.name, "told", load.force, load.contact, load.dynamic, least)


def digger_class(job: Job) -> str | None:
    """The digger on the job, by its weight if the programme tells it, else by its width; None where there is none."""
    if job.force.machine in DIGGERS:
        return job.force.machine
    width = job.earthworks.digger_width
    if width is None:
        return None
    return next((name for name, treads in DIGGERS.items() if width <= treads.width), next(reversed(DIGGERS)))


def _digger(job: Job) -> tuple[Screened, ...]:
    name = digger_class(job)
    if name is None:
        return ()
    row = DIGGERS[name]
    least = COVER_LEAST[row.use].amount
    return (_screened(job, f"digger of {name}", "digger", row.force.amount, row.contact, row.dynamic, least),)


def _stone(job: Job) -> tuple[Screened, ...]:
    size = job.stonework.on_cover
    if size is None:
        return ()
    force = block_mass(job.stonework.shape, *size, job.materials.stone) * STANDARD_GRAVITY
    least = COVER_LEAST["landscaped"].amount
    return (_screened(job, "the heaviest stone", "stone", force, size[:2], 1.0, least),)


def _typical(job: Job) -> tuple[Screened, ...]:
    return tuple(
        _screened(job, name, "typical", row.force.amount, row.contact, row.dynamic, COVER_LEAST[row.use].amount)
        for name, row in COMES.items()
    )


def _screened(
    job: Job,
    name: str,
    comes: From,
    force: Force,
    contact: tuple[Length, Length],
    dynamic: Ratio,
    least: Length,
) -> Screened:
    reservoir = job.reservoir
    strength, depth = strength_of(reservoir), reservoir.cover_depth

    def at(cover: Length) -> tuple[Pressure, Pressure]:
        spread = spread_pressure(force, *contact, cover) * dynamic
        weight = cover_pressure(reservoir.cover_weight, cover)
        # A stone stands there for good: it counts with the cover.
        return spread, design_pressure(weight + spread, 0.0) if comes == "stone" else design_pressure(weight, spread)

    spread, design = at(depth)
    return Screened(
        name=name,
        comes=comes,
        force=force,
        contact=contact,
        dynamic=dynamic,
        spread=spread,
        peak=dynamic * _peak(force, contact, depth),
        design=design,
        strength=strength,
        wanted=design * CRATE_MATERIAL_FACTOR.amount,
        use=None if strength is None else design / strength,
        cover=None if strength is None else next((z for z in _covers(depth) if at(z)[1] <= strength), None),
        least=least,
    )


def _peak(force: Force, contact: tuple[Length, Length], depth: Length) -> Pressure:
    """Under the very middle of the patch; without a cover, under the patch itself."""
    return float(patch_pressure(force, *contact, depth)) if depth > 0 else force / (contact[0] * contact[1])


def _covers(depth: Length) -> tuple[Length, ...]:
    """Covers from the one there is down to the deepest looked for, in whole steps."""
    deeper = np.arange(np.ceil(depth / STEP + 1e-9), DEEPEST / STEP + 1) * STEP
    return (depth, *map(float, deeper))


def press_sideways(job: Job) -> Side:
    """Ground at rest, what stands beside the pit, and winter's ground water, at the foot of the empty crates.

    The ground under water is not counted lighter: a little on the cautious side.
    """
    reservoir = job.reservoir
    depth = reservoir.cover_depth + reservoir.fill_depth
    winter = job.site.groundwater_winter
    head = 0.0 if winter is None else max(depth - winter, 0.0)
    beside = (BESIDE if digger_class(job) is None else BESIDE_DIGGER).amount
    rest = (REST_COEFFICIENT.low, REST_COEFFICIENT.amount, REST_COEFFICIENT.high)
    soil = (SOIL_UNIT_WEIGHT.low, SOIL_UNIT_WEIGHT.amount, SOIL_UNIT_WEIGHT.high)
    design = np.array(
        [
            design_pressure(lateral_pressure(k, weight, depth, 0.0) + uplift_pressure(head), k * beside)
            for k, weight in zip(rest, soil, strict=True)
        ]
    )
    given = reservoir.strength_lateral
    strength = None if given is None else given / CRATE_MATERIAL_FACTOR.amount
    return Side(
        depth=depth,
        head=head,
        beside=beside,
        design=design,
        strength=strength,
        use=None if strength is None else design / strength,
    )


def creep(job: Job) -> Creep:
    """The cover, and the stone that stands on it, for decades."""
    reservoir, size = job.reservoir, job.stonework.on_cover
    standing = cover_pressure(reservoir.cover_weight, reservoir.cover_depth)
    if size is not None:
        force = block_mass(job.stonework.shape, *size, job.materials.stone) * STANDARD_GRAVITY
        standing += spread_pressure(force, *size[:2], reservoir.cover_depth)
    long_term, short = reservoir.strength_long_term, reservoir.strength_vertical
    strength = None
    if long_term is not None:
        strength = (long_term, long_term)
    elif short is not None:
        strength = (CRATE_LONG_TERM.low * short, CRATE_LONG_TERM.high * short)
    return Creep(standing=design_pressure(standing, 0.0), strength=strength, given=long_term is not None)
