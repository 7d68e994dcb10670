"""The kitchen-table sheet: what a year costs against the hose's bore, and when a bigger hose has paid for itself."""

from collections.abc import Iterator
from math import ceil, floor, log10

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Money
from beckwright.base.values import value
from beckwright.base.words import grouped, number_in, opening, unit_word
from beckwright.compose import Design
from beckwright.job.units import HOUR, KILOWATT_HOUR
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    RED,
    WHITE,
    Circle,
    Mark,
    Millimetres,
    Pen,
    Polyline,
    Sheet,
    Text,
    Weight,
    rectangle,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.money.words import between, whole
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
)
from beckwright.papers.sheets.shared.spread import spread
from beckwright.stages.money import CostCurve, HoseYear, Payback, RunningCost
from beckwright.stages.supply import INCH

CHART = (LEFT + 24.0, LOW + 88.0, 212.0, TOP - 34.0 - LOW - 88.0)
"""Left, low, width, height, mm."""
WORDS_LEFT = RIGHT - TITLE_WIDE + 26.0
WORDS_WIDE = RIGHT - 6.0 - WORDS_LEFT
BAND = "#DDDDDD"
LIMIT_PEN = Pen(width=0.5, dash=(4.5, 1.5), colour=RED)
HOSE_PEN = Pen(width=0.25, dash=(0.6, 0.9))
PENS = (pens.RUNNING_EVERYDAY, pens.MEDIUM, pens.RUNNING_FULL, pens.HEAVY)
"""The larger the flow, the heavier the line."""
REDUCED = (1.0, 2.0, 2.5, 5.0, 10.0)
"""Bores are drawn as one to so much, all alike."""
WIDEST = 17.0
"""No bore's circle is wider than twice this, mm."""
STEEP = 2.6
"""The chart ends at so many times what the dearest flow costs in the widest hose: beyond it curves only rise."""


def running_count(running: RunningCost | None) -> int:
    """One sheet; none where the price of energy or the hours are not known."""
    return 0 if running is None else 1


def running_sheet(design: Design, running: RunningCost, number: int, of: int) -> Sheet:
    """One graphic, a few sentences, one bar for each bigger hose."""
    job = design.job
    chart = _chart_of(design, running)
    title = SheetTitle(title="Which hose", reader="for the kitchen table", scale="no drawing", number=number, of=of)
    return Sheet(
        name="running-cost",
        title=f"{job.title.name}: running cost",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            heading((LEFT + 6.0, TOP - 12.0), f"Which hose for {job.title.name}?", 7.0),
            fitted((LEFT + 6.0, TOP - 20.0), _how_run(design, running), 250.0, 2.5),
            *_axes(design, chart),
            *(mark for place, curve in enumerate(running.curves) for mark in _curve(chart, curve, place)),
            *_ends(chart, running),
            *_limit(design, chart),
            *_dots(chart, running),
            *_hoses(design, running, chart),
            *_words(design, running),
        ),
        description=f"Cost of a year against the hose's bore for {len(running.curves)} flows, "
        f"{len(running.hoses)} hoses on offer.",
    )


@value
class _Chart:
    """Where bores and money stand on the paper."""

    narrow: Length
    wide: Length
    most: Money
    step: Money

    def right(self, bore: Length) -> Millimetres:
        return CHART[0] + (bore - self.narrow) / (self.wide - self.narrow) * CHART[2]

    def up(self, money: Money) -> Millimetres:
        return CHART[1] + money / self.most * CHART[3]


def _chart_of(design: Design, running: RunningCost) -> _Chart:
    bores = np.concatenate([curve.bores for curve in running.curves] + [np.array([h.hose.bore for h in running.hoses])])
    tops = [float(curve.middle[-1]) for curve in running.curves if len(curve.middle)]
    every = [float(curve.high.max()) for curve in running.curves if len(curve.high)]
    limit = design.job.prices.running_limit or 0.0
    wanted = max(min(max(every, default=1.0), STEEP * max(tops, default=1.0)), 1.12 * limit)
    step = _round_step(wanted / 5)
    return _Chart(narrow=float(bores.min()), wide=float(bores.max()), most=step * ceil(wanted / step), step=step)


def _round_step(rough: float) -> float:
    """The next of 1, 2, 5, 10 … up from a rough step."""
    power = 10.0 ** floor(log10(rough))
    return next(power * part for part in (1, 2, 5, 10) if power * part >= rough * (1 - 1e-9))


def _how_run(design: Design, running: RunningCost) -> str:
    prices = design.job.prices
    price = (prices.energy or 0.0) * KILOWATT_HOUR
    source = f" ({prices.energy_source})" if prices.energy_source else ""
    hours = grouped(running.time / HOUR)
    return f"Energy for a year at {prices.currency} {price:g} a kWh{source}, {hours} hours of running"


