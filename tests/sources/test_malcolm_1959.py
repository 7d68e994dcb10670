"""Malcolm et al. (1959), and Clark (1962): three guesses at a task. Networks of textbooks worked by the same method.

Provenance: the mean is stored in quotations; the beta of Clark is from memory, and its first two
moments are held against scipy's own beta distribution. The network of 73 days is a stored worked solution whose
predecessors are read off its list of paths; the network of 20 days is a hand calculation.
"""

from datetime import date

import numpy as np
import pytest
from scipy.stats import beta

from beckwright.equations.programme import (
    beta_first_shape,
    beta_second_shape,
    days_with_weather,
    expected_duration,
)
from beckwright.stages.programme.calendar import calendar
from beckwright.stages.programme.network import network, passes
from beckwright.stages.programme.values import Task

EVERY_DAY = calendar(date(2026, 1, 1), 400, frozenset(), frozenset())


def task(name: str, days: float, after: str) -> Task:
    return Task(
        name=name,
        crew="own crew",
        shortest=days,
        likely=days,
        longest=days,
        after=tuple(after),
        weather=False,
    )


def test_three_guesses() -> None:
    """2, 4 and 12 days: 5 days."""
    assert expected_duration(2.0, 4.0, 12.0) == pytest.approx(5.0, abs=1e-12)


def test_beta_through_three_guesses() -> None:
    """2, 4 and 12: shapes 1.8 and 4.2; scipy's beta over that range has the mean 5 and the variance 3.0."""
    first, second = beta_first_shape(2.0, 4.0, 12.0), beta_second_shape(2.0, 4.0, 12.0)
    assert (first, second) == pytest.approx((1.8, 4.2))
    held = beta(first, second, loc=2.0, scale=10.0)
    assert held.mean() == pytest.approx(expected_duration(2.0, 4.0, 12.0), rel=1e-12)
    assert held.var() == pytest.approx(3.0, rel=1e-9)


def test_weather_takes_its_share() -> None:
    """Hand calculation: 8 days of which one in five is lost are 10 on the calendar of work."""
    assert days_with_weather(8.0, 0.2) == pytest.approx(10.0, abs=1e-12)


def test_a_network_of_73_days() -> None:
    rows = {
        "A": (7, ""), "B": (4, ""), "C": (5, "AB"), "D": (20, "C"), "E": (11, "C"), "F": (7, "E"), "G": (12, "C"),
        "H": (6, "DFG"), "I": (9, "G"), "J": (5, "H"), "K": (30, "IJ"),
    }  # fmt: skip
    plan = network(tuple(task(name, *row) for name, row in rows.items()), "the textbook")
    found = passes(plan, np.array([each.likely for each in plan.tasks]), EVERY_DAY)
    assert found.early_finish.max() == pytest.approx(73.0, abs=1e-9)
    critical = "".join(each.name for each, slack in zip(plan.tasks, found.total_float, strict=True) if slack < 1e-9)
    assert sorted(critical) == list("ACDHJK")


def test_floats_by_hand() -> None:
    """A 3, then B 4 and D 5 or C 2 and E 6: 12 days by B and D, 11 by C and E, which have 1 day; C has none free.

    Hand calculation.
    """
    rows = {"A": (3, ""), "B": (4, "A"), "C": (2, "A"), "D": (5, "B"), "E": (6, "C")}
    plan = network(tuple(task(name, *row) for name, row in rows.items()), "by hand")
    found = passes(plan, np.array([each.likely for each in plan.tasks]), EVERY_DAY)
    order = [each.name for each in plan.tasks]
    total = dict(zip(order, found.total_float, strict=True))
    free = dict(zip(order, found.free_float, strict=True))
    assert found.early_finish.max() == pytest.approx(12.0)
    assert total == pytest.approx({"A": 0, "B": 0, "C": 1, "D": 0, "E": 1})
    assert free == pytest.approx({"A": 0, "B": 0, "C": 0, "D": 0, "E": 1})
