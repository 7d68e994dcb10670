"""Rectangles round a part of the strip: exact for one part, and for all parts at once over a fan of turns."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.quantities import Angle, BoolArray, FloatArray, IntArray, Length, Points
from beckwright.base.values import value
from beckwright.stages.lining.flat import Traced

FAN = 180
"""Turns tried for every part, evenly over half a circle."""
STRAIGHTS = 60
"""Most turns beside the fan: those of straight stretches, where half a degree would cost a hand's width."""
ALONG: Angle = np.pi / 4
"""A rectangle no farther askew lies along a way."""
_SAME = 1e-9
_STRICTER = 0.5e-9
"""The fan takes half of what counts as the same, m: what it finds, the exact search finds again."""


@value
class Box:
    """A rectangle round points. ``turn`` is the way its length runs; ``corner`` lies upstream on its right side."""

    turn: Angle
    length: Length
    width: Length
    corner: tuple[Length, Length]


def least_length(points: Points, width: Length, way: Angle | None = None) -> Box | None:
    """The shortest rectangle no wider than ``width`` round points (n, 2); None where all are wider.

    With a ``way`` its length runs within 45 degrees of it: those two limits are tried as well.

    Between turns at which a side lies on the hull its length is a concave curve, so it is shortest at one of those or
    where the width is just used up (after Freeman & Shapira 1975; Toussaint 1983).
    """
    hull = _hull(points)
    turns = _turns(hull, width)
    if way is not None:
        turns = np.append(turns, [way - ALONG, way + ALONG]) % np.pi
    lengths, widths = _extents(hull, turns)
    fits = widths <= width + _SAME
    if way is not None:
        fits &= lengthwise(turns, way)
    if not fits.any():
        return None
    return _box(hull, float(turns[np.argmin(np.where(fits, lengths, np.inf))]))


def lengthwise(turns: FloatArray, way: FloatArray | Angle) -> BoolArray:
    """Whether a rectangle lies along a way rather than across it."""
    along: BoolArray = np.abs(np.cos(turns - way)) >= np.cos(ALONG) - _SAME
    return along


def least_area(points: Points) -> Box:
    """The rectangle of least area round points (n, 2): one of its sides lies on the hull."""
    hull = _hull(points)
    turns = _sides(hull)
    lengths, widths = _extents(hull, turns)
    box = _box(hull, float(turns[np.argmin(lengths * widths)]))
    return box if box.length >= box.width else _box(hull, box.turn + np.pi / 2)


def _hull(points: Points) -> Points:
    from shapely import MultiPoint, get_coordinates

    ring: Points = get_coordinates(MultiPoint(points).convex_hull)[:-1]
    return ring


def _sides(hull: Points) -> FloatArray:
    steps = np.roll(hull, -1, axis=0) - hull
    turns: FloatArray = np.unique(np.arctan2(steps[:, 1], steps[:, 0]) % np.pi)
    return turns


def _turns(hull: Points, width: Length) -> FloatArray:
    """Turns at which the shortest rectangle can lie: along or square to a side, or with the width just used up."""
    sides = _sides(hull)
    between = (sides + np.diff(np.append(sides, sides[0] + np.pi)) / 2) % np.pi
    across = hull @ np.stack([-np.sin(between), np.cos(between)])
    spans = hull[np.argmax(across, axis=0)] - hull[np.argmin(across, axis=0)]
    far, way = np.hypot(*spans.T), np.arctan2(spans[:, 1], spans[:, 0])
    tight = np.arcsin(np.minimum(width / far, 1.0))
    return np.concatenate([sides, sides + np.pi / 2, way - tight, way - np.pi + tight]) % np.pi


def _extents(hull: Points, turns: FloatArray) -> tuple[FloatArray, FloatArray]:
    down = hull @ np.stack([np.cos(turns), np.sin(turns)])
    across = hull @ np.stack([-np.sin(turns), np.cos(turns)])
    return np.ptp(down, axis=0), np.ptp(across, axis=0)


def _box(hull: Points, turn: Angle) -> Box:
    way = np.array([np.cos(turn), np.sin(turn)])
    side = np.array([-way[1], way[0]])
    down, across = hull @ way, hull @ side
    corner = way * down.min() + side * across.min()
    return Box(
        turn=turn,
        length=float(np.ptp(down)),
        width=float(np.ptp(across)),
        corner=(float(corner[0]), float(corner[1])),
    )


@value
class Fan:
    """How far every traced row reaches along each of f turns, (t, f), and which turn lies square to each.

    A width at one turn is a length at the turn square to it, so only lengths are kept.
    """

    turns: FloatArray
    far: FloatArray
    near: FloatArray
    square: IntArray

    def lengths(
        self, first: int, lasts: IntArray, widths: Sequence[Length], joined: Sequence[bool], ways: FloatArray
    ) -> FloatArray:
        """Least length of a rectangle no wider than each of w widths, round rows ``first`` to each of l last ones.

        joined  for each width, whether it has seams, which have to lie along ``ways`` (l,)
        Shape (l, w); infinite where none of the turns does.
        """
        rows, end = lasts - first, int(lasts[-1]) + 1
        top = np.maximum.accumulate(self.far[first:end], axis=0)[rows]
        length = top - np.minimum.accumulate(self.near[first:end], axis=0)[rows]
        width = length[:, self.square]
        along = np.where(lengthwise(self.turns, ways[:, None]), length, np.inf) if any(joined) else length
        fitting = [
            np.where(width <= each + _STRICTER, along if seams else length, np.inf).min(axis=1)
            for each, seams in zip(widths, joined, strict=True)
        ]
        return np.stack(fitting, axis=1)


def fan_of(traced: Traced, heading: FloatArray) -> Fan:
    """A fan for a traced strip; ``heading`` (r,) of the strip's own rows, for its straight stretches."""
    straights = _straights(heading)
    count, more = 2 * (FAN // 2), len(straights)
    turns = np.concatenate([np.arange(count) * np.pi / count, straights, straights + np.pi / 2])
    number = np.arange(more) + count
    way = np.stack([np.cos(turns), np.sin(turns)])
    reach = traced.left @ way, traced.right @ way
    return Fan(
        turns=turns,
        far=np.maximum(*reach),
        near=np.minimum(*reach),
        square=np.concatenate([(np.arange(count) + count // 2) % count, number + more, number]),
    )


def _straights(heading: FloatArray) -> FloatArray:
    """Headings that two rows in a row share, each told once to within a thousandth of a degree."""
    shared = heading[1:][np.abs(np.diff(heading)) < 1e-6] % np.pi
    turns = np.unique(np.round(shared, 5))
    return turns[:: max(1, int(np.ceil(len(turns) / STRAIGHTS)))]
