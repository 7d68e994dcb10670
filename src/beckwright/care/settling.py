"""Edges shot on several dates: which sink, how fast, and when the freeboard has run out."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length
from beckwright.base.values import value
from beckwright.care.visits import Visit
from beckwright.compose import Design
from beckwright.readings import Off, as_built
from beckwright.tables.care import FAR_AHEAD
from beckwright.tables.leak import CONFIDENCE
from beckwright.tables.practice import FREEBOARD_FAILS

YEAR: Duration = 365.25 * 86400.0
_NORMAL = 1.959963984540054
"""Standard deviations that hold nineteen in twenty."""


@value
class Sinking:
    """One edge over time.

    what, chainage  as it was shot
    dates, levels   of every time, (n,)
    rate      (3,) m a year downwards: ends of its interval and its middle; two dates: by the tolerance of a shot
    freeboard at the strongest flow at the last date
    runs_out  (2,) earliest and latest date the freeboard comes to what must be cured; None each where it does not
              within the years a line may be believed
    """

    what: str
    chainage: Length
    dates: tuple[date, ...]
    levels: FloatArray
    rate: FloatArray
    freeboard: Length
    runs_out: tuple[date | None, date | None]

    @property
    def sinks(self) -> bool:
        """Whether it sinks for certain: even the slow end of its interval does."""
        return bool(self.rate[0] > 0)


def settling(design: Design, visits: Sequence[Visit]) -> tuple[Sinking, ...]:
    """Hold the same edges of several dates against each other, the soonest to run out first.

    A straight line is on the dark side: fill sinks ever more slowly, most of it in the first year.
    """
    ordered = sorted(visits, key=lambda visit: visit.day)
    found = [(visit.day, as_built(design, visit.shots, settled=True)) for visit in ordered]
    rows: dict[tuple[str, float], list[tuple[date, Off]]] = defaultdict(list)
    for day, built in found:
        for off in built.edges:
            rows[off.what, round(off.chainage, 3)].append((day, off))
    tolerance = design.job.tolerances.survey
    sinking = [_sinking(each, tolerance) for each in rows.values() if len({day for day, _ in each}) > 1]
    return tuple(sorted(sinking, key=lambda each: (each.runs_out[0] or date.max, -float(each.rate[1]))))


def _sinking(rows: list[tuple[date, Off]], tolerance: Length) -> Sinking:
    days = tuple(day for day, _ in rows)
    levels = np.array([off.shot for _, off in rows])
    years = np.array([(day - days[0]).days for day in days]) / (YEAR / 86400.0)
    rate = _rate(years, levels, tolerance)
    last = rows[-1][1]
    left = float(last.freeboard[-1]) - FREEBOARD_FAILS.amount
    return Sinking(
        what=last.what,
        chainage=last.chainage,
        dates=days,
        levels=levels,
        rate=rate,
        freeboard=float(last.freeboard[-1]),
        runs_out=(_when(days[-1], left, float(rate[2])), _when(days[-1], left, float(rate[0]))),
    )


def _rate(years: FloatArray, levels: FloatArray, tolerance: Length) -> FloatArray:
    """How fast a level goes down, with its interval: two shots by their tolerance, more by their scatter too."""
    from scipy.special import stdtrit

    moment = years - years.mean()
    spread = float(moment @ moment)
    slope = float(moment @ levels) / spread
    # A tolerance is nineteen in twenty: two standard deviations of a shot.
    half = tolerance / np.sqrt(spread)
    count = len(years)
    if count > 2:
        off = levels - levels.mean() - slope * moment
        noise = float(np.sqrt(off @ off / (count - 2)))
        half = max(half, float(stdtrit(count - 2, (1 + CONFIDENCE.amount) / 2)) * noise / np.sqrt(spread))
    return np.array([-slope - half, -slope, -slope + half])


def _when(last: date, left: Length, rate: float) -> date | None:
    if left <= 0:
        return last
    if rate <= 0 or left / rate > FAR_AHEAD.amount:
        return None
    return last + timedelta(seconds=left / rate * YEAR)
