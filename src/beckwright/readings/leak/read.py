"""The table of a leak test as it was written on site: nothing is dropped, what looks wrong is asked about."""

import re
from collections.abc import Iterator, Sequence
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import IntArray, Length, Lengths, Levels
from beckwright.base.values import value
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.units import HOUR, MILLIMETRE
from beckwright.job.wording.sentences import shown

UNTOLD = -1.0
COLUMNS = (
    Column(name="test"),
    Column(name="condition"),
    Column(name="time_h", low=0, high=2000),
    Column(name="reservoir_level_mm_above_floor", low=0, high=20_000),
    Column(name="rain_mm_in_interval", low=0, high=500, other=0.0),
    Column(name="evaporation_mm_in_interval", low=-50, high=100, other=UNTOLD),
)
_BY_PASS = re.compile(r"(?:ch|chainage|at)\.?\s*(\d+(?:[.,]\d+)?)", re.IGNORECASE)
_ON, _OFF = re.compile(r"\bon\b", re.IGNORECASE), re.compile(r"\boff\b", re.IGNORECASE)


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
    state = _state(condition, flows, length, where)
    if isinstance(state, Problem) or told:
        problems.extend([*told, *([state] if isinstance(state, Problem) else [])])
        return None
    running, flow, below = state
    evaporation = np.array([table.numbers["evaporation_mm_in_interval"][row] for row in rows])
    return Series(
        name=name,
        condition=condition,
        running=running,
        flow=flow,
        below=below,
        times=np.array([table.numbers["time_h"][row] for row in rows]) * HOUR,
        levels=np.array([table.numbers["reservoir_level_mm_above_floor"][row] for row in rows]) * MILLIMETRE,
        rain=np.array([table.numbers["rain_mm_in_interval"][row] for row in rows]) * MILLIMETRE,
        evaporation=None if (evaporation[1:] == UNTOLD).any() else np.append(0.0, evaporation[1:]) * MILLIMETRE,
        lines=np.array([table.lines[row] for row in rows]),
    )


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


def _state(condition: str, flows: Sequence[str], length: Length, where: str) -> tuple[bool, str, Length] | Problem:
    on, off = bool(_ON.search(condition)), bool(_OFF.search(condition))
    named = [flow for flow in flows if re.search(rf"\b{re.escape(flow)}\b", condition, re.IGNORECASE)]
    past = "by-pass" in condition.lower() or "bypass" in condition.lower()
    at = _BY_PASS.search(condition) if past else None
    rule = f"A condition says pump off, or on with one of {', '.join(flows)}; and by-passed to ch with a chainage"
    if on == off:
        found = f"condition is {shown(condition)}"
        return Problem(place=where, found=found, rule=rule, remedy="Write pump on or pump off")
    if on and len(named) != 1:
        found = f"condition is {shown(condition)}, which names {'no flow' if not named else 'several flows'}"
        return Problem(place=where, found=found, rule=rule, remedy="Name one of the flows")
    below = 0.0 if at is None else float(at[1].replace(",", "."))
    if past and not 0.0 < below < length:
        found = f"condition is {shown(condition)}"
        return Problem(place=where, found=found, rule=rule, remedy=f"Say where the water came in, up to {length:g} m")
    return on, named[0] if on else "", below


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
    if high > 0 and high < full / 8:
        yield Doubt(
            test=series.name,
            line=0,
            found=f"levels are {low * 1000:g} to {high * 1000:g} mm in a reservoir {full * 1000:.0f} mm deep",
            asks="Were they read in centimetres, or from another mark than the floor?",
        )
