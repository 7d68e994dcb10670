"""Hand calculations for falls and stones: geometry, conservation, definitions.

Provenance: closed-form arithmetic, worked apart from this code; the tilted lip by numerical integration in scipy.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from beckwright.equations.drops import energy_over_floor, free_fall_distance, impact_velocity, mean_velocity, share_lost
from beckwright.equations.lips import (
    HEAD_ADDITION,
    brink_depth,
    flow_share,
    lip_flow,
    lip_unit_flow,
    lip_width,
    sloping_lip_flow,
)
from beckwright.equations.open_channel import critical_depth
from beckwright.equations.stability import ball_mass, safe_size


def test_a_sheet_that_falls_freely() -> None:
    """5 L/s over each metre: critical 13.66 mm, brink 9.77 mm, 0.512 m/s; 0.4 m take 0.2856 s: 146 mm."""
    speed = mean_velocity(0.005, brink_depth(critical_depth(0.005)))
    assert speed == pytest.approx(0.512, abs=5e-4)
    assert free_fall_distance(speed, 0.4) == pytest.approx(0.1462, abs=2e-4)


def test_water_that_strikes() -> None:
    """0.3 m and 1.5 times 8 mm of critical depth: 0.312 m, (2 x 9.80665 x 0.312)**0.5 is 2.474 m/s."""
    energy = energy_over_floor(0.3, 0.008)
    assert energy == pytest.approx(0.312)
    assert impact_velocity(energy) == pytest.approx(2.474, abs=5e-4)


def test_share_lost() -> None:
    assert share_lost(0.5, 0.1) == pytest.approx(0.8)


def test_one_stone() -> None:
    """A ball of 100 mm is 0.5236 litres; at 2600 kg/m3 1.361 kg. With 1.2 over: 120 mm."""
    assert ball_mass(2600, 0.1) == pytest.approx(1.361, abs=5e-4)
    assert safe_size(0.1, 1.2) == pytest.approx(0.12)


def test_lip_that_just_runs_free() -> None:
    """1 L/s for each metre over 0.6 m is 0.6 L/s, and 0.6 L/s keep 0.6 m wet."""
    assert lip_flow(1e-3, 0.6) == pytest.approx(6e-4)
    assert lip_width(6e-4, 1e-3) == pytest.approx(0.6)
    assert flow_share(2e-4, 6e-4) == pytest.approx(1 / 3)


@given(
    shallow=st.floats(-0.001, 0.03),
    step=st.floats(1e-4, 0.02),
    width=st.floats(0.1, 2.0),
    coefficient=st.floats(1.24, 1.85),
)
def test_a_lip_out_of_level_by_quadrature(shallow: float, step: float, width: float, coefficient: float) -> None:
    """The lip law summed along the crest, against adaptive quadrature."""
    deep = shallow + step

    def along(x: float) -> float:
        return float(lip_unit_flow(max(deep - step * x / width, -HEAD_ADDITION), coefficient))

    summed, _ = quad(along, 0, width, epsrel=1e-10)
    assert sloping_lip_flow(coefficient, width, deep, shallow) == pytest.approx(summed, rel=1e-6)
