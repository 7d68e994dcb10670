"""Which measurement the others speak against: each of the worst is left out in turn, and what fits best without it."""

import numpy as np

from beckwright.base.quantities import BoolArray, Lengths, Points, Ratios
from beckwright.equations.taping import gross_error, standardized_residual
from beckwright.survey.adjustment import Adjusted, adjust
from beckwright.survey.observed import Observation, computed
from beckwright.tables.levelling import TEST_LIMIT

UNCHECKED = 1e-3
"""A share checked that is too small to tell anything."""
MOST_TRIED = 12
"""Measurements left out in turn, those with the largest standardized residuals."""


def tested(observed: tuple[Observation, ...], adjusted: Adjusted) -> tuple[Ratios, Lengths]:
    """Standardized residual of each observation, and how much it would be too long if it alone were wrong.

    Both zero where nothing checks it.
    """
    standardized, gross = np.zeros(len(observed)), np.zeros(len(observed))
    checked = np.flatnonzero(adjusted.redundancies > UNCHECKED)
    residuals, shares = adjusted.residuals[checked], adjusted.redundancies[checked]
    sigmas = np.array([one.sigma for one in observed])[checked]
    standardized[checked] = standardized_residual.over(residuals, sigmas, shares)
    gross[checked] = gross_error.over(residuals, shares)
    return standardized, gross


def suspects(
    file: str,
    names: tuple[str, ...],
    held: BoolArray,
    observed: tuple[Observation, ...],
    places: Points,
    standardized: Ratios,
) -> dict[int, float]:
    """The observations that spoil the fit, with how much each is too long, m; none where all pass the test.

    A large error bends the figure, so that the largest residual need not be its own. Each of the worst is left out and
    the rest adjusted anew; those that leave the least squares are named together where they differ by less than the
    square of the test's limit.
    """
    if np.abs(standardized).max() <= TEST_LIMIT.amount:
        return {}
    worst = [int(row) for row in np.argsort(-np.abs(standardized), kind="stable")[:MOST_TRIED] if standardized[row]]
    without = {
        row: adjust(file, names, places, held, tuple(one for other, one in enumerate(observed) if other != row))
        for row in worst
    }
    squares = {row: rest.sigma0**2 * rest.freedom for row, rest in without.items()}
    least = min(squares.values())
    return {
        row: observed[row].amount - _there(observed[row], names, without[row])
        for row in sorted(worst)
        if squares[row] - least < TEST_LIMIT.amount**2
    }


def _there(one: Observation, names: tuple[str, ...], rest: Adjusted) -> float:
    return computed(one, rest.places[[names.index(point) for point in one.points]])
