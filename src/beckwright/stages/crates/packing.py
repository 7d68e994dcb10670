"""Whole crates of one size in a rectangle, both ways round, none cut.

Every rectangle that is a sum of crates' sides is cut straight across in the best way, small ones first; larger ones are
put together from what is known. Arrangements round a hole, which no straight cut parts, are not tried: with crates
twice as long as wide they never hold more.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length
from beckwright.stages.crates.values import Layer, OtherPit, Placed
from beckwright.tables.crates import CRATE_PLAY

CLOSE: Length = 1e-6
"""Sides this near each other are the same."""

MOST_RECTANGLES = 10_000
"""Rectangles whose best cut is looked for: about a quarter of a second's work."""


class _Table(NamedTuple):
    """Most crates in every rectangle of ``along`` by ``across``; ``cut`` is where: below 0 across the other side."""

    along: FloatArray
    across: FloatArray
    most: IntArray
    cut: IntArray


def sums_of(sides: tuple[Length, Length], limit: Length) -> FloatArray:
    """Every length up to a limit that crates make end to end, both ways round, 0 first."""
    one, other = sides
    counts = np.arange(int(limit / one + CLOSE) + 1)[:, None], np.arange(int(limit / other + CLOSE) + 1)[None, :]
    made = np.unique(np.round(counts[0] * one + counts[1] * other, 6))
    return np.asarray(made[made <= limit + CLOSE])


@lru_cache(maxsize=64)
def _table(length: Length, width: Length, crate: tuple[Length, Length]) -> _Table:
    along, across = sums_of(crate, length), sums_of(crate, width)
    rest_along, rest_across = _rest(along), _rest(across)
    most = np.zeros((len(along), len(across)), dtype=np.int64)
    cut = np.zeros_like(most)
    small, large = min(crate) - CLOSE, max(crate) - CLOSE
    for i in range(len(along)):
        for j in range(len(across)):
            sides = sorted((along[i], across[j]))
            if sides[0] < small or sides[1] < large:
                continue
            most[i, j] = 1
            for step, parts in (
                (1, most[1:i, j] + most[rest_along[i, 1:i], j]),
                (-1, most[i, 1:j] + most[i, rest_across[j, 1:j]]),
            ):
                if len(parts) and parts.max() > most[i, j]:
                    most[i, j], cut[i, j] = parts.max(), step * (int(parts.argmax()) + 1)
    return _Table(along, across, most, cut)


def _rest(sums: FloatArray) -> IntArray:
    """Number of the longest sum that fits beside each shorter one."""
    left = sums[:, None] - sums[None, :]
    return np.asarray(np.searchsorted(sums, left + CLOSE, side="right") - 1)


def arrangements(length: Length, width: Length, crate: tuple[Length, Length]) -> tuple[Layer, ...]:
    """Layers that hold the most crates, plain rows first: anybody can lay those."""
    plain = [_rows(length, width, sides) for sides in (crate, crate[::-1])]
    cut: tuple[Placed, ...] = ()
    if _searched(length, width, crate):
        table = _table(length, width, crate)
        cut = tuple(_lay(table, crate, len(table.along) - 1, len(table.across) - 1, (0.0, 0.0)))
    most = max(len(cut), *map(len, plain))
    return tuple(Layer(crates=crates) for crates in (*plain, cut) if len(crates) == most)


def _searched(length: Length, width: Length, crate: tuple[Length, Length]) -> bool:
    """Whether the rectangles to look at are few enough; in so large a pit mixed rows gain next to nothing."""
    few: bool = len(sums_of(crate, length)) * len(sums_of(crate, width)) <= MOST_RECTANGLES
    return few


def _rows(length: Length, width: Length, sides: tuple[Length, Length]) -> tuple[Placed, ...]:
    """Crates all one way round."""
    along, across = int(length / sides[0] + CLOSE), int(width / sides[1] + CLOSE)
    return tuple(
        Placed(along=i * sides[0], across=j * sides[1], length=sides[0], width=sides[1])
        for i in range(along)
        for j in range(across)
    )


def _lay(table: _Table, crate: tuple[Length, Length], i: int, j: int, at: tuple[Length, Length]) -> list[Placed]:
    if table.most[i, j] == 0:
        return []
    cut = int(table.cut[i, j])
    if cut == 0:
        fits = table.along[i] >= crate[0] - CLOSE and table.across[j] >= crate[1] - CLOSE
        sides = crate if fits else crate[::-1]
        return [Placed(along=at[0], across=at[1], length=sides[0], width=sides[1])]
    if cut > 0:
        rest, beyond = int(_rest(table.along)[i, cut]), (at[0] + float(table.along[cut]), at[1])
        return _lay(table, crate, cut, j, at) + _lay(table, crate, rest, j, beyond)
    rest, beyond = int(_rest(table.across)[j, -cut]), (at[0], at[1] + float(table.across[-cut]))
    return _lay(table, crate, i, -cut, at) + _lay(table, crate, i, rest, beyond)


def nearest_pit(length: Length, width: Length, crate: tuple[Length, Length], off: Length) -> OtherPit | None:
    """The pit nearest in its two sides that whole crates fill, neither side more than ``off`` away."""
    if not _searched(length + off, width + off, crate):
        return None
    table = _table(length + off, width + off, crate)
    plan = table.along[:, None] * table.across[None, :]
    full = np.isclose(table.most * crate[0] * crate[1], plan, rtol=0, atol=CLOSE) & (table.most > 0)
    away = np.abs(table.along - length)[:, None], np.abs(table.across - width)[None, :]
    near = full & (away[0] <= off + CLOSE) & (away[1] <= off + CLOSE)
    if not near.any():
        return None
    i, j = np.unravel_index(np.argmin(np.where(near, away[0] + away[1], np.inf)), near.shape)
    return OtherPit(length=float(table.along[i]), width=float(table.across[j]), crates=int(table.most[i, j]))


def fills(layer: Layer, length: Length, width: Length) -> bool:
    """Whether a layer leaves no more than the room that a block takes up by itself."""
    covered = sum(crate.length * crate.width for crate in layer.crates)
    play = CRATE_PLAY.amount
    return covered >= max(length - 2 * play, 0.0) * max(width - 2 * play, 0.0) - CLOSE
