"""Contours: lines of one level, marched through the triangles and joined."""

import math
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import BoolArray, IntArray, Length, Level, Levels, Points
from beckwright.base.values import value
from beckwright.stages.ground.spread import spread
from beckwright.stages.ground.surface import Ground

DECIMALS = 9
"""Levels are compared to the nanometre: 3 times 0.1 must meet a point shot at 0.3."""


@value
class Contour:
    """One line of one level.

    line    (n, 2); a closed line does not repeat its first point. Its direction means nothing
    closed  False where the line runs out over the edge of the survey
    """

    level: Level
    line: Points
    closed: bool


@value
class _Pieces:
    """Contours cut up by the triangles, higher ground on the left.

    ends   (s, 2): rows of ``nodes``, from and to
    marks  (s,): row of the contour's level
    nodes  (n, 2) m
    """

    ends: IntArray
    marks: IntArray
    nodes: Points


def contours(ground: Ground, interval: Length) -> tuple[Contour, ...]:
    """Contours at every whole multiple of ``interval``, lowest first, in an order that is the same every time.

    A contour is the outline of the ground that stands at its level or above, so a level that passes through survey
    points neither breaks a line nor doubles it, a flat at that level is outlined, and a crest or a valley line lying
    exactly at the level, with no flat to outline, has no contour. Raises ValueError for an interval that is not
    above zero.
    """
    if not (math.isfinite(interval) and interval > 0.0):
        message = f"a contour interval of {interval} m: it must be above zero"
        raise ValueError(message)
    levels = np.round(ground.levels, DECIMALS)
    steps = np.arange(math.floor(levels.min() / interval), math.ceil(levels.max() / interval) + 1)
    marks = np.round(steps * interval, DECIMALS)
    pieces = _without_doubles(_march(ground, levels, marks))
    return tuple(_join(pieces, marks))


def _march(ground: Ground, levels: Levels, marks: Levels) -> _Pieces:
    """One piece for each triangle and each mark above its lowest corner and not above its highest."""
    heights = levels[ground.triangles]
    first = np.searchsorted(marks, heights.min(axis=1), side="right")
    past = np.searchsorted(marks, heights.max(axis=1), side="right")
    triangle, turn = spread(past - first)
    mark = first[triangle] + turn
    above = heights[triangle] >= marks[mark][:, np.newaxis]
    # One corner is alone on its side of the line: the line crosses the two sides that meet there.
    alone_above = above.sum(axis=1) == 1
    alone = np.where(alone_above, above.argmax(axis=1), above.argmin(axis=1))
    corner = ground.triangles[triangle[:, np.newaxis], (alone[:, np.newaxis] + np.arange(3)) % 3]
    tip = np.repeat(corner[:, :1], 2, axis=1)
    # Corners run anticlockwise, so in this order the higher ground is on the left.
    base = np.where(alone_above[:, np.newaxis], corner[:, 1:], corner[:, :0:-1])
    upper = np.where(alone_above[:, np.newaxis], tip, base)
    lower = np.where(alone_above[:, np.newaxis], base, tip)
    # Every side that meets in a corner exactly at the mark is crossed there: one node for them all.
    lower = np.where(levels[upper] == marks[mark][:, np.newaxis], upper, lower)
    keep = ~_along_outline(ground, upper, lower)
    mark, upper, lower = mark[keep], upper[keep], lower[keep]
    count = len(levels)
    numbers, ends = np.unique((mark[:, np.newaxis] * count + upper) * count + lower, return_inverse=True)
    return _Pieces(ends=ends.reshape(-1, 2), marks=mark, nodes=_crossings(ground.points, levels, marks, numbers))


def _along_outline(ground: Ground, upper: IntArray, lower: IntArray) -> BoolArray:
    """Pieces that run along the edge of the survey, ground falling from it: half a crest, for all anyone knows."""
    place = np.full(len(ground.points), -1)
    place[ground.outline] = np.arange(len(ground.outline))
    start, end = place[upper].T
    both = (upper == lower).all(axis=1) & (start >= 0) & (end >= 0)
    along: BoolArray = both & ((start - end) % len(ground.outline) == 1)
    return along


