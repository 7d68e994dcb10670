"""Keep an estimate as what was quoted, so that every later change has something to be held against."""

import csv
import io
from collections.abc import Iterator

from beckwright.job.tables.quote import QUOTE
from beckwright.job.tables.sold import MEASURES
from beckwright.stages.money.values import Estimate, Line

HEADS = tuple(column.name for column in QUOTE)


def as_quote(estimate: Estimate, day: str) -> str:
    """The text of quote.csv: every priced line at its likely amount and rate, without tax.

    day  date of the quote, such as 2026-07-20
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADS)
    writer.writerows(_rows(estimate, day))
    return text.getvalue()


def _rows(estimate: Estimate, day: str) -> Iterator[tuple[str, ...]]:
    for line in estimate.lines:
        if line.row is not None and line.number is not None and line.price is not None and line.cost:
            yield _row(line, line.number[1], line.price[1], day)


def _row(line: Line, number: float, rate: float, day: str) -> tuple[str, ...]:
    sold = None if line.row is None else line.row.sold
    word = "" if sold is None else sold.word
    holds = "" if sold is None or word in MEASURES else f"{sold.holds!r} {sold.measure}"
    bulk = "" if sold is None or sold.density is None else repr(sold.density)
    return (line.item.key, repr(round(number, 6)), word, holds, bulk, repr(round(rate, 6)), "no", day, "")
