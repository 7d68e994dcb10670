"""The works, from as written to SI."""

from collections.abc import Iterable
from math import radians
from typing import Any

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.job.convert.shared import pair
from beckwright.job.model import (
    Hose,
    HoseRoute,
    Load,
    Materials,
    Prices,
    Pump,
    PumpSet,
    Reservoir,
    Running,
)
from beckwright.job.units import HOUR, KILONEWTON, KILOPASCAL, KILOWATT_HOUR, MILLIMETRE
from beckwright.job.written import Written
from beckwright.job.written.works import HoseWritten, LoadWritten, PricesWritten, PumpWritten, ReservoirWritten


def fill_depth_mm(reservoir: ReservoirWritten) -> float:
    """Return the height of the fill, mm: as given, or layers of crates times the height of one; 0 when neither is."""
    if reservoir.depth_mm is not None:
        return reservoir.depth_mm
    return (reservoir.crate_layers or 0) * (reservoir.crate_mm[2] if reservoir.crate_mm else 0.0)


def reservoir_from(given: ReservoirWritten) -> Reservoir:
    """The covered pit."""
    overflow = given.cover_level_m - given.overflow_below_cover_mm * MILLIMETRE
    crate = given.crate_mm
    return Reservoir(
        cover=given.cover_level_m,
        centre=given.centre_m,
        length=given.length_m,
        width=given.width_m,
        turned=radians(given.turned_deg),
        fill=given.fill,
        fill_depth=fill_depth_mm(given) * MILLIMETRE,
        voids=given.voids,
        cover_depth=given.cover_mm * MILLIMETRE,
        cover_voids=given.cover_voids,
        cover_weight=given.cover_kn_m3 * KILONEWTON,
        sump=given.sump_mm * MILLIMETRE,
        pump_depth=given.pump_depth_mm * MILLIMETRE,
        overflow=overflow,
        overflow_bore=given.overflow_mm * MILLIMETRE,
        overflow_to=given.overflow_to,
        rested=overflow - given.rested_below_overflow_mm * MILLIMETRE,
        crate=None if crate is None else (crate[0] * MILLIMETRE, crate[1] * MILLIMETRE, crate[2] * MILLIMETRE),
        crate_weight=given.crate_weight_kn_m3 * KILONEWTON,
        strength_vertical=_pressure(given.strength_vertical_kpa),
        strength_long_term=_pressure(given.strength_long_term_kpa),
        strength_lateral=_pressure(given.strength_lateral_kpa),
        loads=tuple(map(_load, given.loads)),
    )


def _pressure(given: float | None) -> float | None:
    return None if given is None else given * KILOPASCAL


def _load(load: LoadWritten) -> Load:
    force = (load.wheel_kn or 0) * KILONEWTON + (load.person_kg or 0) * STANDARD_GRAVITY
    return Load(name=load.name, force=force, contact=pair(load.contact_mm), dynamic=load.dynamic)


def _named(wanted: str, offered: Iterable[Any]) -> Any:
    return next(one for one in offered if one.name == wanted)


def route_from(hose: HoseWritten, offered: tuple[Hose, ...]) -> HoseRoute:
    """How the hose runs, with the one chosen."""
    return HoseRoute(
        length=hose.length_m,
        fittings=tuple(hose.fittings.items()),
        line=tuple(hose.line_m or ()),
        chosen=_named(hose.chosen, offered),
        offered=offered,
    )


def pumps_from(pump: PumpWritten, offered: tuple[Pump, ...]) -> PumpSet:
    """The pumps, with the one chosen."""
    return PumpSet(chosen=_named(pump.chosen, offered), together=pump.together, offered=offered)


def running_from(written: Written) -> tuple[Running, ...]:
    """How long each flow runs."""
    return tuple(
        Running(flow=row.flow, time=row.hours_per_day * row.days_per_year * HOUR, when=row.when)
        for row in written.running
    )


def prices_from(prices: PricesWritten) -> Prices:
    """What the person pays."""
    price = prices.energy_per_kwh
    return Prices(
        currency=prices.currency,
        energy=None if price is None else price / KILOWATT_HOUR,
        energy_source=prices.energy_source,
        running_limit=prices.running_limit_per_year,
    )


def materials_from(written: Written) -> Materials:
    """Weights."""
    given = written.materials
    return Materials(
        stone=given.stone_kg_m3,
        edge_stone_per_bank=given.edge_stone_kg_m,
        edge_stone_sizes=pair(given.edge_stone_mm),
    )
