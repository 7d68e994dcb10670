"""Every pump with every hose on offer: flat out, at each named flow, and over a year."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Energy, Flow, Length, Money, Power
from beckwright.base.values import value
from beckwright.equations.energy import energy_cost, energy_used
from beckwright.equations.pump import power_at_speed, static_lift, total_head
from beckwright.equations.water import water_viscosity
from beckwright.job.model import Hose, Job, NamedFlow, Prices, Pump, Running
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.supply.hose import LaidHose, Losses, lay
from beckwright.stages.supply.pump import Duty, PumpCurve, curve_of, duty_of, speed_for
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables.hoses import CORRUGATED_FRICTION, LOSS_FACTORS


@value
class FlowSupply:
    """How one pump and hose give one named flow.

    duty       at the speed that gives it; None where even full speed gives less
    throttled  watts if a valve held the flow back at full speed instead
    """

    name: str
    wanted: Flow
    lift: Length
    duty: Duty | None
    throttled: Power | None


@value
class Offer:
    """One pump with one hose: flat out, at each named flow, and over a year as the owner will run it.

    lift    flat out
    energy  a year; None where a flow that is to run cannot be given
    cost    a year; None where no price was given
    """

    curve: PumpCurve
    laid: LaidHose
    together: int
    lift: Length
    flows: tuple[FlowSupply, ...]
    energy: Energy | None
    cost: Money | None

    @property
    def pump(self) -> Pump:
        """The pump, or each of those side by side."""
        return self.curve.pump

    @property
    def hose(self) -> Hose:
        """The hose."""
        return self.laid.hose

    @property
    def flat_out(self) -> Duty | None:
        """Duty at full speed; None where it cannot lift the water. Found when asked for: of most pairs nobody does."""
        return duty_of(self.curve, self.together, self.laid, self.lift)


@value
class Supply:
    """The pair chosen, with its band, and every pair on offer.

    flat_out  the chosen pair flat out, for the least, middle and most flow (None where it cannot lift the water)
    """

    chosen: Offer
    flat_out: tuple[Duty | None, Duty | None, Duty | None]
    offers: tuple[Offer, ...]


def supply_water(job: Job, filled: FilledReservoir) -> Supply:
    """Find the duty of the chosen pair and of every pair on offer.

    The lift of a named flow is taken from the level the pump draws from at that flow; flat out, at the largest flow.
    """
    viscosity = water_viscosity(job.water_temperature)
    lifts = static_lift.over(job.source.hose_outlet, filled.drawn_from)
    largest = int(np.argmax([flow.flow for flow in job.flows]))
    chosen_curve, route, together = curve_of(job.pumps.chosen), job.route, job.pumps.together
    curves = [curve_of(pump) for pump in job.pumps.offered]

    def offers(hose: Hose, these: list[PumpCurve]) -> list[Offer]:
        laid = lay(hose, route, viscosity)
        lost = [laid.losses_at(named.flow) for named in job.flows]
        return [_offer(job, curve, laid, lifts[MIDDLE].tolist(), lost, largest) for curve in these]

    chosen = offers(route.chosen, [chosen_curve])[0]
    least, most = (
        duty_of(chosen_curve, together, lay(with_factor(route.chosen, end), route, viscosity), float(lift))
        for end, lift in (("high", lifts[HIGH, largest]), ("low", lifts[LOW, largest]))
    )
    return Supply(
        chosen=chosen,
        flat_out=(least, chosen.flat_out, most),
        offers=tuple(offer for hose in route.offered for offer in offers(hose, curves)),
    )


def flat_out_flow(supply: Supply) -> tuple[NamedFlow, ...]:
    """What the chosen pair gives flat out, as a flow to run down the course; none where it cannot lift the water."""
    duty = supply.flat_out[MIDDLE]
    return () if duty is None else (NamedFlow(name="flat out", flow=duty.flow),)


def year_of(flows: tuple[FlowSupply, ...], running: tuple[Running, ...]) -> Energy | None:
    """Energy for a year of running; None where a flow that is to run cannot be given."""
    by_name = {flow.name: flow.duty for flow in flows}
    parts = [(by_name[row.flow], row.time) for row in running]
    if any(duty is None for duty, _ in parts):
        return None
    return sum(energy_used(duty.watts, time) for duty, time in parts if duty is not None)


def _offer(job: Job, curve: PumpCurve, laid: LaidHose, lifts: list[Length], lost: list[Losses], largest: int) -> Offer:
    together = job.pumps.together
    flows = tuple(
        give(curve, together, losses, named, lift) for losses, named, lift in zip(lost, job.flows, lifts, strict=True)
    )
    energy = year_of(flows, job.running)
    return Offer(
        curve=curve,
        laid=laid,
        together=together,
        lift=lifts[largest],
        flows=flows,
        energy=energy,
        cost=_cost(energy, job.prices),
    )


def give(curve: PumpCurve, together: int, losses: Losses, named: NamedFlow, lift: Length) -> FlowSupply:
    """How pumps side by side give one named flow against its lift and the losses at it."""
    head, each = total_head(lift, losses.along, losses.fittings), named.flow / together
    speed = speed_for(curve, each, head)
    if speed > 1:
        return FlowSupply(name=named.name, wanted=named.flow, lift=lift, duty=None, throttled=None)
    slowed = max(speed, curve.pump.slowest)
    watts = together * power_at_speed(curve.power(each / slowed), slowed)
    return FlowSupply(
        name=named.name,
        wanted=named.flow,
        lift=lift,
        duty=Duty(flow=named.flow, head=head, lift=lift, losses=losses, speed=slowed, watts=watts),
        throttled=together * curve.power(each),
    )


def with_factor(hose: Hose, end: str) -> Hose:
    """The same hose at the low or high end of what its kind of wall is known to lose."""
    row = CORRUGATED_FRICTION if hose.wall == "corrugated" else LOSS_FACTORS[hose.wall]
    return replace(hose, loss_factor=hose.loss_factor * getattr(row, end) / row.amount)


def _cost(energy: Energy | None, prices: Prices) -> Money | None:
    return None if energy is None or prices.energy is None else energy_cost(energy, prices.energy)
