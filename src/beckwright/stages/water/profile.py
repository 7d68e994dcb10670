"""Gradually varied flow along the runs: from each lip or pool upwards, from each head downwards, the jump between.

The standard step: energy at one station equals energy at the next plus friction on the way. Friction is taken where the
march arrives, not between: close to a lip it grows a hundredfold within millimetres, and a mean would throw the next
station metres high. Runs, flows and bands march side by side in arrays, calm water up and shooting water down together.
"""

from collections.abc import Callable
from types import EllipsisType
from typing import NamedTuple

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Levels
from beckwright.base.values import value
from beckwright.equations.open_channel import wetted_area
from beckwright.stages.water.depth import Channel, discharge_at

_TURNS = 60
_CLOSE = 1e-5
_DRY = 1e-9
_TRUSTED = 3
"""Trials before the bracket begins to shrink: nearly all are close by then, and it costs as much as they do."""
_MANNING_POWER, _ROUGH_POWER = 5 / 3, 2.35
"""About how uniform flow grows with depth by Manning and on a rough bed; they only steer the search."""
_TO_CHORD = 0.3
"""Share of the way from tangent to chord at which a search among shallower depths begins; it only steers, too."""
_ASIDE = 1e-6


@value
class Bed:
    """Every station as the profile sees it; bands (3), flows (k), stations (n) broadcast together.

    upright   cosine of the slope: how much of a depth square to the bed presses on it
    factor    the lawful depth is the depth over this
    level     of the bed
    flow      (3, k, n) over the stones
    normal    (3, k, n) depth of uniform flow
    critical  (3, k, n) depth of critical flow
    """

    channel: Channel
    upright: FloatArray
    factor: FloatArray
    level: Levels
    flow: FloatArray
    normal: FloatArray
    critical: FloatArray

    def laid_out(self, station: IntArray) -> "Bed":
        """The same at stations (m, r), every array whole, (m, 3, k, r): plain arrays answer fastest."""
        bands, flows, _ = self.flow.shape

        def lay(amounts: FloatArray) -> FloatArray:
            whole = np.empty((len(station), bands, flows, station.shape[1]))
            at = amounts[..., station]
            whole[...] = at[:, None, None] if at.ndim == station.ndim else at.transpose(2, 0, 1, 3)
            return whole

        return self._each(lay)

    def part(self, place: int | slice | tuple[EllipsisType, slice]) -> "Bed":
        """Some rows or columns of a bed laid out."""
        return self._each(lambda amounts: amounts[place])

    def _each(self, change: Callable[[FloatArray], FloatArray]) -> "Bed":
        channel = self.channel
        return Bed(
            channel=Channel(
                width=change(channel.width),
                side_slope=channel.side_slope,
                gradient=change(channel.gradient),
                manning=change(channel.manning),
                grain84=change(channel.grain84),
            ),
            upright=change(self.upright),
            factor=change(self.factor),
            level=change(self.level),
            flow=change(self.flow),
            normal=change(self.normal),
            critical=change(self.critical),
        )

    def area(self, depth: FloatArray) -> FloatArray:
        """Area of visible water."""
        return wetted_area.over(self.channel.width, np.maximum(depth, _DRY), self.channel.side_slope)

    def energy(self, depth: FloatArray) -> FloatArray:
        """Level of the energy line at a depth above 0."""
        area = wetted_area.over(self.channel.width, depth, self.channel.side_slope)
        energy: FloatArray = self.level + depth * self.upright + (self.flow / area) ** 2 / (2 * STANDARD_GRAVITY)
        return energy

    def friction(self, depth: FloatArray) -> FloatArray:
        """Fall of the energy line for each metre along the bed at a depth above 0."""
        slope: FloatArray = self.channel.gradient * (self.flow / discharge_at(self.channel, depth / self.factor)) ** 2
        return slope

    def thrust(self, depth: FloatArray) -> FloatArray:
        """Momentum function over the weight of water: what the two sides of a jump share."""
        width, slope = self.channel.width, self.channel.side_slope
        pressure = width * depth**2 / 2 + slope * depth**3 / 3
        thrust: FloatArray = self.flow**2 / (STANDARD_GRAVITY * self.area(depth)) + pressure
        return thrust


