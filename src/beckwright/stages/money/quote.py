"""What changed since the quote: each line in the unit and at the rate it was quoted, sums that add up to the cent."""

import math
from collections.abc import Iterable
from math import fsum

from beckwright.base.errors import Problem
from beckwright.base.quantities import Money
from beckwright.equations.money import line_cost
from beckwright.job.model import MoneyTerms, QuotedRow
from beckwright.stages.money.rates import net
from beckwright.stages.money.units import bought, misfit, sold_per_unit
from beckwright.stages.money.values import Changed, Estimate, Line, Variation, Variations


def compare_with_quote(quote: tuple[QuotedRow, ...], terms: MoneyTerms, estimate: Estimate) -> Variations | None:
    """Hold the estimate against the quote, line by line; None where nothing was quoted.

    A quoted line whose item has no price now is worked at the rate of the quote. A line of the estimate that costs
    nothing, or has no price, and was not quoted either has nothing to compare. Where the units cannot be joined the
    quoted line is gone and the line of now is new.
    """
    if not quote:
        return None
    lines = {line.item.key: line for line in estimate.lines}
    found: list[Variation] = []
    misfits: list[Problem] = []
    compared: set[str] = set()
    for row in quote:
        line = lines.get(row.item)
        each = None if line is None else sold_per_unit(line.item.unit, row.sold)
        if line is not None and each is not None:
            found.append(_both(row, line, each, terms))
            compared.add(row.item)
        else:
            misfits += [misfit(line.item, row.sold, row.place)] if line is not None else []
            found.append(_gone(row, terms))
    found += [_new(line) for line in estimate.lines if line.item.key not in compared and line.cost and line.cost[1] > 0]
    return _added_up(tuple(found), tuple(misfits))


def cents(money: Money) -> Money:
    """Money to its hundredth, a half away from nothing as a spreadsheet does it: what is printed adds up as printed."""
    # A half that came out a hair under is a half; and no sum of nothing is below nothing.
    return math.copysign(math.floor(abs(money) * 100 + 0.5 + 1e-7) / 100, money) + 0.0


def _both(row: QuotedRow, line: Line, each: float, terms: MoneyTerms) -> Variation:
    waste = 0.0 if line.row is None else line.row.waste
    number = bought(line.item.amount, each, row.sold, waste)
    rate = net(row.rate, row, terms)
    then = cents(line_cost(row.amount, rate))
    now = cents(line_cost(number, rate) if line.cost is None else line.cost[1])
    by_amount = cents(line_cost(number - row.amount, rate))
    changed: Changed = "as quoted" if now == then and by_amount == 0 else "changed"
    return Variation(
        key=row.item,
        name=line.item.name,
        changed=changed,
        unit=row.sold.word,
        amount_then=row.amount,
        amount_now=number,
        rate_then=rate,
        rate_now=rate if line.cost is None or number == 0 else line.cost[1] / number,
        then=then,
        now=now,
        by_amount=by_amount,
        by_rate=cents(now - then - by_amount),
    )


def _gone(row: QuotedRow, terms: MoneyTerms) -> Variation:
    rate = net(row.rate, row, terms)
    then = cents(line_cost(row.amount, rate))
    return Variation(
        key=row.item,
        name=row.item,
        changed="gone",
        unit=row.sold.word,
        amount_then=row.amount,
        amount_now=0.0,
        rate_then=rate,
        rate_now=rate,
        then=then,
        now=0.0,
        by_amount=cents(-then),
        by_rate=0.0,
    )


def _new(line: Line) -> Variation:
    number, price, cost = (0.0 if three is None else three[1] for three in (line.number, line.price, line.cost))
    return Variation(
        key=line.item.key,
        name=line.item.name,
        changed="new",
        unit="" if line.row is None else line.row.sold.word,
        amount_then=0.0,
        amount_now=number,
        rate_then=price,
        rate_now=price,
        then=0.0,
        now=cents(cost),
        by_amount=cents(cost),
        by_rate=0.0,
    )


def _added_up(lines: tuple[Variation, ...], misfits: tuple[Problem, ...]) -> Variations:
    def total(parts: Iterable[Money]) -> Money:
        return cents(fsum(parts))

    both = [line for line in lines if line.changed in ("as quoted", "changed")]
    then, now = total(line.then for line in lines), total(line.now for line in lines)
    return Variations(
        lines=lines,
        then=then,
        now=now,
        difference=cents(now - then),
        by_amount=total(line.by_amount for line in both),
        by_rate=total(line.by_rate for line in both),
        added=total(line.now for line in lines if line.changed == "new"),
        gone=total(-line.then for line in lines if line.changed == "gone"),
        misfits=misfits,
    )
