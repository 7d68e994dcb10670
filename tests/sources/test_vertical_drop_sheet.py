"""Design of vertical drop fall: surface flow. Worksheet of a canal design, no author; stored."""

import pytest

from beckwright.equations.drops import basin_length, jump_length


@pytest.mark.parametrize(
    ("landing", "toe", "tailwater", "jump", "basin"), [(2.02, 0.10, 0.78, 3.40, 5.42), (1.51, 0.06, 0.58, 2.60, 4.11)]
)
def test_basin(landing: float, toe: float, tailwater: float, jump: float, basin: float) -> None:
    """Full and half flow, to the digits of the sheet."""
    assert jump_length(tailwater, toe) == pytest.approx(jump, abs=5e-3)
    assert basin_length(landing, jump) == pytest.approx(basin, abs=0.011)
