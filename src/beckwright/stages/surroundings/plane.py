"""Lines that enter circles and cross lines, on plan, with where along each."""

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Lengths, Points
from beckwright.base.values import value

Span = tuple[Length, Length]
Line = tuple[tuple[Length, Length], ...]

_TOUCHING = 1e-9
"""Two pieces that part by less are one piece, m."""


@value
class Meeting:
    """Where one line crosses another.

    along      on the first line, by its own distances
    way        on the second line, m from its start
    from_left  the second line comes from the left of the first
    """

    along: Length
    way: Length
    at: tuple[Length, Length]
    from_left: bool


def distances(points: Points) -> Lengths:
    """Distance along a line from its first point, (n,)."""
    lengths: Lengths = np.zeros(len(points))
    np.cumsum(np.hypot(*(points[1:] - points[:-1]).T), out=lengths[1:])
    return lengths


def spans_inside(points: Points, along: Lengths, centre: tuple[Length, Length], radius: Length) -> tuple[Span, ...]:
    """Parts of a line inside a circle, to where it crosses it. ``along`` (n,) is the distance at each of ``points``."""
    (east, north), (x, y) = (points[1:] - points[:-1]).T, (points[:-1] - np.array(centre)).T
    square, slope = east * east + north * north, x * east + y * north
    discriminant = slope * slope - square * (x * x + y * y - radius**2)
    hit = np.flatnonzero((square > 0.0) & (discriminant > 0.0))
    root = np.sqrt(discriminant[hit])
    enters, leaves = np.clip((np.array([-1.0, 1.0])[:, None] * root - slope[hit]) / square[hit], 0.0, 1.0)
    length = along[hit + 1] - along[hit]
    pairs = zip((along[hit] + enters * length).tolist(), (along[hit] + leaves * length).tolist(), strict=True)
    return joined([(one, other) for one, other in pairs if other > one], _TOUCHING)


def joined(spans: list[Span], gap: Length) -> tuple[Span, ...]:
    """Spans in order, those no farther apart than ``gap`` told as one."""
    told: list[Span] = []
    for start, end in sorted(spans):
        if told and start - told[-1][1] <= gap:
            told[-1] = (told[-1][0], max(end, told[-1][1]))
        else:
            told.append((start, end))
    return tuple(told)


def total(spans: tuple[Span, ...]) -> Length:
    """Length of all spans together."""
    return float(sum(end - start for start, end in spans))


def meetings(points: Points, along: Lengths, line: Line) -> tuple[Meeting, ...]:
    """Where ``line`` crosses ``points`` (n, 2), in order along ``line``; ``along`` (n,) as in ``spans_inside``."""
    second = np.array(line)
    if len(second) < 2:
        return ()
    one, other = (points[1:] - points[:-1])[:, None], (second[1:] - second[:-1])[None]
    apart = second[None, :-1] - points[:-1, None]
    turn = _cross(one, other)
    crossing = np.where(turn == 0.0, np.nan, turn)
    share, way = _cross(apart, other) / crossing, _cross(apart, one) / crossing
    # Each piece owns its start and not its end: a crossing at a corner is counted once.
    hit = (share >= 0.0) & ((share < 1.0) | (np.arange(len(one)) == len(one) - 1)[:, None]) & (share <= 1.0)
    hit &= (way >= 0.0) & ((way < 1.0) | (np.arange(other.shape[1]) == other.shape[1] - 1)[None]) & (way <= 1.0)
    lengths, rows = distances(second), np.argwhere(hit)
    found = [
        Meeting(
            along=float(along[i] + share[i, j] * (along[i + 1] - along[i])),
            way=float(lengths[j] + way[i, j] * (lengths[j + 1] - lengths[j])),
            at=(float(points[i, 0] + share[i, j] * one[i, 0, 0]), float(points[i, 1] + share[i, j] * one[i, 0, 1])),
            from_left=bool(turn[i, j] < 0.0),
        )
        for i, j in rows
    ]
    return tuple(sorted(found, key=lambda meeting: meeting.way))


def densely(line: Points, spacing: Length) -> Points:
    """Points along a line no farther apart than ``spacing``, its own points among them, (k, 2)."""
    along = distances(line)
    counts = np.maximum(np.ceil(np.diff(along) / spacing - 1e-9), 1).astype(int)
    marks = np.concatenate(
        [start + (end - start) * np.arange(n) / n for start, end, n in zip(along[:-1], along[1:], counts, strict=True)]
        + [along[-1:]]
    )
    return np.column_stack([np.interp(marks, along, line[:, axis]) for axis in (0, 1)])


def _cross(one: FloatArray, other: FloatArray) -> FloatArray:
    turned: FloatArray = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return turned
