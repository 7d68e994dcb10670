"""The way water takes on bare ground: steepest descent, triangle by triangle, exact on the net.

Inside a triangle water runs straight down its slope. Where two triangles both fall to the edge between them it runs
along that edge to its lower end; at a point of the net it takes the steepest way down, over a triangle or along an
edge. Nothing soaks away, and rain is not asked for: this is where water goes, not how much.
"""

from heapq import heappop, heappush
from typing import Literal, NamedTuple

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Points
from beckwright.base.values import value
from beckwright.stages.ground import Ground
from beckwright.stages.ground.lookup import find_triangles

Ended = Literal["leaves the survey", "ponds"]

_ALMOST = 1e-9
"""A share of a triangle, or a fall for each metre, below this is none."""

Spot = tuple[float, float]

STEPS_PER_TRIANGLE = 8
"""A way that needs more steps than this for each triangle of the net has gone round in circles."""


@value
class Descent:
    """The way water takes from one point, (n, 2), and how it ends.

    deep  where it ponds, how deep the water gets before it finds a way on; 0 where it leaves the survey
    """

    line: Points
    ended: Ended
    deep: Length


class _Face(NamedTuple):
    """On a triangle, at a spot of it."""

    triangle: int
    spot: Spot


class _Step(NamedTuple):
    """What a step passes, where it comes to (a face, or a point of the net), and how the way ends, if it does."""

    line: list[Spot]
    to: _Face | int
    ended: Ended | None = None
    deep: Length = 0.0


class Net:
    """The ground made ready to be walked: plain lists, since a walk asks for one number at a time.

    beside   (k, 3) the triangle across the side opposite each corner, -1 over the edge of the survey
    way      (k, 2) unit vector down each triangle's slope
    slope    (k,) fall for each metre down it; 0 where it is flat
    shares   (k, 3, 2) how the share of each corner grows with easting and northing
    rates    (k, 3) how it grows down the slope
    around   for each point of the net its triangles, and which of their corners it is
    """

    def __init__(self, ground: Ground, shallow: Length) -> None:
        """``shallow``: hollows no deeper are run over, as a slip of the staff."""
        self.ground, self.shallow = ground, shallow
        self.points: list[list[float]] = ground.points.tolist()
        self.levels: list[float] = ground.levels.tolist()
        self.triangles: list[list[int]] = ground.triangles.tolist()
        shares, way, slope = _slopes(ground)
        self.shares, self.way, self.slope = shares.tolist(), way.tolist(), slope.tolist()
        self.rates: list[list[float]] = np.einsum("kij,kj->ki", shares, way).tolist()
        self.beside: list[list[int]] = _beside(ground.triangles).tolist()
        self.rim = set(ground.outline.tolist())
        self.around: list[list[tuple[int, int]]] = [[] for _ in self.points]
        for triangle, corners in enumerate(self.triangles):
            for place, corner in enumerate(corners):
                self.around[corner].append((triangle, place))
        self._onward: dict[int, _Step] = {}

    def descend(self, start: Spot) -> Descent | None:
        """Water set down at ``start``; None off the survey."""
        found = int(find_triangles(self.ground.lookup, self.ground.corners, np.array([start]))[0])
        if found < 0:
            return None
        line = [start]
        at: _Face | int = _Face(found, start)
        for _ in range(STEPS_PER_TRIANGLE * len(self.triangles) + len(self.points)):
            step = self._over(at) if isinstance(at, _Face) else self._from(at)
            line.extend(step.line)
            if step.ended is not None:
                return Descent(line=_told(line), ended=step.ended, deep=step.deep)
            at = step.to
        message = f"water from ({start[0]:.3f}, {start[1]:.3f}) runs in circles"
        raise RuntimeError(message)

    def _over(self, at: _Face) -> _Step:
        """Across one triangle to its side, and into the next or along that side."""
        corners = self.triangles[at.triangle]
        if self.slope[at.triangle] == 0.0:
            return self._to(self._out_of_flat(corners, at.spot))
        spot, side, shares = self._leave(at)
        for place, share in enumerate(shares):
            if place != side and share > 1.0 - _ALMOST:
                return self._to(corners[place])
        beyond = self.beside[at.triangle][side]
        if beyond < 0:
            return _Step([spot], at, "leaves the survey")
        one, other = corners[side - 2], corners[side - 1]
        across = next(i for i, corner in enumerate(self.triangles[beyond]) if corner not in (one, other))
        if self.slope[beyond] == 0.0 or self.rates[beyond][across] > _ALMOST:
            return _Step([spot], _Face(beyond, spot))
        lower = min((one, other), key=lambda corner: (self.levels[corner], _apart(self.points[corner], spot)))
        return _Step([spot, self._at(lower)], lower)

    def _leave(self, at: _Face) -> tuple[Spot, int, list[float]]:
        """Where a way down the slope comes to a side, which side that is, and the corners' shares there."""
        shares, rates = self._shares(at), self.rates[at.triangle]
        out = [
            (max(share, 0.0) / -rate, place)
            for place, (share, rate) in enumerate(zip(shares, rates, strict=True))
            if rate < 0.0
        ]
        run, side = min(out)
        east, north = self.way[at.triangle]
        spot = (at.spot[0] + run * east, at.spot[1] + run * north)
        return spot, side, [share + run * rate for share, rate in zip(shares, rates, strict=True)]

    def _shares(self, at: _Face) -> list[float]:
        corners = self.triangles[at.triangle]
        told = []
        for place, (east, north) in enumerate(self.shares[at.triangle]):
            x, y = self.points[corners[place - 1]]
            told.append((at.spot[0] - x) * east + (at.spot[1] - y) * north)
        return told

    def _from(self, point: int) -> _Step:
        """From a point of the net, the same way for all water that comes there."""
        if point not in self._onward:
            self._onward[point] = self._steepest(point)
        return self._onward[point]

    def _steepest(self, point: int) -> _Step:
        best, onward = _ALMOST, _Step([], point, "leaves the survey" if point in self.rim else "ponds")
        for triangle, place in self.around[point]:
            corners, rates = self.triangles[triangle], self.rates[triangle]
            for corner in (corners[place - 2], corners[place - 1]):
                fall = (self.levels[point] - self.levels[corner]) / _apart(self.points[corner], self._at(point))
                if fall > best:
                    leaves = self._on_outline(point, corner)
                    best, onward = fall, self._to(corner) if not leaves else _Step([], point, "leaves the survey")
            if self.slope[triangle] > best and min(rates[place - 2], rates[place - 1]) > _ALMOST:
                best, onward = self.slope[triangle], _Step([], _Face(triangle, self._at(point)))
        return self._over_hollow(point) if onward.ended == "ponds" else onward

    def _over_hollow(self, point: int) -> _Step:
        """Fill a hollow until it spills: the way whose highest point is lowest, to the first point below the hollow.

        Over the edge of the survey only where no lower ground is known at the same height of spill.
        """
        queue, came, rim = [(self.levels[point], 0.0, 0, point)], {point: point}, -1
        level, at = self.levels[point], point
        while queue and (rim < 0 or queue[0][0] <= level):
            level, _, _, at = heappop(queue)
            if self.levels[at] < self.levels[point]:
                break
            rim = at if rim < 0 and at in self.rim else rim
            for triangle, _ in self.around[at]:
                for corner in self.triangles[triangle]:
                    if corner not in came:
                        came[corner] = at
                        # Past the spill many points are no higher than it: the steepest way down comes first.
                        rise = (self.levels[corner] - self.levels[at]) / _apart(self.points[corner], self._at(at))
                        heappush(queue, (max(level, self.levels[corner]), rise, len(came), corner))
        deep, lower = level - self.levels[point], self.levels[at] < self.levels[point]
        if deep > self.shallow:
            return _Step([], point, "ponds", deep)
        way = [at if lower else rim]
        while way[-1] != point:
            way.append(came[way[-1]])
        return _Step([self._at(each) for each in way[-2::-1]], way[0], None if lower else "leaves the survey")

    def _out_of_flat(self, corners: list[int], spot: Spot) -> int:
        """The corner of a flat triangle that water leaves by: the nearest of those that fall away, else the nearest."""

        def order(corner: int) -> tuple[bool, float]:
            step = self._from(corner)
            return (step.ended is not None or len(step.line) > 1, _apart(self.points[corner], spot))

        return min(corners, key=order)

    def _on_outline(self, one: int, other: int) -> bool:
        if one not in self.rim or other not in self.rim:
            return False
        shared = [triangle for triangle, _ in self.around[one] if other in self.triangles[triangle]]
        return len(shared) == 1

    def _at(self, point: int) -> Spot:
        east, north = self.points[point]
        return east, north

    def _to(self, point: int) -> _Step:
        return _Step([self._at(point)], point)


