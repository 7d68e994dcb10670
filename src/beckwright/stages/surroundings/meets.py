"""Where ways of water first come to the stream."""

from typing import Literal, NamedTuple

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Points
from beckwright.stages.surroundings.works import Footprint

Side = Literal["left", "right"]


class Met(NamedTuple):
    """How far along itself a way comes to the stream, at which chainage, and to which side of it."""

    way: Length
    chainage: Length
    side: Side


def first_meetings(works: Footprint, ways: list[Points]) -> list[Met | None]:
    """Where each way first comes in over the foot of a bank, or over the line of the stream; None where it never does.

    What follows is the stream's own valley.
    """
    import shapely

    if not ways:
        return []
    bands = _pieces([*works.feet, works.points])
    pieces = _pieces(ways)
    near = _within(bands.ends, pieces.ends)
    tree = shapely.STRtree(np.asarray(shapely.linestrings(bands.ends[near])))
    row, met = tree.query(np.asarray(shapely.linestrings(pieces.ends)), predicate="intersects")
    met = near[met]
    share, way, turn = _cross(bands.ends[met], pieces.ends[row])
    side = bands.owner[met]
    # Over the left foot only what comes from the left is on its way in; over the right foot only from the right.
    comes_in = np.where(side == 0, turn < 0.0, np.where(side == 1, turn > 0.0, turn != 0.0))
    row, met, share, way, turn = (each[comes_in] for each in (row, met, share, way, turn))
    station = met - bands.first[bands.owner[met]]
    chainage = works.chainage[station] + share * np.diff(works.chainage)[station]
    along = pieces.along[row] + way * pieces.length[row]
    found: list[Met | None] = [None] * len(ways)
    for place in np.lexsort((along, pieces.owner[row]))[::-1]:
        found[pieces.owner[row[place]]] = Met(
            float(along[place]), float(chainage[place]), "left" if turn[place] < 0.0 else "right"
        )
    return found


class _Pieces(NamedTuple):
    """Straight pieces of several lines: ends (p, 2, 2), whose they are, where each line's begin, and where along it."""

    ends: FloatArray
    owner: IntArray
    first: IntArray
    along: FloatArray
    length: FloatArray


def _pieces(lines: list[Points]) -> _Pieces:
    counts = np.array([len(line) - 1 for line in lines], dtype=np.int64)
    ends = np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in lines])
    length = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    first = np.cumsum(counts) - counts
    before = np.concatenate([[0.0], np.cumsum(length)])[:-1]
    return _Pieces(
        ends, np.repeat(np.arange(len(lines)), counts), first, before - np.repeat(before[first], counts), length
    )


def _within(ends: FloatArray, around: FloatArray) -> IntArray:
    """Pieces that reach into the rectangle around others: an arrow is short, and making shapes takes time."""
    low, high = around.min(axis=(0, 1)), around.max(axis=(0, 1))
    return np.flatnonzero(((ends.max(axis=1) >= low) & (ends.min(axis=1) <= high)).all(axis=1))


def _cross(one: FloatArray, other: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Shares of both pieces at their crossing, and the turn from one to the other: above 0 it comes from the right."""
    (ux, uy), (vx, vy) = (one[:, 1] - one[:, 0]).T, (other[:, 1] - other[:, 0]).T
    east, north = (other[:, 0] - one[:, 0]).T
    turn = ux * vy - uy * vx
    divided = np.where(turn == 0.0, 1.0, turn)
    return (east * vy - north * vx) / divided, (east * uy - north * ux) / divided, turn
