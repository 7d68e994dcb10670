"""How sure a sum is, as a rising line: the share of the tries that stay under it."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Money
from beckwright.base.values import value
from beckwright.base.words import grouped, share
from beckwright.papers import pens
from beckwright.papers.drawing import RED, Mark, Millimetres, Pen, Point, Polyline, Text, rectangle
from beckwright.papers.sheets.money.words import whole
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import LOW, RIGHT, TITLE_HIGH, heading
from beckwright.stages.money import Chance

DECILE_PEN = Pen(width=0.35, dash=(3.0, 1.0))
BUDGET_PEN = Pen(width=0.5, dash=(4.5, 1.5), colour=RED)
FAR = 1.6
"""A budget beyond so many times the dearest try is told in words and not drawn."""
FOOT = LOW + TITLE_HIGH + 34.0


@value
class _Chart:
    """Where sums and shares stand on the paper."""

    left: Millimetres
    low: Millimetres
    wide: Millimetres
    high: Millimetres
    least: Money
    most: Money

    def right(self, money: Money) -> Millimetres:
        return self.left + (money - self.least) / (self.most - self.least) * self.wide

    def up(self, part: float) -> Millimetres:
        return self.low + part * self.high


def chance_chart(chance: Chance, budget: Money | None, at: Point) -> Iterator[Mark]:
    """The line, where half, eight and nine in ten of the tries stay under, and the budget.

    at  upper left corner; the chart stands between it and the title block
    """
    left, top = at
    if chance.p90 <= 0:
        return
    yield heading((left, top), "How sure that is")
    dearest = float(chance.totals.max())
    drawn = budget is not None and budget <= FAR * dearest
    ends = [float(chance.totals.min()), dearest, *([budget] if budget is not None and drawn else [])]
    chart = _Chart(
        left=left,
        low=FOOT,
        wide=RIGHT - left - 8.0,
        high=top - 6.0 - FOOT,
        least=0.97 * min(ends),
        most=1.03 * max(ends),
    )
    yield Polyline(
        points=rectangle((chart.left, chart.low), (chart.wide, chart.high)), layer="chart", pen=pens.THIN, closed=True
    )
    shares = np.linspace(0.0, 1.0, 101)
    sums = np.quantile(chance.totals, shares)
    line = np.array([(chart.right(money), chart.up(part)) for money, part in zip(sums, shares, strict=True)])
    yield Polyline(points=line, layer="chart", pen=pens.HEAVY)
    if budget is not None and drawn:
        yield ruled((chart.right(budget), chart.low), (chart.right(budget), chart.up(1.0)), BUDGET_PEN, "chart")
    yield from _deciles(chance, chart)
    yield from _words(chance, budget, chart)


def _deciles(chance: Chance, chart: _Chart) -> Iterator[Mark]:
    for part, money in ((0.5, chance.p50), (0.8, chance.p80), (0.9, chance.p90)):
        across, up = chart.right(money), chart.up(part)
        yield ruled((chart.left, up), (across, up), DECILE_PEN, "chart")
        yield ruled((across, up), (across, chart.low), DECILE_PEN, "chart")
        yield Text(at=(chart.left + 1.0, up - 2.6), words=f"{part * 10:.0f} in 10", height=1.8, halo=0.3)


def _words(chance: Chance, budget: Money | None, chart: _Chart) -> Iterator[Mark]:
    """Under the chart: its ends, then each decile, then the budget."""
    down = chart.low - 4.0
    for place, words in enumerate((whole(chart.least), whole(chart.most))):
        yield Text(
            at=(chart.left + place * chart.wide, down), words=words, height=1.8, across="right" if place else "left"
        )
    told = [
        f"half stay under {whole(chance.p50)}",
        f"8 in 10 under {whole(chance.p80)}",
        f"9 in 10 under {whole(chance.p90)}",
    ]
    yield fitted((chart.left, down - 5.0), ", ".join(told), chart.wide, 2.0, weight=600)
    how = f"{grouped(len(chance.totals))} tries, tax in them, contingency not"
    yield fitted((chart.left, down - 9.5), how, chart.wide, 1.8)
    if budget is not None:
        kept = share(float((chance.totals <= budget).mean()))
        said = f"Budget {whole(budget)}, broken line: {kept} of the tries stay under it"
        yield fitted((chart.left, down - 14.5), said, chart.wide, 2.0, weight=600, colour=RED)
