"""What a year of running costs against the bore of the hose, and when a bigger hose has paid for itself."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length, Money, MoneyPerEnergy, Viscosity
from beckwright.base.values import value
from beckwright.equations.energy import energy_cost, energy_used
from beckwright.equations.money import payback
from beckwright.equations.pump import static_lift
from beckwright.equations.water import water_viscosity
from beckwright.job.model import Hose, Job, NamedFlow
from beckwright.stages.money.rates import gross, row_for
from beckwright.stages.money.values import CostCurve, HoseYear, Payback, RunningCost
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.supply import FlowSupply, PumpCurve, curve_of, give, hose_key, lay, with_factor, year_of
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE

POINTS = 60
"""Bores a curve is worked at: closer than a pencil's width on paper."""
BEYOND = (0.8, 1.12)
"""The curves reach from this share of the smallest bore on offer to this share of the largest."""


def running_cost(job: Job, filled: FilledReservoir) -> RunningCost | None:
    """Cost of a year against the bore, the chosen pump slowed to each flow; None without a price or hours of running.

    The band is the hose's wall and the level the pump draws from: the low end of both, and the high end.
    """
    time = sum(row.time for row in job.running)
    if job.prices.energy is None or time <= 0:
        return None
    plant = _Plant(
        job=job,
        curve=curve_of(job.pumps.chosen),
        lifts=static_lift.over(job.source.hose_outlet, filled.drawn_from),
        viscosity=water_viscosity(job.water_temperature),
        price=job.prices.energy,
    )
    hoses = tuple(_hose_year(plant, hose) for hose in sorted(job.route.offered, key=lambda hose: hose.bore))
    return RunningCost(
        time=time,
        curves=tuple(_curve(plant, number, flow, time) for number, flow in enumerate(job.flows)),
        hoses=hoses,
        paybacks=tuple(_paybacks(hoses)),
    )


@value
class _Plant:
    """The chosen pump and what it lifts to: ``lifts`` (3, flows) at the low, middle and high level of the water."""

    job: Job
    curve: PumpCurve
    lifts: FloatArray
    viscosity: Viscosity
    price: MoneyPerEnergy

    def gives(self, hose: Hose, number: int, flow: NamedFlow, end: int) -> FlowSupply:
        """How one flow comes up through a hose at one end of the band."""
        held = hose if end == MIDDLE else with_factor(hose, "low" if end == LOW else "high")
        laid = lay(held, self.job.route, self.viscosity)
        lift: Length = float(self.lifts[end, number])
        return give(self.curve, self.job.pumps.together, laid.losses_at(flow.flow), flow, lift)


def _curve(plant: _Plant, number: int, flow: NamedFlow, time: Duration) -> CostCurve:
    """A wider bore loses less: what the pump cannot give is always at the narrow end."""
    job = plant.job
    offered = [hose.bore for hose in job.route.offered] or [job.route.chosen.bore]
    wide = np.linspace(BEYOND[0] * min(offered), BEYOND[1] * max(offered), POINTS)
    low, middle, high = (
        [cost for cost in costs if cost is not None]
        for costs in (
            [_all_hours(plant, replace(job.route.chosen, bore=bore), number, flow, time, end) for bore in wide.tolist()]
            for end in (LOW, MIDDLE, HIGH)
        )
    )
    given = len(middle)
    return CostCurve(
        flow=flow.name,
        bores=wide[POINTS - given :],
        low=np.array(low[len(low) - given :]),
        middle=np.array(middle),
        high=np.array(high),
    )


def _all_hours(plant: _Plant, hose: Hose, number: int, flow: NamedFlow, time: Duration, end: int) -> Money | None:
    """Cost of one flow for all hours at one end of the band; None where the pump cannot give it."""
    duty = plant.gives(hose, number, flow, end).duty
    return None if duty is None else energy_cost(energy_used(duty.watts, time), plant.price)


def _hose_year(plant: _Plant, hose: Hose) -> HoseYear:
    job = plant.job
    energies = [
        year_of(tuple(plant.gives(hose, number, flow, end) for number, flow in enumerate(job.flows)), job.running)
        for end in (LOW, MIDDLE, HIGH)
    ]
    least, year, most = (None if energy is None else energy_cost(energy, plant.price) for energy in energies)
    return HoseYear(
        hose=hose,
        chosen=hose.name == job.route.chosen.name,
        least=least,
        year=year,
        most=most,
        bought=hose_price(job, hose),
    )


def hose_price(job: Job, hose: Hose) -> Money | None:
    """What a hose costs on the route, tax in it; None where nobody gave a price by the metre."""
    row = row_for(hose_key(hose), job)
    if row is None or row.price is None or row.sold.measure != "m":
        return None
    return gross(row.price[1], row, job.money) * job.route.length / row.sold.holds


def _paybacks(hoses: tuple[HoseYear, ...]) -> Iterator[Payback]:
    for smaller, bigger in pairwise(hoses):
        if smaller.year is None or bigger.year is None or smaller.bought is None or bigger.bought is None:
            continue
        # Both hoses carry the same water: least is held against least, most against most.
        pairs = ((smaller.least, bigger.least), (smaller.year, bigger.year), (smaller.most, bigger.most))
        saved = [old - new for old, new in pairs if old is not None and new is not None]
        extra, least, most = bigger.bought - smaller.bought, min(saved), max(saved)
        yield Payback(
            smaller=smaller.hose.name,
            bigger=bigger.hose.name,
            extra=extra,
            saved=(least, smaller.year - bigger.year, most),
            years=(payback(extra, most), payback(extra, least)) if extra > 0 and least > 0 else None,
        )
