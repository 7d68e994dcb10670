"""Every pump with every hose over the years: bought, run, replaced; the cheapest first, and why."""

from dataclasses import replace
from math import fsum

from beckwright.base.quantities import Money, Ratio
from beckwright.base.words import grouped
from beckwright.equations.money import present_worth, real_rate
from beckwright.job.model import Job, MoneyTerms, Pump
from beckwright.stages.money.rates import gross, row_for
from beckwright.stages.money.running import hose_price
from beckwright.stages.money.values import LifeCost
from beckwright.stages.supply import Offer, Supply, pump_key


def whole_life(job: Job, supply: Supply) -> tuple[LifeCost, ...]:
    """Every pair on offer: those that give every flow first, the cheapest over the years on top.

    Payments fall at the ends of years. Energy and pumps rise alike, so one real rate serves both.
    """
    lives = sorted((_life(job, offer) for offer in supply.offers), key=_rank)
    best = lives[0].worth if lives and _able(lives[0].offer) else None
    cheapest = lives[0] if best is not None else None
    return tuple(_with_why(job, life, cheapest) for life in lives)


def worth_of(first: Money, year: Money, again: Money, terms: MoneyTerms) -> Money:
    """Worth today of a first payment, one at the end of every year, and one whenever a pump is replaced.

    again  paid every ``terms.pump_life`` years, but not when the years are over
    """
    rate: Ratio = real_rate(terms.interest, terms.rise)
    running = [present_worth(year, rate, n) for n in range(1, terms.years + 1)]
    replaced = [present_worth(again, rate, n) for n in range(terms.pump_life, terms.years, terms.pump_life)]
    return first + fsum((*running, *replaced))


def _life(job: Job, offer: Offer) -> LifeCost:
    pumps, hose = _pump_price(job, offer.pump), hose_price(job, offer.hose)
    bought = None if pumps is None else pumps * offer.together
    first = None if bought is None or hose is None else bought + hose
    worth = None
    if first is not None and bought is not None and offer.cost is not None:
        worth = worth_of(first, offer.cost, bought, job.money)
    return LifeCost(
        offer=offer,
        first=first,
        energy=offer.energy,
        year=offer.cost,
        pumps=1 + len(range(job.money.pump_life, job.money.years, job.money.pump_life)),
        worth=worth,
        why="",
    )


def _pump_price(job: Job, pump: Pump) -> Money | None:
    row = row_for(pump_key(pump), job)
    if row is None or row.price is None or row.sold.measure != "each":
        return None
    return gross(row.price[1], row, job.money) / row.sold.holds


def _able(offer: Offer) -> bool:
    return all(given.duty is not None for given in offer.flows)


def _rank(life: LifeCost) -> tuple[bool, bool, Money, bool, float]:
    return (
        not _able(life.offer),
        life.worth is None,
        life.worth or 0.0,
        life.energy is None,
        life.energy or 0.0,
    )


def _with_why(job: Job, life: LifeCost, cheapest: LifeCost | None) -> LifeCost:
    return replace(life, why="; ".join(_reasons(job, life, cheapest)))


def _reasons(job: Job, life: LifeCost, cheapest: LifeCost | None) -> list[str]:
    short = [given.name for given in life.offer.flows if given.duty is None]
    said = [f"cannot give {', '.join(short)}"] if short else []
    said += [f"no price for the {what}" for what, price in _prices(job, life) if price is None]
    said += ["no price for energy"] if job.prices.energy is None else []
    if life is cheapest:
        return [f"cheapest over {job.money.years} years"]
    if not short and cheapest is not None:
        said += _against(life, cheapest)
    return said


def _prices(job: Job, life: LifeCost) -> list[tuple[str, Money | None]]:
    return [("pump", _pump_price(job, life.offer.pump)), ("hose", hose_price(job, life.offer.hose))]


def _against(life: LifeCost, cheapest: LifeCost) -> list[str]:
    """What it costs more or less than the cheapest, to buy and to run."""
    pairs = (("to buy", life.first, cheapest.first), ("a year", life.year, cheapest.year))
    return [
        f"{grouped(abs(own - best))} {'more' if own > best else 'less'} {what}"
        for what, own, best in pairs
        if own is not None and best is not None and round(own) != round(best)
    ]
