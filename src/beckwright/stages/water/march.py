"""The march from station to station: the depth at the next one that meets the energy at the last.

All stations of all runs are solved at once, by Newton's method: what a station meets hangs on its own depth, what it is
to meet on the depth of the one before, so each turn hands corrections on from station to station.
"""

from typing import Any, NamedTuple

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray
from beckwright.stages.water.bed import DRY, Bed, energy_at, friction_at
from beckwright.stages.water.depth import Laws, laws_of

_TURNS = 60
"""For each row: once the one before stands still, a search of its own is long done after so many."""
_CLOSE = 1e-5
_TRUSTED = 4
"""Turns before a bracket begins to shrink: nearly all are close by then, and it costs as much as they do."""
_MANNING_POWER, _ROUGH_POWER = 5 / 3, 2.35
"""About how uniform flow grows with depth by Manning and on a rough bed; they only steer the search."""
_ASIDE = 1e-6
_NEARER = 0.5
"""Share of the way to an end of its bracket that a trial goes at most: water of no depth has energy without measure."""
_BESIDE = 0.1
"""Share of the depth that two trials may lie apart whose slope is believed at the end."""


class _Stations(NamedTuple):
    """Stations as the march comes to them, (m, c): plain arrays answer fastest.

    What holds there whatever water comes from the row before is worked out once.

    laws      of the channel
    way       to the station, along the bed; less than 0 on the way down
    upward    whether the march goes up
    critical  depth, more than 0 even where it is dry
    low       least depth looked for: critical on the way up; 0 on the way down, and where it is dry
    over      how far over level water is looked on the way up, more than friction can lift it; minus infinity on the
              way down, that ends at critical
    least     what critical depth meets, energy there less friction on the way: for less nothing is looked for
    stands    there then: critical depth on the way up; on the way down shooting flow that begins anew, where it can
    trial     uniform depth, but on its own side of critical
    meets     what it meets
    steep     how that changes with the depth
    """

    laws: Laws
    upright: FloatArray
    factor: FloatArray
    level: FloatArray
    flow: FloatArray
    way: FloatArray
    upward: BoolArray
    critical: FloatArray
    low: FloatArray
    over: FloatArray
    least: FloatArray
    stands: FloatArray
    trial: FloatArray
    meets: FloatArray
    steep: FloatArray

    def part(self, place: slice | tuple[slice, BoolArray]) -> "_Stations":
        """Some rows, or some columns."""
        each: Any = (each[place] for each in self[1:])
        return _Stations(self.laws.part(place), *each)

    def energy(self, depth: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Level of the energy line at a depth above 0, and how it rises with the depth."""
        return energy_at(self.laws, self.level, self.upright, self.flow, depth)

    def lost(self, depth: FloatArray) -> FloatArray:
        """Friction on the way."""
        lost: FloatArray = self.way * friction_at(self.laws, self.factor, self.flow, depth)
        return lost

    def even(self, target: FloatArray) -> FloatArray:
        """Depth of level water at a level; less than 0 where the bed is above it."""
        even: FloatArray = (target - self.level) / self.upright
        return even

    def high(self, target: FloatArray) -> FloatArray:
        """Greatest depth looked for, never less than critical."""
        return np.maximum(self.even(target) + self.over, self.critical)


def _stations(rows: Bed, way: FloatArray, upward: BoolArray) -> _Stations:
    """Rows of a bed laid out; ``way`` (m, c)."""
    laws, wet = laws_of(rows.channel), rows.flow > 0
    critical = np.maximum(rows.critical, DRY)
    side = np.where(upward, np.maximum(rows.normal, critical + _ASIDE), np.minimum(rows.normal, critical))
    trial = np.maximum(side, DRY)
    friction = way * rows.friction(trial)
    energy, rise = energy_at(laws, rows.level, rows.upright, rows.flow, trial)
    steep = rise + 2 * np.where(laws.lawful, _MANNING_POWER, _ROUGH_POWER) * friction / trial
    most_friction = rows.friction(critical)
    low, begins = np.where(upward & wet, critical, 0.0), wet & (rows.normal < critical)
    return _Stations(
        laws=laws,
        upright=rows.upright,
        factor=rows.factor,
        level=rows.level,
        flow=rows.flow,
        way=way,
        upward=np.broadcast_to(upward, way.shape),
        critical=critical,
        low=low,
        over=np.where(upward, way * (1 + most_friction / rows.upright), -np.inf),
        # On a dry way up there is level water or none: it is looked for like any other, on a straight line.
        least=np.where(wet, rows.energy(critical) - way * most_friction, np.where(upward, rows.level, np.inf)),
        stands=np.where(upward, low, np.where(begins, rows.normal, 0.0)),
        trial=trial,
        meets=energy - friction,
        steep=steep,
    )


def march(rows: Bed, new: BoolArray, upward: BoolArray, begun: FloatArray) -> FloatArray:
    """Depths (m, c) along every run, up and down; 0 where that kind of flow does not exist.

    Upwards they are no less than critical: critical itself where none meets the energy, for a steep bed lets go of its
    lip. Downwards they are no more than critical: 0 where none does, for shooting flow has ended in a jump. After a dry
    stretch the way up goes on from its bed, the way down begins again from uniform flow where that shoots.

    rows    a bed laid out in m rows of c columns
    new     (m - 1, c) whether a row's station is another than the one before
    upward  (c,) whether a column goes up
    begun   (c,) depths of the first row

    Raises ArithmeticError if the search does not close.
    """
    along = np.zeros_like(rows.flow)
    along[1:] = np.abs(np.diff(rows.level, axis=0)) / rows.channel.gradient[1:]
    depths = _Search(_stations(rows, np.where(upward, along, -along), upward), new, begun).closed()
    # A station that comes again has its depth again.
    row = np.maximum.accumulate(np.pad(new, ((1, 0), (0, 0))) * np.arange(len(depths))[:, None], axis=0)
    return np.take_along_axis(depths, row, axis=0)


class _Search:
    """A search for all depths at once, (m, c); of each the slope by its last two trials, as secants have it.

    Once the row before stands still a row's search is one in a bracket that shrinks, so the march always ends.
    """

    def __init__(self, stations: _Stations, new: BoolArray, begun: FloatArray) -> None:
        self.stations, self.here, self.new = stations, stations.part(slice(1, None)), new
        self.depths = self._first(begun)
        self.still = np.zeros(self.depths.shape, dtype=bool)
        self.still[0] = True
        self.before, self.met_before, self.slope = self.here.trial, self.here.meets, self.here.steep.copy()
        self.low, self.high = self.here.low.copy(), np.full(new.shape, np.inf)
        self.sought = np.ones(new.shape, dtype=bool)

    def _first(self, begun: FloatArray) -> FloatArray:
        """Uniform depth; on the way up level water at the level where it begins, where that is deeper."""
        there = self.stations
        even = there.even(there.level[0] + begun * there.upright[0])
        first = np.where(there.upward, np.maximum(there.trial, even), there.trial)
        first[1:] = np.where(self.new, first[1:], begun)
        first[0] = begun
        return first

    def closed(self) -> FloatArray:
        """The depths once none of them moves any more."""
        depths, columns = self.depths, np.arange(self.depths.shape[1])
        for turn in range(_TURNS * len(self.depths)):
            self._turn(trusted=turn < _TRUSTED)
            moving: BoolArray = ~np.all(self.still, axis=0)
            if turn == _TRUSTED or not moving.any():
                depths[:, columns] = self.depths
                self._leave(moving)
                columns = columns[moving]
            if not columns.size:
                return depths
        message = "a water profile was not found"
        raise ArithmeticError(message)

    def _leave(self, moving: BoolArray) -> None:
        """Go on with the columns that move: most are closed by now."""
        self.stations = self.stations.part((slice(None), moving))
        self.here, self.new = self.stations.part(slice(1, None)), self.new[:, moving]
        self.depths, self.still, self.before = (each[:, moving] for each in (self.depths, self.still, self.before))
        held = (self.met_before, self.slope, self.low, self.high, self.sought)
        self.met_before, self.slope, self.low, self.high, self.sought = (each[:, moving] for each in held)

    def _turn(self, *, trusted: bool) -> None:
        """Try all depths, and move them."""
        here, depth, some = self.here, self.depths[1:], np.maximum(self.depths, DRY)
        wet_before, moves = self.depths[:-1] > DRY, self.new & ~self.still[1:]
        energy, rise = self.stations.energy(some)
        target, met = energy[:-1], energy[1:] - here.lost(some[1:])
        searched = (here.least < target) & (here.upward | wet_before)
        stands = here.stands * (here.upward | ~wet_before)
        # What stood till now is looked for from the trial.
        fresh, self.sought = searched & ~self.sought, searched
        if np.count_nonzero(fresh):
            depth, met = np.where(fresh, here.trial, depth), np.where(fresh, here.meets, met)
        apart = self._slopes(depth, met, fresh)
        to = depth + np.where(searched, (target - met) / self.slope, stands - depth) * moves
        handed_on = rise[:-1] / self.slope * (searched & moves)
        high, closed, outside = here.high(target), ~moves, np.zeros_like(moves)
        if not trusted:
            sure = self.still[:-1] & searched & moves
            self._narrow(sure, depth, deeper=(met < target) == here.upward)
            high = np.minimum(high, self.high)
            closed = closed | sure & (high - self.low <= _CLOSE)
            outside = sure & ~((to > self.low) & (to < high))
            to = np.where(outside, (self.low + high) / 2, to)
        floor = np.where(searched, depth + (self.low - depth) * _NEARER, -np.inf)
        roof = np.where(searched, depth + (high - depth) * _NEARER, np.inf)
        stood, self.depths = self.depths, self._carried(to, handed_on, floor, roof)
        # Who is kept from where he would go has not closed, nor who judges by a trial far off.
        gone = np.maximum(np.abs(self.depths - stood)[1:], np.abs(to - depth))
        closed = closed | (gone <= _CLOSE) & (apart <= _BESIDE * depth) & ~outside
        self.still[1:] = np.logical_and.accumulate(closed, axis=0)

    def _narrow(self, sure: BoolArray, depth: FloatArray, *, deeper: BoolArray) -> None:
        """Where the row before stands still, so does what is to be met: a trial tells on which side of it that lies."""
        np.copyto(self.low, depth, where=sure & deeper)
        np.copyto(self.high, depth, where=sure & ~deeper)

    def _slopes(self, depth: FloatArray, met: FloatArray, fresh: BoolArray) -> FloatArray:
        """Take how what is met changes with the depth from this trial and the one before, and tell how far apart."""
        by = depth - self.before
        apart = np.abs(by)
        np.divide(met - self.met_before, by, out=self.slope, where=apart > DRY)
        np.copyto(self.slope, self.here.steep, where=fresh)
        np.copyto(self.slope, 1.0, where=self.slope == 0)
        self.before, self.met_before = depth, met
        return apart

    def _carried(self, to: FloatArray, handed_on: FloatArray, floor: FloatArray, roof: FloatArray) -> FloatArray:
        """Row after row moved where it goes by itself, and by its share of what the row before has moved."""
        depths, moved = self.depths.copy(), np.zeros_like(self.depths[0])
        each = zip(depths[1:], self.depths[1:], to, handed_on, floor, roof, strict=True)
        for row, before, wanted, share, low, high in each:
            np.minimum(np.maximum(wanted + share * moved, low), high, out=row)
            moved = row - before
        return depths
