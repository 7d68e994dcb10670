"""Ghilani, C. D. & Wolf, P. R. (2006). Adjustment Computations: Spatial Data Analysis, 4th ed. Wiley.

Provenance: the data of Example 14.2 (three distances to one station, feet) as stored; its answer to the hundredth of a
foot from memory, and to more digits from ``scipy.optimize.least_squares`` with its own derivatives. The ellipse by the
formula of chapter 19 as quoted, and by eigenvalues from numpy.
"""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares

from beckwright.equations.taping import ellipse_major, ellipse_minor, ellipse_turn
from beckwright.survey.adjustment import Adjusted, adjust
from beckwright.survey.observed import Observation

CONTROL = np.array([[865.40, 4527.15], [2432.55, 2047.25], [2865.22, 27.15]])
LENGTHS = np.array([6049.00, 4736.83, 5446.49])
START = np.array([6861.3, 3727.6])


def solved() -> Adjusted:
    observed = tuple(
        Observation(measure="tape", points=(name, "U"), amount=float(length), sigma=1.0, line=line)
        for line, (name, length) in enumerate(zip("ABC", LENGTHS, strict=True), 2)
    )
    held = np.array([[True, True]] * 3 + [[False, False]])
    return adjust("example 14.2", ("A", "B", "C", "U"), np.vstack([CONTROL, START]), held, observed)


def by_scipy() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Place, residuals, cofactors."""
    found = least_squares(
        lambda place: np.hypot(*(place - CONTROL).T) - LENGTHS, START, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    return found.x, found.fun, np.linalg.inv(found.jac.T @ found.jac)


def test_station() -> None:
    adjusted = solved()
    assert adjusted.places[3] == pytest.approx(np.array([6861.32, 3727.82]), abs=0.005)
    place, residuals, cofactors = by_scipy()
    assert adjusted.places[3] == pytest.approx(place, abs=1e-5)
    assert adjusted.residuals == pytest.approx(residuals, abs=1e-5)
    assert adjusted.covariance[6:, 6:] == pytest.approx(cofactors, rel=1e-6)


def test_unit_weight() -> None:
    """One distance to spare: the root of the sum of squares itself."""
    adjusted = solved()
    assert adjusted.freedom == 1
    assert adjusted.sigma0 == pytest.approx(math.sqrt(np.square(by_scipy()[1]).sum()), rel=1e-5)
    assert adjusted.redundancies.sum() == pytest.approx(1)


def test_ellipse() -> None:
    cofactors = by_scipy()[2]
    values, vectors = np.linalg.eigh(cofactors)
    inputs = float(cofactors[0, 0]), float(cofactors[1, 1]), float(cofactors[0, 1])
    assert ellipse_major(*inputs) == pytest.approx(math.sqrt(values[1]))
    assert ellipse_minor(*inputs) == pytest.approx(math.sqrt(values[0]))
    turn = ellipse_turn(*inputs)
    assert abs(vectors[:, 1] @ [math.cos(turn), math.sin(turn)]) == pytest.approx(1)
