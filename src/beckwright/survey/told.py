"""How far a survey reaches, in words: the same on the command line and in a browser."""

from collections import Counter

from beckwright.base.quantities import Length, Levels, Points
from beckwright.base.words import grouped, metres

MOST = 12
"""Breaklines that are told one by one."""


def extent_told(
    points: Points, levels: Levels, *, shift: tuple[Length, Length] = (0.0, 0.0), lines: Counter[str] | None = None
) -> list[tuple[str, str]]:
    """Plan, x, y, levels, shift and breaklines of points (n, 2) and levels (n,), m; n is one or more."""
    (west, south), (east, north) = points.min(axis=0), points.max(axis=0)
    low, high = float(levels.min()), float(levels.max())
    rows = [
        ("plan", f"{metres(east - west)} by {metres(north - south)}"),
        ("x", f"{metres(west)} to {metres(east)}"),
        ("y", f"{metres(south)} to {metres(north)}"),
        ("levels", f"{metres(low)} to {metres(high)}, {metres(high - low)} of fall"),
    ]
    if shift != (0.0, 0.0):
        east_off, north_off = shift
        rows.append(("shift", f"{metres(east_off)} taken off every x, {metres(north_off)} off every y"))
    return [*rows, ("breaklines", _breaklines(lines or Counter()))]


def _breaklines(counts: Counter[str]) -> str:
    if not counts:
        return "none"
    named = ", ".join(f"{name} ({count})" for name, count in list(counts.items())[:MOST])
    more = f" and {len(counts) - MOST} more" if len(counts) > MOST else ""
    return f"{len(counts)}, {grouped(counts.total())} points on them: {named}{more}"
