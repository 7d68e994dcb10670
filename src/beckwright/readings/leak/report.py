"""A report of a leak test that states only what was shown."""

from collections.abc import Iterator

import numpy as np

from beckwright.base import words
from beckwright.base.quantities import FloatArray
from beckwright.compose import Design
from beckwright.readings.leak.besides import splashed
from beckwright.readings.leak.fit import time_wanted
from beckwright.readings.leak.tell import LeakTest, Measured, Part
from beckwright.tables.leak import CONFIDENCE, WORTH_KNOWING

HOUR = 3600.0


def report(design: Design, found: LeakTest) -> tuple[str, ...]:
    """Paragraphs, each a sentence or three: tests, parts, what to look at, how long to go on, what it rests on."""
    share = f"{CONFIDENCE.amount * 100:.0f} of 100"
    return (
        *(_test(each) for each in found.measured),
        *(_part(each) for each in found.parts),
        *_places(design, found),
        *_splash(design, found),
        *(_longer(each) for each in found.measured if each.loss.half > WORTH_KNOWING.amount),
        _resting_on(share, found.digest),
    )


def _resting_on(share: str, digest: str) -> str:
    return (
        f"Intervals hold the true value {share} times if readings scatter freely; evaporation is in them as a band, "
        "and so is rain, and the swelling of water whose temperature nobody read. "
        f"The readings are kept unaltered; their digest (SHA-256) is {digest}."
    )


def hourly(rate: FloatArray) -> str:
    """``"2.5 to 3.2 L/h"``."""
    return words.band(float(rate[0]), float(rate[2]), 0.05, "L/h", scale=1000 * HOUR)


def _test(each: Measured) -> str:
    span = (each.series.times[-1] - each.series.times[0]) / HOUR
    fallen = float(each.series.rain[1:].sum())
    rain = f", {words.millimetres(fallen)} of rain given back" if fallen > 0 else ", no rain"
    filled = f", {words.litres(each.added)} filled up given back" if each.added > 0 else ""
    said = (
        f"{each.series.name} ({each.series.condition}): {each.loss.count} readings over {span:.4g} h{rain}{filled}"
        f"{_warmth(each)}. "
        f"Lost {hourly(each.loss.rate)}, of which {hourly(each.evaporation)} evaporated "
        f"off {words.with_unit(each.wet, 'm²'):.1f}; "
        f"left {hourly(each.leak)}."
    )
    if each.without is not None:
        said += f" Without the readings asked about: {hourly(each.without)}."
    return said


def _warmth(each: Measured) -> str:
    warmth = each.series.warmth
    if warmth is None:
        return ""
    low, high = float(warmth.min()), float(warmth.max())
    return f", water at {words.band(low, high, 0.5, '°C')}, its swelling taken off"


def _part(part: Part) -> str:
    tests = " less ".join(part.tests)
    if part.shown:
        return f"{words.opening(part.name)} ({tests}): a loss of {hourly(part.leak)} was shown."
    step = 0.05e-3 / HOUR
    most = np.ceil(max(float(part.leak[2]), 0.0) / step - 1e-9) * step
    top = words.band(most, most, 0.05, "L/h", scale=1000 * HOUR)
    return f"{words.opening(part.name)} ({tests}): no loss was shown; one above {top} would have been."


def _places(design: Design, found: LeakTest) -> Iterator[str]:
    """Where the drawn or shot edge stands least over the water, in a part that loses most."""
    losing = [part for part in found.parts if part.shown and part.span and part.flow]
    if not losing:
        return
    # Of the parts told apart the one that loses most; the whole stream only where nothing smaller was tested.
    whole = max(each.span[1] - each.span[0] for each in losing)
    finer = [each for each in losing if each.span[1] - each.span[0] < whole]
    part = max(finer or losing, key=lambda each: float(each.leak[1]))
    at, board = design.course.stations.chainage, design.freeboard
    flow = design.water.number(part.flow)
    here = np.flatnonzero((at >= part.span[0]) & (at <= part.span[1]))
    sides = {"left": board.settled_left[flow], "right": board.settled_right[flow]}
    side = min(sides, key=lambda name: float(sides[name][here].min()))
    place = here[int(np.argmin(sides[side][here]))]
    left = float(sides[side][place])
    stands = f"{words.millimetres(-left)} under it" if left < 0 else f"only {words.millimetres(left)} over it"
    yield (
        f"Of the parts told apart, the {part.name} loses most. There the {side} edge stands least over the water of "
        f"{part.flow}: {words.chainages(float(at[place]), float(at[place]))} it stands {stands}, at the high end of "
        "its band. Look there first."
    )


def _splash(design: Design, found: LeakTest) -> Iterator[str]:
    """What looks like a leak and is none: told once, for the test in which most may land beside the stream."""
    told = [(splashed(design, each.series), each) for each in found.measured if each.series.running]
    most = max(told, key=lambda row: float(row[0][2]), default=None)
    if most is None or most[0][2] <= 0:
        return
    yield (
        f"Splash: in {most[1].series.name} {hourly(most[0])} may land off the lining at the falls, and no level tells "
        "that from a leak. Look for wet ground beside each fall while it runs, throw the splash back with a stone, and "
        "repeat the test."
    )


def _longer(each: Measured) -> str:
    wanted = WORTH_KNOWING.amount
    time = time_wanted(each.loss.noise, each.loss.apart, wanted)
    step = words.band(wanted, wanted, 0.1, "L/h", scale=1000 * HOUR)
    return (
        f"To know {each.series.name} to within {step}: go on for {time / HOUR:.0f} h in all, "
        f"a reading every {each.loss.apart / 60:.0f} min."
    )
