"""How sure a sum is: many tries, each amount and each price drawn between its ends."""

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.equations.programme import beta_first_shape, beta_second_shape
from beckwright.job.model import MoneyTerms, Three
from beckwright.stages.money.units import bought_over, sold_per_unit
from beckwright.stages.money.values import Chance, Line

TRIES = 10_000
"""Tries: the ninth decile of the sum is then known to a hundredth or two of its spread."""


def spread_of(lines: tuple[Line, ...], terms: MoneyTerms) -> Chance:
    """Total of the priced lines in many tries, tax added.

    Amounts are drawn by themselves, and so are prices; lines that share one row of the price list share its price.
    Drawn in the order of the keys, so that the order of the lines changes nothing. One seed gives the same tries.
    """
    generator = np.random.default_rng(terms.seed)
    prices: dict[str, FloatArray] = {}
    totals = np.zeros(TRIES)
    for line in sorted(lines, key=lambda line: line.item.key):
        if line.row is None or line.price is None or line.cost is None:
            continue
        if line.row.item not in prices:
            prices[line.row.item] = _drawn(line.price, generator)
        amounts = _drawn((line.item.low, line.item.amount, line.item.high), generator)
        each = sold_per_unit(line.item.unit, line.row.sold) or 0.0
        totals += bought_over(amounts, each, line.row.sold, line.row.waste) * prices[line.row.item]
    totals *= 1 + (terms.tax or 0.0)
    p50, p80, p90 = (float(np.quantile(totals, share)) for share in (0.5, 0.8, 0.9))
    return Chance(totals=totals, p50=p50, p80=p80, p90=p90, seed=terms.seed)


def _drawn(three: Three, generator: np.random.Generator) -> FloatArray:
    """Beta distribution through three guesses (n,); one number where they are one."""
    low, likely, high = three
    if not high > low:
        return np.full(TRIES, likely)
    # The laws are for shares of a range: they hold for an amount or a price as for a time.
    first, second = beta_first_shape(low, likely, high), beta_second_shape(low, likely, high)
    drawn: FloatArray = low + (high - low) * generator.beta(first, second, size=TRIES)
    return drawn
