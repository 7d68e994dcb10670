"""What the readings say of hose, pump, bed and reservoir: the likeliest values, and how sure they are.

Every parameter counts in standard deviations from the middle of what was known before; the readings pull, the bands
hold. The likeliest point comes by least squares, the spread about it by Laplace's rule. That is enough to weigh causes
against one another, but seldom the whole truth: bands are told from might-have-beens into which the readings are let
little by little.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Ratio
from beckwright.base.values import value
from beckwright.readings.switch_on.model import Model, Upset
from beckwright.readings.switch_on.noise import compared, compares_time, sigma
from beckwright.readings.switch_on.read import Reading

SAMPLES = 1024
_SEED = 20260901
_LEFT = 0.5
"""Share of the might-have-beens that still counts after each turn: the readings are let in as far as that."""
_MOVES, _MOST_TRIES = 6.0, 60
"""How often each has moved, on the average, before the readings are let in further; and tries at the most.

With half as many moves bands come out some 3 % too narrow, beside those of four thousand might-have-beens moved twice
as often; with these, within 1 %.
"""
_STRIDES = (1.0, 0.5, 0.25)
"""Of the usual stride, in turn: where the bend is sharp only short ones arrive."""
_JITTER = 1e-3


@value
class Posterior:
    """One fit.

    best      (p,) likeliest, in standard deviations of what was known before; spread (p, p) its covariance
    slopes    (n, p) of the readings' predictions over their own standard deviation
    off       (n,) readings that count, less what they should be, in standard deviations
    evidence  logarithm of how well this explains the readings, all might-have-beens weighed
    """

    best: FloatArray
    spread: FloatArray
    slopes: FloatArray
    off: FloatArray
    evidence: Ratio

    @property
    def deviations(self) -> FloatArray:
        """(p,) what is left of each standard deviation: 1 where the readings told nothing."""
        left: FloatArray = np.sqrt(np.diag(self.spread))
        return left

    @property
    def tied(self) -> FloatArray:
        """(p, p) correlations."""
        one = self.deviations
        correlated: FloatArray = self.spread / np.outer(one, one)
        return correlated


def sigmas(model: Model, rows: Sequence[Reading]) -> FloatArray:
    """(n,) standard deviations of the rows."""
    pit, plan = model.design.reservoir.pit, {}
    for flow in model.flows:
        plan[flow] = model.loop.settings[flow].meant / (pit.plan * pit.holdings[0].voids)
    return np.array([sigma(row, plan.get(row.flow, 0.0)) for row in rows])


def supposed(rows: Sequence[Reading], amounts: FloatArray) -> list[Reading]:
    """The same rows, had they read these amounts."""
    return [
        replace(row, seconds=float(amount)) if compares_time(row.kind) else replace(row, amount=float(amount))
        for row, amount in zip(rows, amounts, strict=True)
    ]


def fit(
    model: Model, rows: Sequence[Reading], upset: Upset | None = None, start: FloatArray | None = None
) -> Posterior:
    """Fit the rows given; none leave the bands as they were."""
    from scipy.optimize import least_squares

    as_it_is, count = upset or Upset(), len(model.names)
    begin = np.zeros(count) if start is None else start
    if not rows:
        return Posterior(
            best=np.zeros(count), spread=np.eye(count), slopes=np.zeros((0, count)), off=np.zeros(0), evidence=0.0
        )
    seen, sure = np.array([compared(row) for row in rows]), sigmas(model, rows)

    def off(away: FloatArray) -> FloatArray:
        told = model.predict(away[None], as_it_is, rows)[0]
        return np.append(away, (told - seen) / sure)

    def slopes(away: FloatArray) -> FloatArray:
        return np.vstack([np.eye(count), model.about(away, as_it_is, rows)[1] / sure[:, None]])

    # The start may be far off: a step is damped as long as it helps, and the bands keep it from running away.
    found = least_squares(off, begin, jac=slopes, method="lm", xtol=1e-6, ftol=1e-8, max_nfev=40)
    jac = slopes(found.x)
    precision = jac.T @ jac
    _, size = np.linalg.slogdet(precision)
    residuals = off(found.x)
    return Posterior(
        best=found.x,
        spread=np.array(np.linalg.inv(precision), dtype=np.float64),
        slopes=jac[count:],
        off=-residuals[count:],
        evidence=float(-0.5 * (residuals @ residuals + size)),
    )


def before(model: Model, count: int = SAMPLES) -> FloatArray:
    """Might-have-beens before any reading, (s, p): spread evenly (Sobol), the same each time."""
    return _normal(len(model.names), count)


def after(model: Model, rows: Sequence[Reading], upset: Upset | None = None, count: int = SAMPLES) -> FloatArray:
    """Might-have-beens after the readings, (s, p), each as likely as the other; the same each time.

    They begin as those before any reading. The readings are let in little by little: at each turn those that fit
    worse give way to those that fit better, and all are moved about until they stand apart again. Begun from the
    likeliest point instead they would stay too close to it: where hose and pump answer for one another the likely
    ones lie along a bend that no bell follows. Raises ArithmeticError where what a row should read is no number.

    (Sequential Monte Carlo sampler: Del Moral, Doucet and Jasra 2006, Journal of the Royal Statistical Society B
    68(3), 411-436, from memory.)
    """
    away, as_it_is, chance = _normal(len(model.names), count), upset or Upset(), np.random.default_rng(_SEED)
    if not rows:
        return away
    seen, sure = np.array([compared(row) for row in rows]), sigmas(model, rows)

    def fits(those: FloatArray) -> FloatArray:
        off = (model.predict(those, as_it_is, rows) - seen) / sure
        log: FloatArray = -0.5 * (off**2).sum(axis=1)
        return log

    logs, let_in = fits(away), 0.0
    if not np.isfinite(logs).all():
        message = "what the readings should be is no number for some hose, pump or bed within the bands"
        raise ArithmeticError(message)
    while let_in < 1:
        more = _let_in(logs, 1 - let_in)
        let_in = 1.0 if more == 1 - let_in else let_in + more
        stays = _drawn_again(np.exp(more * (logs - logs.max())), chance)
        away, logs = _moved(fits, away[stays], logs[stays], let_in, chance)
    return away


def _let_in(logs: FloatArray, most: Ratio) -> Ratio:
    """How much further the readings can be let in, so that the share wanted of the might-have-beens still counts."""

    def counts(more: Ratio) -> Ratio:
        weight = np.exp(more * (logs - logs.max()))
        return float(weight.sum() ** 2 / (weight**2).sum() / len(logs))

    low, high = 0.0, most
    if counts(high) >= _LEFT:
        return most
    while high - low > 1e-3 * high:
        middle = (low + high) / 2
        low, high = (middle, high) if counts(middle) > _LEFT else (low, middle)
    return high


def _drawn_again(weight: FloatArray, chance: np.random.Generator) -> IntArray:
    """Which of them are kept, the heavier ones more often: evenly along their weights, in no order."""
    ends = np.cumsum(weight / weight.sum())
    even = (chance.random() + np.arange(len(weight))) / len(weight)
    drawn: IntArray = chance.permutation(np.minimum(np.searchsorted(ends, even), len(weight) - 1))
    return drawn


def _moved(
    fits: Callable[[FloatArray], FloatArray],
    away: FloatArray,
    logs: FloatArray,
    let_in: Ratio,
    chance: np.random.Generator,
) -> tuple[FloatArray, FloatArray]:
    """Move them about by Metropolis's rule, and how well they fit then.

    Each strides by the difference of two others: strides grow along a bend by themselves. They go in two halves, so
    that what one strides by does not hang on where it stands. (Differential evolution Markov chain: ter Braak 2006,
    Statistics and Computing 16(3), 239-249, from memory.)
    """
    halves = np.array_split(np.arange(len(away)), 2)
    usual = 2.38 / np.sqrt(2 * away.shape[1])
    moves = 0.0
    for turn in range(_MOST_TRIES):
        if moves >= _MOVES:
            break
        for goers, others in (halves, halves[::-1]):
            one, two = (away[chance.choice(others, len(goers))] for _ in range(2))
            stride = usual * _STRIDES[turn % len(_STRIDES)]
            there = away[goers] + stride * (one - two) + _JITTER * chance.standard_normal(one.shape)
            fit_there = fits(there)
            likelier = let_in * (fit_there - logs[goers])
            likelier -= 0.5 * ((there**2).sum(axis=1) - (away[goers] ** 2).sum(axis=1))
            goes = np.log(chance.random(len(goers))) < likelier
            away[goers] = np.where(goes[:, None], there, away[goers])
            logs[goers] = np.where(goes, fit_there, logs[goers])
            moves += goes.sum() / len(away)
    return away, logs


def quantiles(amounts: FloatArray, weight: FloatArray, shares: Sequence[float]) -> FloatArray:
    """Weighted quantiles of (s,) amounts."""
    order = np.argsort(amounts)
    sorted_weight = weight[order]
    place = np.cumsum(sorted_weight) - 0.5 * sorted_weight
    read: FloatArray = np.interp(shares, place, amounts[order])
    return read


def _normal(wide: int, count: int) -> FloatArray:
    from scipy.stats import norm, qmc

    even = qmc.Sobol(wide, seed=_SEED).random(count)
    drawn: FloatArray = norm.ppf(np.clip(even, 1e-9, 1 - 1e-9))
    return drawn