def _slopes(ground: Ground) -> tuple[FloatArray, FloatArray, FloatArray]:
    corners, levels = ground.corners, ground.levels[ground.triangles]
    # The side opposite each corner, turned a quarter inwards and over twice the area.
    side = np.roll(corners, -2, axis=1) - np.roll(corners, -1, axis=1)
    doubled = side[:, 0, 0] * side[:, 1, 1] - side[:, 0, 1] * side[:, 1, 0]
    shares = np.stack([-side[..., 1], side[..., 0]], axis=2) / doubled[:, np.newaxis, np.newaxis]
    uphill = np.einsum("kij,ki->kj", shares, levels)
    slope = np.hypot(*uphill.T)
    flat = slope < _ALMOST
    way = np.where(flat[:, np.newaxis], 0.0, -uphill / np.where(flat, 1.0, slope)[:, np.newaxis])
    return shares, way, np.where(flat, 0.0, slope)


def _beside(triangles: IntArray) -> IntArray:
    sides = np.sort(np.stack([np.roll(triangles, -1, axis=1), np.roll(triangles, -2, axis=1)], axis=2), axis=2)
    numbers = (sides[..., 0] * (triangles.max() + 1) + sides[..., 1]).ravel()
    order = np.argsort(numbers, kind="stable")
    same = np.flatnonzero(numbers[order[1:]] == numbers[order[:-1]])
    beside = np.full(len(numbers), -1)
    beside[order[same]], beside[order[same + 1]] = order[same + 1] // 3, order[same] // 3
    return beside.reshape(-1, 3)


def _apart(one: list[float], other: Spot) -> float:
    return float(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5)


def _told(line: list[Spot]) -> Points:
    """The line without steps of no length."""
    points = np.array(line)
    moved = np.hypot(*np.diff(points, axis=0).T) > _ALMOST
    kept: Points = points[np.append(True, moved)]
    return kept