def critical_depths(channel: Channel, flow: FloatArray) -> FloatArray:
    """Depth at which a trapezoid carries ``flow`` with the least energy; 0 where nothing flows.

    Newton from the rectangle's closed form on ``Q**2 B = g A**3``; exact at once where the sides are upright.
    """
    depth = (flow**2 / channel.width**2 / STANDARD_GRAVITY) ** (1 / 3)
    for _ in range(_TURNS if channel.side_slope > 0 else 1):
        area = channel.width * depth + channel.side_slope * depth**2
        surface = channel.width + 2 * channel.side_slope * depth
        error = flow**2 * surface - STANDARD_GRAVITY * area**3
        steep = 2 * channel.side_slope * flow**2 - 3 * STANDARD_GRAVITY * area**2 * surface
        step = np.where(flow > 0, error / np.where(steep == 0, -1.0, steep), 0.0)
        depth = depth - step
        if np.all(np.abs(step) < _CLOSE):
            break
    return depth


def profiles(bed: Bed, runs: tuple[slice, ...], foot: FloatArray) -> FloatArray:
    """Depth square to the bed at every station of the runs, (3, k, n); 0 elsewhere.

    runs  stations of each of r runs, head first
    foot  (3, k, r) depth at the lower end of each, set by what stands there; the critical depth where that is more
    """
    down = _padded(runs)
    station = np.concatenate([down[::-1], down], axis=1)
    rows = bed.laid_out(station)
    upward = np.zeros(rows.flow.shape[1:], dtype=bool)
    upward[..., : len(runs)] = True
    start = rows.part(0)
    begun = np.where(upward, np.maximum(np.concatenate([foot, foot], axis=2), start.critical), _begin(start))
    marched = _march(rows, station[1:] != station[:-1], upward, begun)
    calm, quick = marched[::-1, ..., : len(runs)], marched[..., len(runs) :]
    settled = _settle(rows.part((..., slice(len(runs), None))), calm, quick)
    depth = np.zeros(bed.flow.shape)
    depth[..., down] = settled.transpose(1, 2, 0, 3)
    return depth


def _padded(runs: tuple[slice, ...]) -> IntArray:
    """(m, r) station numbers, head first; a shorter run repeats its foot, so that all begin and end on their own."""
    longest = max(run.stop - run.start for run in runs)
    return np.array([np.minimum(np.arange(run.start, run.start + longest), run.stop - 1) for run in runs]).T


def _begin(head: Bed) -> FloatArray:
    """Way down: from critical depth where the bed is steep enough to run on shooting, else there is none (0)."""
    return np.where(head.normal < head.critical, head.critical * (1 - 1e-6), 0.0)


class _Known(NamedTuple):
    """What holds at a station whatever water comes from the one before; rows (m, 3, k, 2r), or one of them.

    ``meets`` is the energy at a depth, less the friction on the way there.

    way       to the station, along the bed; less than 0 on the way down
    upward    whether the march goes up
    wet       whether water flows there
    critical  depth
    low       least depth looked for: critical on the way up
    over      how far over level water is looked on the way up; minus infinity on the way down, that ends at critical
    least     what critical depth meets
    again     depth of shooting flow that begins anew, where there is such
    trial     uniform depth, but on its own side of critical
    meets     what it meets
    steep     how that changes with the depth
    chord     depth for each metre of energy between critical depth and trial
    """

    way: FloatArray
    upward: BoolArray
    wet: BoolArray
    critical: FloatArray
    low: FloatArray
    over: FloatArray
    least: FloatArray
    again: FloatArray
    trial: FloatArray
    meets: FloatArray
    steep: FloatArray
    chord: FloatArray


def _known(ahead: Bed, way: FloatArray, upward: BoolArray) -> _Known:
    critical = np.maximum(ahead.critical, _DRY)
    side = np.where(upward, np.maximum(ahead.normal, critical + _ASIDE), np.minimum(ahead.normal, critical))
    trial = np.maximum(side, _DRY)
    friction = ahead.friction(trial)
    least, meets = ahead.energy(critical) - way * ahead.friction(critical), ahead.energy(trial) - way * friction
    falling = ahead.flow**2 * ahead.channel.width / (STANDARD_GRAVITY * ahead.area(trial) ** 3)
    power = np.where(ahead.channel.manning > 0, _MANNING_POWER, _ROUGH_POWER)
    steep = ahead.upright - falling + 2 * power * way * friction / trial
    return _Known(
        way=way,
        upward=np.broadcast_to(upward, way.shape),
        wet=ahead.flow > 0,
        critical=critical,
        low=np.where(upward, critical, _DRY),
        over=np.where(upward, way, -np.inf),
        least=least,
        again=np.where(ahead.normal < critical, ahead.normal, 0.0),
        trial=trial,
        meets=meets,
        steep=np.where(steep == 0, 1.0, steep),
        chord=(trial - critical) / np.where(meets == least, 1.0, meets - least),
    )


