"""quote.csv: what was quoted to the client, line by line, at the rates that variations are worked at."""

from collections.abc import Iterator
from pathlib import Path

from beckwright.base.errors import Problem
from beckwright.job.model.money import QuotedRow
from beckwright.job.tables.columns import Column, read_table
from beckwright.job.tables.prices import DEAREST
from beckwright.job.tables.rows import Cells, Numbers, Texts, rows_of
from beckwright.job.tables.sold import Found

QUOTE = (
    Column(name="item"),
    Column(name="amount", low=0, high=1e7),
    Column(name="unit"),
    Column(name="holds", other=""),
    Column(name="bulk_kg_m3", low=100, high=4000, other=-1.0),
    Column(name="rate", low=0, high=DEAREST),
    Column(name="tax_included", other=""),
    Column(name="date", other=""),
    Column(name="note", other=""),
)


def read_quote(path: Path, problems: list[Problem]) -> tuple[QuotedRow, ...] | None:
    """Read quote.csv; None after noting what could not be read."""
    table = read_table(path, QUOTE, problems)
    rows = None if table is None else rows_of(table, _whole_key, problems)
    return None if rows is None else tuple(map(_quoted_row, rows))


def _quoted_row(cells: Cells) -> QuotedRow:
    return QuotedRow(
        item=cells.texts["item"],
        sold=cells.sold,
        amount=cells.numbers["amount"],
        rate=cells.numbers["rate"],
        tax_included=cells.tax_included,
        date=cells.date,
        note=cells.texts["note"],
        place=cells.place,
    )


def _whole_key(texts: Texts, _: Numbers) -> Iterator[Found]:
    if texts["item"].endswith(".*"):
        rule = "A quoted line is one item, by its whole key"
        yield f"item is {texts['item']}", rule, "Write a line for each of them"
