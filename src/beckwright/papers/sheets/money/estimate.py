"""The estimate on paper, trade by trade, with how sure its sum is."""

from collections.abc import Iterator, Sequence

import numpy as np

from beckwright.base.quantities import Money
from beckwright.base.values import value
from beckwright.base.words import grouped, in_print, opening, price_of_one, share
from beckwright.compose import Design
from beckwright.job.model import Three
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Across, Mark, Point, Sheet, Weight
from beckwright.papers.sheets.money.chance import chance_chart
from beckwright.papers.sheets.money.order import asked
from beckwright.papers.sheets.money.words import between, one_priced, whole
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import LEFT, LOW, RIGHT, TITLE_HIGH, TOP, SheetTitle, frame, heading, notes
from beckwright.stages.money import Estimate, GroupSum, Line

COLUMNS = 2
GAP = 8.0
WIDE = (RIGHT - LEFT - 12.0 - GAP) / COLUMNS
WIDTHS = (60.0, 44.0, 33.0, 20.0, WIDE - 157.0)
ACROSS: tuple[Across, ...] = ("left", "left", "left", "right", "right")
HEADS = ("line", "how much", "at", "likely", "low to high")
HEIGHT, STEP = 2.2, 4.6
TOP_ROW = TOP - 16.0
SUMS_HIGH = 128.0
"""Room at the foot of the last column for the sums, their chart and the title block."""
NOT_PRICED = "no price given"


@value
class Row:
    """One row of the estimate: cells in the order of ``HEADS``."""

    cells: tuple[str, ...]
    strong: bool


Page = tuple[tuple[Row, ...], ...]
"""Rows of every column of one page."""