def _march(rows: Bed, new: BoolArray, upward: BoolArray, begun: FloatArray) -> FloatArray:
    """Depths (m, 3, k, 2r) along every run, up and down; 0 where that kind of flow does not exist.

    new  (m - 1, 2r) whether a row's station is another than the one before
    """
    depths = np.empty_like(rows.flow)
    depths[0] = begun
    along = np.abs(np.diff(rows.level, axis=0)) / rows.channel.gradient[1:]
    known = _known(rows.part(slice(1, None)), np.where(upward, along, -along), upward)
    before = rows.part(0)
    for number in range(1, len(depths)):
        here, last = rows.part(number), depths[number - 1]
        found = _step(here, _Known(*(each[number - 1] for each in known)), before.energy(np.maximum(last, _DRY)), last)
        depths[number] = np.where(new[number - 1], found, last)
        before = here
    return depths


def _step(here: Bed, known: _Known, target: FloatArray, last: FloatArray) -> FloatArray:
    """Depth at the next station that meets ``target``, the energy at the ``last`` one.

    Upwards it is no less than critical: critical itself where none is found, for a steep bed lets go of its lip.
    Downwards it is no more than critical: 0 where none is found, for shooting flow has ended in a jump.
    After a dry stretch the way up goes on from its bed, the way down begins again from uniform flow where that shoots.
    """
    upward, critical = known.upward, known.critical
    level = np.maximum((target - here.level) / here.upright, 0.0)
    wet_before = last > _DRY
    exists = (known.least < target) & known.wet & (upward | wet_before)
    high = np.maximum(level + known.over, critical)
    depth = _search(here, known, target, exists, high, _guess(known, target, level))
    wet = np.where(exists, depth, np.where(upward, critical, np.where(wet_before, 0.0, known.again)))
    return np.where(known.wet, wet, np.where(upward, level, 0.0))


def _guess(known: _Known, target: FloatArray, level: FloatArray) -> FloatArray:
    """Where the search begins: on the tangent at the uniform depth.

    The curve bends away from it. Deeper than uniform, level water may be nearer; shallower, on the way up, the depth
    lies between tangent and chord.
    """
    tangent = known.trial + (target - known.meets) / known.steep
    chord = known.critical + (target - known.least) * known.chord
    between = np.maximum(tangent, known.critical) * (1 - _TO_CHORD) + chord * _TO_CHORD
    rising = np.where(target > known.meets, np.maximum(tangent, level), between)
    return np.where(known.upward, rising, tangent)


def _search(
    here: Bed, known: _Known, target: FloatArray, searched: BoolArray, high: FloatArray, guess: FloatArray
) -> FloatArray:
    """A secant search inside a bracket that shrinks with every trial; raises ArithmeticError if it does not close."""
    low = known.low
    depth = np.maximum(np.minimum(guess, high - _DRY), low + _DRY)
    slope, apart, excess_before = known.steep.copy(), depth - known.trial, known.meets - target
    for turn in range(_TURNS):
        if not searched.any():
            return depth
        excess = here.energy(depth) - known.way * here.friction(depth) - target
        if turn >= _TRUSTED:
            deeper = (excess < 0) == known.upward
            low, high = np.where(deeper, depth, low), np.where(deeper, high, depth)
            searched = searched & (high - low > _CLOSE)
        np.divide(excess - excess_before, apart, out=slope, where=np.abs(apart) > _DRY)
        trial = depth - np.divide(excess, slope, out=excess.copy(), where=slope != 0)
        inside = (trial > low) & (trial < high)
        trial = np.where(searched, np.where(inside, trial, (low + high) / 2), depth)
        apart, excess_before, depth = trial - depth, excess, trial
        # A trial thrown back to the middle has not closed, even where it was there before.
        searched = searched & ((np.abs(apart) > _CLOSE) | ~inside)
    message = "a water profile was not found"
    raise ArithmeticError(message)


def _settle(there: Bed, calm: FloatArray, quick: FloatArray) -> FloatArray:
    """Of the two kinds of flow at each station take the one with more thrust: where they are equal stands the jump."""
    shooting = (quick > _DRY) & ((calm <= there.critical * (1 + 1e-6)) | (there.thrust(quick) > there.thrust(calm)))
    return np.where(shooting, quick, calm)
