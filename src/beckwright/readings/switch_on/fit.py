"""What the readings say of hose, pump, bed and reservoir: the likeliest values, and how sure they are.

Every parameter counts in standard deviations from the middle of what was known before; the readings pull, the bands
hold. The likeliest point comes by least squares, the spread about it by Laplace's rule; that being seldom the whole
truth, samples drawn from it are weighed (importance sampling), and walked about where too few of them count.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio
from beckwright.base.values import value
from beckwright.readings.switch_on.model import Model, Upset
from beckwright.readings.switch_on.noise import compared, compares_time, sigma
from beckwright.readings.switch_on.read import Reading

SAMPLES = 512
WALKERS, STRIDES = 192, 150
_LEAP, _JITTER = 9, 1e-3
_SEED = 20260901
_WIDER = 1.15
"""Samples are drawn a little wider than Laplace has it, so that no tail is missed."""


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


@value
class Samples:
    """Might-have-beens after the readings, (s, p), with weights (s,) that sum to 1; ``count`` is how many count."""

    away: FloatArray
    weight: FloatArray
    count: Ratio


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


def after(
    model: Model, rows: Sequence[Reading], found: Posterior, upset: Upset | None = None, count: int = SAMPLES
) -> Samples:
    """Might-have-beens after the readings, weighed.

    Where hose and pump answer for one another the likely ones lie along a bend that no bell follows: fewer than a
    quarter of the samples then count, and they are walked about (Metropolis) until they stand along it.
    """
    draws, as_it_is = _normal(len(model.names), count), upset or Upset()
    if not rows:
        return Samples(away=draws, weight=np.full(count, 1 / count), count=float(count))
    seen, sure = np.array([compared(row) for row in rows]), sigmas(model, rows)

    def likely(away: FloatArray) -> FloatArray:
        told = (model.predict(away, as_it_is, rows) - seen) / sure
        log: FloatArray = -0.5 * ((away**2).sum(axis=1) + (told**2).sum(axis=1))
        return log

    root: FloatArray = np.array(np.linalg.cholesky(found.spread), dtype=np.float64)
    away = found.best + _WIDER * draws @ root.T
    logs = likely(away)
    weight = np.exp(logs + 0.5 * (draws**2).sum(axis=1) - (logs + 0.5 * (draws**2).sum(axis=1)).max())
    weight /= weight.sum()
    counts = float(1 / (weight**2).sum())
    if counts >= count / 4:
        return Samples(away=away, weight=weight, count=counts)
    walked = _walked(likely, away, logs)
    return Samples(away=walked, weight=np.full(len(walked), 1 / len(walked)), count=counts)


def _walked(likely: Callable[[FloatArray], FloatArray], away: FloatArray, logs: FloatArray) -> FloatArray:
    """Walkers in two halves; each strides by the difference of two of the other half: strides grow along a bend.

    (Differential evolution Markov chain: ter Braak 2006, Statistics and Computing 16(3), 239-249, from memory; in
    halves, so that what a walker strides by does not hang on where it stands itself.)
    """
    chance = np.random.default_rng(_SEED)
    # They start wide, each elsewhere: a few likely ones many times over would have no differences to stride by.
    here = chance.permutation(len(away))[np.arange(WALKERS) % len(away)]
    at, log = away[here].copy(), logs[here].copy()
    halves = np.array_split(np.arange(WALKERS), 2)
    usual = 2.38 / np.sqrt(2 * at.shape[1])
    for turn in range(STRIDES):
        # Now and then a short stride, for where the bend is sharp, or a whole one, for a leap along it.
        stride = 1.0 if turn % 10 == _LEAP else usual if turn % 3 else usual / 3
        for goers, others in (halves, halves[::-1]):
            one, two = (at[chance.choice(others, len(goers))] for _ in range(2))
            there = at[goers] + stride * (one - two) + _JITTER * chance.standard_normal(one.shape)
            likelier = likely(there)
            goes = np.log(chance.random(len(goers))) < likelier - log[goers]
            at[goers] = np.where(goes[:, None], there, at[goers])
            log[goers] = np.where(goes, likelier, log[goers])
    return at


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
