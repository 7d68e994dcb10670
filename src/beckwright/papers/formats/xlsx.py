"""The bill and the estimate as a workbook: every sum a formula, every number a person may change in a marked cell.

Recalculated with nothing changed it comes to the totals of the estimate; how sure they are comes from tries, which no
spreadsheet repeats, and stands there as a plain number that says so.
"""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from io import BytesIO
from itertools import groupby
from typing import TYPE_CHECKING

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.job.model import Title
from beckwright.stages.money import Estimate, Line, Variations
from beckwright.stages.money.units import sold_per_unit

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

Cell = str | float | None

BILL = (
    *(("key", 34), ("item", 38), ("unit", 6), ("low", 10), ("likely", 10), ("high", 10)),
    *(("asked of", 14), ("read off", 40), ("what to say", 80)),
)
ESTIMATE = (
    *(("item", 40), ("counted in", 10), ("low", 10), ("likely", 10), ("high", 10)),
    *(("waste", 8), ("sold by", 10), ("one holds", 10), ("whole only", 10)),
    *(("bought low", 11), ("bought likely", 11), ("bought high", 11)),
    *(("price low", 10), ("price likely", 10), ("price high", 10), ("tax in price", 10)),
    *(("cost low", 12), ("cost likely", 12), ("cost high", 12)),
    *(("supplier", 18), ("date", 11), ("source", 24), ("note", 40)),
)
QUOTE = (
    *(("key", 34), ("item", 38), ("what", 11), ("unit", 10)),
    *(("amount then", 12), ("amount now", 12), ("rate then", 12), ("rate now", 12)),
    *(("then", 12), ("now", 12), ("by amount", 12), ("by rate", 12)),
)
TAX, SHARE = "$B$3", "$B$4"
"""Cells of the sheet Estimate that the formulas read."""
FIRST = 6
"""Row of the headings of the sheet Estimate, the first being 0."""


def write_workbook(title: Title, estimate: Estimate, variations: Variations | None = None) -> bytes:
    """Write bill, estimate, and what changed since the quote where there was one. The same input, the same bytes."""
    from xlsxwriter.workbook import Workbook

    kept = BytesIO()
    book = Workbook(kept, {"in_memory": True})
    book.set_properties(
        {
            "title": f"{title.name}: bill and estimate",
            "author": title.drawn_by,
            "created": datetime.fromisoformat(title.date).replace(tzinfo=UTC),
        }
    )
    styles = _styles(book)
    places = _bill(book, styles, estimate)
    _estimate(book, styles, title, estimate, places)
    if variations is not None:
        _since(book, styles, variations, estimate.currency)
    book.get_worksheet_by_name("Estimate").activate()
    book.close()
    return kept.getvalue()


@value
class _Styles:
    """How cells look. A marked cell is yellow: it may be typed over, and everything else follows."""

    head: "Format"
    bold: "Format"
    plain: "Format"
    number: "Format"
    money: "Format"
    total: "Format"
    mark: "Format"
    mark_number: "Format"
    mark_share: "Format"


def _styles(book: "Workbook") -> _Styles:
    mark, digits, cents, share = {"bg_color": "#FFF2A8", "border": 1}, "#,##0.###", "#,##0.00", "0.0%"
    return _Styles(
        head=book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}),
        bold=book.add_format({"bold": True}),
        plain=book.add_format({"text_wrap": True, "valign": "top"}),
        number=book.add_format({"num_format": digits}),
        money=book.add_format({"num_format": cents}),
        total=book.add_format({"num_format": cents, "bold": True, "top": 1}),
        mark=book.add_format(mark),
        mark_number=book.add_format({**mark, "num_format": digits}),
        mark_share=book.add_format({**mark, "num_format": share}),
    )


def _heads(sheet: "Worksheet", row: int, columns: Sequence[tuple[str, int]], styles: _Styles) -> None:
    for column, (words, wide) in enumerate(columns):
        sheet.set_column(column, column, wide)
        sheet.write_string(row, column, words, styles.head)
    sheet.freeze_panes(row + 1, 1)


def _put(sheet: "Worksheet", row: int, column: int, cells: Sequence[tuple[Cell, "Format"]]) -> None:
    """Write words and numbers side by side. Words are never taken for a formula, whoever typed them."""
    for place, (held, style) in enumerate(cells, column):
        if held is None:
            sheet.write_blank(row, place, None, style)
        elif isinstance(held, str):
            sheet.write_string(row, place, held, style)
        else:
            sheet.write_number(row, place, held, style)


