"""Cells that the tables of money share: how a thing is sold, whether tax is in its price, since when."""

from collections.abc import Callable, Iterator
from datetime import date

from beckwright.base.errors import Problem
from beckwright.base.values import value
from beckwright.job.model.money import Sold
from beckwright.job.tables.columns import Table
from beckwright.job.tables.sold import Found, sold_by
from beckwright.job.wording.sentences import shown

Texts = dict[str, str]
Numbers = dict[str, float]
Check = Callable[[Texts, Numbers], Iterator[Found]]


@value
class Cells:
    """One sound row, with what the tables of money have in common read."""

    texts: Texts
    numbers: Numbers
    sold: Sold
    tax_included: bool | None
    date: date | None
    place: str


def rows_of(table: Table, check: Check, problems: list[Problem]) -> list[Cells] | None:
    """Read all rows; None after noting what is wrong with any of them.

    check  what only this table can say of a row
    """
    before = len(problems)
    rows = [_cells(table, row, check, problems) for row in range(len(table.lines))]
    problems.extend(_twice(table, "item"))
    return None if len(problems) > before else [row for row in rows if row is not None]


def _cells(table: Table, row: int, check: Check, problems: list[Problem]) -> Cells | None:
    texts = {name: cells[row] for name, cells in table.texts.items()}
    numbers = {name: cells[row] for name, cells in table.numbers.items()}
    place = f"{table.file} line {table.lines[row]}"
    density = numbers["bulk_kg_m3"] if numbers["bulk_kg_m3"] > 0 else None
    sold, taxed, day = sold_by(texts["unit"], texts["holds"], density), _tax_of(texts), _day_of(texts)
    found = [*(each for each in (sold, taxed, day) if isinstance(each, tuple)), *check(texts, numbers)]
    problems.extend(Problem(place=place, found=what, rule=rule, remedy=remedy) for what, rule, remedy in found)
    if isinstance(sold, tuple) or isinstance(taxed, tuple) or isinstance(day, tuple):
        return None
    return Cells(texts=texts, numbers=numbers, sold=sold, tax_included=taxed, date=day, place=place)


def _tax_of(texts: Texts) -> bool | Found | None:
    given = texts["tax_included"].lower()
    if given in ("", "yes", "no"):
        return None if not given else given == "yes"
    return f"tax_included is {shown(given)}", "It is yes, no, or empty", "Write yes or no"


def _day_of(texts: Texts) -> date | Found | None:
    given = texts["date"]
    if not given:
        return None
    try:
        return date.fromisoformat(given)
    except ValueError:
        return f"date is {shown(given)}", "It is a day as year-month-day", "Write it as 2026-09-01"


def _twice(table: Table, column: str) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for line, name in zip(table.lines, table.texts[column], strict=True):
        if name in first:
            yield Problem(
                place=f"{table.file} line {line}",
                found=f"{column} {shown(name)} stood on line {first[name]} before",
                rule=f"Each {column} stands once",
                remedy="Keep one of the two",
            )
        first.setdefault(name, line)
