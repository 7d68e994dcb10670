"""What is bought to bring the water up: pump, hose, fittings."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.items import Item
from beckwright.base.quantities import Length
from beckwright.base.words import bore, flow, metres, opening, share, watts
from beckwright.job.model import Hose, Job, Pump
from beckwright.stages.supply.offers import Offer, Supply
from beckwright.tables.money import HOSE_SPARE

INCH: Length = 0.0254
_NOT_BOUGHT = ("entrance", "exit")
"""Losses of the water's own way in and out: nothing is bought for them."""


def pump_key(pump: Pump) -> str:
    """Key of a pump's item and price."""
    return dotted("pump", pump.name)


def hose_key(hose: Hose) -> str:
    """Key of a hose's item and price."""
    return f"hose.length.{dotted(hose.name)}"


def supply_items(job: Job, supply: Supply) -> tuple[Item, ...]:
    """Items of the chosen pump and hose."""
    return (_pump(supply.chosen), _hose(job), *_fittings(job))


def _pump(chosen: Offer) -> Item:
    count = chosen.together
    duties = [
        f"{given.name}: {flow(given.wanted)} at {metres(given.duty.head)} of head, {watts(given.duty.watts)}, "
        f"speed {share(given.duty.speed)}"
        for given in chosen.flows
        if given.duty is not None
    ]
    side = "side by side into one hose; " if count > 1 else ""
    return Item(
        key=pump_key(chosen.pump),
        name=f"Pump {chosen.pump.name}",
        amount=count,
        low=count,
        high=count,
        unit="each",
        supplier="pump and hose",
        drawing="order list, every pump with every hose",
        note=f"{side}{'; '.join(duties) or 'gives none of the flows'}",
    )


def _hose(job: Job) -> Item:
    hose, length = job.route.chosen, job.route.length
    return Item(
        key=hose_key(hose),
        name=f"{opening(hose.name)} hose",
        amount=length,
        low=length,
        high=length * (1 + HOSE_SPARE.amount),
        unit="m",
        supplier="pump and hose",
        drawing="plan, line of the hose",
        note=f"true bore {bore(hose.bore)}, {hose.wall} wall, in one piece; tails and unions of the hose's own bore",
    )


def _fittings(job: Job) -> Iterator[Item]:
    for name, count in job.route.fittings:
        if name not in _NOT_BOUGHT and count:
            yield Item(
                key=dotted("fitting", name),
                name=opening(name),
                amount=count,
                low=count,
                high=count,
                unit="each",
                supplier="pump and hose",
                drawing="plan, line of the hose",
                note=f"full bore {bore(job.route.chosen.bore)}",
            )
