"""What a set of tests shows: what each lost, what of it evaporated, and which part of the stream loses the rest."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

import numpy as np

from beckwright.base import words
from beckwright.base.quantities import Area, FloatArray, Flow, Length, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak.besides import cooled, evaporated, filled_up, rained, swelled, wet_plan
from beckwright.readings.leak.fit import Loss, fit_loss
from beckwright.readings.leak.read import Doubt, Series
from beckwright.tables.leak import DRIFT, FEWEST, RAIN_CAUGHT, TOLD_TO, UNREAD_WARMTH, WARMS_IN


@value
class Measured:
    """One test.

    loss         of water, rain given back
    evaporation  (3,) volume a time off what was wet
    rain         (3,) volume a time by which the rain given back may be off
    unread       volume a time by which water may have swelled or shrunk that nobody held a thermometer in
    leak         (3,) what is left of the loss: its interval widened by evaporation, rain and unread warmth
    without      (3,) the same without the readings that are asked about; None where there are none
    wet          plan of what evaporated
    cooling      volume that a kelvin of cooling takes out of the level
    held         (n,) volume in the reservoir; ``given`` (n,) what of it rain, filling up and warming brought
    fallen       volume of rain given back
    added        volume filled up, given back
    """

    series: Series
    loss: Loss
    evaporation: FloatArray
    rain: FloatArray
    unread: Flow
    leak: FloatArray
    without: FloatArray | None
    wet: Area
    cooling: Volume
    held: FloatArray
    given: FloatArray
    fallen: Volume
    added: Volume


@value
class Part:
    """A part of the stream, by the difference of two tests.

    name   what it is, in words
    tests  names of the tests it is the difference of
    leak   (3,) interval and middle
    span   chainages it lies between; empty for the reservoir
    flow   at which; empty at rest
    """

    name: str
    tests: tuple[str, ...]
    leak: FloatArray
    span: tuple[Length, ...]
    flow: str

    @property
    def shown(self) -> bool:
        """Whether a loss was shown: all of its interval is more than what losses are told to."""
        return float(self.leak[0]) >= TOLD_TO.amount


@value
class LeakTest:
    """All tests of a table and what they show together. ``digest`` is that of the readings as they were taken."""

    measured: tuple[Measured, ...]
    parts: tuple[Part, ...]
    doubts: tuple[Doubt, ...]
    digest: str


def leak_test(
    design: Design, series: Sequence[Series], doubts: Sequence[Doubt], digest: str, *, when: date | None = None
) -> LeakTest:
    """Work out every test.

    when  a day of the tests, for its evaporation or its month's where no pan was read; if not told that of the clock
          written beside the readings, and without one the job's own date
    """
    day = date.fromisoformat(design.job.title.date)
    measured = tuple(_measured(design, each, when or each.day or day) for each in series if len(each.times) >= 3)
    asked = [*doubts, *(doubt for each in measured for doubt in _asked(each))]
    asked += [_too_few(each) for each in series if len(each.times) < FEWEST.amount]
    return LeakTest(measured=measured, parts=tuple(_parts(design, measured)), doubts=tuple(asked), digest=digest)


def _measured(design: Design, series: Series, day: date) -> Measured:
    pit = design.reservoir.pit
    held = np.array([pit.held(pit.floor + float(level)) for level in series.levels])
    wet, rain, added = wet_plan(design, series), rained(design, series), filled_up(series)
    # The line is drawn through what would be there had nothing come from above and the water kept its warmth.
    given = rain + added + swelled(design, series, held)
    dry = held - given
    loss = fit_loss(series.times, dry)
    evaporation = evaporated(design, series, wet, day)
    fell = _slope(series.times, rain) * np.array([RAIN_CAUGHT.low - 1, RAIN_CAUGHT.amount - 1, RAIN_CAUGHT.high - 1])
    cooling = cooled(design, series, held)
    # Half a day's sun warms it, half a night cools it: a shorter test sees less of either.
    span = max(float(series.times[-1] - series.times[0]), WARMS_IN.amount)
    unread = 0.0 if series.warmth is not None else cooling * UNREAD_WARMTH.amount / span
    without = None
    if len(loss.odd) and len(dry) - len(loss.odd) >= 3:
        keep = np.setdiff1d(np.arange(len(dry)), loss.odd)
        without = _less(fit_loss(series.times[keep], dry[keep]), evaporation, fell, unread)
    return Measured(
        series=series,
        loss=loss,
        evaporation=evaporation,
        rain=fell,
        unread=unread,
        leak=_less(loss, evaporation, fell, unread),
        without=without,
        wet=wet,
        cooling=cooling,
        held=held,
        given=given,
        fallen=float(rain[-1]),
        added=float(added[-1]),
    )


def _less(loss: Loss, evaporation: FloatArray, fell: FloatArray, unread: Flow) -> FloatArray:
    leak: FloatArray = loss.rate - evaporation[::-1] + fell + unread * np.array([-1.0, 0.0, 1.0])
    return leak


def _slope(times: FloatArray, volumes: FloatArray) -> float:
    """Slope of a straight line through volumes, as the loss has one."""
    moment = times - times.mean()
    return float(moment @ volumes) / float(moment @ moment)


def _asked(measured: Measured) -> Iterator[Doubt]:
    series, loss = measured.series, measured.loss
    for place in loss.odd.tolist():
        yield Doubt(
            test=series.name,
            line=int(series.lines[place]),
            found=f"level {series.levels[place] * 1000:g} mm lies far off the line of the others",
            asks="A slip of the pen, or did something happen then? The loss is told with it and without it",
        )
    if loss.drift < DRIFT.amount:
        yield Doubt(
            test=series.name,
            line=0,
            found="the levels swing slowly about their line instead of scattering",
            asks="Did the sun warm the water, or was it filled up meanwhile? Its interval is too narrow",
        )


def _too_few(series: Series) -> Doubt:
    return Doubt(
        test=series.name,
        line=0,
        found=f"it has {len(series.times)} readings",
        asks=f"Can it go on? {FEWEST.amount:.0f} are the least that say much",
    )


def _parts(design: Design, measured: Sequence[Measured]) -> Iterator[Part]:
    """Every part that two tests can tell apart."""
    length = design.course.length
    resting = next((each for each in measured if not each.series.running), None)
    whole = [each for each in measured if each.series.running and each.series.below == 0]
    passed = [each for each in measured if each.series.running and each.series.below > 0]
    if resting is not None:
        tests = (resting.series.name,)
        yield Part(name="reservoir, pump off", tests=tests, leak=resting.leak, span=(), flow="")
    for each in whole:
        flow = each.series.flow
        if resting is not None:
            yield _part(f"stream at {flow}", each, resting, (0.0, length))
        for other in passed:
            if other.series.flow == flow:
                yield _part(f"stream above {_at(other.series.below)} at {flow}", each, other, (0.0, other.series.below))
    for each in passed:
        below = each.series.below
        if resting is None:
            continue
        yield _part(f"stream below {_at(below)} at {each.series.flow}", each, resting, (below, length))
    flows = sorted(whole, key=lambda each: float(design.water.flows[design.water.number(each.series.flow)]))
    for low, high in pairwise(flows):
        name = f"what {high.series.flow} loses over {low.series.flow}"
        yield _part(name, high, low, (0.0, length))


def _at(chainage: Length) -> str:
    return f"{words.with_unit(chainage, 'm'):.1f}"


def difference(one: Measured, other: Measured) -> FloatArray:
    """Leak of one test over another's, (3,): chance adds up in squares; evaporation and rain of both are off alike."""
    half = float(np.hypot(one.loss.half, other.loss.half)) + one.unread + other.unread
    middle = one.loss.rate[1] - other.loss.rate[1] - (one.evaporation - other.evaporation)
    rain = one.rain - other.rain
    return np.array([middle.min() + rain.min() - half, middle[1], middle.max() + rain.max() + half])


def _part(name: str, one: Measured, other: Measured, span: tuple[Length, Length]) -> Part:
    tests = (one.series.name, other.series.name)
    return Part(name=name, tests=tests, leak=difference(one, other), span=span, flow=one.series.flow)
