"""Rows of a leak test as JSON: as typed, as understood, and what is asked about each."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from beckwright.base import words
from beckwright.readings.leak import Entry, LeakBook, LeakTest
from beckwright.readings.leak.numbers import FLOOR, level_told
from beckwright.web.desk.state import Told
from beckwright.web.slope.levels import row_told

_UNITS = {"level": "mm", "mark": "mm", "rain": "mm", "pan": "mm", "top_up": "L", "temperature": "°C"}
_TYPED = ("at", "hours", "level", "from", "mark", "pump", "comes_in", "rain", "top_up", "pan", "temperature")


def rows_told(book: LeakBook, found: LeakTest) -> list[Told]:
    """Every row, the last first."""
    return [_row(each, asked) for each, asked in _beside(book, found)][::-1]


def _beside(book: LeakBook, found: LeakTest) -> Iterable[tuple[Entry, tuple[str, ...]]]:
    """Every row with all that is asked about it, from the row itself and from the line through its test."""
    by_line = {each.line: f"{words.opening(each.found)}. {each.asks}" for each in found.doubts if each.line}
    for each in book.entries:
        more = by_line.get(book.lines.get(each.row.number, 0))
        asked = (*each.asked, *([more] if more else ()))
        settled = each.row.struck or (each.row.agreed and each.usable)
        yield each, () if settled else asked


def _row(each: Entry, asked: Sequence[str]) -> Told:
    line = each.row.content.get("line")
    given = {name: each.row.text(name) for name in _TYPED} if line is None else _as_typed(each)
    for name, unit in _UNITS.items():
        given[name] = words.with_own_unit(given[name], unit, each.row.measure) if line is None else given[name]
    return row_told(each.row, asked, usable=each.usable) | {
        **given,
        "note": each.row.text("note"),
        "before": [_before(content) for content in each.row.before],
        "test": each.test,
        "filed": each.filed,
        "line": line or 0,
        "when": _when(each),
        "understood": level_told(each.level) if each.counts or each.usable else "",
        "condition": each.condition,
        "counts": each.counts,
        "more": _more(each),
    }


def _as_typed(each: Entry) -> dict[str, str]:
    """What a row of the table holds, as a person would type it into the fields of whoever reads."""
    numbers = {"level": each.level * 1000, "rain": each.rain * 1000, "top_up": each.added * 1000}
    told = dict.fromkeys(_TYPED, "") | {"from": FLOOR, "hours": f"{each.hours:.10g}"}
    told |= {name: words.as_typed(amount, _UNITS[name]) if amount else "" for name, amount in numbers.items()}
    told["pan"] = "" if each.pan is None else words.as_typed(each.pan * 1000, "mm")
    told["temperature"] = "" if each.warmth is None else words.as_typed(each.warmth, "°C")
    return told


def _before(content: Mapping[str, Any]) -> str:
    """What stood in a row before it was written anew, as it was typed."""
    level = content.get("level", content.get("reservoir_level_mm_above_floor", ""))
    measure = words.measure_called(str(content.get("units", ""))) or words.METRIC
    when = str(content.get("at", ""))[:16].replace("T", " ") or f"{content.get('hours') or content.get('time_h', '')} h"
    with words.told_in(measure):
        unit = words.unit_called("mm")
    return f"{when}, {level} {unit}"


def _when(each: Entry) -> str:
    """When it was read: by the clock, else hours since its test began."""
    return f"{each.hours:g} h" if each.at is None else f"{each.at:%d.%m. %H:%M}"


def _more(each: Entry) -> list[str]:
    told = {
        "rain": words.with_unit(each.rain * 1000, "mm") if each.rain else None,
        "filled up": words.with_unit(each.added * 1000, "L") if each.added else None,
        "pan": None if each.pan is None else words.with_unit(each.pan * 1000, "mm"),
        "water": None if each.warmth is None else words.with_unit(each.warmth, "°C"),
    }
    return [f"{what} {amount:.4g}" for what, amount in told.items() if amount is not None]
