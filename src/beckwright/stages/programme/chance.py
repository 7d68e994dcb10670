"""How sure the end is: many tries with durations drawn between the guesses, and weather that takes days."""

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio
from beckwright.equations.programme import beta_first_shape, beta_second_shape
from beckwright.stages.programme.values import Network

TRIES = 4000
"""Tries: the ninth decile of the end is then known to about a twentieth of the spread."""


def tries(plan: Network, lost: Ratio, seed: int, count: int = TRIES) -> FloatArray:
    """Durations (m, n) of ``count`` tries.

    Each is drawn from the beta distribution through its three guesses; of a task in the weather, days are lost one by
    one with chance ``lost`` until it is done. One seed gives the same tries.
    """
    generator = np.random.default_rng(seed)
    drawn = np.empty((len(plan.tasks), count))
    for row, task in enumerate(plan.tasks):
        spread = task.longest - task.shortest
        if spread > 0:
            guesses = (task.shortest, task.likely, task.longest)
            shares = generator.beta(beta_first_shape(*guesses), beta_second_shape(*guesses), size=count)
            drawn[row] = task.shortest + spread * shares
        else:
            drawn[row] = task.likely
        if task.weather and lost > 0:
            whole = np.maximum(np.ceil(drawn[row]), 1.0)
            # Part of a last day is lost in part: the share keeps the mean at d / (1 - w).
            drawn[row] += generator.negative_binomial(whole, 1.0 - lost) * drawn[row] / whole
    return drawn
