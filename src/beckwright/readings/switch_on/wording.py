"""Readings and figures of the morning as a person is told of them."""

import numpy as np

from beckwright.base import words
from beckwright.base.quantities import FloatArray
from beckwright.readings.switch_on.kinds import KINDS
from beckwright.readings.switch_on.morning import Beside, Learned, Running
from beckwright.readings.switch_on.noise import unit_of
from beckwright.readings.switch_on.read import Reading

_STEPS = {"s": 1.0, "W": 1.0, "mm": 1.0, "m": 0.01}
DOES: dict[str, str] = {
    "hose kinked, clogged or a valve half shut": "Walk the hose, open every valve, rinse it out.",
    "pump worn or not the one on the order": "Read the plate against the order, then look at the impeller.",
    "pump slow: setting or supply": "Set the controller again and read it; have the supply measured by an electrician.",
    "pump cage or chamber slots blocked": "Switch off and unplug, then lift the pump out and clear cage and slots.",
    "a lip out of level": "Check every lip across with the level, and shim it.",
    "water behind the stones": "Look beside and under each lip for water that runs unseen; dam it back, top by top.",
    "an edge low or a loss": "Look along both edges at full flow, then do the leak test.",
}
"""What to do about a cause first."""


def what(row: Reading) -> str:
    """``"bucket of 10 L at full"``."""
    return _named(row) + (f" at {row.flow}" if row.flow else "")


def _named(row: Reading) -> str:
    if row.kind in ("arrival", "dry arrival"):
        dry = " of a dry course" if row.kind == "dry arrival" else ""
        the = "the " if row.place in ("reservoir", "source") else ""
        return f"first water{dry} at {the}{row.place}"
    if row.kind in ("water level", "still level"):
        return f"{row.kind} {words.chainages(row.chainage, row.chainage)}"
    after = f" after {row.seconds:g} s" if row.seconds else ""
    litres_now = f"{words.number_in(row.amount * 1000, 'L'):g} {words.unit_called('L')}"
    return {
        "bucket": f"bucket of {litres_now}",
        "reservoir": f"reservoir after {row.seconds:g} s",
        "steady": f"steady reservoir level{after}",
        "tilt": f"{row.place}, right end over left",
        "rest": "reservoir at rest",
        "draws air": "pump draws air",
        "chamber": "chamber below the crates",
    }.get(row.kind, row.kind)


def spread(row: Reading, ends: FloatArray) -> str:
    """A band of what a reading is compared by, in its own unit."""
    unit, scale = unit_of(row.kind)
    step = 0.1 if row.kind == "bucket" else _STEPS[unit]
    return words.band(float(ends[0]), float(ends[-1]), step, unit, scale=scale)


def one(row: Reading, amount: float) -> str:
    """One amount of what a reading is compared by."""
    unit, scale = unit_of(row.kind)
    step = 0.1 if row.kind == "bucket" else 0.001 if unit == "m" else _STEPS[unit]
    return words.band(amount, amount, step, unit, scale=scale)


def expected(each: Beside) -> str:
    """``"first water at lip 1 expected after 95 to 140 s"``."""
    after = "after " if "arrival" in each.row.kind or each.row.kind == "draws air" else ""
    return f"{what(each.row)} expected {after}{spread(each.row, each.expected)}"


def flow(ends: FloatArray) -> str:
    """A band of flow, to 50 L/h."""
    return words.band(float(ends[0]), float(ends[2]), 50, "L/h", scale=3.6e6)


def litres(ends: FloatArray) -> str:
    """A band of water."""
    return words.band(float(ends[0]), float(ends[2]), 5, "L", scale=1000)


def level(ends: FloatArray) -> str:
    """A band of levels over the reservoir's floor; water that is missing there lies below it."""
    if ends[2] <= 0:
        return "under its floor: it does not hold the water in motion"
    return words.band(max(float(ends[0]), 0.0), float(ends[2]), 5, "mm", scale=1000) + " over its floor"


def share(ends: FloatArray) -> str:
    """A band of shares."""
    return words.band(float(ends[0]), float(ends[2]), 5, "%", scale=100)


def learned(each: Learned, way: int) -> str:
    """A band of a parameter, before (0) or after (1)."""
    low, high = float(each.band[way, 0]), float(each.band[way, 2])
    if each.name == "bed's resistance":
        return f"{low:.2f} to {high:.2f} (0 low, 2 high depth)"
    if each.adds:
        return f"{low * 1000:+.0f} to {high * 1000:+.0f} mm"
    return f"{low:.2f} to {high:.2f} times"


def empty(each: Running) -> str:
    """When the pump is at its least level, if nothing came back before."""
    low, high = float(each.empty[1, 0]), float(each.empty[1, 2])
    return words.band(low, high, 1, "s")


def asked(row: Reading) -> str:
    """A reading that could be taken: what to do."""
    at = f" at {row.flow}" if row.flow else ""
    return {
        "watts": f"read the watts{at}",
        "chamber": f"read the level in the chamber against that in the crates{at}",
        "dead head": f"lift the hose's end until the water stops, and tape that height over the reservoir's water{at}",
        "bucket": f"time a bucket{at}",
        "reservoir": f"start again and read the reservoir {row.seconds:g} s after{at}",
        "steady": f"read the steady level of the reservoir{at}"
        + (f", {row.seconds / 60:.0f} minutes after it settled" if row.seconds else ""),
        "tilt": f"read {row.place} across, left and right",
        "arrival": f"start again in the morning and time the water until it comes over {row.place}{at}",
    }.get(row.kind, f"{KINDS[row.kind].tells}{at}")


def would_show(row: Reading, low: float, high: float) -> str:
    """What a cause would show in a reading."""
    return spread(row, np.array([low, high]))
