"""Lifting by hand: HSE's filter for one person, its shares for teams, and its reductions, as pages tell them.

Provenance: stored pages: a rail operator's (20 kg for one, 26.6 kg for two), a consultant's (two women 21 kg, two men
33, three women 24, three men 37.5), and HSE INDG143 (reductions).
"""

import pytest

from beckwright.equations.stonework import filter_left
from beckwright.stages.stonework.lifting import teams
from beckwright.tables.lifting import LIFT_CUTS, TEAM_MOST


@pytest.mark.parametrize(("people", "women", "men"), [(1, 16, 25), (2, 21, 33), (3, 24, 37.5)])
def test_teams(people: int, women: float, men: float) -> None:
    found = teams()[people - 1]
    assert found[0] == people
    assert found[1] == pytest.approx(women, abs=0.5)
    assert found[2] == pytest.approx(men, abs=0.5)


def test_more_than_four_are_not_asked() -> None:
    assert [people for people, _, _ in teams()] == [1, 2, 3, 4]
    assert TEAM_MOST.amount == 4


@pytest.mark.parametrize(
    ("how", "left"),
    [
        ("twisted past 45 degrees", 22.5),
        ("twisted past 90 degrees", 20.0),
        ("once or twice a minute", 17.5),
        ("five to eight times a minute", 12.5),
        ("more than twelve times a minute", 5.0),
    ],
)
def test_reductions(how: str, left: float) -> None:
    """Of 25 kg."""
    assert filter_left(25, LIFT_CUTS[how].amount) == pytest.approx(left, abs=1e-9)
