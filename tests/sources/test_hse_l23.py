"""HSE L23, Manual handling (stored): filter values of 25 and 16 kg; two carry two thirds of their sum, three half."""

import pytest

from beckwright.equations.lining import team_carries
from beckwright.stages.lining.carry import people_for
from beckwright.tables.lining import CARRIED, TEAM_SHARE


def test_what_a_team_carries() -> None:
    """Two men 33, three men 37.5; two women 21, three women 24 kg."""
    for people, each, mass in ((1, 25, 25.0), (2, 25, 33.33), (3, 25, 37.5), (2, 16, 21.33), (3, 16, 24.0)):
        assert team_carries(people, each, TEAM_SHARE[people].amount) == pytest.approx(mass, abs=0.005)
    assert (CARRIED.high, CARRIED.low) == (25.0, 16.0)


@pytest.mark.parametrize(
    ("mass", "people"),
    [(15.9, (1, 1)), (16.1, (1, 2)), (25.0, (1, None)), (25.1, (2, None)), (37.5, (3, None)), (37.6, (None, None))],
)
def test_how_many_people(mass: float, people: tuple[int | None, int | None]) -> None:
    assert people_for(mass) == people
