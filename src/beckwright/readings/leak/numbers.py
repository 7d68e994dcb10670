"""Numbers of a leak test as fingers typed them: a level from wherever it was read, and what came since."""

from typing import Any

from beckwright.base import words
from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak.read import COLUMNS
from beckwright.readings.rows import Row
from beckwright.readings.typed import metric_note

FLOOR, OVERFLOW, MARK = "floor", "overflow", "mark"
FROM = (FLOOR, OVERFLOW, MARK)
"""What a level is read from: up from the floor, down from the overflow, down from a mark of known height."""
BOUNDS = {
    "rain": ("rain_mm_in_interval", "mm"),
    "pan": ("evaporation_mm_in_interval", "mm"),
    "top_up": ("top_up_l_in_interval", "L"),
    "temperature": ("water_temperature_c", "°C"),
}
"""Numbers that may be left out, by their name on the page: their column, and its unit."""
_COLUMN = {column.name: column for column in COLUMNS}
CLOSE = 1e-3


@value
class Meant:
    """What a level may have been: typed in which unit, and where it would be above the floor."""

    unit: str
    level: Length


def full_of(design: Design) -> Length:
    """Depth of the reservoir from its floor to its overflow."""
    pit = design.reservoir.pit
    return pit.overflow - pit.floor


def numbers_of(row: Row, wrong: list[str]) -> dict[str, Any]:
    """Rain, pan, filling up and warmth; what was not typed is none."""
    found: dict[str, float | None] = {}
    for name, (column, unit) in BOUNDS.items():
        text = row.text(name).strip()
        read = words.understood(text, unit, row.measure)
        amount, bound = read.amount if text else None, _COLUMN[column]
        if text and amount is None:
            wrong.append(f"{_SPOKEN[name]} {read.asked}")
        elif amount is not None and not (bound.low or 0.0) <= amount <= bound.high:
            ends = words.band(bound.low or 0.0, bound.high, 1, unit)
            wrong.append(f"{_SPOKEN[name]} {_with_unit(row, name, unit)} lies outside {ends}. What was it?")
            amount = None
        found[name] = amount
    rain, pan, added = (found[name] for name in ("rain", "pan", "top_up"))
    return {
        "rain": (rain or 0.0) / 1000,
        "pan": None if pan is None else pan / 1000,
        "added": (added or 0.0) / 1000,
        "warmth": found["temperature"],
    }


_SPOKEN = {"rain": "Rain", "pan": "The pan", "top_up": "Filled up", "temperature": "Water temperature"}


def _with_unit(row: Row, name: str, unit: str) -> str:
    """A number as it was typed, with the unit its field named where it has none of its own."""
    text = row.text(name).strip()
    if not words.understood(text, unit, row.measure).bare:
        return text
    with words.told_in(row.measure):
        return f"{text} {words.unit_called(unit)}"


def level_told(level: Length) -> str:
    """A level as finely as a stick is read: to 0.1 mm where somebody read so, on a tape in inches."""
    return f"{level * 1000:.5g} mm" if words.reads() is words.METRIC else words.millimetres(level)


def level_of(row: Row, design: Design, wrong: list[str], doubts: list[str]) -> tuple[Length, tuple[Meant, ...]]:
    """Level above the floor, m, from what was read and from where; and what it may have been."""
    read, full = words.understood(row.text("level"), "mm", row.measure), full_of(design)
    if read.amount is None:
        wrong.append(f"Level {read.asked}" if row.text("level").strip() else "The level is empty.")
        return 0.0, ()
    start, mark = row.text("from"), full * 1000
    if start == MARK:
        given = words.understood(row.text("mark"), "mm", row.measure)
        if given.amount is None:
            wrong.append(f"The mark {given.asked} How far does it lie above the floor?")
            return 0.0, ()
        mark = given.amount

    def above(amount: float) -> Length:
        return (amount if start == FLOOR else mark - amount) / 1000

    level = above(read.amount)
    typed_as = _with_unit(row, "level", "mm")
    if level < 0:
        wrong.append(f"{typed_as} would be {level_told(-level)} below the floor of the reservoir. Read it again.")
    elif level > full + CLOSE:
        doubts.append(
            f"The level is {level_told(level)}, and the overflow lies {words.millimetres(full)} above the floor. "
            "Is the unit right, and where it was read from?"
        )
    if not read.bare:
        return level, ()
    others = _OTHERS[row.measure]
    return level, tuple(Meant(unit=unit, level=above(read.amount * times)) for unit, times in others)


_OTHERS = {
    words.METRIC: (("cm", 10.0), ("m", 1000.0)),
    words.US: (("mm", 1 / 25.4), ("cm", 1 / 2.54), ("ft", 12.0)),
}
"""Units a level may have been typed in for the one its field names, and what one of them is of that."""


def note_of(row: Row) -> str:
    """What a person noted, and how a number was typed that stands otherwise in a table in mm above the floor."""
    start = row.text("from")
    level = _with_unit(row, "level", "mm")
    told = {
        FLOOR: metric_note(row.text("level"), "mm", row.measure) and f"typed {level}",
        OVERFLOW: f"typed {level} down from the overflow",
        MARK: f"typed {level} down from a mark at {_with_unit(row, 'mark', 'mm')}",
    }
    others = [
        f"{_SPOKEN[name].lower()} typed {_with_unit(row, name, unit)}"
        for name, (_, unit) in BOUNDS.items()
        if row.text(name).strip() and metric_note(row.text(name), unit, row.measure)
    ]
    return "; ".join(part for part in (row.text("note"), told.get(start, ""), *others) if part)
