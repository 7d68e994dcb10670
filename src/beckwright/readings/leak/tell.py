"""What a set of tests shows: what each lost, what of it evaporated, and which part of the stream loses the rest."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Length, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.equations.water import water_density
from beckwright.readings.leak.fit import Loss, fit_loss
from beckwright.readings.leak.read import Doubt, Series
from beckwright.stages.season.days import LENGTHS
from beckwright.stages.surroundings.works import footprint
from beckwright.tables.leak import DAILY_EVAPORATION, DRIFT, FEWEST, TOLD_TO
from beckwright.tables.season import CASCADING

DAY = 86400.0


@value
class Measured:
    """One test.

    loss         of water, rain given back
    evaporation  (3,) volume a time off what was wet
    leak         (3,) what is left of the loss: its interval widened by that of the evaporation
    without      (3,) the same without the readings that are asked about; None where there are none
    wet          plan of what evaporated
    cooling      volume that a kelvin of cooling takes out of the level
    """

    series: Series
    loss: Loss
    evaporation: FloatArray
    leak: FloatArray
    without: FloatArray | None
    wet: Area
    cooling: Volume


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

    when  a day of the tests, for the evaporation of its month where no pan was read; the job's own date if not told
    """
    day = when or date.fromisoformat(design.job.title.date)
    measured = tuple(_measured(design, each, day) for each in series if len(each.times) >= 3)
    asked = [*doubts, *(doubt for each in measured for doubt in _asked(each))]
    asked += [_too_few(each) for each in series if len(each.times) < FEWEST.amount]
    return LeakTest(measured=measured, parts=tuple(_parts(design, measured)), doubts=tuple(asked), digest=digest)


def _measured(design: Design, series: Series, day: date) -> Measured:
    pit = design.reservoir.pit
    held = np.array([pit.held(pit.floor + float(level)) for level in series.levels])
    wet, catch = _wet(design, series), _catch(design, series)
    # Rain is given back where it fell: the line is drawn through what would be there without it.
    dry = held - np.cumsum(np.append(0.0, series.rain[1:])) * catch
    loss = fit_loss(series.times, dry)
    evaporation = _evaporation(design, series, day) * wet * _livelier(series)
    without = None
    if len(loss.odd) and len(dry) - len(loss.odd) >= 3:
        keep = np.setdiff1d(np.arange(len(dry)), loss.odd)
        without = _less(fit_loss(series.times[keep], dry[keep]), evaporation)
    t = design.job.water_temperature
    shrinks = (water_density(t - 0.5) - water_density(t + 0.5)) / water_density(t)
    return Measured(
        series=series,
        loss=loss,
        evaporation=evaporation,
        leak=_less(loss, evaporation),
        without=without,
        wet=wet,
        cooling=float(held.mean()) * shrinks,
    )


def _less(loss: Loss, evaporation: FloatArray) -> FloatArray:
    leak: FloatArray = loss.rate - evaporation[::-1]
    return leak


def _wet(design: Design, series: Series) -> Area:
    """Plan that evaporates: the pools at rest, and at a flow everything below where the water comes in."""
    if not series.running:
        return float(sum(float(np.max(pool.plan)) for pool in design.water.pools))
    at = design.course.stations
    wetted = float(np.trapezoid(at.width, at.chainage))
    here = at.chainage >= series.below
    return design.water.wet_area * float(np.trapezoid(at.width[here], at.chainage[here])) / wetted


def _livelier(series: Series) -> FloatArray:
    """Running down steps, water gives more to the air than lying still: its wet sides and spray count as this share."""
    return np.array([CASCADING.low, CASCADING.amount, CASCADING.high]) if series.running else np.ones(3)


def _catch(design: Design, series: Series) -> Area:
    """Plan whose rain runs to the reservoir: all of the lining, wherever the water comes in."""
    laid, reservoir = footprint(design.job, design.course), design.job.reservoir
    lined = float(np.trapezoid(laid.edge.sum(axis=0), laid.chainage * laid.stretch))
    return lined + reservoir.length * reservoir.width


def _evaporation(design: Design, series: Series, day: date) -> FloatArray:
    """Depth a time, (3,): off the pan beside it, else the month's as a wide band; nothing without either."""
    if series.evaporation is not None:
        depth = float(series.evaporation.sum() / (series.times[-1] - series.times[0]))
        return np.full(3, depth)
    if design.job.climate is None:
        return np.zeros(3)
    mean = float(design.job.climate.evaporation[day.month - 1]) / LENGTHS[day.month - 1] / DAY
    return mean * np.array([DAILY_EVAPORATION.low, DAILY_EVAPORATION.amount, DAILY_EVAPORATION.high])


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
                yield _part(f"stream above {other.series.below:g} m at {flow}", each, other, (0.0, other.series.below))
    for each in passed:
        below = each.series.below
        if resting is None:
            continue
        yield _part(f"stream below {below:g} m at {each.series.flow}", each, resting, (below, length))
    flows = sorted(whole, key=lambda each: float(design.water.flows[design.water.number(each.series.flow)]))
    for low, high in pairwise(flows):
        name = f"what {high.series.flow} loses over {low.series.flow}"
        yield _part(name, high, low, (0.0, length))


def _part(name: str, one: Measured, other: Measured, span: tuple[Length, Length]) -> Part:
    """The difference: chance adds up in squares, and the evaporation of both is off by the same share."""
    half = float(np.hypot(one.loss.half, other.loss.half))
    middle = one.loss.rate[1] - other.loss.rate[1] - (one.evaporation - other.evaporation)
    leak = np.array([middle.min() - half, middle[1], middle.max() + half])
    return Part(name=name, tests=(one.series.name, other.series.name), leak=leak, span=span, flow=one.series.flow)
