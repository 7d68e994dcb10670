"""A straight line through what is held over time: its slope is what is lost, with an interval."""

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Flow, IntArray, Lengths, Volume
from beckwright.base.values import value
from beckwright.tables.leak import CONFIDENCE, ODD_ONE_OUT


@value
class Loss:
    """What one test lost.

    rate   (3,) volume a time: the ends of its interval and its middle
    half   half of that interval
    noise  scatter of one reading about the line, as a volume
    apart  mean time between readings
    count  readings
    drift  Durbin-Watson figure: 2 where readings scatter freely, towards 0 where each follows the one before
    odd    places of readings too far off the line to be chance
    """

    rate: FloatArray
    half: Flow
    noise: Volume
    apart: Duration
    count: int
    drift: float
    odd: IntArray


def fit_loss(times: Lengths, held: FloatArray) -> Loss:
    """Fit what is held, (n,) volumes at (n,) times, n at least 3. Student's interval of an ordinary straight line."""
    from scipy.special import stdtrit

    count = len(times)
    moment = times - times.mean()
    spread = float(moment @ moment)
    slope = float(moment @ held) / spread
    off = held - held.mean() - slope * moment
    noise = float(np.sqrt(off @ off / (count - 2)))
    half = float(stdtrit(count - 2, (1 + CONFIDENCE.amount) / 2)) * noise / np.sqrt(spread)
    return Loss(
        rate=np.array([-slope - half, -slope, -slope + half]),
        half=float(half),
        noise=noise,
        apart=float(np.diff(times).mean()),
        count=count,
        drift=float(np.diff(off) @ np.diff(off) / (off @ off)) if noise > 0 else 2.0,
        odd=_odd(moment, spread, off, noise),
    )


def time_wanted(noise: Volume, apart: Duration, half: Flow) -> Duration:
    """How long to go on, readings ``apart``, until the interval is no wider than ``half`` to either side."""
    from scipy.special import stdtrit

    for count in range(3, 2000):
        # n readings evenly apart have the spread d2 n (n2 - 1) / 12 about their middle.
        spread = apart**2 * count * (count**2 - 1) / 12
        if stdtrit(count - 2, (1 + CONFIDENCE.amount) / 2) * noise / np.sqrt(spread) <= half:
            return apart * (count - 1)
    return float("inf")


def _odd(moment: FloatArray, spread: float, off: FloatArray, noise: float) -> IntArray:
    """Readings that lie too far off a line drawn without them for the farthest of so many (Student, Bonferroni)."""
    from scipy.special import stdtrit

    count = len(off)
    if count < 5 or noise <= 0:
        return np.array([], dtype=np.int64)
    leverage = 1 / count + moment**2 / spread
    without = np.maximum((noise**2 * (count - 2) - off**2 / (1 - leverage)) / (count - 3), noise**2 * 1e-12)
    student = np.abs(off) / np.sqrt(without * (1 - leverage))
    limit = float(stdtrit(count - 3, 1 - ODD_ONE_OUT.amount / (2 * count)))
    return np.flatnonzero(student > limit)