def estimate_pages(estimate: Estimate) -> tuple[Page, ...]:
    """Rows column by column, the last one with room for the sums; none where nothing has a price."""
    if not any(line.cost for line in estimate.lines):
        return ()
    rows = [*_rows(estimate)]
    full, beside_title, beside_sums = (
        int((TOP_ROW - STEP - low) / STEP) for low in (LOW + 4.0, LOW + TITLE_HIGH + 4.0, LOW + SUMS_HIGH)
    )
    pages: list[Page] = []
    while len(rows) > full + beside_sums:
        pages.append((tuple(rows[:full]), tuple(rows[full : full + beside_title])))
        rows = rows[full + beside_title :]
    left = max((len(rows) + 1) // 2, len(rows) - beside_sums)
    # No group begins at the foot of a column, its lines at the head of the next.
    left += 0 < left < len(rows) and rows[left - 1].strong
    return (*pages, (tuple(rows[:left]), tuple(rows[left:])))


def estimate_sheets(design: Design, estimate: Estimate, first: int, of: int) -> tuple[Sheet, ...]:
    """The estimate on as many sheets as it needs, numbered from ``first``."""
    pages = estimate_pages(estimate)
    return tuple(
        _estimate_sheet(design, estimate, page, (place + 1, len(pages)), first + place, of)
        for place, page in enumerate(pages)
    )


def _rows(estimate: Estimate) -> Iterator[Row]:
    for group in estimate.groups:
        held = [line for line in estimate.lines if line.group == group.group]
        likely = "–" if group.missing == len(held) else whole(group.cost[1])
        yield Row(cells=(_group_words(group), "", "", likely, _ends(group.cost)), strong=True)
        for line in held:
            yield Row(cells=_cells(line), strong=False)


def _group_words(group: GroupSum) -> str:
    told = [f"{group.missing} without a price"] if group.missing else []
    told += ["carries contingency"] if group.risky else []
    return opening(group.group) + (f" ({', '.join(told)})" if told else "")


def _cells(line: Line) -> tuple[str, ...]:
    name = opening(line.item.name)
    if line.price is None:
        return name, asked(line), NOT_PRICED, "–", ""
    if line.cost is None or line.row is None:
        return name, asked(line), f"priced by the {line.row.sold.word if line.row else ''}: does not fit", "–", ""
    if line.price == (0.0, 0.0, 0.0):
        return name, asked(line), line.row.note, whole(0.0), ""
    one = one_priced(line.row.sold.word)
    low, likely, high = (price_of_one(price, in_print(line.row.sold.word)) for price in line.price)
    ends = "" if low == high else f" ({_price(low)} to {_price(high)})"
    return name, asked(line), f"{_price(likely)}{ends} {one}", whole(line.cost[1]), _ends(line.cost)


def _price(price: Money) -> str:
    return grouped(price, 0 if price == round(price) else 2)


def _ends(cost: Three) -> str:
    return "" if round(cost[0]) == round(cost[2]) else between(cost[0], cost[2])


def _estimate_sheet(
    design: Design, estimate: Estimate, page: Page, part: tuple[int, int], number: int, of: int
) -> Sheet:
    job, (place, count) = design.job, part
    marks: list[Mark] = []
    for column, rows in enumerate(page):
        marks += _column((LEFT + 6.0 + column * (WIDE + GAP), TOP_ROW), rows)
    if place == count:
        marks += _sums(design, estimate)
    reader = "for the designer and the client" + (f", part {place} of {count}" if count > 1 else "")
    title = SheetTitle(title="Estimate", reader=reader, scale="no drawing", number=number, of=of)
    taxed = f"lines without {estimate.tax_name}" if estimate.tax is not None else "no tax was told"
    said = f"Estimate of {estimate.day}, {estimate.currency}; {taxed}"
    return Sheet(
        name=f"estimate-{place}",
        title=f"{job.title.name}: estimate",
        paper=A3_FLAT,
        marks=(*frame(job, title), heading((LEFT + 6.0, TOP - 10.0), said, 5.0), *marks),
        description=f"Estimate of {job.title.name}: {len(estimate.lines)} lines, likely total {estimate.currency} "
        f"{whole(estimate.total)}; {len(estimate.missing)} lines have no price.",
    )


def _column(at: Point, rows: Sequence[Row]) -> Iterator[Mark]:
    if not rows:
        return
    left, down = at
    lefts = np.concatenate([[0.0], np.cumsum(WIDTHS)]) + left
    yield ruled((left, down), (float(lefts[-1]), down))
    for row in (Row(cells=HEADS, strong=True), *rows):
        down -= STEP
        for place, words in enumerate(row.cells):
            room = (
                float(lefts[-1] - lefts[0]) - 60.0 if row.strong and place == 0 and not row.cells[1] else WIDTHS[place]
            )
            side = ACROSS[place]
            edge = float(lefts[place]) + 0.8 if side == "left" else float(lefts[place + 1]) - 0.8
            if words:
                yield fitted(
                    (edge, down + 1.1), words, room - 1.6, HEIGHT, weight=600 if row.strong else 400, across=side
                )
        yield ruled((left, down), (float(lefts[-1]), down), pens.THIN if row.strong else pens.CONTOUR)


def _sums(design: Design, estimate: Estimate) -> Iterator[Mark]:
    """Sums at the right, how sure they are beside them, over the title block."""
    left, top = LEFT + 6.0 + WIDE + GAP, LOW + SUMS_HIGH - 6.0
    yield heading((left, top), "What it comes to")
    down = top - 3.0
    for words, amount, strong in _sum_rows(estimate):
        down -= 5.4
        weight: Weight = 600 if strong else 400
        yield fitted((left, down), words, 66.0, 2.2, weight=weight)
        yield fitted((left + 90.0, down), amount, 24.0, 2.5, weight=weight, across="right")
    said, _ = notes((left, down - 7.0), tuple(_said(estimate)), 90.0, 1.8)
    yield from said
    yield from chance_chart(estimate.chance, design.job.money.budget, (left + 100.0, top))


def _sum_rows(estimate: Estimate) -> Iterator[tuple[str, str, bool]]:
    low, likely, high = estimate.works
    yield "All lines", whole(likely), False
    yield "all of them low, all of them high", between(low, high), False
    at_risk = ", ".join(group.group for group in estimate.groups if group.risky)
    yield f"Contingency, {share(estimate.share)} of {at_risk or 'nothing'}", whole(estimate.contingency), False
    if estimate.tax is not None:
        yield f"{opening(estimate.tax_name)}, {share(estimate.tax)}", whole(estimate.tax_sum), False
    yield f"Likely total, {estimate.currency}", whole(estimate.total), True


def _said(estimate: Estimate) -> Iterator[str]:
    whose = estimate.share_from
    yield f"Contingency: {whose}. It is on what the ground and the stone can change, not on every line."
    yield "All low and all high never come together; the tries at the right say how often a sum is kept."
    if estimate.missing:
        names = ", ".join(item.name for item in estimate.missing[:3])
        more = f" and {len(estimate.missing) - 3} more" if len(estimate.missing) > 3 else ""
        yield f"{len(estimate.missing)} lines have no price and are not in any sum: {names}{more}."
    if estimate.misfits:
        yield f"{len(estimate.misfits)} prices are for a unit their item is not counted in and are not used."