def _crossings(points: Points, levels: Levels, marks: Levels, numbers: IntArray) -> Points:
    """Where each node lies: ``numbers`` hold mark, upper point and lower point."""
    sides, lower = np.divmod(numbers, len(levels))
    mark, upper = np.divmod(sides, len(levels))
    rise = levels[upper] - levels[lower]
    share = np.where(upper == lower, 0.0, (marks[mark] - levels[lower]) / np.where(upper == lower, 1.0, rise))
    return points[lower] + share[:, np.newaxis] * (points[upper] - points[lower])


def _without_doubles(pieces: _Pieces) -> _Pieces:
    """Leave out pieces of no length, and crests at the mark: they are passed once up and once down."""
    low, high = np.sort(pieces.ends, axis=1).T
    _, which, times = np.unique(low * len(pieces.nodes) + high, return_inverse=True, return_counts=True)
    keep = (low != high) & (times[which] == 1)
    return _Pieces(ends=pieces.ends[keep], marks=pieces.marks[keep], nodes=pieces.nodes)


def _join(pieces: _Pieces, marks: Levels) -> list[Contour]:
    following = _following(pieces)
    order, heads = _in_line(following, pieces.marks)
    ends = pieces.ends[order]
    lines = []
    for start, stop in pairwise([*heads, len(order)]):
        closed = bool(following[order[stop - 1]] == order[start])
        nodes = ends[start:stop, 0] if closed else np.append(ends[start:stop, 0], ends[stop - 1, 1])
        lines.append(Contour(level=float(marks[pieces.marks[order[start]]]), line=pieces.nodes[nodes], closed=closed))
    return lines


def _following(pieces: _Pieces) -> IntArray:
    """Find the piece that goes on where each one ends, or -1 at the edge of the survey."""
    start, end = pieces.nodes[pieces.ends[:, 0]], pieces.nodes[pieces.ends[:, 1]]
    leaving = np.arctan2(*(end - start).T[::-1])
    arriving = np.arctan2(*(start - end).T[::-1])
    # Where lines of one level touch in a point, pieces arriving and leaving take turns round it: joined by turn,
    # the lines touch and do not cross.
    departures, departure_numbers = _numbered(pieces.ends[:, 0], leaving)
    arrivals, arrival_numbers = _numbered(pieces.ends[:, 1], arriving)
    _, ending, starting = np.intersect1d(arrival_numbers, departure_numbers, assume_unique=True, return_indices=True)
    following = np.full(len(pieces.ends), -1)
    following[arrivals[ending]] = departures[starting]
    return following


def _numbered(nodes: IntArray, angles: Levels) -> tuple[IntArray, IntArray]:
    """Pieces in the order of their nodes and the angle there, and a number for each node and turn."""
    order = np.lexsort((angles, nodes))
    ordered = nodes[order]
    turn = np.arange(len(ordered)) - np.searchsorted(ordered, ordered, side="left")
    return order, ordered * (len(ordered) + 1) + turn


def _in_line(following: IntArray, marks: IntArray) -> tuple[IntArray, list[int]]:
    """Pieces line after line, lowest mark first, and where in that order each line begins."""
    count = len(following)
    before = np.arange(count)
    before[following[following >= 0]] = np.flatnonzero(following >= 0)
    before = _open_loops(before, longest=int(np.bincount(marks).max(initial=0)))
    # Each round doubles how far back a piece sees, until all see the head of their line.
    rank = (before != np.arange(count)).astype(np.int64)
    while rank[before].any():
        rank += rank[before]
        before = before[before]
    order = np.lexsort((rank, before, marks))
    return order, np.flatnonzero(rank[order] == 0).tolist()


def _open_loops(before: IntArray, longest: int) -> IntArray:
    """Make the first piece of each closed line its head: a head is its own predecessor.

    longest  no line has more pieces
    """
    first = np.arange(len(before))
    back = before
    # Each round doubles how far back a piece looks for the first of its line; a closed one it has then gone all round.
    for _ in range(longest.bit_length()):
        first = np.minimum(first, first[back])
        back = back[back]
    closed = before[back] != back
    opened = before.copy()
    opened[first[closed]] = first[closed]
    return opened
