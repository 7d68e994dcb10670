"""The yearly record: kept as typed, told with what changes and when it matters, written as a table."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.values import value
from beckwright.base.words import understood, unit_called, with_own_unit
from beckwright.care import ITEMS, Trend, drops, limits, read_service, trends
from beckwright.care.service import Item, Read, read_of, records_of, year_of
from beckwright.care.years import amount_said, trend_said
from beckwright.compose import Works
from beckwright.readings.rows import Row, standing
from beckwright.tables.care import FAR_OFF
from beckwright.web.care.charts import Drawn, chart
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told
from beckwright.web.slope.bodies import SERVICE, WORDS
from beckwright.web.slope.files import write_table
from beckwright.web.slope.levels import row_told

_ITEMS = {item.key: item for item in ITEMS}
_NAME = "service"


@value
class Typed:
    """One row as it was typed: what it is read as, None where it cannot be, and what a person is asked about it."""

    row: Row
    item: Item | None
    year: float | None
    amount: float | None
    asked: tuple[str, ...]

    @property
    def read(self) -> Read | None:
        """Item, year and amount in the unit written."""
        if self.item is None or self.year is None or self.amount is None:
            return None
        return self.item.key, self.year, self.amount

    @property
    def counts(self) -> bool:
        """Whether it stands in the record."""
        return self.read is not None and not self.row.struck and (self.row.agreed or not self.asked)


def record_told(desk: Desk, works: Works) -> Told:
    """Items with their limits, every row typed, the newest first, and each item's trend as words and as a chart."""
    designed, usual = works.design, drops(works.design, works)
    typed = typed_rows(desk)
    beside, problems = _of_files(desk, typed)
    read = [*(each.read for each in typed if each.counts and each.read is not None), *(row for _, row in beside)]
    held = limits(designed, usual)
    return {
        "items": [
            {
                "key": item.key,
                "name": item.name,
                "unit": unit_called(item.written),
                "limit": amount_said(item, held[item.key].amount) if item.key in held else "",
                "why": held[item.key].why if item.key in held else "",
            }
            for item in ITEMS
        ],
        "rows": [_row(each) for each in reversed(typed)],
        "files": [f"{name}: {_said(row)}" for name, row in beside],
        "trends": [_trend(each) for each in trends(records_of(read), designed, usual)],
        "problems": [{"place": one.place, "found": one.found, "remedy": one.remedy} for one in problems],
    }


def typed_rows(desk: Desk) -> tuple[Typed, ...]:
    """Every row as it stands, each asked about what is odd in it."""
    rows = standing(desk.keeper.readings(SERVICE), desk.keeper.readings(WORDS))
    typed = [_understood(row) for row in rows]
    return tuple(_compared(each, typed) for each in typed)


def write_record(desk: Desk) -> tuple[str, int]:
    """Write the rows that count as service.csv: its name, and how many rows are left out."""
    typed = typed_rows(desk)
    rows = [each.read for each in typed if each.counts and each.read is not None]
    if not rows:
        rule, remedy = "A table has a row at least", "Write a reading first"
        raise JobError([Problem(place="yearly record", found="nothing was read", rule=rule, remedy=remedy)])
    lines = [f"{year:.10g},{key},{amount:.10g}" for key, year, amount in sorted(rows, key=lambda row: row[1])]
    head = ["# The yearly record, written on the page Yearly record.", "year,item,value"]
    left_out = sum(not each.counts and not each.row.struck for each in typed)
    return write_table(desk.folder, _NAME, "\n".join([*head, *lines]) + "\n"), left_out


