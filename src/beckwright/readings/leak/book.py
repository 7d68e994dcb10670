"""The record of a leak test: the table of the job and what was typed beside the stream, one after the other."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from beckwright.base.errors import Problem
from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.job.tables.columns import read_table
from beckwright.readings.leak.numbers import full_of, level_told
from beckwright.readings.leak.read import COLUMNS, as_read
from beckwright.readings.leak.typed import Entry, from_table, typed
from beckwright.readings.notebook import cell
from beckwright.readings.rows import Kept, Row, standing
from beckwright.tables.leak import SLIP_OF_UNIT

HEAD = "# Leak tests, written beside the stream."
NAMES = tuple(column.name for column in COLUMNS)
_EARLIEST = datetime(1970, 1, 1, tzinfo=UTC)


@value
class FromFile:
    """A row of the job's table, as the keeper would hand it out."""

    number: int
    seen: datetime
    kept: datetime
    content: Mapping[str, Any]


@value
class LeakBook:
    """All readings there are.

    entries   every row, those struck out and those that cannot be used among them
    text      the table they make: the job's own to the byte where nothing was added to it
    lines     line of ``text`` by the number of a row that counts
    problems  why the job's own table cannot be read; empty where it can
    """

    entries: tuple[Entry, ...]
    text: str
    lines: Mapping[int, int]
    problems: tuple[Problem, ...]

    @property
    def left_out(self) -> tuple[Entry, ...]:
        """Rows that are not in the table, but for those struck out."""
        return tuple(each for each in self.entries if not each.counts and not each.row.struck)


def leak_book(table: Path, kept: Sequence[Kept], said: Iterable[Kept], design: Design) -> LeakBook:
    """Put the job's table and the rows typed together.

    A row of the table that was typed here and written out bears the word it was typed under, and is not taken twice.
    """
    own = {str(one.content.get("row", "")) for one in kept}
    raw, filed, again, problems = _filed(table, own)
    rows = standing([*filed, *kept], said)
    begun = {str(one.content["row"]): one for one in filed}
    entries = _together([_entry(row, begun, design) for row in rows], _names(filed), full_of(design))
    entries = tuple(_compared(each, again.get(each.row.key)) for each in entries)
    counted = [each for each in entries if each.counts]
    if counted and len(counted) == len(filed) and all(each.row.key in begun for each in counted):
        lines = {each.row.number: -each.row.number for each in counted}
        return LeakBook(entries=entries, text=raw, lines=lines, problems=problems)
    written = [HEAD, ",".join(NAMES), *(",".join(_cells(each)) for each in counted)]
    return LeakBook(
        entries=entries,
        text="\n".join(written) + "\n" if counted else "",
        lines={each.row.number: line for line, each in enumerate(counted, 3)},
        problems=problems,
    )


def _filed(table: Path, own: set[str]) -> tuple[str, list[FromFile], dict[str, tuple[int, float]], tuple[Problem, ...]]:
    """The table as it lies there and its rows, those typed here apart with line and level; why it cannot be read."""
    if not table.exists():
        return "", [], {}, ()
    problems: list[Problem] = []
    read = read_table(table, COLUMNS, problems)
    if read is None:
        return "", [], {}, tuple(problems)
    raw = table.read_bytes().decode("utf-8", "surrogateescape")
    filed, again, twice = list[FromFile](), dict[str, tuple[int, float]](), dict[str, int]()
    for place, line in enumerate(read.lines):
        cells: dict[str, Any] = {name: read.texts[name][place] for name in read.texts}
        cells |= {name: as_read(read.numbers[name][place]) for name in read.numbers}
        if cells["row"] in own:
            again[cells["row"]] = (line, cells["reservoir_level_mm_above_floor"])
            continue
        plain = raw.split("\n")[line - 1].strip()
        twice[plain] = twice.get(plain, 0) + 1
        # The word of a row hangs on what it says and not on where it stands: lines may be added above it.
        word = sha256(f"{plain} {twice[plain]}".encode("utf-8", "replace")).hexdigest()[:32]
        content = {**cells, "row": word, "line": line}
        filed.append(FromFile(number=-line, seen=_EARLIEST, kept=_EARLIEST, content=content))
    return raw, filed, again, ()


def _compared(each: Entry, again: tuple[int, float] | None) -> Entry:
    """Ask where the job's table has a row that was typed here and says something else: what was typed is taken."""
    if again is None or not each.counts or each.row.agreed or abs(each.level * 1000 - again[1]) < 0.05:
        return each
    has = f"Line {again[0]} of the job's table has {level_told(again[1] / 1000)}"
    asks = f"{has}. What was typed here is taken. Which of the two is it?"
    return replace(each, asked=(*each.asked, asks))


