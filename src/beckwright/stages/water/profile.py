"""Gradually varied flow along the runs: from each lip or pool upwards, from each head downwards, the jump between.

The standard step: energy at one station equals energy at the next plus friction on the way. Friction is taken where the
march arrives, not between: close to a lip it grows a hundredfold within millimetres, and a mean would throw the next
station metres high. Runs, flows and bands march side by side in arrays, calm water up and shooting water down together.
"""

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
_CONVEYANCE_POWER = 2.2
"""About how uniform flow grows with depth on a rough bed; it only steers the search."""


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

    def at(self, stations: IntArray) -> "Bed":
        """The same at some stations, in that order."""
        channel = self.channel
        return Bed(
            channel=Channel(
                width=channel.width[stations],
                side_slope=channel.side_slope,
                gradient=channel.gradient[stations],
                manning=channel.manning[..., stations],
                grain84=channel.grain84[stations],
            ),
            upright=self.upright[stations],
            factor=self.factor[..., stations],
            level=self.level[stations],
            flow=self.flow[..., stations],
            normal=self.normal[..., stations],
            critical=self.critical[..., stations],
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
    forward = _padded(runs)
    station = np.concatenate([forward[:, ::-1], forward])
    upward = np.arange(len(station)) < len(runs)
    start = bed.at(station[:, 0])
    begun = np.where(upward, np.maximum(np.concatenate([foot, foot], axis=2), start.critical), _begin(start))
    marched = _march(bed, station, upward, begun)
    calm, quick = marched[..., : len(runs), ::-1], marched[..., len(runs) :, :]
    return _settle(bed, forward, calm, quick)


def _padded(runs: tuple[slice, ...]) -> IntArray:
    """(r, m) station numbers; a shorter run repeats its foot, so that every row begins and ends on its own run."""
    longest = max(run.stop - run.start for run in runs)
    return np.array([np.minimum(np.arange(run.start, run.start + longest), run.stop - 1) for run in runs])


def _begin(head: Bed) -> FloatArray:
    """Way down: from critical depth where the bed is steep enough to run on shooting, else there is none (0)."""
    return np.where(head.normal < head.critical, head.critical * (1 - 1e-6), 0.0)


def _march(bed: Bed, station: IntArray, upward: BoolArray, begun: FloatArray) -> FloatArray:
    """Depths (3, k, 2r, m) along every row; 0 where that kind of flow does not exist."""
    depths = np.empty((*begun.shape, station.shape[1]))
    depths[..., 0] = begun
    sign = np.where(upward, 1.0, -1.0)
    before = bed.at(station[:, 0])
    for column in range(1, station.shape[1]):
        here = bed.at(station[:, column])
        along = np.abs(here.level - before.level) / here.channel.gradient
        last = depths[..., column - 1]
        found = _step(here, before.energy(np.maximum(last, _DRY)), sign * along, upward, last)
        same = station[:, column] == station[:, column - 1]
        depths[..., column] = np.where(same, last, found)
        before = here
    return depths


def _step(here: Bed, target: FloatArray, way: FloatArray, upward: BoolArray, last: FloatArray) -> FloatArray:
    """Depth at the next station whose energy, less friction on the way there, is ``target``.

    Upwards it is no less than critical: critical itself where none is found, for a steep bed lets go of its lip.
    Downwards it is no more than critical: 0 where none is found, for shooting flow has ended in a jump.
    After a dry stretch the way up goes on from its bed, the way down begins again from uniform flow where that shoots.
    """
    level = np.maximum((target - here.level) / here.upright, 0.0)
    critical = np.maximum(here.critical, _DRY)
    exists = (
        (here.energy(critical) - way * here.friction(critical) < target) & (here.flow > 0) & (upward | (last > _DRY))
    )
    low = np.where(upward, critical, _DRY)
    high = np.where(upward, np.maximum(level + np.abs(way), critical), critical)
    depth = _search(here, target, way, upward, exists, low, high, here.normal)
    again = np.where((last <= _DRY) & (here.normal < critical), here.normal, 0.0)
    wet = np.where(exists, depth, np.where(upward, critical, again))
    return np.where(here.flow > 0, wet, np.where(upward, level, 0.0))


def _search(
    here: Bed,
    target: FloatArray,
    way: FloatArray,
    upward: BoolArray,
    exists: BoolArray,
    low: FloatArray,
    high: FloatArray,
    guess: FloatArray,
) -> FloatArray:
    """A secant search inside a bracket that shrinks with every trial; raises ArithmeticError if it does not close."""
    depth = np.clip(guess, low + _DRY, np.maximum(high - _DRY, low + _DRY))
    before, excess_before, searched = depth, np.zeros_like(depth), exists
    for turn in range(_TURNS):
        friction = here.friction(depth)
        excess = here.energy(depth) - way * friction - target
        if turn >= _TRUSTED:
            deeper = (excess < 0) == upward
            low, high = np.where(deeper, depth, low), np.where(deeper, high, depth)
        if turn == 0:
            falling = here.flow**2 * here.channel.width / (STANDARD_GRAVITY * here.area(depth) ** 3)
            slope = here.upright - falling + 2 * _CONVEYANCE_POWER * way * friction / depth
        else:
            apart = depth - before
            slope = np.where(apart == 0, slope, (excess - excess_before) / np.where(apart == 0, 1.0, apart))
        trial = depth - excess / np.where(slope == 0, 1.0, slope)
        inside = (trial > low) & (trial < high)
        trial = np.where(inside, trial, (low + high) / 2)
        before, excess_before, depth = depth, excess, np.where(searched, trial, depth)
        # A trial thrown back to the middle has not closed, even where it was there before.
        searched = searched & ((np.abs(depth - before) > _CLOSE) | ~inside) & (high - low > _CLOSE)
        if not searched.any():
            return depth
    message = "a water profile was not found"
    raise ArithmeticError(message)


def _settle(bed: Bed, station: IntArray, calm: FloatArray, quick: FloatArray) -> FloatArray:
    """Of the two kinds of flow at each station take the one with more thrust: where they are equal stands the jump."""
    there = bed.at(station)
    shooting = (quick > _DRY) & ((calm <= there.critical * (1 + 1e-6)) | (there.thrust(quick) > there.thrust(calm)))
    depth = np.zeros(bed.flow.shape)
    depth[..., station] = np.where(shooting, quick, calm)
    return depth
