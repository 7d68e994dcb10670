"""The covered reservoir: what it holds, where its level stands, and what presses on it."""

from calendar import monthrange

import numpy as np

from beckwright.base.quantities import (
    Area,
    FloatArray,
    Length,
    Level,
    LossRate,
    Pressure,
    Ratio,
    Volume,
)
from beckwright.base.values import value
from beckwright.equations.pipe import pipe_volume
from beckwright.equations.reservoir import (
    cover_pressure,
    design_pressure,
    level_change,
    spread_pressure,
    stored_water,
    uplift_pressure,
    uplift_use,
    useful_water,
)
from beckwright.job.model import Climate, HoseRoute, Job, Load, Reservoir
from beckwright.stages.ground import Ground, inside, level_at
from beckwright.stages.water import Water
from beckwright.tables.partial_factors import CRATE_MATERIAL_FACTOR


@value
class Holding:
    """One layer that holds water, from ``bottom`` to ``top``."""

    name: str
    bottom: Level
    top: Level
    voids: Ratio


@value
class Pit:
    """The pit's levels and what it holds.

    holdings      layers from the bottom up: the fill, then the stones of the cover
    floor         bottom of the fill
    sump_floor    what the pump stands on
    pump_minimum  level below which the pump must stop
    """

    holdings: tuple[Holding, ...]
    plan: Area
    floor: Level
    sump_floor: Level
    fill_top: Level
    pump_minimum: Level
    overflow: Level
    rested: Level
    cover: Level

    def held(self, level: Level) -> Volume:
        """Water held up to a level. Below the floor it is negative: water that is missing."""
        volume = stored_water(self.plan, min(level - self.floor, 0.0), self.holdings[0].voids)
        for holding in self.holdings:
            depth = min(max(level, holding.bottom), holding.top) - holding.bottom
            volume += stored_water(self.plan, depth, holding.voids)
        return volume

    def level_of(self, volume: Volume) -> Level:
        """Level at which the pit holds ``volume``; below the floor where water is missing."""
        level = self.floor
        for holding in self.holdings:
            room = stored_water(self.plan, holding.top - holding.bottom, holding.voids)
            if volume <= room or holding is self.holdings[-1]:
                return level + level_change(volume, self.plan, holding.voids)
            level, volume = holding.top, volume - room
        return level

    def after_lending(self, volumes: FloatArray) -> FloatArray:
        """Levels once ``volumes`` have been lent from the rested level, same shape."""
        full = self.held(self.rested)
        levels: FloatArray = np.vectorize(lambda volume: self.level_of(full - volume), otypes=[float])(volumes)
        return levels


@value
class Uplift:
    """Ground water lifting the pit in one state. ``use`` above 1 floats; infinite where nothing holds it down."""

    state: str
    head: Length
    uplift: Pressure
    weight: Pressure
    use: Ratio


@value
class Pressed:
    """One load on the crates. ``use`` is the share of their strength; None where nobody gave a strength."""

    load: Load
    spread: Pressure
    design: Pressure
    strength: Pressure | None
    use: Ratio | None


@value
class FilledReservoir:
    """The reservoir while the stream runs; (3, k) arrays go with the low, middle and high depth in the course.

    lent        water in motion, and the hose's where it drains back
    running     level while a flow runs steadily; below the floor where water is missing
    drawn_from  level the pump draws from: the running level, but no lower than its least
    first_fill  level when a dry course has been filled from the rested reservoir alone
    lowest      lowest level of any flow at a morning restart: its running level, high end
    """

    pit: Pit
    useful: Volume
    hose: Volume
    lent: FloatArray
    running: FloatArray
    drawn_from: FloatArray
    first_fill: FloatArray
    kept: FloatArray
    lowest: Level
    loss_rate: LossRate | None
    uplifts: tuple[Uplift, ...]
    pressed: tuple[Pressed, ...]
    ground_level: Level | None