def _understood(row: Row) -> Typed:
    item, year = _ITEMS.get(row.text("item")), year_of(row.text("year"))
    asked = [] if year is not None else [f'"{row.text("year")[:20]}" is no year. Write 2027, or a date as 2027-05-12.']
    amount = None
    if item is None:
        asked.append(f"Nothing of the record is called {row.text('item')[:20]}. Choose one.")
    else:
        read = understood(row.text("amount"), item.written, row.measure)
        amount = read.amount
        if read.amount is None:
            asked.append(read.asked)
        elif read.amount < 0:
            amount = None
            asked.append(f"{row.text('amount')[:20]} lies below zero. What was read?")
    return Typed(row=row, item=item, year=year, amount=amount, asked=tuple(asked))


def _compared(each: Typed, every: list[Typed]) -> Typed:
    """Ask about a reading many times larger or smaller than the others of its item."""
    others = [
        other.amount
        for other in every
        if other is not each and other.item is each.item and other.amount and not other.row.struck
    ]
    if not others or not each.amount:
        return each
    middle = float(np.median(others))
    if max(each.amount / middle, middle / each.amount) < FAR_OFF.amount or each.item is None:
        return each
    usual = amount_said(each.item, middle * each.item.times)
    return Typed(
        row=each.row,
        item=each.item,
        year=each.year,
        amount=each.amount,
        asked=(*each.asked, f"The others are about {usual}. Is it so?"),
    )


def _of_files(desk: Desk, typed: tuple[Typed, ...]) -> tuple[list[tuple[str, Read]], list[Problem]]:
    """Rows of service files in the job folder that were never typed here, with the file each is from."""
    found, problems = list[tuple[str, Read]](), list[Problem]()
    known = {_mark(read) for read in _ever(typed)}
    for path in sorted(desk.folder.glob(f"{_NAME}*.csv")):
        try:
            rows = read_of(read_service(path))
        except JobError as error:
            problems += error.problems
            continue
        for row in rows:
            if _mark(row) not in known:
                known.add(_mark(row))
                found.append((path.name, row))
    return found, problems


def _ever(typed: tuple[Typed, ...]) -> Iterator[Read]:
    """What was typed at any time: a row struck out or written anew does not come back through a file of before."""
    for each in typed:
        for content in (*each.row.before, each.row.content):
            row = Row(
                key="",
                keys=(),
                number=0,
                seen=each.row.seen,
                kept=each.row.kept,
                content=content,
                before=(),
                agreed=False,
                struck=False,
                asked="",
            )
            read = _understood(row).read
            if read is not None:
                yield read


def _mark(read: Read) -> tuple[str, str, str]:
    return read[0], f"{read[1]:.4f}", f"{read[2]:.6g}"


def _said(read: Read) -> str:
    item = _ITEMS[read[0]]
    return f"{item.name}, {read[1]:.0f}, {amount_said(item, read[2] * item.times)}"


def _row(each: Typed) -> Told:
    told = row_told(each.row, [] if each.row.struck or each.row.agreed else each.asked, usable=each.read is not None)
    unit = each.item.written if each.item is not None else ""
    amount = with_own_unit(each.row.text("amount"), unit, each.row.measure) if unit else each.row.text("amount")
    return told | {
        "item": each.row.text("item"),
        "year": each.row.text("year"),
        "amount": amount,
        "what": each.item.name if each.item is not None else each.row.text("item"),
        "says": ""
        if each.amount is None or each.item is None
        else amount_said(each.item, each.amount * each.item.times),
        "counted": each.counts,
    }


def _trend(each: Trend) -> Told:
    item, said = each.record.item, trend_said(each)
    limit = None if each.limit is None else each.limit.amount
    words = "" if limit is None else f"limit {amount_said(item, limit)}"
    first = None if each.crosses is None else float(each.crosses[0])
    drawn = Drawn(
        years=each.record.years,
        amounts=each.record.values,
        slope=each.slope if each.enough else None,
        limit=limit,
        limit_says=words,
        crosses=first,
        says=said,
    )
    return {
        "item": item.key,
        "name": item.name,
        "says": said,
        "chart": chart(drawn, lambda amount: amount_said(item, amount)),
    }
