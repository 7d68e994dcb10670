"""What to do next: go on with a test until it says enough, then the one that halves where the loss can be."""

import math
from collections.abc import Sequence
from itertools import pairwise

from beckwright.base import words
from beckwright.base.quantities import Duration
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak.fit import time_wanted
from beckwright.readings.leak.read import Series
from beckwright.readings.leak.report import hourly
from beckwright.readings.leak.tell import LeakTest, Measured, difference
from beckwright.readings.shots import lip_places
from beckwright.tables.leak import FEWEST, READ_EVERY, STEADY_AFTER, TOLD_TO, WORTH_KNOWING

UNPLUG = "Unplug the pump before a hand goes into the water."
SPAN = FEWEST.amount - 1


@value
class NextStep:
    """What to do next.

    do     an order
    why    what it would tell
    test   the test to go on with; empty where another is to be begun, or none
    again  since its last reading, until the next one; 0 where no test goes on
    whole  how long it has to last in all, from its first reading; 0 where none goes on or nobody can tell yet
    """

    do: str
    why: str
    test: str = ""
    again: Duration = 0.0
    whole: Duration = 0.0


def next_step(design: Design, found: LeakTest, series: Sequence[Series]) -> NextStep:
    """What to do after the last of the readings made.

    series  all tests, those of one or two readings among them; the last of them is the one that may go on
    """
    if series and (going := _going_on(series[-1], found)) is not None:
        return going
    sound = [each for each in found.measured if each.loss.count >= FEWEST.amount]
    resting = next((each for each in sound if not each.series.running), None)
    if resting is None:
        do = f"Turn the pump off, shut the feed, wait until nothing runs any more. Read the level{_how_long(found)}."
        return NextStep(do=f"{do} {UNPLUG}", why="It tells whether the reservoir itself loses water.")
    flows = _by_flow(design)
    whole = {each.series.flow: each for each in sound if each.series.running and each.series.below == 0}
    for flow, why in ((flows[-1], "stream"), (flows[0], "edge")):
        if flow in whole or (why == "edge" and not _shown(whole[flows[-1]], resting)):
            continue
        return NextStep(do=f"{_run(flow)}{_how_long(found)}.", why=_WHY[why].format(flow=flow, most=flows[-1]))
    most = whole[flows[-1]]
    if not _shown(most, resting):
        return _nothing_lost(resting)
    return _halved(design, found, [most, *_passed(sound, flows[-1]), resting])


_WHY = {
    "stream": "It tells whether the stream loses water: {flow} wets most of it.",
    "edge": "What {most} loses over {flow} goes where only the higher water of {most} comes: an edge, a fold, a lap.",
}


def _going_on(series: Series, found: LeakTest) -> NextStep | None:
    """How to go on with the test last read; None where it says enough."""
    count, name = len(series.times), series.name
    apart = float((series.times[-1] - series.times[0]) / (count - 1)) if count > 1 else READ_EVERY.amount
    here = next((each for each in found.measured if each.series.name == name), None)
    if count < FEWEST.amount or here is None:
        why = f"It has {count} reading{'' if count == 1 else 's'}; {FEWEST.amount:.0f} are the least that say much."
        return NextStep(do=f"Go on with {name}.", why=why, test=name, again=apart, whole=apart * SPAN)
    narrow = here.loss.half <= WORTH_KNOWING.amount
    if narrow or _past_doubt(here, found):
        return None
    whole = time_wanted(here.loss.noise, apart, WORTH_KNOWING.amount)
    step = words.band(WORTH_KNOWING.amount, WORTH_KNOWING.amount, 0.1, "L/h", scale=3.6e6)
    why = f"Its loss is known to \N{PLUS-MINUS SIGN}{_within(here)}; {step} is worth knowing."
    whole = whole if math.isfinite(whole) else 0.0
    return NextStep(do=f"Go on with {name}.", why=why, test=name, again=apart, whole=whole)


