"""The estimate: every item at its price, groups, contingency on what is at risk, tax, and how sure the sum is."""

from math import fsum
from typing import get_args

from beckwright.base.errors import Problem
from beckwright.base.items import Item
from beckwright.base.quantities import Ratio
from beckwright.equations.money import contingency_sum, line_cost
from beckwright.job.model import Group, Job, MoneyTerms, PriceRow, Three
from beckwright.stages.money.chance import spread_of
from beckwright.stages.money.groups import group_of
from beckwright.stages.money.labour import labour_items
from beckwright.stages.money.rates import covers, holds_tax, net_three, row_for
from beckwright.stages.money.units import bought, misfit, sold_per_unit
from beckwright.stages.money.values import Estimate, GroupSum, Line
from beckwright.stages.programme import Programme
from beckwright.stages.supply import hose_key, pump_key
from beckwright.tables.money import CONTINGENCY


def price(job: Job, items: tuple[Item, ...], programme: Programme | None = None) -> Estimate:
    """Price every item and every day of the programme.

    An item without a price is listed and not guessed; a price whose unit does not fit is a problem told beside it.
    """
    asked = (*items, *labour_items(job.force, programme))
    lines = tuple(_line(job, item) for item in asked)
    groups, terms = _groups(lines, job.money), job.money
    works = _sum([group.cost for group in groups])
    at_risk = fsum(group.cost[1] for group in groups if group.risky)
    share, share_from = _share(terms)
    contingency = contingency_sum(share, at_risk)
    tax_sum = (terms.tax or 0.0) * (works[1] + contingency)
    return Estimate(
        currency=job.prices.currency,
        day=job.title.date,
        lines=lines,
        groups=groups,
        works=works,
        at_risk=at_risk,
        share=share,
        share_from=share_from,
        contingency=contingency,
        tax=terms.tax,
        tax_name=terms.tax_name,
        tax_sum=tax_sum,
        total=works[1] + contingency + tax_sum,
        chance=spread_of(lines, terms),
        missing=tuple(line.item for line in lines if line.price is None),
        misfits=_misfits(lines),
        unused=_unused(job, asked),
    )


def _line(job: Job, item: Item) -> Line:
    row = row_for(item.key, job)
    number = each = price = None
    if row is not None:
        each, price = sold_per_unit(item.unit, row.sold), net_three(row, job.money)
        if each is not None:
            low, likely, high = (bought(end, each, row.sold, row.waste) for end in (item.low, item.amount, item.high))
            number = (low, likely, high)
    return Line(
        item=item,
        group=group_of(item),
        row=row,
        number=number,
        price=price,
        taxed=row is not None and holds_tax(row, job.money),
        cost=None if number is None or price is None else _cost(number, price),
    )


def _cost(number: Three, price: Three) -> Three:
    low, likely, high = (line_cost(n, p) for n, p in zip(number, price, strict=True))
    return low, likely, high


def _sum(costs: list[Three]) -> Three:
    return fsum(cost[0] for cost in costs), fsum(cost[1] for cost in costs), fsum(cost[2] for cost in costs)


def _groups(lines: tuple[Line, ...], terms: MoneyTerms) -> tuple[GroupSum, ...]:
    """Groups that hold anything, in the order of the work."""
    found = []
    for group in get_args(Group):
        held = [line for line in lines if line.group == group]
        if held:
            found.append(
                GroupSum(
                    group=group,
                    cost=_sum([line.cost for line in held if line.cost is not None]),
                    risky=group in terms.risky,
                    missing=sum(line.cost is None for line in held),
                )
            )
    return tuple(found)


def _share(terms: MoneyTerms) -> tuple[Ratio, str]:
    """The person's own share; else what the trade takes for this ground, named as such."""
    if terms.contingency is not None:
        return terms.contingency, "your own"
    row = CONTINGENCY[terms.ground]
    return row.amount, f"{row.grade.value}: {row.place}"


def _misfits(lines: tuple[Line, ...]) -> tuple[Problem, ...]:
    return tuple(
        misfit(line.item, line.row.sold, line.row.place)
        for line in lines
        if line.row is not None and line.number is None
    )


def _unused(job: Job, asked: tuple[Item, ...]) -> tuple[PriceRow, ...]:
    """Rows, but those that cost nothing, for neither an item nor a pump or hose that could be chosen instead."""
    keys = [item.key for item in asked]
    keys += [*map(pump_key, job.pumps.offered), *map(hose_key, job.route.offered)]
    dear = [row for row in job.price_list if row.price != (0.0, 0.0, 0.0)]
    return tuple(row for row in dear if not any(covers(row, key) for key in keys))
