"""The yearly record: what each item has done over the years, with an interval, and when it crosses a limit."""

import re
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.care.normal import Drops
from beckwright.compose import Design
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.units import LITRE_PER_HOUR, MILLIMETRE
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.tables.care import FAR_AHEAD, FEWEST_YEARS, LEAK_LOOKED_AT
from beckwright.tables.leak import CONFIDENCE
from beckwright.tables.practice import FREEBOARD_FAILS

_YEAR = re.compile(r"(19[5-9]|20\d|21\d)\d", re.ASCII)
COLUMNS = (Column(name="year", low=1950, high=2200), Column(name="item"), Column(name="value", low=-1e6, high=1e6))


@value
class Item:
    """One kind of reading. ``unit`` SI of what was written in ``written``; ``times`` makes it SI."""

    key: str
    name: str
    unit: str
    written: str
    times: float


ITEMS = (
    Item(key="flow_l_h", name="flow flat out, by bucket", unit="m3/s", written="L/h", times=LITRE_PER_HOUR),
    Item(key="watts", name="watts", unit="W", written="W", times=1.0),
    Item(key="draw_down_mm", name="draw-down from rest to running", unit="m", written="mm", times=MILLIMETRE),
    Item(key="edge_low_mm", name="lowest edge over running water", unit="m", written="mm", times=MILLIMETRE),
    Item(key="leak_l_h", name="leak", unit="m3/s", written="L/h", times=LITRE_PER_HOUR),
)


@value
class Record:
    """Readings of one item, (n,) years with their fractions, rising, and values in SI."""

    item: Item
    years: FloatArray
    values: FloatArray


@value
class Limit:
    """What an item should not cross. ``below`` whether it is too little rather than too much that matters."""

    amount: float
    below: bool
    why: str


@value
class Trend:
    """A straight line through one item.

    slope   (3,) a year, the ends of its interval and its middle
    share   (3,) the same over the line's value at the first reading; None where that is nothing
    now     the line's value at the last reading
    limit   None where the job has none for it
    crosses (2,) years between which the line crosses its limit, infinite where one end never does; None where neither
            end does so within the years a line may be believed
    enough  whether there are readings enough for an interval
    """

    record: Record
    slope: FloatArray
    share: FloatArray | None
    now: float
    limit: Limit | None
    crosses: FloatArray | None
    enough: bool


def read_service(path: Path) -> tuple[Record, ...]:
    """Read service.csv, columns year, item, value. Raises JobError with every problem of the file."""
    problems: list[Problem] = []
    table = read_table(path, COLUMNS, problems)
    if table is None:
        raise JobError(problems)
    known = {item.key: item for item in ITEMS}
    problems += [_unknown(table, row, known) for row, key in enumerate(table.texts["item"]) if key not in known]
    if problems:
        raise JobError(problems)
    return records_of(zip(table.texts["item"], table.numbers["year"], table.numbers["value"], strict=True))


Read = tuple[str, float, float]
"""Key of an item, year with its fraction, and the reading in the unit it is written in."""


def records_of(read: Iterable[Read]) -> tuple[Record, ...]:
    """Readings from wherever they come, by item, in the order of ``ITEMS``; items nobody read are left out."""
    every = sorted(read, key=lambda each: each[1])
    held = [(item, [each for each in every if each[0] == item.key]) for item in ITEMS]
    return tuple(
        Record(
            item=item,
            years=np.array([year for _, year, _ in rows]),
            values=np.array([amount for _, _, amount in rows]) * item.times,
        )
        for item, rows in held
        if rows
    )


def read_of(records: Iterable[Record]) -> tuple[Read, ...]:
    """The same the other way round."""
    return tuple(
        (each.item.key, year, amount / each.item.times)
        for each in records
        for year, amount in zip(each.years.tolist(), each.values.tolist(), strict=True)
    )


def year_of(text: str) -> float | None:
    """A year such as 2027, or a date such as 2027-05-12, as a year with its fraction; None for anything else."""
    plain = text.strip()
    if _YEAR.fullmatch(plain):
        return float(plain)
    try:
        day = date.fromisoformat(plain)
    except ValueError:
        return None
    first = date(day.year, 1, 1)
    return day.year + (day - first).days / (date(day.year, 12, 31) - first).days


def _unknown(table: Table, row: int, known: dict[str, Item]) -> Problem:
    key = table.texts["item"][row]
    near = near_miss(key, known)
    return Problem(
        place=f"{table.file} line {table.lines[row]}",
        found=f"item is {shown(key)}",
        rule=f"It is one of {', '.join(known)}",
        remedy=f'Did you mean "{near}"' if near else "Write one of these",
    )


def trend(record: Record, limit: Limit | None) -> Trend:
    """Fit a straight line by least squares; Student's interval of its slope (n - 2 degrees of freedom)."""
    from scipy import stats

    years, values = record.years, record.values
    count = len(np.unique(years))
    if count < FEWEST_YEARS.amount:
        flat = np.full(
            3, np.nan_to_num((values[-1] - values[0]) / max(years[-1] - years[0], 1e-9)) if count > 1 else 0.0
        )
        return Trend(
            record=record, slope=flat, share=None, now=float(values[-1]), limit=limit, crosses=None, enough=False
        )
    fit = stats.linregress(years, values)
    # Readings that are all alike lie on the line without any scatter; the library gives them no error at all.
    scatter = 0.0 if np.ptp(values) == 0.0 else float(fit.stderr)
    half = float(stats.t.ppf((1 + CONFIDENCE.amount) / 2, len(years) - 2)) * scatter
    slope = np.array([fit.slope - half, fit.slope, fit.slope + half])
    first, now = (float(fit.intercept + fit.slope * year) for year in (years[0], years[-1]))
    return Trend(
        record=record,
        slope=slope,
        share=slope / first if first > 0 else None,
        now=now,
        limit=limit,
        crosses=None if limit is None else _crosses(years, values, slope, limit),
        enough=True,
    )


def _crosses(years: FloatArray, values: FloatArray, slope: FloatArray, limit: Limit) -> FloatArray | None:
    """When lines of every slope of the interval, through the mean of all readings, come to the limit."""
    middle, mean = float(years.mean()), float(values.mean())
    towards = -1.0 if limit.below else 1.0
    found = sorted(
        middle + (limit.amount - mean) / each if each * towards > 0 else float("inf") for each in slope.tolist()
    )
    if not found[0] <= years[-1] + FAR_AHEAD.amount:
        return None
    return np.array([found[0], found[-1]])


def limits(design: Design, normal: Drops) -> dict[str, Limit]:
    """What this job cannot do without, by item."""
    least = next(each for each in design.job.flows if each.name == normal.flow)
    found = {
        "flow_l_h": Limit(amount=least.flow, below=True, why=f"{least.name}, the flow it is to run at"),
        "edge_low_mm": Limit(amount=FREEBOARD_FAILS.amount, below=True, why=FREEBOARD_FAILS.place),
        "leak_l_h": Limit(amount=LEAK_LOOKED_AT.amount, below=False, why=LEAK_LOOKED_AT.place),
    }
    room = normal.least - normal.rested
    if room > 0:
        found["draw_down_mm"] = Limit(amount=room, below=False, why="then the pump is at its least")
    return found


def trends(records: tuple[Record, ...], design: Design, normal: Drops) -> tuple[Trend, ...]:
    """The trend of every item, against what this job cannot do without."""
    held = limits(design, normal)
    return tuple(trend(record, held.get(record.item.key)) for record in records)
