"""Least squares: the places that fit all tapes and offsets best, and how much each is checked by the others."""

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Lengths, Points, Ratios
from beckwright.base.values import value
from beckwright.job.wording.sentences import shown
from beckwright.survey.observed import Observation, computed, slopes

MOST_ROUNDS = 100
STILL = 1e-9
"""Places that move by less than this, m, have settled."""
FLATTEST = 1e-10
"""Least over largest eigenvalue of the normal equations below which they hold no answer."""


@value
class Adjusted:
    """p points and n observations adjusted.

    places        (p, 2)
    covariance    (2p, 2p), m2, from the standard deviations of the observations; zero where a coordinate is held
    residuals     n, m, adjusted less measured
    redundancies  n, share of each observation that the others check
    freedom       observations to spare
    sigma0        standard deviation of unit weight; 1 where nothing is to spare
    """

    places: Points
    covariance: FloatArray
    residuals: Lengths
    redundancies: Ratios
    freedom: int
    sigma0: float


def adjust(
    file: str, names: tuple[str, ...], places: Points, held: BoolArray, observed: tuple[Observation, ...]
) -> Adjusted:
    """Move the coordinates that are not ``held`` until the weighted squares of the residuals are least (Gauss-Newton).

    places  (p, 2), near enough to begin with
    held    (p, 2)

    JobError where the observations leave a point free to move, or find no rest.
    """
    rows = [np.array([names.index(point) for point in one.points]) for one in observed]
    weights = np.array([1 / one.sigma for one in observed])
    free = np.flatnonzero(~held.ravel())
    moved = places.astype(float)
    for _ in range(MOST_ROUNDS):
        design, misfit = _system(observed, rows, moved, weights)
        step = np.zeros(moved.size)
        step[free] = _solved(file, names, design[:, free], misfit, free)
        moved = moved + _shortened(observed, rows, moved, weights, step.reshape(moved.shape))
        if np.abs(step).max() < STILL:
            return _adjusted(observed, rows, moved, weights, free)
    found = "the places find no rest"
    rule = "Tapes and offsets must be near enough to each other for one best answer"
    remedy = "Look for a gross error in the tape book"
    raise JobError([Problem(place=file, found=found, rule=rule, remedy=remedy)])


def _system(
    observed: tuple[Observation, ...], rows: list[IntArray], places: Points, weights: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Observation equations, each over its standard deviation: slopes (n, 2p) and measured less computed, n."""
    design = np.zeros((len(observed), places.size))
    for number, (one, points) in enumerate(zip(observed, rows, strict=True)):
        columns = (2 * points[:, None] + np.arange(2)).ravel()
        design[number, columns] = slopes(one, places[points]).ravel()
    return design * weights[:, None], _misfit(observed, rows, places) * weights


def _misfit(observed: tuple[Observation, ...], rows: list[IntArray], places: Points) -> Lengths:
    return np.array([one.amount - computed(one, places[points]) for one, points in zip(observed, rows, strict=True)])


def _solved(file: str, names: tuple[str, ...], design: FloatArray, misfit: FloatArray, free: IntArray) -> FloatArray:
    if not free.size:
        return np.zeros(0)
    eigenvalues, vectors = np.linalg.eigh(design.T @ design)
    if eigenvalues[0] <= FLATTEST * eigenvalues[-1]:
        loose = names[free[np.abs(vectors[:, 0]).argmax()] // 2]
        found = f"{shown(loose)} can still move without a tape noticing"
        rule = "Two tapes that lie in one line hold a point along it and not across"
        raise JobError([Problem(place=file, found=found, rule=rule, remedy="Tape it from a point off that line")])
    solved: FloatArray = vectors @ ((vectors.T @ (design.T @ misfit)) / eigenvalues)
    return solved


def _shortened(
    observed: tuple[Observation, ...], rows: list[IntArray], places: Points, weights: FloatArray, step: Points
) -> Points:
    """The step, halved until it does not make things worse."""

    def squares(at: Points) -> float:
        return float(np.square(_misfit(observed, rows, at) * weights).sum())

    now = squares(places)
    while np.abs(step).max() >= STILL and squares(places + step) > now:
        step = step / 2
    return step


def _adjusted(
    observed: tuple[Observation, ...], rows: list[IntArray], places: Points, weights: FloatArray, free: IntArray
) -> Adjusted:
    design, misfit = _system(observed, rows, places, weights)
    inverse = np.linalg.inv(design[:, free].T @ design[:, free])
    covariance = np.zeros((places.size, places.size))
    covariance[np.ix_(free, free)] = inverse
    freedom = len(observed) - free.size
    return Adjusted(
        places=places,
        covariance=covariance,
        residuals=-misfit / weights,
        redundancies=1 - np.einsum("ij,jk,ik->i", design[:, free], inverse, design[:, free]),
        freedom=freedom,
        sigma0=float(np.sqrt(misfit @ misfit / freedom)) if freedom else 1.0,
    )
