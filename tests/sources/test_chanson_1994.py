"""Chanson, H. (1994). Hydraulics of nappe flow regime above stepped chutes and spillways. Civ. Eng. Trans. CE36(1).

Provenance: from memory; values by hand with a calculator. Its energy at the toe of one step,
E / yc = 0.54 (yc/h)**0.275 + 1.715 (yc/h)**-0.55, is Rand's toe depth put into the energy, so the two must agree.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.equations.drops import (
    drop_number,
    energy_over_floor,
    full_jump_limit,
    mean_velocity,
    share_lost,
    skimming_limit,
    toe_depth,
)
from beckwright.equations.open_channel import critical_depth, specific_energy


def test_limits() -> None:
    """Steps as long as high, and twice as long: 1.2 - 0.325, 0.0916; 1.2 - 0.1625, 0.0916 x 2.4217."""
    assert skimming_limit(1.0) == pytest.approx(0.875)
    assert skimming_limit(0.5) == pytest.approx(1.0375)
    assert full_jump_limit(1.0) == pytest.approx(0.0916)
    assert full_jump_limit(0.5) == pytest.approx(0.2218, abs=1e-4)


@given(unit_flow=st.floats(5e-4, 0.02), drop=st.floats(0.1, 0.8))
def test_energy_at_the_toe(unit_flow: float, drop: float) -> None:
    critical = critical_depth(unit_flow)
    relative = critical / drop
    printed = 0.54 * relative**0.275 + 1.715 * relative**-0.55
    toe = toe_depth(drop, drop_number(unit_flow, drop))
    left = specific_energy(toe, mean_velocity(unit_flow, toe))
    assert left / critical == pytest.approx(printed, rel=1e-3)
    before = energy_over_floor(drop, critical)
    assert share_lost(before, left) == pytest.approx(1 - printed / (drop / critical + 1.5), abs=1e-3)
