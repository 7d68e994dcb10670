"""One row of a leak test as fingers typed it: what was understood, and what a person is asked about it."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from beckwright.base import words
from beckwright.base.errors import Problem
from beckwright.base.quantities import Length, Temperature, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak.numbers import Meant, level_of, note_of, numbers_of
from beckwright.readings.leak.state import OFF, condition_of, state_of
from beckwright.readings.rows import Row
from beckwright.readings.shots import lip_places
from beckwright.tables.notebook import CLOCK_AHEAD


@value
class Entry:
    """One row.

    filed      whether it came from the job's table
    test       empty until it has been told which it belongs to
    hours      since that test began
    at         clock; None where none was written down
    level      above the floor; 0 where it cannot be told
    others     what its level may have been, typed in another unit
    begins     a person says that another test begins here
    asked      all that is asked about it
    usable     whether a person may say that it is right as it stands
    counts     whether it is one of the readings
    """

    row: Row
    filed: bool
    test: str
    hours: float
    at: datetime | None
    level: Length
    condition: str
    rain: Length
    pan: Length | None
    added: Volume
    warmth: Temperature | None
    begins: bool
    note: str
    others: tuple[Meant, ...]
    asked: tuple[str, ...]
    usable: bool
    counts: bool


def from_table(row: Row, first: Mapping[str, Any], design: Design) -> Entry:
    """A row of the job's table, or one written in its place: that keeps its test and what was going on.

    first  the row as it stands in the table
    """
    if row.content.get("line") is None:
        return _instead(row, first, design)
    state = state_of(str(first["condition"]), design.water.names, design.course.length, "")
    asked = (f"{state.found}. {state.rule}.",) if isinstance(state, Problem) else ()
    pan, warmth = first["evaporation_mm_in_interval"], first["water_temperature_c"]
    return _entry(
        row,
        filed=True,
        test=str(first["test"]),
        hours=float(first["time_h"]),
        at=_clock(str(first["read_at"])),
        level=float(first["reservoir_level_mm_above_floor"]) / 1000,
        condition=str(first["condition"]),
        rain=float(first["rain_mm_in_interval"]) / 1000,
        pan=None if pan is None else float(pan) / 1000,
        added=float(first["top_up_l_in_interval"]) / 1000,
        warmth=None if warmth is None else float(warmth),
        note=str(first["note"]),
        others=(),
        wrong=asked,
    )


def typed(row: Row, design: Design) -> Entry:
    """A row of the page."""
    wrong: list[str] = []
    at = _clock(row.text("at"))
    if at is None:
        wrong.append(f'"{row.text("at")[:40]}" is no time. When was it read?')
    elif at - row.kept > timedelta(seconds=CLOCK_AHEAD.amount):
        wrong.append(f"{at:%H:%M} on {at:%d.%m.%Y} is still to come. A slip, or a clock that is wrong?")
    condition = _condition(row, design, wrong)
    return _entry(row, filed=False, test="", hours=0.0, at=at, condition=condition, wrong=wrong, design=design)


def _instead(row: Row, first: Mapping[str, Any], design: Design) -> Entry:
    wrong: list[str] = []
    hours = words.understood(row.text("hours"), "h", row.measure).amount
    if hours is None or hours < 0:
        wrong.append(f'"{row.text("hours")}" is no time since the test began. How many hours?')
    return _entry(
        row,
        filed=True,
        test=str(first["test"]),
        hours=hours or 0.0,
        at=None,
        condition=str(first["condition"]),
        wrong=wrong,
        design=design,
    )


def _entry(row: Row, *, wrong: Any, design: Design | None = None, **told: Any) -> Entry:
    """Make the row; where a design is given its numbers are read as they were typed."""
    wrong, doubts = list(wrong), list[str]()
    if design is not None:
        more = numbers_of(row, wrong)
        level, others = level_of(row, design, wrong, doubts)
        told |= more | {"level": level, "others": others, "note": note_of(row)}
    sound = not wrong
    return Entry(
        row=row,
        begins=row.content.get("begins") is True,
        asked=(*wrong, *doubts, *([row.asked] if row.asked else ())),
        usable=sound,
        counts=sound and not row.struck and (row.agreed or not doubts),
        **told,
    )


def _clock(text: str) -> datetime | None:
    try:
        at = datetime.fromisoformat(text.strip())
    except ValueError:
        return None
    return at if at.tzinfo is not None else None


def _condition(row: Row, design: Design, wrong: list[str]) -> str:
    """What was going on, in the words of the table."""
    pump, place = row.text("pump").strip(), row.text("comes_in").strip()
    if pump == OFF:
        return condition_of("")
    if pump not in design.water.names:
        wrong.append(f'"{pump}" is none of the flows: {", ".join(design.water.names)}. Was the pump off?')
        return ""
    if not place or place == "source":
        return condition_of(pump)
    lips = lip_places(design.course)
    below = lips.get(place, words.understood(place, "m", row.measure).amount)
    if below is None:
        wrong.append(f'"{place}" is no lip and no chainage. Where did the water come in?')
        return ""
    condition = condition_of(pump, below, place if place in lips else "")
    state = state_of(condition, design.water.names, design.course.length, "")
    if isinstance(state, Problem):
        wrong.append(f"The water came in at {place}. {state.remedy}.")
    return condition
