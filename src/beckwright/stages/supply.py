"""Pump and hose: what each offered pair really gives, at what speed, and what a year of it costs."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Energy, Flow, Length, Lengths, Money, Power, Ratio, Velocity, Viscosity
from beckwright.base.values import value
from beckwright.equations.energy import energy_cost, energy_used
from beckwright.equations.pipe import (
    fittings_loss,
    friction_loss,
    laminar_friction,
    pipe_velocity,
    reynolds_number,
    swamee_jain_friction,
    transition_friction,
)
from beckwright.equations.pump import power_at_speed, static_lift, total_head
from beckwright.equations.water import water_viscosity
from beckwright.job.model import Hose, HoseRoute, Job, NamedFlow, Prices, Pump, Running
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables.fittings import FITTINGS
from beckwright.tables.hoses import CORRUGATED_FRICTION, LOSS_FACTORS


@value
class Losses:
    """Head lost at one flow in one hose."""

    flow: Flow
    velocity: Velocity
    reynolds: Ratio
    friction: Ratio
    along: Length
    fittings: Length


@value
class Duty:
    """Where pumps and hose agree.

    flow    all pumps together
    head    they give
    speed   share of full speed
    watts   all pumps together, from the wall
    """

    flow: Flow
    head: Length
    lift: Length
    losses: Losses
    speed: Ratio
    watts: Power


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

    energy  a year; None where a flow that is to run cannot be given
    cost    a year; None where no price was given
    """

    pump: Pump
    hose: Hose
    together: int
    flat_out: Duty | None
    flows: tuple[FlowSupply, ...]
    energy: Energy | None
    cost: Money | None


@value
class Supply:
    """The pair chosen, with its band, and every pair on offer.

    flat_out  the chosen pair flat out, for the least, middle and most flow (None where it cannot lift the water)
    """

    chosen: Offer
    flat_out: tuple[Duty | None, Duty | None, Duty | None]
    offers: tuple[Offer, ...]


@value
class LaidHose:
    """A hose on its route, full of water of one viscosity."""

    hose: Hose
    length: Length
    fittings: Ratio
    viscosity: Viscosity

    def losses_at(self, flow: Flow) -> Losses:
        """Head lost along the hose and in its fittings at a flow above 0."""
        velocity = pipe_velocity(flow, self.hose.bore)
        reynolds = reynolds_number(velocity, self.hose.bore, self.viscosity)
        friction = friction_of(reynolds, self.hose)
        along = self.hose.loss_factor * friction_loss(friction, self.length, self.hose.bore, velocity)
        return Losses(
            flow=flow,
            velocity=velocity,
            reynolds=reynolds,
            friction=friction,
            along=along,
            fittings=fittings_loss(self.fittings, velocity),
        )


def supply_water(job: Job, filled: FilledReservoir) -> Supply:
    """Find the duty of the chosen pair and of every pair on offer.

    The lift of a named flow is taken from the level the pump draws from at that flow; flat out, at the largest flow.
    """
    viscosity = water_viscosity(job.water_temperature)
    lifts = static_lift.over(job.source.hose_outlet, filled.drawn_from)
    largest = int(np.argmax([flow.flow for flow in job.flows]))
    fittings, together = loss_sum(job.route), job.pumps.together

    def lay(hose: Hose) -> LaidHose:
        return LaidHose(hose=hose, length=job.route.length, fittings=fittings, viscosity=viscosity)

    def offers(hose: Hose, pumps: tuple[Pump, ...]) -> list[Offer]:
        laid = lay(hose)
        lost = [laid.losses_at(named.flow) for named in job.flows]
        return [_offer(job, pump, laid, lifts[MIDDLE], lost, largest) for pump in pumps]

    chosen = offers(job.route.chosen, (job.pumps.chosen,))[0]
    ends = [
        duty_of(job.pumps.chosen, together, lay(_with_factor(job.route.chosen, end)), float(lifts[band, largest]))
        for end, band in (("high", HIGH), ("low", LOW))
    ]
    return Supply(
        chosen=chosen,
        flat_out=(ends[0], chosen.flat_out, ends[1]),
        offers=tuple(offer for hose in job.route.offered for offer in offers(hose, job.pumps.offered)),
    )


def friction_of(reynolds: Ratio, hose: Hose) -> Ratio:
    """Friction factor by the law that holds for this wall at this Reynolds number."""
    if hose.wall == "corrugated":
        return CORRUGATED_FRICTION.amount
    if reynolds < 2000:
        return laminar_friction(reynolds)
    law = transition_friction if reynolds < 4000 else swamee_jain_friction
    return law(reynolds, hose.roughness / hose.bore)