def _axes(design: Design, chart: _Chart) -> Iterator[Mark]:
    for money in np.arange(0.0, chart.most + chart.step / 2, chart.step).tolist():
        up = chart.up(money)
        yield ruled((CHART[0], up), (CHART[0] + CHART[2], up), pens.CONTOUR, "chart")
        yield Text(at=(CHART[0] - 2.0, up), words=whole(money), height=2.5, across="right", up="middle")
    box = rectangle((CHART[0], CHART[1]), (CHART[2], CHART[3]))
    yield Polyline(points=box, layer="chart", pen=pens.MEDIUM, closed=True)
    said = f"{design.job.prices.currency} a year, if one flow ran for all the hours; the line is the middle of its band"
    yield Text(at=(CHART[0], CHART[1] + CHART[3] + 2.5), words=said, height=2.0)


def _curve(chart: _Chart, curve: CostCurve, place: int) -> Iterator[Mark]:
    """Its band where the whole of it can be given, then the line over it; both cut where the chart ends."""
    wide = curve.bores[len(curve.bores) - len(curve.high) :]
    if len(wide) > 1:
        low = curve.low[len(curve.low) - len(wide) :]
        upper, lower = _laid(chart, wide, curve.high), _laid(chart, wide, low)
        band = np.concatenate((np.column_stack(lower), np.column_stack(upper)[::-1]))
        yield Polyline(points=band, layer="chart", closed=True, fill=BAND)
    if len(curve.bores) > 1:
        seen = curve.middle <= chart.most
        if seen.sum() > 1:
            line = np.column_stack(_laid(chart, curve.bores[seen], curve.middle[seen]))
            yield Polyline(points=line, layer="chart", pen=PENS[min(place, len(PENS) - 1)])


