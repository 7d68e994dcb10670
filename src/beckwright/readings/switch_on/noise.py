"""How sure one reading is: one standard deviation, in what it is compared by."""

from math import hypot

from beckwright.base.quantities import Duration
from beckwright.readings.switch_on.read import Reading
from beckwright.tables import switch_on as table

_SECONDS = ("bucket", "arrival", "dry arrival", "draws air")


def compared(row: Reading) -> float:
    """What a row is compared by: its seconds where it is a time, else its amount."""
    return row.seconds if row.kind in _SECONDS else row.amount


def compares_time(kind: str) -> bool:
    """Whether a kind is compared by its seconds."""
    return kind in _SECONDS


def unit_of(kind: str) -> tuple[str, float]:
    """Unit a person reads it in, and how many of them one of SI is."""
    if kind in _SECONDS:
        return "s", 1.0
    if kind == "watts":
        return "W", 1.0
    return ("m", 1.0) if kind in ("water level", "still level", "dead head") else ("mm", 1000.0)


def sigma(row: Reading, falls: float = 0.0) -> float:
    """One standard deviation of a row.

    falls  how fast the reservoir falls at a start, m/s: a level is no surer than the second it was read in
    """
    watch = table.STOPWATCH.amount
    if row.kind == "bucket":
        return hypot(watch, table.BUCKET.amount * row.seconds)
    if row.kind in ("arrival", "dry arrival"):
        return hypot(table.ARRIVAL_SEEN.amount, table.ARRIVAL_SCATTER.amount * row.seconds)
    if row.kind == "draws air":
        return _air(falls, row.seconds)
    if row.kind == "reservoir":
        return hypot(table.TAPE_IN_WATER.amount, 2 * watch * falls if row.seconds else 0.0)
    if row.kind == "watts":
        return table.WATT_METER.amount * row.amount
    return {
        "steady": table.TAPE_IN_WATER.amount,
        "rest": table.TAPE_IN_WATER.amount,
        "chamber": table.TAPE_IN_WATER.amount * 2**0.5,
        "water level": table.WATER_LEVEL.amount,
        "still level": table.STILL_LEVEL.amount,
        "dead head": table.DEAD_HEAD.amount,
        "tilt": hypot(table.LIP_LEVEL.amount, table.LIP_AS_SET.amount),
    }[row.kind]


def _air(falls: float, seconds: Duration) -> float:
    """Air is drawn within a hand's breadth of the cut-out level: three times a tape's error, as seconds."""
    return hypot(table.STOPWATCH.amount, 3 * table.TAPE_IN_WATER.amount / falls if falls > 0 else 0.1 * seconds)
