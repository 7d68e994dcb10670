"""The march from station to station: the depth at the next one that meets the energy at the last."""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.quantities import BoolArray, FloatArray
from beckwright.stages.water.bed import DRY, Bed, energy_at, friction_at
from beckwright.stages.water.depth import Laws, laws_of

_TURNS = 60
_CLOSE = 1e-5
_TRUSTED = 3
"""Trials before the bracket begins to shrink: nearly all are close by then, and it costs as much as they do."""
_MANNING_POWER, _ROUGH_POWER = 5 / 3, 2.35
"""About how uniform flow grows with depth by Manning and on a rough bed; they only steer the search."""
_TO_CHORD = 0.3
"""Share of the way from tangent to chord at which a search among shallower depths begins; it only steers, too."""
_ASIDE = 1e-6


class _Station(NamedTuple):
    """A row of stations side by side, (3, k, 2r), as the march comes to it: plain arrays answer fastest.

    What holds there whatever water comes from the row before is worked out for all rows at once.

    laws      of the channel, in their order
    way       to the station, along the bed; less than 0 on the way down
    upward    whether the march goes up
    wet       whether water flows there
    low       least depth looked for: critical on the way up
    over      how far over level water is looked on the way up; minus infinity on the way down, that ends at critical
    least     what critical depth meets: the energy there, less the friction on the way
    again     depth of shooting flow that begins anew, where there is such
    trial     uniform depth, but on its own side of critical
    meets     what it meets
    steep     how that changes with the depth
    chord     depth for each metre of energy between critical depth and trial
    """

    laws: Laws
    upright: FloatArray
    factor: FloatArray
    level: FloatArray
    flow: FloatArray
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

    def energy(self, depth: FloatArray) -> FloatArray:
        """As a bed has it."""
        return energy_at(self.laws, self.level, self.upright, self.flow, depth)

    def met(self, depth: FloatArray) -> FloatArray:
        """What a depth meets: the energy there, less the friction on the way."""
        met: FloatArray = self.energy(depth) - self.way * friction_at(self.laws, self.factor, self.flow, depth)
        return met


def _stations(rows: Bed, way: FloatArray, upward: BoolArray) -> Iterator[_Station]:
    """Row after row of a bed laid out; ``way`` (m, 3, k, 2r)."""
    laws = laws_of(rows.channel)
    critical = np.maximum(rows.critical, DRY)
    side = np.where(upward, np.maximum(rows.normal, critical + _ASIDE), np.minimum(rows.normal, critical))
    trial = np.maximum(side, DRY)
    friction = rows.friction(trial)
    least, meets = rows.energy(critical) - way * rows.friction(critical), rows.energy(trial) - way * friction
    falling = rows.flow**2 * rows.channel.width / (STANDARD_GRAVITY * rows.area(trial) ** 3)
    power = np.where(laws.lawful, _MANNING_POWER, _ROUGH_POWER)
    steep = rows.upright - falling + 2 * power * way * friction / trial
    known = (
        rows.upright,
        rows.factor,
        rows.level,
        rows.flow,
        way,
        np.broadcast_to(upward, way.shape),
        rows.flow > 0,
        critical,
        np.where(upward, critical, DRY),
        np.where(upward, way, -np.inf),
        least,
        np.where(rows.normal < critical, rows.normal, 0.0),
        trial,
        meets,
        np.where(steep == 0, 1.0, steep),
        (trial - critical) / np.where(meets == least, 1.0, meets - least),
    )
    return map(_Station, laws.rows(), *known)


def march(rows: Bed, new: BoolArray, upward: BoolArray, begun: FloatArray) -> FloatArray:
    """Depths (m, 3, k, 2r) along every run, up and down; 0 where that kind of flow does not exist.

    new  (m - 1, 2r) whether a row's station is another than the one before
    """
    depths = np.empty_like(rows.flow)
    depths[0] = begun
    along = np.zeros_like(rows.flow)
    along[1:] = np.abs(np.diff(rows.level, axis=0)) / rows.channel.gradient[1:]
    stations = _stations(rows, np.where(upward, along, -along), upward)
    for number, (before, here) in enumerate(pairwise(stations), 1):
        last = depths[number - 1]
        found = _step(here, before.energy(np.maximum(last, DRY)), last)
        depths[number] = np.where(new[number - 1], found, last)
    return depths


def _step(here: _Station, target: FloatArray, last: FloatArray) -> FloatArray:
    """Depth at the next station that meets ``target``, the energy at the ``last`` one.

    Upwards it is no less than critical: critical itself where none is found, for a steep bed lets go of its lip.
    Downwards it is no more than critical: 0 where none is found, for shooting flow has ended in a jump.
    After a dry stretch the way up goes on from its bed, the way down begins again from uniform flow where that shoots.
    """
    upward, critical = here.upward, here.critical
    level = np.maximum((target - here.level) / here.upright, 0.0)
    wet_before = last > DRY
    exists = (here.least < target) & here.wet & (upward | wet_before)
    high = np.maximum(level + here.over, critical)
    depth = _search(here, target, exists, high, _guess(here, target, level))
    wet = np.where(exists, depth, np.where(upward, critical, np.where(wet_before, 0.0, here.again)))
    return np.where(here.wet, wet, np.where(upward, level, 0.0))


def _guess(here: _Station, target: FloatArray, level: FloatArray) -> FloatArray:
    """Where the search begins: on the tangent at the uniform depth.

    The curve bends away from it. Deeper than uniform, level water may be nearer; shallower, on the way up, the depth
    lies between tangent and chord.
    """
    tangent = here.trial + (target - here.meets) / here.steep
    chord = here.critical + (target - here.least) * here.chord
    between = np.maximum(tangent, here.critical) * (1 - _TO_CHORD) + chord * _TO_CHORD
    rising = np.where(target > here.meets, np.maximum(tangent, level), between)
    return np.where(here.upward, rising, tangent)


def _search(here: _Station, target: FloatArray, searched: BoolArray, high: FloatArray, guess: FloatArray) -> FloatArray:
    """A secant search inside a bracket that shrinks with every trial; raises ArithmeticError if it does not close."""
    low = here.low
    depth = np.maximum(np.minimum(guess, high - DRY), low + DRY)
    slope, apart, excess_before = here.steep.copy(), depth - here.trial, here.meets - target
    for turn in range(_TURNS):
        if not np.count_nonzero(searched):
            return depth
        excess = here.met(depth) - target
        if turn >= _TRUSTED:
            deeper = (excess < 0) == here.upward
            low, high = np.where(deeper, depth, low), np.where(deeper, high, depth)
            searched = searched & (high - low > _CLOSE)
        np.divide(excess - excess_before, apart, out=slope, where=np.abs(apart) > DRY)
        trial = depth - np.divide(excess, slope, out=excess.copy(), where=slope != 0)
        outside = searched & ~((trial > low) & (trial < high))
        if np.count_nonzero(outside):
            trial = np.where(outside, (low + high) / 2, trial)
        trial = np.where(searched, trial, depth)
        apart, excess_before, depth = trial - depth, excess, trial
        # A trial thrown back to the middle has not closed, even where it was there before.
        searched = searched & (np.abs(apart) > _CLOSE) | outside
    message = "a water profile was not found"
    raise ArithmeticError(message)
