"""Small charts over the years, worked out to the last point: the page only draws them."""

from collections.abc import Callable, Sequence

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.tables.care import FAR_AHEAD
from beckwright.web.desk.state import Told

WIDE, HIGH = 340.0, 200.0
LEFT, RIGHT, TOP, LOW = 20.0, 320.0, 26.0, 172.0
MOST_TICKS = 5
STEPS = 12
APART = 80.0
"""Nearer together than this the words of two readings would meet."""


@value
class Drawn:
    """What a chart is of.

    years, amounts  (n,) of what was read, rising
    slope           (3,) a year: ends of its interval and its middle, through the mean of all; None where none is told
    limit           None where there is none; ``limit_says`` what stands at its line
    crosses         the first year the limit may be reached; None where that is not foreseen
    says            the whole chart in words, for who does not see it
    """

    years: FloatArray
    amounts: FloatArray
    slope: FloatArray | None
    limit: float | None
    limit_says: str
    crosses: float | None
    says: str


def chart(drawn: Drawn, words: Callable[[float], str]) -> Told:
    """Points, band, line and limit in the units of ``wide`` by ``high``; ``words`` tells an amount."""
    years, amounts = drawn.years, drawn.amounts
    first, last = float(years[0]), _end(drawn)
    along = np.linspace(first, last, STEPS)
    lines = [] if drawn.slope is None else [_through(years, amounts, each, along) for each in drawn.slope.tolist()]
    seen = [*amounts.tolist(), *([] if drawn.limit is None else [drawn.limit])]
    seen += lines[1].tolist() if lines else []
    low, high = _room(seen)

    def at(year: float, amount: float) -> list[float]:
        across = LEFT + (year - first) / (last - first) * (RIGHT - LEFT)
        up = LOW - (min(max(amount, low), high) - low) / (high - low) * (LOW - TOP)
        return [round(across, 1), round(up, 1)]

    def path(line: FloatArray) -> list[list[float]]:
        return [at(year, amount) for year, amount in zip(along.tolist(), line.tolist(), strict=True)]

    return {
        "wide": WIDE,
        "high": HIGH,
        "dots": [at(year, amount) for year, amount in zip(years.tolist(), amounts.tolist(), strict=True)],
        "line": path(lines[1]) if lines else [],
        "band": [*path(np.min(lines, axis=0)), *reversed(path(np.max(lines, axis=0)))] if lines else [],
        "limit": None if drawn.limit is None else {"at": at(first, drawn.limit)[1], "words": drawn.limit_says},
        "ends": [LEFT, RIGHT],
        "foot": LOW,
        "values": _values(years, amounts, at, words),
        "ticks": [{"at": at(year, low)[0], "words": f"{year}"} for year in _ticks(first, last)],
        "says": drawn.says,
    }


def _end(drawn: Drawn) -> float:
    first, last = float(drawn.years[0]), float(drawn.years[-1])
    ahead = max((last - first) / 2, 1.0)
    if drawn.crosses is not None:
        ahead = max(ahead, drawn.crosses - last + 1.0)
    return last + min(ahead, FAR_AHEAD.amount)


def _through(years: FloatArray, amounts: FloatArray, slope: float, along: FloatArray) -> FloatArray:
    line: FloatArray = amounts.mean() + slope * (along - years.mean())
    return line


def _room(seen: Sequence[float]) -> tuple[float, float]:
    """From the least to the most seen, with some room over and under."""
    low, high = min(seen), max(seen)
    spare = (high - low) * 0.12 or abs(high) * 0.1 or 1.0
    return low - spare, high + spare


Placed = Callable[[float, float], list[float]]


def _values(years: FloatArray, amounts: FloatArray, at: Placed, words: Callable[[float], str]) -> list[Told]:
    """The first and the last reading beside their dots."""
    spots = [at(float(years[place]), float(amounts[place])) for place in (0, -1)]
    told = [
        {"at": [across, round(up - 9.0, 1)], "words": words(float(amounts[place])), "first": place == 0}
        for place, (across, up) in zip((0, -1), spots, strict=True)
    ]
    return told if spots[1][0] - spots[0][0] >= APART else told[:1] if len(years) == 1 else told[1:]


def _ticks(first: float, last: float) -> list[int]:
    whole = range(int(np.ceil(first)), int(np.floor(last)) + 1)
    every = -(-len(whole) // MOST_TICKS) or 1
    return [year for place, year in enumerate(whole) if place % every == 0]
