"""Robinson, K. M., Rice, C. E. & Kadavy, K. C. (1998). Design of rock chutes. Transactions of the ASAE 41(3), 621-626.

Provenance: stored public worksheet of the paper. It carries the roughness of Rice, Kadavy & Robinson (1998), eq. 7,
and the velocity through the rock mantle, Vm = np (S g D50 / 4)**0.5 with np 0.45.
"""

import pytest

from beckwright.equations.resistance import rice_riprap_n
from beckwright.equations.stone_layer import ergun_velocity, rough_grain_velocity


@pytest.mark.parametrize(
    ("median_size", "slope", "printed"), [(0.01391, 0.02, 0.024), (0.13443, 0.06, 0.040), (0.35973, 0.4, 0.061)]
)
def test_roughness(median_size: float, slope: float, printed: float) -> None:
    assert rice_riprap_n(median_size, slope) == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize(
    ("median_size", "slope", "printed"), [(0.01391, 0.02, 0.012), (0.077, 0.4, 0.123), (0.35973, 0.4, 0.267)]
)
def test_mantle_velocity_lies_within_our_band(median_size: float, slope: float, printed: float) -> None:
    low = rough_grain_velocity(median_size, 0.45, slope, 1.004e-6)
    high = ergun_velocity(median_size, 0.45, slope, 1.004e-6)
    assert low < printed < high