def _names(filed: Iterable[FromFile]) -> set[str]:
    return {str(one.content["test"]) for one in filed}


def _entry(row: Row, begun: Mapping[str, FromFile], design: Design) -> Entry:
    first = begun.get(row.keys[0])
    return typed(row, design) if first is None else from_table(row, first.content, design)


def _together(entries: Iterable[Entry], names: set[str], full: Length) -> tuple[Entry, ...]:
    """Rows in their order, each with its test and its time in it; what runs backwards is asked about and left out."""
    filed, loose = list[Entry](), list[Entry]()
    for each in entries:
        (filed if each.test else loose).append(each)
    return (*_rising(filed), *_rising(_tests(_ordered(loose), names, full)))


def _ordered(entries: Iterable[Entry]) -> list[Entry]:
    """By the clock; a time before that of a row written earlier is a slip until a person has agreed to it."""
    placed: list[Entry] = []
    latest: datetime | None = None
    for each in entries:
        at = each.at
        if at is not None and each.counts:
            if latest is not None and at < latest and not each.row.agreed and not each.row.before:
                asks = f"{at:%H:%M} is before {latest:%H:%M}, the reading before. A mistyped minute, or written late?"
                placed.append(replace(each, asked=(*each.asked, asks), counts=False, usable=True))
                continue
            latest = max(at, latest or at)
        placed.append(each)
    counted = sorted((each for each in placed if each.counts and each.at), key=lambda each: each.at or _EARLIEST)
    waiting = iter(counted)
    return [next(waiting) if each.counts and each.at else each for each in placed]


def _tests(entries: Iterable[Entry], names: set[str], full: Length) -> list[Entry]:
    """Name the tests: another begins where something else is going on, or where a person says so."""
    told: list[Entry] = []
    name, number, start = "", 0, _EARLIEST
    before: Entry | None = None
    for each in entries:
        if not each.counts or each.at is None:
            told.append(each)
            continue
        first = before is None or each.condition != before.condition or each.begins
        asks = "" if each.row.agreed else _slip_of_unit(each, None if first else before, full)
        if asks:
            told.append(replace(each, asked=(*each.asked, asks), counts=False))
            continue
        if first:
            number += 1
            while f"T{number}" in names:
                number += 1
            name, start = f"T{number}", each.at
        told.append(replace(each, test=name, hours=round((each.at - start).total_seconds() / 3600, 4)))
        before = each
    return told


def _slip_of_unit(each: Entry, before: Entry | None, full: Length) -> str:
    """Ask about a level that would fit were it typed in centimetres, metres or with a digit too many."""
    near = SLIP_OF_UNIT.amount
    if before is None:
        likely = [meant for meant in each.others if full / 8 <= meant.level <= full]
        odd = 0 < each.level < full / 8
    else:
        likely = [meant for meant in each.others if abs(meant.level - before.level) <= near]
        odd = bool(likely) and abs(each.level - before.level) > near
    if not odd:
        return ""
    shows = f"{each.row.text('level')} would be {level_told(each.level)} above the floor"
    beside = f", {level_told(before.level)} at the reading before" if before else ""
    asks = " ".join(f"Is it {level_told(meant.level)}, typed in {meant.unit}?" for meant in likely)
    return f"{shows}{beside}. {asks or 'Is it so?'}"


def _rising(entries: Iterable[Entry]) -> list[Entry]:
    """Times rise within a test; one that does not is asked about and left out."""
    told: list[Entry] = []
    latest: dict[str, float] = {}
    for each in entries:
        before = latest.get(each.test)
        if not each.counts:
            told.append(each)
        elif before is not None and each.hours <= before:
            asks = f"{each.hours:g} h into {each.test} comes after {before:g} h. A mistyped minute, or another test?"
            told.append(replace(each, asked=(*each.asked, asks), counts=False, usable=False))
        else:
            latest[each.test] = each.hours
            told.append(each)
    return told


def _cells(each: Entry) -> list[str]:
    numbers = {
        "time_h": each.hours,
        "reservoir_level_mm_above_floor": each.level * 1000,
        "rain_mm_in_interval": each.rain * 1000,
        "evaporation_mm_in_interval": None if each.pan is None else each.pan * 1000,
        "top_up_l_in_interval": each.added * 1000,
        "water_temperature_c": each.warmth,
    }
    texts = {
        "test": each.test,
        "condition": each.condition,
        "read_at": "" if each.at is None else each.at.isoformat(timespec="minutes"),
        "note": each.note,
        "row": "" if each.row.number < 0 else each.row.key,
    }
    told = {name: "" if number is None else f"{round(number, 6):.10g}" for name, number in numbers.items()}
    return [cell(texts[name]) if name in texts else told[name] for name in NAMES]