def _past_doubt(here: Measured, found: LeakTest) -> bool:
    """Whether a loss many times what is worth knowing was shown: more readings would change nothing that is done."""
    if here.series.running and all(each.series.running for each in found.measured):
        return False
    return bool(here.leak[0] >= 2 * WORTH_KNOWING.amount + here.loss.half)


def _within(here: Measured) -> str:
    return words.band(here.loss.half, here.loss.half, 0.05, "L/h", scale=3.6e6)


def _how_long(found: LeakTest) -> str:
    """How often to read a new test and how long, by the scatter of those made."""
    every = READ_EVERY.amount
    noise = max((each.loss.noise for each in found.measured if each.loss.count >= FEWEST.amount), default=0.0)
    time = max(time_wanted(noise, every, WORTH_KNOWING.amount) if noise else 0.0, every * SPAN)
    long = f" for {time / 3600:.3g} h" if math.isfinite(time) else ""
    return f" every {every / 60:.0f} min{long}"


def _run(flow: str, place: str = "") -> str:
    where = f"Lay the hose to {place}, and run" if place else "Run"
    settled = f"Wait {STEADY_AFTER.amount / 60:.0f} min"
    return f"{where} the pump at {flow} with the feed shut. {settled}, then read the level"


def _by_flow(design: Design) -> list[str]:
    """Flows the pump can give, the least first; all where it is said to give none."""
    given = {each.name for each in design.supply.chosen.flows if each.duty is not None}
    flows = sorted(design.job.flows, key=lambda each: each.flow)
    return [each.name for each in flows if each.name in given] or [each.name for each in flows]


def _passed(sound: Sequence[Measured], flow: str) -> list[Measured]:
    """Tests with the upper part by-passed, the highest place first."""
    passed = [each for each in sound if each.series.flow == flow and each.series.below > 0]
    return sorted(passed, key=lambda each: each.series.below)


def _shown(one: Measured, other: Measured) -> bool:
    return bool(difference(one, other)[0] >= TOLD_TO.amount)


def _nothing_lost(resting: Measured) -> NextStep:
    if resting.leak[0] >= TOLD_TO.amount:
        do = "Look at the reservoir: its lining to the rim, and where pipe, cable and overflow go through it."
        why = f"It loses {hourly(resting.leak)} with the pump off, and no loss of the stream was shown."
        return NextStep(do=f"{do} {UNPLUG}", why=why)
    why = "No loss was shown, neither of the reservoir nor of the stream."
    return NextStep(do="No further test is wanted.", why=why)


def _halved(design: Design, found: LeakTest, tests: Sequence[Measured]) -> NextStep:
    """The part that loses most between the places water came in, and the lip that halves it."""
    length = design.course.length
    places = [*(each.series.below for each in tests[:-1]), length]
    pairs = list(zip(pairwise(tests), pairwise(places), strict=True))
    (one, other), (start, end) = max(pairs, key=lambda each: float(difference(*each[0])[1]))
    loses = f"{words.chainages(start, end)} loses {hourly(difference(one, other))}"
    flow = one.series.flow
    if not _shown(one, other):
        why = f"Most may go at {words.chainages(start, end)}, but no loss was shown of that part alone."
        return NextStep(do=f"Repeat {one.series.name} and {other.series.name} with more readings.", why=why)
    inside = {name: at for name, at in lip_places(design.course).items() if start + 0.1 < at < end - 0.1}
    if not inside:
        return NextStep(
            do=f"Look along the edges and laps at {words.chainages(start, end)} while {flow} runs.",
            why=f"{words.opening(loses)}, and no lip lies between to halve it.",
        )
    name = min(inside, key=lambda lip: abs(inside[lip] - (start + end) / 2))
    place = f"just below {name}, {words.chainages(inside[name], inside[name])}"
    return NextStep(
        do=f"{_run(flow, place)}{_how_long(found)}.",
        why=f"{words.opening(loses)}: it tells which side of {name} that is.",
    )
