"""A worried call: so far down, in such a time. Weather, a closer look, or time to ring somebody."""

from typing import Literal

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length
from beckwright.base.values import value
from beckwright.care.normal import DAY, Drops
from beckwright.tables.care import DAYLIGHT, LAST_DAY, RINGS, STICK

Verdict = Literal["normal", "look closer", "ring"]
Over = Literal["nights", "hours", "days"]


@value
class Judged:
    """One drop against what weather takes.

    expected  (3,) how far it should have gone down; least, middle, most
    normal    up to this far is weather, the stick's own error with it
    rings     from here on it is not
    left      time until the pump's least at this pace, from the rest level less the drop
    """

    verdict: Verdict
    down: Length
    expected: FloatArray
    normal: Length
    rings: Length
    left: Duration


def judge(normal: Drops, month: int, down: Length, amount: float, over: Over) -> Judged:
    """Judge a drop of the resting level.

    month   January 0
    amount  of nights with the pump off, of hours by day, or of whole days and nights as it usually runs
    Both readings are taken at rest: one at rest and one running differ by the water in motion, and that is no loss.
    """
    expected = normal.downs(lost_over(normal, month, amount, over))
    weather = float(expected[2]) + STICK.high
    left = _left(normal, down, amount * {"nights": DAY / 2, "hours": 3600.0, "days": DAY}[over])
    rings = max(RINGS.amount * float(expected[2]), weather + STICK.high)
    if down <= weather:
        verdict: Verdict = "normal"
    else:
        verdict = "ring" if down >= rings or left < LAST_DAY.amount else "look closer"
    return Judged(verdict=verdict, down=down, expected=expected, normal=weather, rings=rings, left=left)


def lost_over(normal: Drops, month: int, amount: float, over: Over) -> FloatArray:
    """Volumes weather, splash and what is known to leak take in such a time, (3,) least, middle, most."""
    if over == "nights":
        return normal.night(month) * amount
    if over == "days":
        return normal.dry_days(month, amount)
    whole, rest = divmod(amount * 3600.0, DAY)
    runs = float(normal.a_day[month])
    # Nobody says which hours: at the least they were dark and still, at the most all of the day's sun and running.
    sun = np.array([max(rest - DAY + DAYLIGHT.amount, 0.0) / DAYLIGHT.amount, rest / DAY, rest / DAYLIGHT.amount])
    ran = np.array([max(rest - DAY + runs, 0.0) / runs, rest / DAY, rest / runs]) if runs > 0 else np.zeros(3)
    lost: FloatArray = (
        normal.dry_days(month, whole)
        + normal.evaporates[:, month] * np.minimum(sun, 1.0)
        + normal.sheds[:, month] * np.minimum(ran, 1.0)
        + normal.leaks * rest
    )
    return lost


def _left(normal: Drops, down: Length, time: Duration) -> Duration:
    """How long until the pump's least, at the pace of the drop."""
    pit = normal.pit
    there = pit.rested - down
    gone = pit.held(pit.rested) - pit.held(there)
    spare = max(pit.held(there) - pit.held(pit.pump_minimum), 0.0)
    return spare / gone * time if gone > 0 else float("inf")
