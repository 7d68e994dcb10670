"""Which row of a changed list is which of the old one."""

from collections.abc import Mapping
from typing import Any

Pair = tuple[int | None, int | None]
"""Numbers of one row in the old list and in the new; None where it is not in it."""

GONE = 0.5
"""Cost of a row that has no partner: two rows that differ by more than two of these are two things."""
OTHER_NAME = 0.3
MOVED = 0.9
"""A point is the same one moved, rather than one taken and one added."""
MOST_COMPARED = 250_000
"""Pairs weighed: beyond it, rows are paired in order."""


def pairs(old: list[Any], new: list[Any]) -> list[Pair]:
    """Pair the rows of two lists in order, so that as little as possible differs."""
    head = _same(old, new)
    tail = min(_same(old[::-1], new[::-1]), len(old) - head, len(new) - head)
    inner_old, inner_new = old[head : len(old) - tail], new[head : len(new) - tail]
    paired = _weighed(inner_old, inner_new)
    return [
        *((place, place) for place in range(head)),
        *((None if a is None else a + head, None if b is None else b + head) for a, b in paired),
        *((len(old) - tail + place, len(new) - tail + place) for place in range(tail)),
    ]


def _same(old: list[Any], new: list[Any]) -> int:
    """How many rows at the beginning are the same."""
    return next((n for n, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))


def _weighed(old: list[Any], new: list[Any]) -> list[Pair]:
    rows, columns = len(old), len(new)
    if rows == columns == 1 or rows * columns > MOST_COMPARED:
        return _in_order(old, new)
    # Least cost of pairing what follows row a and column b, from the end backwards.
    cost = [[GONE * (rows - a + columns - b) for b in range(columns + 1)] for a in range(rows + 1)]
    for a in range(rows - 1, -1, -1):
        for b in range(columns - 1, -1, -1):
            single = GONE + min(cost[a + 1][b], cost[a][b + 1])
            cost[a][b] = min(single, unlike(old[a], new[b]) + cost[a + 1][b + 1])
    return _traced(old, new, cost)


def _traced(old: list[Any], new: list[Any], cost: list[list[float]]) -> list[Pair]:
    paired: list[Pair] = []
    a = b = 0
    while a < len(old) and b < len(new):
        if cost[a][b] == unlike(old[a], new[b]) + cost[a + 1][b + 1]:
            paired.append((a, b))
            a, b = a + 1, b + 1
        elif cost[a][b] == GONE + cost[a + 1][b]:
            paired.append((a, None))
            a += 1
        else:
            paired.append((None, b))
            b += 1
    return [*paired, *((left, None) for left in range(a, len(old))), *((None, left) for left in range(b, len(new)))]


def _in_order(old: list[Any], new: list[Any]) -> list[Pair]:
    both = min(len(old), len(new))
    return [
        *((place, place) for place in range(both)),
        *((place, None) for place in range(both, len(old))),
        *((None, place) for place in range(both, len(new))),
    ]


def unlike(one: Any, other: Any) -> float:
    """Return how far two rows differ: 0 for the same, up to 1 for two of a kind, 2 for two kinds."""
    if one == other:
        return 0.0
    if not (isinstance(one, Mapping) and isinstance(other, Mapping)):
        return MOVED
    if one.get("kind") != other.get("kind") and "name" not in one:
        return 2.0
    keys = one.keys() | other.keys()
    share = sum(bool(one.get(key) != other.get(key)) for key in keys) / len(keys)
    renamed = bool(one.get("name") != other.get("name"))
    return share * (1 - OTHER_NAME) + OTHER_NAME * renamed