def _bill(book: "Workbook", styles: _Styles, estimate: Estimate) -> dict[str, int]:
    """Every item and its amounts; gives back the row each key stands on, the first being 1 as in a formula."""
    sheet = book.add_worksheet("Bill")
    _heads(sheet, 0, BILL, styles)
    for row, line in enumerate(estimate.lines, 1):
        item = line.item
        said = [(words, styles.plain) for words in (item.key, item.name, item.unit)]
        amounts = [(amount, styles.mark_number) for amount in (item.low, item.amount, item.high)]
        rest = [(words, styles.plain) for words in (item.supplier, item.drawing, item.note)]
        _put(sheet, row, 0, [*said, *amounts, *rest])
    return {line.item.key: row for row, line in enumerate(estimate.lines, 2)}


def _estimate(book: "Workbook", styles: _Styles, title: Title, estimate: Estimate, places: dict[str, int]) -> None:
    sheet = book.add_worksheet("Estimate")
    tax_name = opening(estimate.tax_name)
    _put(sheet, 0, 0, [(f"{title.name}, estimate of {estimate.day}, {estimate.currency}", styles.bold)])
    _put(sheet, 1, 0, [("Yellow cells may be typed over; every sum follows. Costs are without tax.", styles.plain)])
    _put(sheet, 2, 0, [(tax_name, styles.plain), (estimate.tax or 0.0, styles.mark_share)])
    _put(sheet, 3, 0, [("Contingency on what is at risk", styles.plain), (estimate.share, styles.mark_share)])
    _put(sheet, 3, 2, [(estimate.share_from, styles.plain)])
    _heads(sheet, FIRST, ESTIMATE, styles)
    row, sums = FIRST + 1, []
    order = [group.group for group in estimate.groups]
    lines = sorted(estimate.lines, key=lambda line: order.index(line.group))
    for group, (name, held) in zip(estimate.groups, groupby(lines, key=lambda line: line.group), strict=True):
        _put(sheet, row, 0, [(opening(name), styles.bold)])
        start = row + 1
        for row, line in enumerate(held, start):
            _line(sheet, row, styles, line, places[line.item.key])
        row += 1
        risk = "yes" if group.risky else "no"
        _put(sheet, row, 0, [(f"Sum of {name}", styles.bold)])
        _put(sheet, row, 14, [("at risk", styles.plain), (risk, styles.mark)])
        _sums(sheet, row, styles, [f"SUM({{0}}{start + 1}:{{0}}{row})"] * 3, group.cost)
        sums.append(row + 1)
        row += 2
    _totals(sheet, row, styles, estimate, sums)


def _line(sheet: "Worksheet", row: int, styles: _Styles, line: Line, place: int) -> None:
    """One line: amounts from the bill, what is bought and what it costs as formulas of the marked cells."""
    at, sold = row + 1, line.row
    each = None if sold is None else sold_per_unit(line.item.unit, sold.sold)
    amounts = (line.item.low, line.item.amount, line.item.high)
    _put(sheet, row, 0, [(line.item.name, styles.plain), (line.item.unit, styles.plain)])
    for column, (letter, amount) in enumerate(zip("DEF", amounts, strict=True), 2):
        sheet.write_formula(row, column, f"=Bill!{letter}{place}", styles.number, amount)
    whole = "" if sold is None else "yes" if sold.sold.whole else "no"
    _put(
        sheet,
        row,
        5,
        [
            (0.0 if sold is None else sold.waste, styles.mark_share),
            ("" if sold is None else sold.sold.word, styles.mark),
            (None if each is None else 1 / each, styles.mark_number),
            (whole, styles.mark),
        ],
    )
    for column, (letter, number) in enumerate(zip("CDE", line.number or ("", "", ""), strict=True), 9):
        needed = f"{letter}{at}*(1+$F{at})/$H{at}"
        # Rounding up must not make one of nothing, nor two of a one that came out a hair over.
        formula = f'=IF($H{at}="","",IF($I{at}="yes",ROUNDUP(MAX({needed}-1E-9,0),0),{needed}))'
        sheet.write_formula(row, column, formula, styles.number, number)
    _prices(sheet, row, styles, line)
    for column, (bought, each_costs, cost) in enumerate(zip("JKL", "MNO", line.cost or ("", "", ""), strict=True), 16):
        net = f'{bought}{at}*{each_costs}{at}/(1+IF($P{at}="yes",{TAX},0))'
        formula = f'=IF(OR({bought}{at}="",{each_costs}{at}=""),"",{net})'
        sheet.write_formula(row, column, formula, styles.money, cost)