def loss_sum(route: HoseRoute) -> Ratio:
    """Loss factors of all fittings on the route."""
    return sum(FITTINGS[name].amount * count for name, count in route.fittings)


def head_given(pump: Pump, flow: Flow) -> Length:
    """Head at full speed, straight between the rows of the maker's table; the last row where ``flow`` is beyond it."""
    return float(np.interp(flow, pump.flows, pump.heads))


def watts_drawn(pump: Pump, flow: Flow) -> Power:
    """Watts at full speed, straight between the rows of the maker's table."""
    return float(np.interp(flow, pump.flows, pump.watts))


def duty_of(pump: Pump, together: int, laid: LaidHose, lift: Length) -> Duty | None:
    """Where pumps and hose agree at full speed; None where the pump cannot lift the water at all."""
    from scipy.optimize import brentq

    def spare(flow: Flow) -> Length:
        losses = laid.losses_at(flow)
        return head_given(pump, flow / together) - total_head(lift, losses.along, losses.fittings)

    trickle, most = 1e-9, float(pump.flows[-1]) * together
    if pump.heads[0] <= lift or spare(trickle) <= 0:
        return None
    flow = most if spare(most) >= 0 else float(brentq(spare, trickle, most, xtol=1e-10, rtol=1e-10))
    losses = laid.losses_at(flow)
    return Duty(
        flow=flow,
        head=total_head(lift, losses.along, losses.fittings),
        lift=lift,
        losses=losses,
        speed=1.0,
        watts=together * watts_drawn(pump, flow / together),
    )


def speed_for(pump: Pump, flow: Flow, head: Length) -> Ratio:
    """Share of full speed at which one pump gives ``flow`` at ``head``; above 1 where it cannot.

    On each straight piece ``H = a - b Q`` of the table the affinity laws give ``n**2 a - n b Q - head = 0``. A need
    beyond the table's last row is answered on that row's own affinity line, which is always above 1 there.
    """
    flows, heads = pump.flows, pump.heads
    falls = (heads[:-1] - heads[1:]) / (flows[1:] - flows[:-1])
    tops = heads[:-1] + falls * flows[:-1]
    pull = falls * flow
    speeds = (pull + np.sqrt(pull**2 + 4 * tops * head)) / (2 * tops)
    at_full = flow / speeds
    fits = (at_full >= flows[:-1]) & (at_full <= flows[1:])
    return float(speeds[fits][0]) if fits.any() else float(max(flow / flows[-1], speeds[-1]))


def year_of(flows: tuple[FlowSupply, ...], running: tuple[Running, ...]) -> Energy | None:
    """Energy for a year of running; None where a flow that is to run cannot be given."""
    by_name = {flow.name: flow.duty for flow in flows}
    parts = [(by_name[row.flow], row.time) for row in running]
    if any(duty is None for duty, _ in parts):
        return None
    return sum(energy_used(duty.watts, time) for duty, time in parts if duty is not None)


def _offer(job: Job, pump: Pump, laid: LaidHose, lifts: Lengths, lost: list[Losses], largest: int) -> Offer:
    together = job.pumps.together
    flows = tuple(
        _give(pump, together, losses, named, float(lift))
        for losses, named, lift in zip(lost, job.flows, lifts, strict=True)
    )
    energy = year_of(flows, job.running)
    return Offer(
        pump=pump,
        hose=laid.hose,
        together=together,
        flat_out=duty_of(pump, together, laid, float(lifts[largest])),
        flows=flows,
        energy=energy,
        cost=_cost(energy, job.prices),
    )


def _give(pump: Pump, together: int, losses: Losses, named: NamedFlow, lift: Length) -> FlowSupply:
    head, each = total_head(lift, losses.along, losses.fittings), named.flow / together
    speed = speed_for(pump, each, head)
    if speed > 1:
        return FlowSupply(name=named.name, wanted=named.flow, lift=lift, duty=None, throttled=None)
    slowed = max(speed, pump.slowest)
    watts = together * power_at_speed(watts_drawn(pump, each / slowed), slowed)
    return FlowSupply(
        name=named.name,
        wanted=named.flow,
        lift=lift,
        duty=Duty(flow=named.flow, head=head, lift=lift, losses=losses, speed=slowed, watts=watts),
        throttled=together * watts_drawn(pump, each),
    )


def _with_factor(hose: Hose, end: str) -> Hose:
    """The same hose at the low or high end of what its kind of wall is known to lose."""
    row = CORRUGATED_FRICTION if hose.wall == "corrugated" else LOSS_FACTORS[hose.wall]
    return replace(hose, loss_factor=hose.loss_factor * getattr(row, end) / row.amount)


def _cost(energy: Energy | None, prices: Prices) -> Money | None:
    return None if energy is None or prices.energy is None else energy_cost(energy, prices.energy)