def dig_pit(reservoir: Reservoir) -> Pit:
    """Place the pit's levels from its cover down."""
    fill_top = reservoir.cover - reservoir.cover_depth
    floor = fill_top - reservoir.fill_depth
    sump_floor = floor - reservoir.sump
    return Pit(
        holdings=(
            Holding(name=reservoir.fill, bottom=floor, top=fill_top, voids=reservoir.voids),
            Holding(name="cover", bottom=fill_top, top=reservoir.cover, voids=reservoir.cover_voids),
        )[: 2 if reservoir.cover_depth > 0 else 1],
        plan=reservoir.length * reservoir.width,
        floor=floor,
        sump_floor=sump_floor,
        fill_top=fill_top,
        pump_minimum=sump_floor + reservoir.pump_depth,
        overflow=reservoir.overflow,
        rested=reservoir.rested,
        cover=reservoir.cover,
    )


def fill_reservoir(job: Job, ground: Ground, water: Water) -> FilledReservoir:
    """Lend each flow its water in motion and read the levels."""
    pit = dig_pit(job.reservoir)
    hose = pipe_volume(job.route.chosen.bore, job.route.length)
    lent = water.stored.in_motion + (0.0 if _stays_full(job.route) else hose)
    first = water.stored.in_motion + water.stored.kept + hose
    running, first_fill = pit.after_lending(lent), pit.after_lending(first)
    centre = np.array([job.reservoir.centre])
    ground_level = float(level_at(ground, centre)[0]) if inside(ground, centre).all() else None
    return FilledReservoir(
        pit=pit,
        useful=useful_water(pit.held(pit.rested), pit.held(pit.pump_minimum)),
        hose=hose,
        lent=lent,
        running=running,
        drawn_from=np.maximum(running, pit.pump_minimum),
        first_fill=first_fill,
        kept=water.stored.kept,
        lowest=float(running.min()),
        loss_rate=driest_loss(job.climate),
        uplifts=_uplifts(job, pit, ground_level),
        pressed=tuple(_press(load, job.reservoir) for load in job.reservoir.loads),
        ground_level=ground_level,
    )


def driest_loss(climate: Climate | None) -> LossRate | None:
    """Open-water evaporation on a day without rain in the driest month, as depth a second."""
    if climate is None:
        return None
    days = np.array([monthrange(2001, month)[1] for month in range(1, 13)])
    return float((climate.evaporation / days).max() / 86400.0)


def _stays_full(route: HoseRoute) -> bool:
    return any(name == "check valve" and count > 0 for name, count in route.fittings)


def _uplifts(job: Job, pit: Pit, ground_level: Level | None) -> tuple[Uplift, ...]:
    if job.site.groundwater_winter is None or ground_level is None:
        return ()
    water = ground_level - job.site.groundwater_winter
    head = water - pit.sump_floor
    buoyed = uplift_pressure(max(min(water, pit.cover) - pit.fill_top, 0.0))
    crates = cover_pressure(job.reservoir.crate_weight, job.reservoir.fill_depth)
    cover = cover_pressure(job.reservoir.cover_weight, job.reservoir.cover_depth) - buoyed
    inside_water = uplift_pressure((pit.rested - pit.floor) * job.reservoir.voids)
    return tuple(
        _uplift(state, head, weight)
        for state, weight in (
            ("lined pit, nothing in it yet", 0.0),
            ("finished, reservoir empty", crates + cover),
            ("finished, reservoir full", crates + cover + inside_water),
        )
    )


def _uplift(state: str, head: Length, weight: Pressure) -> Uplift:
    pressure = uplift_pressure(max(head, 0.0))
    use = uplift_use(pressure, weight) if weight > 0 else float("inf") if pressure > 0 else 0.0
    return Uplift(state=state, head=head, uplift=pressure, weight=weight, use=use)


def _press(load: Load, reservoir: Reservoir) -> Pressed:
    spread = spread_pressure(load.force, *load.contact, reservoir.cover_depth) * load.dynamic
    design = design_pressure(cover_pressure(reservoir.cover_weight, reservoir.cover_depth), spread)
    strength = reservoir.strength_long_term
    if strength is None and reservoir.strength_vertical is not None:
        strength = reservoir.strength_vertical / CRATE_MATERIAL_FACTOR.amount
    return Pressed(
        load=load, spread=spread, design=design, strength=strength, use=None if strength is None else design / strength
    )
