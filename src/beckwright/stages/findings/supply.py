"""A pump that cannot, a hose that eats the power, a bill over the limit."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import band, flow, grouped, kilowatt_hours, metres, opening, watts, with_unit
from beckwright.job.model import Job
from beckwright.stages.supply import FlowSupply, Offer, Supply
from beckwright.tables.practice import HOSE_VELOCITY


def supply_findings(job: Job, supply: Supply) -> Iterator[Finding]:
    """Findings on the chosen pump and hose; the cure is another pair on offer."""
    chosen = supply.chosen
    short = [given for given in chosen.flows if given.duty is None]
    if short:
        yield _too_small(chosen, short, supply)
    for given in chosen.flows:
        if given.duty is not None:
            yield from _rubbing(chosen, given)
    yield from _slowest(chosen)
    yield from _dear(job, chosen, supply)


def _pair(offer: Offer) -> str:
    count = f"{offer.together} x " if offer.together > 1 else ""
    return f"{count}{offer.pump.name} on {offer.hose.name} hose"


def _too_small(chosen: Offer, short: list[FlowSupply], supply: Supply) -> Finding:
    least, middle, most = supply.flat_out
    largest = max(short, key=lambda given: given.wanted)
    if middle is None:
        says = f"The pump cannot lift the water {metres(largest.lift)} at all."
    else:
        ends = (least.flow if least else 0.0, most.flow if most else middle.flow)
        says = f"Flat out it gives {band(*ends, 100, 'L/h', scale=3.6e6)}; {largest.name} wants {flow(largest.wanted)}."
    able = [offer for offer in supply.offers if all(given.duty is not None for given in offer.flows)]
    best = min(able, key=lambda offer: offer.energy or 0.0, default=None)
    cure = f"Take {_pair(best)}." if best else "Ask for a larger pump or a wider hose: no pair on offer gives it."
    return Finding(
        severity=Severity.FAIL,
        code="pump-too-small",
        place=_pair(chosen),
        says=says,
        cure=cure,
        source="pump curve and hose loss",
        figure="supply.flow",
    )


def _rubbing(chosen: Offer, given: FlowSupply) -> Iterator[Finding]:
    duty = given.duty
    if duty is None or duty.losses.velocity <= HOSE_VELOCITY.amount:
        return
    yield Finding(
        severity=Severity.CAUTION,
        code="hose-narrow",
        place=f"{opening(chosen.hose.name)} hose at {given.name}",
        says=f"{metres(duty.losses.along + duty.losses.fittings)} of lift lost to rubbing at "
        f"{with_unit(duty.losses.velocity, 'm/s'):.1f}; {with_unit(HOSE_VELOCITY.amount, 'm/s'):g} is the habit.",
        cure="Compare the wider hoses on the order list.",
        source=f"common practice: {HOSE_VELOCITY.place}",
        figure=dotted("supply", given.name, "velocity"),
    )


def _slowest(chosen: Offer) -> Iterator[Finding]:
    held = [given for given in chosen.flows if given.duty is not None and given.duty.speed == chosen.pump.slowest]
    if held and chosen.pump.slowest > 0:
        names = ", ".join(given.name for given in held)
        yield Finding(
            severity=Severity.NOTE,
            code="valve-needed",
            place=f"{_pair(chosen)} at {names}",
            says=f"The pump cannot run slower than {chosen.pump.slowest:.0%} of full speed.",
            cure="Fit a valve to hold the rest back; the watts stay.",
            source="pump table",
            figure=dotted("supply", held[0].name, "speed"),
        )


def _dear(job: Job, chosen: Offer, supply: Supply) -> Iterator[Finding]:
    limit, cost = job.prices.running_limit, chosen.cost
    if limit is not None and cost is not None and cost > limit:
        yield Finding(
            severity=Severity.CAUTION,
            code="running-cost",
            place=_pair(chosen),
            says=f"{job.prices.currency} {grouped(cost)} a year to run; {grouped(limit)} is the limit given.",
            cure="Run fewer hours, less flow, or a wider hose.",
            source="job.toml prices",
            figure="supply.year.cost",
        )
    if chosen.energy is None:
        return
    thriftier = [offer for offer in supply.offers if offer.energy is not None and offer.energy < 0.9 * chosen.energy]
    if thriftier:
        best = min(thriftier, key=lambda offer: offer.energy or 0.0)
        saved = chosen.energy - (best.energy or 0.0)
        money = (
            f", {job.prices.currency} {grouped((cost or 0.0) - (best.cost or 0.0))}" if best.cost is not None else ""
        )
        yield Finding(
            severity=Severity.NOTE,
            code="thriftier-pair",
            place=_pair(chosen),
            says=f"{_pair(best)} gives the same flows for {kilowatt_hours(saved)}{money} less a year.",
            cure=f"Weigh it against its price; it draws {watts(_most(best))} at the most.",
            source="every pair on offer, speed-controlled",
            figure="supply.year.energy",
        )


def _most(offer: Offer) -> float:
    return max(given.duty.watts for given in offer.flows if given.duty is not None)
