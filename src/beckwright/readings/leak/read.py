"""The table of a leak test as it was written on site: nothing is dropped, what looks wrong is asked about."""

import math
from collections.abc import Iterator, Sequence
from datetime import date, datetime
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, IntArray, Length, Lengths, Levels
from beckwright.base.values import value
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.units import HOUR, LITRE, MILLIMETRE
from beckwright.job.wording.sentences import shown
from beckwright.readings.leak.state import state_of

NEAR_OVERFLOW: Length = 3e-3
"""A level so near the overflow may have stood at it between two readings."""
COLUMNS = (
    Column(name="test"),
    Column(name="condition"),
    Column(name="time_h", low=0, high=2000),
    Column(name="reservoir_level_mm_above_floor", low=0, high=20_000),
    Column(name="rain_mm_in_interval", low=0, high=500, other=0.0),
    Column(name="evaporation_mm_in_interval", low=-50, high=100, other=math.nan),
    Column(name="top_up_l_in_interval", low=0, high=100_000, other=0.0),
    Column(name="water_temperature_c", low=-5, high=45, other=math.nan),
    Column(name="read_at", other=""),
    Column(name="note", other=""),
    Column(name="row", other=""),
)


@value
class Series:
    """Readings of one test.

    running      whether the pump ran
    flow         named flow it ran at; empty where it rested
    below        chainage the water was let in at: what lies above it was dry; 0 for the whole course
    times        (n,) s; rising
    levels       (n,) above the floor of the reservoir
    rain         (n,) fallen since the reading before
    evaporation  (n,) off a pan since the reading before; None where there was none
    added        (n,) m3 filled up since the reading before
    warmth       (n,) degC of the water; None where it was not read each time
    day          of the first reading; None where no clock was written down
    lines        (n,) of the file
    """

    name: str
    condition: str
    running: bool
    flow: str
    below: Length
    times: Lengths
    levels: Levels
    rain: Lengths
    evaporation: Lengths | None
    added: FloatArray
    warmth: FloatArray | None
    day: date | None
    lines: IntArray


@value
class Doubt:
    """Something a person should be asked about.

    line  of the file; 0 where it is about a whole test
    """

    test: str
    line: int
    found: str
    asks: str


def read_leak_tests(
    path: Path, *, flows: Sequence[str], full: Length, length: Length
) -> tuple[tuple[Series, ...], tuple[Doubt, ...], str]:
    """Read every test of a table, what is to be asked, and the digest (SHA-256) of the file as it lies there.

    flows   names of the job's flows
    full    depth of the reservoir from its floor to its overflow
    length  of the course
    Raises JobError with every problem of the file: cells that are no numbers, conditions that cannot be told.
    """
    problems: list[Problem] = []
    table = read_table(path, COLUMNS, problems)
    if table is None:
        raise JobError(problems)
    names = list(dict.fromkeys(table.texts["test"]))
    rows = {name: [row for row, test in enumerate(table.texts["test"]) if test == name] for name in names}
    made = [_series(table, name, rows[name], flows, length, problems) for name in names]
    if problems:
        raise JobError(problems)
    series = tuple(each for each in made if each is not None)
    doubts = tuple(doubt for each in series for doubt in _odd(each, full))
    return series, doubts, sha256(path.read_bytes()).hexdigest()


def _series(
    table: Table, name: str, rows: list[int], flows: Sequence[str], length: Length, problems: list[Problem]
) -> Series | None:
    where = f"{table.file} line {table.lines[rows[0]]}"
    condition = table.texts["condition"][rows[0]]
    told = [*_conditions_alike(table, name, rows, where), *_backwards(table, rows)]
    state = state_of(condition, flows, length, where)
    if isinstance(state, Problem) or told:
        problems.extend([*told, *([state] if isinstance(state, Problem) else [])])
        return None

    def numbers(name: str) -> FloatArray:
        return np.array([table.numbers[name][row] for row in rows])

    def read(name: str, of: list[int]) -> FloatArray | None:
        """None where a cell was left empty: a pan or a thermometer tells nothing with a reading missing."""
        cells = [as_read(table.numbers[name][row]) for row in of]
        return None if None in cells else np.array(cells, dtype=float)

    # What evaporated before the first reading is not of the test.
    evaporation = read("evaporation_mm_in_interval", rows[1:])
    return Series(
        name=name,
        condition=condition,
        running=state.running,
        flow=state.flow,
        below=state.below,
        times=numbers("time_h") * HOUR,
        levels=numbers("reservoir_level_mm_above_floor") * MILLIMETRE,
        rain=numbers("rain_mm_in_interval") * MILLIMETRE,
        evaporation=None if evaporation is None else np.append(0.0, evaporation) * MILLIMETRE,
        added=numbers("top_up_l_in_interval") * LITRE,
        warmth=read("water_temperature_c", rows),
        day=_day(table.texts["read_at"][rows[0]]),
        lines=np.array([table.lines[row] for row in rows]),
    )


def as_read(cell: float) -> float | None:
    """A number of the table; None where its cell was left empty, which no number can stand for."""
    return None if math.isnan(cell) else cell


def _day(written: str) -> date | None:
    """The day of a clock's time as ISO 8601 writes it; None where there is none."""
    try:
        return datetime.fromisoformat(written).date()
    except ValueError:
        return None


def _conditions_alike(table: Table, name: str, rows: list[int], where: str) -> Iterator[Problem]:
    told = {table.texts["condition"][row] for row in rows}
    if len(told) > 1:
        yield Problem(
            place=where,
            found=f"test {shown(name)} has {len(told)} conditions",
            rule="One test is made under one condition",
            remedy="Give the other rows another test name",
        )


def _backwards(table: Table, rows: list[int]) -> Iterator[Problem]:
    for before, here in pairwise(rows):
        then, now = (table.numbers["time_h"][row] for row in (before, here))
        if now <= then:
            yield Problem(
                place=f"{table.file} line {table.lines[here]}",
                found=f"time_h is {now:g} after {then:g}",
                rule="Time goes on within a test",
                remedy="Look in the notebook: a mistyped minute, or a new test that wants its own name",
            )


def _odd(series: Series, full: Length) -> Iterator[Doubt]:
    """What no arithmetic forbids, and no reservoir does."""
    for line, level in zip(series.lines.tolist(), series.levels.tolist(), strict=True):
        if level > full + MILLIMETRE:
            yield Doubt(
                test=series.name,
                line=line,
                found=f"level is {level * 1000:g} mm, and the overflow lies {full * 1000:.0f} mm above the floor",
                asks="Was the level read from the floor, in millimetres?",
            )
    low, high = float(series.levels.min()), float(series.levels.max())
    if series.rain[1:].sum() > 0 and full - NEAR_OVERFLOW <= high <= full + MILLIMETRE:
        yield Doubt(
            test=series.name,
            line=0,
            found=f"it rained, and the level rose to {high * 1000:g} mm, the overflow",
            asks="Did it run over? What ran over counts as lost here. Make the test anew from a lower level",
        )
    if high > 0 and high < full / 8:
        yield Doubt(
            test=series.name,
            line=0,
            found=f"levels are {low * 1000:g} to {high * 1000:g} mm in a reservoir {full * 1000:.0f} mm deep",
            asks="Were they read in centimetres, or from another mark than the floor?",
        )