def _laid(chart: _Chart, bores: FloatArray, money: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Places on the paper; what lies over the chart stands at its upper rim."""
    right = np.array([chart.right(bore) for bore in bores.tolist()])
    return right, np.array([chart.up(min(cost, chart.most)) for cost in money.tolist()])


def _ends(chart: _Chart, running: RunningCost) -> Iterator[Mark]:
    """Each flow's name where its line leaves the chart at the right."""
    named = [curve for curve in running.curves if len(curve.middle)]
    if not named:
        return
    wanted = [chart.up(min(float(curve.middle[-1]), chart.most)) for curve in named]
    for curve, up in zip(named, spread(wanted, 4.5), strict=True):
        yield fitted((CHART[0] + CHART[2] + 2.0, float(up) - 1.2), curve.flow, 22.0, 2.5, weight=600)


def _dots(chart: _Chart, running: RunningCost) -> Iterator[Mark]:
    """Where the hoses on offer lie on the lines; what each flow costs in the chosen one."""
    for each in running.hoses:
        found = [_at(curve, each.hose.bore) for curve in running.curves]
        costs = [cost for cost in found if cost is not None and cost <= chart.most]
        for cost in costs:
            at = (chart.right(each.hose.bore), chart.up(cost))
            yield Circle(at=at, radius=1.1, layer="chart", pen=pens.MEDIUM, fill=WHITE)
        if each.chosen:
            for cost, up in zip(costs, spread([chart.up(cost) for cost in costs], 4.5), strict=True):
                at = (chart.right(each.hose.bore) + 2.0, float(up) + 1.2)
                yield Text(at=at, words=whole(cost), height=2.5, weight=600, halo=0.4)


def _at(curve: CostCurve, bore: Length) -> Money | None:
    """The middle of a curve at a bore; None where the pump cannot give the flow through it."""
    if not len(curve.bores) or bore < curve.bores[0]:
        return None
    return float(np.interp(bore, curve.bores, curve.middle))


def _limit(design: Design, chart: _Chart) -> Iterator[Mark]:
    limit = design.job.prices.running_limit
    if limit is None:
        return
    up = chart.up(limit)
    yield ruled((CHART[0], up), (CHART[0] + CHART[2], up), LIMIT_PEN, "chart")
    said = f"the limit given: {whole(limit)} a year"
    yield Text(
        at=(CHART[0] + 2.0, up + 1.6),
        words=said,
        height=2.2,
        weight=600,
        colour=RED,
        halo=0.5,
    )


def _hoses(design: Design, running: RunningCost, chart: _Chart) -> Iterator[Mark]:
    """Under the curve the bores in true proportion, each with its name and what it costs."""
    rights = [chart.right(each.hose.bore) for each in running.hoses]
    reduced = _reduced(running)
    middle = CHART[1] - 8.0 - WIDEST
    for each, right in zip(running.hoses, rights, strict=True):
        radius = each.hose.bore * 500.0 / reduced
        yield ruled((right, CHART[1]), (right, CHART[1] + CHART[3]), pens.MEDIUM if each.chosen else HOSE_PEN, "chart")
        pen = pens.LINER if each.chosen else pens.MEDIUM
        yield Circle(at=(right, middle), radius=radius, layer="hose", pen=pen, fill=BAND if each.chosen else None)
        yield Text(
            at=(right, middle),
            words=f"{number_in(each.hose.bore * 1000, 'mm'):.0f}",
            height=min(3.5, radius / 2),
            weight=600,
            narrow=True,
            across="middle",
            up="middle",
        )
    room = 36.0
    for each, right in zip(running.hoses, spread(rights, room), strict=True):
        for place, words in enumerate(_under(design, each)):
            weight: Weight = 600 if each.chosen or place == 0 else 400
            at = (float(right), CHART[1] - 10.0 - 2 * WIDEST - 4.6 - 4.2 * place)
            yield fitted(at, words, room - 1.5, 2.2, weight=weight, across="middle")
    said = f"Bores in {unit_word('mm')}, 1:{reduced:g}, in true proportion to each other; walls are not drawn."
    yield Text(at=(LEFT + 6.0, LOW + 5.0), words=said, height=2.0)


def _under(design: Design, each: HoseYear) -> tuple[str, ...]:
    currency = design.job.prices.currency
    year = "cannot give all that runs" if each.year is None else f"{currency} {_year(each)} a year"
    bought = "no price given" if each.bought is None else f"{currency} {whole(each.bought)} to buy"
    return each.hose.name, f"{each.hose.bore / INCH:.2f} in", year, bought


def _year(each: HoseYear) -> str:
    least, middle = each.least or 0.0, each.year or 0.0
    return f"{whole(least)} to {whole(middle)} or more" if each.most is None else between(least, each.most)


def _reduced(running: RunningCost) -> float:
    """The largest of a few reductions at which no circle meets its neighbour and all keep within their room."""
    largest = max((each.hose.bore for each in running.hoses), default=0.0)
    return next((part for part in REDUCED if largest * 500.0 / part <= WIDEST), REDUCED[-1])


def _words(design: Design, running: RunningCost) -> Iterator[Mark]:
    down = TOP - 26.0
    chosen = next((each for each in running.hoses if each.chosen), None)
    if chosen is not None:
        yield heading((WORDS_LEFT, down), f"{opening(chosen.hose.name)}.", 5.0)
        down -= 9.0
    for line in _sentences(design, running, chosen):
        rows = paragraph((WORDS_LEFT, down), line, WORDS_WIDE, 3.0)
        yield from rows
        down = rows[-1].at[1] - 8.0
    yield from _bars(running.paybacks, design.job.money.years, down)


def _sentences(design: Design, running: RunningCost, chosen: HoseYear | None) -> Iterator[str]:
    currency, limit = design.job.prices.currency, design.job.prices.running_limit
    if chosen is not None and chosen.year is not None:
        held = "" if limit is None else f"; the limit given is {currency} {whole(limit)}"
        yield f"As you told us you will run it: {currency} {_year(chosen)} a year{held}."
    elif chosen is not None:
        yield "This pump cannot give all that is to run through it."
    for each in running.paybacks:
        saves = between(each.saved[0], each.saved[2])
        when = "never pays for itself" if each.years is None else f"has paid for itself in {_years(each.years)} years"
        yield (
            f"{opening(each.bigger)} in place of {each.smaller} costs {currency} {whole(each.extra)} more to buy, "
            f"saves {saves} a year, and {when}."
        )
    if any(each.most is None and each.year is not None for each in running.hoses):
        yield "Where the band is missing the pump cannot give the flow if the hose's wall loses as much as it may."
    pump = design.job.pumps
    yield f"Pump {pump.chosen.name}, slowed to each flow. The band is the hose's wall and the level in the reservoir."


def _years(years: tuple[float, float]) -> str:
    soon, late = (f"{year:.1f}" for year in years)
    return soon if soon == late else f"{soon} to {late}"


def _bars(paybacks: tuple[Payback, ...], years: int, top: Millimetres) -> Iterator[Mark]:
    """Years until each bigger hose has paid for itself, on one ruler."""
    shown = [each for each in paybacks if each.years is not None]
    foot = LOW + TITLE_HIGH + 14.0
    if not shown or top - foot < 12.0 + 9.0 * len(shown):
        return
    last = max(years, ceil(max(each.years[1] for each in shown if each.years)))
    last = min(last, 4 * years)
    wide = WORDS_WIDE - 4.0

    def right(year: float) -> Millimetres:
        return WORDS_LEFT + min(year, last) / last * wide

    yield heading((WORDS_LEFT, top), "Years until it has paid for itself")
    down = top - 8.0
    for each in shown:
        soon, late = each.years or (0.0, 0.0)
        box = rectangle((right(soon), down - 7.5), (max(right(late) - right(soon), 0.8), 3.6))
        yield fitted((WORDS_LEFT, down - 2.4), f"{each.bigger} in place of {each.smaller}", wide, 2.2, weight=600)
        yield Polyline(points=box, layer="chart", closed=True, pen=pens.MEDIUM, fill=BAND)
        down -= 11.0
    yield ruled((WORDS_LEFT, down), (WORDS_LEFT + wide, down), pens.MEDIUM, "chart")
    every = max(1, round(last / 10))
    for year in range(0, last + 1, every):
        yield ruled((right(year), down), (right(year), down + 1.6), pens.THIN, "chart")
        yield Text(at=(right(year), down - 3.6), words=f"{year}", height=1.8, across="middle")
