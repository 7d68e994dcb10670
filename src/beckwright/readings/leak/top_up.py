"""Water that is filled up every day, split: what starts and stops throw over, what is lost, what nobody can tell."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.quantities import Duration, FloatArray
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak.tell import LeakTest


@value
class SplitTopUp:
    """A day's filling up, (3,) volumes each.

    metered  mean of the days with its interval
    spilled  over the overflow at the stops: what the reservoir cannot hold of the water in motion
    lost     leak and evaporation while it runs and while it rests
    shown    what the meter leaves for the stops, once the losses are taken off
    drained  water in motion that this shows: what comes back at a stop; None where nothing went over
    """

    metered: FloatArray
    spilled: FloatArray
    lost: FloatArray
    shown: FloatArray
    drained: FloatArray | None


def split_top_up(
    design: Design, found: LeakTest, metered: Sequence[float], *, flow: str, hours: Duration, starts: int
) -> SplitTopUp | None:
    """Split what a meter gave on like days, m3 each; None where no test was made at that flow.

    hours   it ran each of those days
    starts  on each of those days
    """
    from scipy.special import stdtrit

    running = next(
        (each for each in found.measured if each.series.flow == flow and each.series.running and not each.series.below),
        None,
    )
    if running is None:
        return None
    resting = next((each for each in found.measured if not each.series.running), None)
    lent = design.reservoir.lent[:, design.water.number(flow)]
    spilled = starts * np.maximum(np.sort(lent) - design.reservoir.useful, 0.0)
    lost = running.loss.rate * hours
    if resting is not None:
        lost = lost + resting.loss.rate * (86400.0 - hours)
    given = np.array(metered)
    half = 0.0
    if len(given) > 1:
        half = float(stdtrit(len(given) - 1, 0.975) * given.std(ddof=1) / np.sqrt(len(given)))
    mean = float(given.mean())
    told = np.array([mean - half, mean, mean + half])
    shown = told - lost[::-1]
    drained = shown / starts + design.reservoir.useful if starts and shown[0] > 0 else None
    return SplitTopUp(metered=told, spilled=spilled, lost=lost, shown=shown, drained=drained)
