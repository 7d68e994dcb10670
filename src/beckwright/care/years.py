"""The record of the years in words: what changes, how fast, and when it matters."""

import numpy as np

from beckwright.base import words
from beckwright.base.quantities import FloatArray
from beckwright.care.second import Second
from beckwright.care.service import Item, Trend
from beckwright.care.settling import Sinking
from beckwright.tables.practice import FREEBOARD_FAILS

STRAIGHT = "A straight line: fill sinks ever more slowly, most of it in year one."
Row = tuple[str, str]
"""A name and its words."""
_STEPS = {"L/h": (3.6e6, 0.1), "W": (1.0, 1.0), "mm": (1000.0, 1.0)}
"""From SI to the unit a reading is written in, and how finely it is told."""
_FLOW_STEP = 10.0


def trend_said(trend: Trend) -> str:
    """One item: how it changes in a year, what that means, and when."""
    item = trend.record.item
    now = f"{amount_said(item, trend.now)} now"
    if not trend.enough:
        return f"{words.opening(item.name)}: {now}. Too few years for a trend."
    told = f"{words.opening(item.name)}: {now}, {_change(trend)}."
    if trend.limit is None:
        return told
    return f"{told} The limit is {amount_said(item, trend.limit.amount)}: {trend.limit.why}. {_when(trend)}"


def amount_said(item: Item, amount: float) -> str:
    """A reading in words."""
    scale, step = _STEPS[item.written]
    return words.band(amount, amount, _FLOW_STEP if item.key == "flow_l_h" else step, item.written, scale=scale)


def _change(trend: Trend) -> str:
    low, _, high = (each / trend.record.item.times for each in trend.slope.tolist())
    if low <= 0 <= high:
        return "no change that shows"
    if trend.share is None:
        return f"{'less' if high < 0 else 'more'} every year"
    ends = sorted(abs(each) * 100 for each in (trend.share[0], trend.share[2]))
    return f"{words.band(ends[0], ends[1], 0.5, '%')} {'less' if high < 0 else 'more'} a year"


def _when(trend: Trend) -> str:
    if trend.limit is not None and (trend.now < trend.limit.amount) == trend.limit.below:
        return "It is past that now."
    if trend.crosses is None:
        return "At this pace it is not reached within the years a line may be believed."
    first, last = trend.crosses.tolist()
    begins = max(int(first), int(trend.record.years[-1]))
    if not np.isfinite(last):
        return f"At this pace it may be reached from {begins} on, or never."
    return f"At this pace it is reached from {begins} to {max(int(last) + 1, begins)}."


def pace_said(each: Sinking) -> str:
    """How far an edge goes down a year, as a band."""
    return words.band(float(each.rate[0]), float(each.rate[2]), 1, "mm", scale=1000)


def gone_said(each: Sinking) -> str:
    """From when its freeboard is too little, earliest to latest."""
    first, last = each.runs_out
    if first is None:
        return "not foreseen"
    if last is None:
        return f"from {first:%Y-%m} on, or never"
    return f"{first:%Y-%m}" if first == last else f"{first:%Y-%m} to {last:%Y-%m}"


def sinking_said(each: Sinking) -> str:
    """One edge: how fast, what is left, and when that is gone."""
    place = f"{words.opening(each.what)} at {words.with_unit(each.chainage, 'm'):.1f}"
    pace = f"down {pace_said(each)} a year" if each.sinks else f"no sinking that shows, {pace_said(each)} a year"
    left = f"{words.millimetres(each.freeboard)} left, {words.millimetres(FREEBOARD_FAILS.amount)} is the limit"
    if each.freeboard <= FREEBOARD_FAILS.amount:
        return f"{place}: {pace}. {left}: raise that edge now."
    gone = "no end of it is foreseen" if each.runs_out[0] is None else f"too low {gone_said(each)}"
    return f"{place}: {pace}. {left}: {gone}."


def second_said(second: Second) -> tuple[Row, ...]:
    """What a second feature does to the level and the pump."""
    return (
        ("water in motion it adds", words.band(*_ends(second.stored), 1, "L", scale=1000)),
        ("running, from the lid, now", _dips(second.alone)),
        ("running, both", _dips(second.running)),
        ("lowest at the start of both", _dips(second.lowest)),
        ("both want", f"{words.flow(second.flow)} at {words.metres(second.head)} of head"),
        ("pump at that flow gives", "its table ends before" if second.gives is None else words.metres(second.gives)),
    )


def _dips(band: FloatArray) -> str:
    return words.band(*_ends(band), 5, "mm", scale=1000)


def _ends(band: FloatArray) -> tuple[float, float]:
    return float(band[0]), float(band[-1])
