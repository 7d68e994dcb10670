"""Layers laid so that joints stand over joints as little as can be, and the joints to be clipped."""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Ratio
from beckwright.stages.crates.packing import CLOSE, arrangements
from beckwright.stages.crates.values import Layer, Placed

MOST_BONDED = 300
"""Crates to a layer up to which another is looked for to lay on it: about half a second's work."""


@lru_cache(maxsize=64)
def two_layers(length: Length, width: Length, crate: tuple[Length, Length]) -> tuple[Layer, Layer, Ratio]:
    """A layer, another of as many crates to lay on it, and the share of that one's joints that stand over joints.

    The other is tried as every arrangement that holds as many, laid both ways and mirrored. A very large block has the
    maker's own laying plan: there both layers lie alike.
    """
    lower, *others = arrangements(length, width, crate)
    if len(lower.crates) > MOST_BONDED:
        return lower, lower, 1.0
    crossed = [Layer(crates=tuple(map(_swapped, layer.crates))) for layer in arrangements(width, length, crate)]
    tried = [turned for layer in (lower, *others, *crossed) for turned in _mirrored(layer, length, width)]
    shares = [stacked(layer, lower) for layer in tried]
    best = int(np.argmin(shares))
    return lower, tried[best], shares[best]


def joints_of(layer: Layer) -> tuple[FloatArray, FloatArray]:
    """Where neighbours meet: joints across the pit's length, and along it, rows of (where, from, to)."""
    if not layer.crates:
        return np.zeros((0, 3)), np.zeros((0, 3))
    box = np.array([(c.along, c.along + c.length, c.across, c.across + c.width) for c in layer.crates])
    return _meeting(box), _meeting(box[:, [2, 3, 0, 1]])


def _meeting(box: FloatArray) -> FloatArray:
    low, high, start, end = box.T
    first, last = np.maximum(start[:, None], start[None, :]), np.minimum(end[:, None], end[None, :])
    one, other = np.nonzero((np.abs(high[:, None] - low[None, :]) < CLOSE) & (last - first > CLOSE))
    return np.stack([high[one], first[one, other], last[one, other]], axis=1)


def stacked(upper: Layer, lower: Layer) -> Ratio:
    """Share of the upper layer's joints, by length, that stand over joints of the lower; 0 where it has none."""
    total = over = 0.0
    for above, below in zip(joints_of(upper), joints_of(lower), strict=True):
        total += float((above[:, 2] - above[:, 1]).sum())
        shared = np.minimum(above[:, None, 2], below[None, :, 2]) - np.maximum(above[:, None, 1], below[None, :, 1])
        same = np.abs(above[:, None, 0] - below[None, :, 0]) < CLOSE
        over += float(np.where(same, np.maximum(shared, 0.0), 0.0).sum())
    return over / total if total > 0 else 0.0


def _swapped(crate: Placed) -> Placed:
    return Placed(along=crate.across, across=crate.along, length=crate.width, width=crate.length)


def _mirrored(layer: Layer, length: Length, width: Length) -> Iterator[Layer]:
    for flip_along, flip_across in ((False, False), (True, False), (False, True), (True, True)):
        yield Layer(
            crates=tuple(
                Placed(
                    along=length - each.along - each.length if flip_along else each.along,
                    across=width - each.across - each.width if flip_across else each.across,
                    length=each.length,
                    width=each.width,
                )
                for each in layer.crates
            )
        )