def _prices(sheet: "Worksheet", row: int, styles: _Styles, line: Line) -> None:
    sold = line.row
    given: Sequence[float | None] = (None, None, None) if sold is None or sold.price is None else sold.price
    taxed = "" if sold is None else "yes" if line.taxed else "no"
    _put(sheet, row, 12, [*((price, styles.mark_number) for price in given), (taxed, styles.mark)])
    if sold is not None:
        day = "" if sold.date is None else sold.date.isoformat()
        said = (sold.supplier, day, sold.source or sold.place, sold.note)
        _put(sheet, row, 19, [(words, styles.plain) for words in said])


def _sums(
    sheet: "Worksheet", row: int, styles: _Styles, formulas: Sequence[str], amounts: Sequence[float], first: str = "Q"
) -> None:
    """Formulas in the columns of cost; ``{0}`` in one stands for its own column's letter."""
    for column, (formula, amount) in enumerate(zip(formulas, amounts, strict=True), ord(first) - ord("A")):
        sheet.write_formula(row, column, "=" + formula.format(chr(ord("A") + column)), styles.total, amount)


def _totals(sheet: "Worksheet", row: int, styles: _Styles, estimate: Estimate, sums: list[int]) -> None:
    """Lines, contingency, tax and total, one under the other; then what the tries say."""
    at, tax_name = row + 1, opening(estimate.tax_name)
    every = "+".join(f"{{0}}{place}" for place in sums) or "0"
    risky = "+".join(f'IF($P{place}="yes",R{place},0)' for place in sums) or "0"
    _put(sheet, row, 0, [("All lines", styles.bold)])
    _sums(sheet, row, styles, [every] * 3, estimate.works)
    for below, (words, formula, amount) in enumerate(
        (
            ("At risk", risky, estimate.at_risk),
            ("Contingency", f"{SHARE}*R{at + 1}", estimate.contingency),
            (tax_name, f"{TAX}*(R{at}+R{at + 2})", estimate.tax_sum),
            ("Likely total", f"R{at}+R{at + 2}+R{at + 3}", estimate.total),
        ),
        1,
    ):
        _put(sheet, row + below, 0, [(words, styles.bold)])
        _sums(sheet, row + below, styles, [formula], [amount], "R")
    for below, (words, amount) in enumerate(_tries(estimate), 6):
        _put(sheet, row + below, 0, [(words, styles.plain)])
        _put(sheet, row + below, 17, [(amount, styles.money)])


def _tries(estimate: Estimate) -> Iterator[tuple[str, float]]:
    chance = estimate.chance
    how = f"of {len(chance.totals)} tries, tax in it, contingency not; does not follow the yellow cells"
    yield f"Half {how}", chance.p50
    yield f"Eight in ten {how}", chance.p80
    yield f"Nine in ten {how}", chance.p90


def _since(book: "Workbook", styles: _Styles, variations: Variations, currency: str) -> None:
    """What changed since the quote: amounts and rates in marked cells, the sums to the hundredth."""
    sheet = book.add_worksheet("Since the quote")
    _heads(sheet, 0, QUOTE, styles)
    for row, line in enumerate(variations.lines, 1):
        at = row + 1
        said = [(words, styles.plain) for words in (line.key, line.name, line.changed, line.unit)]
        given = (line.amount_then, line.amount_now, line.rate_then, line.rate_now)
        _put(sheet, row, 0, [*said, *((amount, styles.mark_number) for amount in given)])
        for column, formula, amount in (
            (8, f"=ROUND(E{at}*G{at},2)", line.then),
            (9, f"=ROUND(F{at}*H{at},2)", line.now),
            (10, f"=ROUND((F{at}-E{at})*G{at},2)", line.by_amount),
            (11, f"=J{at}-I{at}-K{at}", line.by_rate),
        ):
            sheet.write_formula(row, column, formula, styles.money, amount)
    last = len(variations.lines) + 1
    _put(sheet, last, 0, [(f"Sum, {currency}, without contingency and tax", styles.bold)])
    changes = (
        sum(line.by_amount for line in variations.lines),
        sum(line.by_rate for line in variations.lines),
    )
    formulas = [f"SUM({{0}}2:{{0}}{last})"] * 4
    _sums(sheet, last, styles, formulas, (variations.then, variations.now, *changes), "I")
