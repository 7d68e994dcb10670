"""prices.csv: what things are sold at, by whom, since when. No price is ever assumed."""

from collections.abc import Iterator
from pathlib import Path

from beckwright.base.errors import Problem
from beckwright.job.model.money import PriceRow, Three
from beckwright.job.tables.columns import Column, read_table
from beckwright.job.tables.rows import Cells, Numbers, Texts, rows_of
from beckwright.job.tables.sold import Found
from beckwright.job.units import PERCENT

DEAREST = 1e7
"""A price above this is a slip."""

PRICES = (
    Column(name="item"),
    Column(name="unit"),
    Column(name="holds", other=""),
    Column(name="bulk_kg_m3", low=100, high=4000, other=-1.0),
    Column(name="low", low=0, high=DEAREST, other=-1.0),
    Column(name="price", low=0, high=DEAREST, other=-1.0),
    Column(name="high", low=0, high=DEAREST, other=-1.0),
    Column(name="supplier", other=""),
    Column(name="tax_included", other=""),
    Column(name="date", other=""),
    Column(name="source", other=""),
    Column(name="waste_percent", low=0, high=200, other=0.0),
    Column(name="note", other=""),
)


def read_prices(path: Path, problems: list[Problem]) -> tuple[PriceRow, ...] | None:
    """Read prices.csv; None after noting what could not be read.

    ``price`` may be empty while nobody has answered; ``low`` and ``high`` where the price is fixed.
    """
    table = read_table(path, PRICES, problems)
    rows = None if table is None else rows_of(table, _in_order, problems)
    return None if rows is None else tuple(map(_price_row, rows))


def _price_row(cells: Cells) -> PriceRow:
    return PriceRow(
        item=cells.texts["item"],
        sold=cells.sold,
        price=_price(cells.numbers),
        supplier=cells.texts["supplier"],
        tax_included=cells.tax_included,
        date=cells.date,
        source=cells.texts["source"],
        waste=cells.numbers["waste_percent"] * PERCENT,
        note=cells.texts["note"],
        place=cells.place,
    )


def _price(numbers: Numbers) -> Three | None:
    price = numbers["price"]
    if price < 0:
        return None
    low, high = (given if given >= 0 else price for given in (numbers["low"], numbers["high"]))
    return low, price, high


def _in_order(_: Texts, numbers: Numbers) -> Iterator[Found]:
    three = _price(numbers)
    if three is None:
        if max(numbers["low"], numbers["high"]) >= 0:
            yield "low or high is given and price is empty", "They lie round a price", "Write the likely price"
    elif not three[0] <= three[1] <= three[2]:
        found = f"low, price and high are {three[0]:g}, {three[1]:g} and {three[2]:g}"
        yield found, "They rise, or are one", "Look whether two are the wrong way round"
