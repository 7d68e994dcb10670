"""Cures of pump and hose: another pair of the tables, a flow it can give, fewer hours, a check valve."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import millimetres
from beckwright.cures.bench import Bench
from beckwright.cures.finding import flow_set, in_mm, named_in, order, put, whole
from beckwright.cures.values import Order
from beckwright.film.pump import stays_full
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.stages.supply import Offer
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import HOSE_VELOCITY

_HUNDRED = 100 * LITRE_PER_HOUR
_OVER = 0.01
"""The hose's end is raised this far over the running water, m."""


def another_pair(bench: Bench, _: Finding) -> Iterator[Order]:
    """The pair that takes least energy, then those that keep the hose or the pump chosen."""
    chosen = bench.base.design.supply.chosen
    able = [offer for offer in _offers(bench) if all(given.duty is not None for given in offer.flows)]
    kept = [
        [offer for offer in able if offer.hose.name == chosen.hose.name],
        [offer for offer in able if offer.pump.name == chosen.pump.name],
    ]
    best = [offers[0] for offers in (able, *kept) if offers]
    yield from (_pair(bench, offer) for offer in {(each.pump.name, each.hose.name): each for each in best}.values())


def too_small(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Another pair; or run the one flow it cannot give at what it gives."""
    yield from another_pair(bench, finding)
    each = bench.base.design
    short = [given for given in each.supply.chosen.flows if given.duty is None]
    gives = each.supply.flat_out[0]
    if len(short) == 1 and gives is not None and gives.flow > _HUNDRED:
        yield flow_set(each, short[0].name, np.floor(gives.flow / _HUNDRED) * _HUNDRED)


def narrow(bench: Bench, finding: Finding) -> Iterator[Order]:
    """The narrowest wider hose that keeps the habit, with the same pump; or less flow."""
    each = bench.base.design
    chosen, name = each.supply.chosen, named_in(finding, each.water.names)
    if name is None:
        return
    for offer in sorted(_offers(bench), key=lambda offer: offer.hose.bore):
        duty = next(given.duty for given in offer.flows if given.name == name)
        same = offer.pump.name == chosen.pump.name and offer.hose.bore > chosen.hose.bore
        if same and duty is not None and duty.losses.velocity <= HOSE_VELOCITY.amount:
            yield _pair(bench, offer)
            break
    given = next(given for given in chosen.flows if given.name == name)
    if given.duty is not None:
        flow = given.wanted * HOSE_VELOCITY.amount / given.duty.losses.velocity
        yield flow_set(each, name, np.floor(flow / _HUNDRED) * _HUNDRED)


def slower(bench: Bench, _: Finding) -> Iterator[Order]:
    """A pump on the same hose that can run as slowly as every flow wants."""
    hose = bench.base.design.supply.chosen.hose.name
    for offer in _offers(bench):
        duties = [given.duty for given in offer.flows]
        if offer.hose.name == hose and all(duty and duty.speed > offer.pump.slowest for duty in duties):
            yield _pair(bench, offer)
            return


def cheaper(bench: Bench, _: Finding) -> Iterator[Order]:
    """A pair within the limit of what it may cost a year; or fewer hours."""
    each = bench.base.design
    limit, cost = each.job.prices.running_limit, each.supply.chosen.cost
    if limit is None or cost is None:
        return
    within = [offer for offer in _offers(bench) if offer.cost is not None and offer.cost <= limit]
    yield from (_pair(bench, offer) for offer in within[:1])
    rows = bench.base.given.get("running", [])
    hours = [float(np.floor(row["hours_per_day"] * limit / cost * 2) / 2) for row in rows]
    told = ", ".join(f"{row['flow']} {part:g} h a day" for row, part in zip(rows, hours, strict=True))
    edits = [put(f"running.{place}.hours_per_day", whole(part)) for place, part in enumerate(hours, 1)]
    yield order(f"Run fewer hours: {told}.", *edits)


def thriftier(bench: Bench, _: Finding) -> Iterator[Order]:
    """The pair that takes least energy over the year."""
    yield from (_pair(bench, offer) for offer in _offers(bench)[:1])


def cheapest_for_years(bench: Bench, _: Finding) -> Iterator[Order]:
    """The pair that costs least, bought, run and replaced."""
    lives = bench.base.works.lives
    if lives:
        yield _pair(bench, lives[0].offer)


def check_valve(bench: Bench, _: Finding) -> Iterator[Order]:
    """Let the hose stay full."""
    if not stays_full(bench.base.design):
        yield order("Fit a check valve, so that the hose stays full.", put("hose.fittings.check valve", 1))


def siphon(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Raise the hose's end over the running water; or fit a check valve."""
    source, box = bench.base.design.job.source, bench.base.design.water.lips[0]
    water = box.crest + float(box.head[HIGH].max(initial=0.0))
    above = in_mm(water - source.lip_level + _OVER, 5)
    raised = millimetres(source.lip_level + above / 1000 - source.hose_outlet)
    yield order(
        f"Raise the hose's end {raised}, over the running water.", put("source.hose_outlet_above_lip_mm", above)
    )
    yield from check_valve(bench, finding)


def _offers(bench: Bench) -> list[Offer]:
    """Pairs on offer other than the chosen one, the least energy first."""
    supply = bench.base.design.supply
    chosen = (supply.chosen.pump.name, supply.chosen.hose.name)
    others = [offer for offer in supply.offers if (offer.pump.name, offer.hose.name) != chosen]
    return sorted(others, key=lambda offer: float("inf") if offer.energy is None else offer.energy)


def _pair(bench: Bench, offer: Offer) -> Order:
    chosen = bench.base.design.supply.chosen
    count = f"{offer.together} x " if offer.together > 1 else ""
    edits = [
        *([put("pump.chosen", offer.pump.name)] if offer.pump.name != chosen.pump.name else []),
        *([put("hose.chosen", offer.hose.name)] if offer.hose.name != chosen.hose.name else []),
    ]
    return order(f"Take {count}{offer.pump.name} on {offer.hose.name} hose.", *edits)
