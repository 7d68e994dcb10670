"""The job's own numbers as an owner reads them, each by a name: the tree, the papers and the page say only these."""

import math

from beckwright.base.quantities import Duration, FloatArray, Length, Volume
from beckwright.base.words import band, flow, grouped, litres, millimetres, number_in, spell, to_step, unit_called
from beckwright.care.judge import judge
from beckwright.care.normal import Drops, Normal
from beckwright.stages.season import MONTHS

_ALL: Length = 1e-9
"""A drop nearer to the pump's least than this takes all there is."""
TOLD_DAYS = 6.0
"""The span the owner's example is told for: long enough to be seen on a stick, shorter than a week away."""


SEEN = 0.005
"""The least a stick shows for certain, m."""


def numbers(normal: Normal, month: int) -> dict[str, str]:
    """Every number an owner is told in a month, January 0, as words."""
    always = {
        "rested": millimetres(normal.rested),
        "overflow": millimetres(normal.overflow),
        "least": millimetres(normal.least),
        "lent": band(*_ends(normal.lent), 5, "L", scale=1000),
        "gentle": f"{normal.gentle}, {flow(normal.gentle_rate)}",
        "flow": normal.flow,
        "rate": flow(normal.rate),
        "litre_deep": millimetres_a_litre(normal),
        "amplified": f"{normal.amplified:.1f}",
        "room": millimetres(normal.storm),
        "useful": litres(normal.useful),
    }
    if math.isfinite(normal.settles):
        always["settles"] = minutes(normal.settles)
    if normal.cuts_out is None:
        always |= {
            "lowest": band(*_ends(normal.lowest), 5, "mm", scale=1000),
            "running": band(*_ends(normal.running), 5, "mm", scale=1000),
            "back": between_times(normal.back),
            "back_latest": minutes(float(normal.back[-1])),
        }
    else:
        always["cuts_out"] = minutes(normal.cuts_out)
    return always | (_of_month(normal, month) if normal.known else {})


def _of_month(normal: Normal, month: int) -> dict[str, str]:
    day, week = normal.downs(normal.dry_days(month)), normal.downs(normal.dry_days(month, 7))
    one, six = judge(normal, month, 0.0, 1, "nights"), judge(normal, month, 0.0, TOLD_DAYS, "days")
    room = normal.least - normal.rested
    bounds = {"night_most": millimetres(one.normal), "night_rings": millimetres(one.rings)} if one.normal < room else {}
    if six.normal < room:
        bounds["six_most"] = millimetres(six.normal)
    lasts = normal.lasts(month)
    # Where the water in motion alone is more than there is, days are no answer: the start says so.
    if lasts[-1] > 0 and math.isfinite(lasts[0]):
        bounds["lasts"] = spell(*_ends(lasts))
    return bounds | {
        "month": MONTHS[month],
        "day_down": capped(normal, day),
        "week_down": capped(normal, week),
        "six_down": capped(normal, normal.downs(normal.dry_days(month, TOLD_DAYS))),
        "six": grouped(TOLD_DAYS),
        "week_litres": band(*_ends(normal.dry_days(month, 7)), 5, "L", scale=1000),
        "topped": band(*_ends(normal.topped[:, month]), 5, "L", scale=1000),
        "hours": f"{normal.a_day[month] / 3600:.1f}",
    }


def capped(normal: Normal, downs: FloatArray) -> str:
    """How far down, low first; where weather may take more than there is, only that it may."""
    most = normal.least - normal.rested
    low, high = (float(end) for end in (downs[0], downs[-1]))
    if low >= most - _ALL:
        return f"{millimetres(most)} and more"
    if high >= most - _ALL:
        return f"{band(low, low, 1, 'mm', scale=1000)} or more"
    return band(low, high, 1 if high < 0.02 else 5, "mm", scale=1000)


def millimetres_a_litre(normal: Normal) -> str:
    """How far the level goes down for what a watering can holds."""
    can = can_of(normal)
    return f"{litres(can)} are {millimetres(normal.down(can))}"


def can_of(drops: Drops) -> Volume:
    """What a watering can holds; ten or a hundred of it where less would not show on a stick."""
    return next((each for each in (0.010, 0.1, 1.0) if drops.down(each) >= SEEN), 1.0)


def minutes(time: Duration) -> str:
    """A time to be waited: seconds up to two minutes, else whole minutes, rounded up."""
    if not math.isfinite(time):
        return "for ever"
    if time <= 120:
        return f"{grouped(math.ceil(time / 5) * 5)} s"
    return f"{grouped(math.ceil(time / 60))} min"


def between_times(times: FloatArray) -> str:
    """A band of times, rounded outward."""
    low, high = float(times[0]), float(times[-1])
    if not math.isfinite(low):
        return "never"
    if high <= 300:
        return band(low, high, 5, "s")
    return band(low, high, 0.5 if high < 1200 else 1, "min", scale=1 / 60)


def dip(length: Length) -> str:
    """A dip without its unit, to stand in a table."""
    return f"{number_in(to_step(length * 1000, 1), 'mm'):,.0f}"


def dip_unit() -> str:
    """The unit dips are told in."""
    return unit_called("mm")


def _ends(ends: FloatArray) -> tuple[float, float]:
    return float(ends[0]), float(ends[-1])
