"""Robinson, K. M., Rice, C. E. & Kadavy, K. C. (1998). Design of rock chutes. Transactions of the ASAE 41(3), 621-626.

Provenance: stored public worksheet of the paper. It carries the roughness of Rice, Kadavy & Robinson (1998), eq. 7,
and the velocity through the rock mantle, Vm = np (S g D50 / 4)**0.5 with np 0.45.
"""

import pytest

from beckwright.equations.resistance import rice_riprap_n
from beckwright.equations.stability import gentle_chute_size, safe_size, steep_chute_size
from beckwright.equations.stone_layer import ergun_velocity, rough_grain_velocity
from beckwright.tables.stones import SIZE_SAFETY


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


@pytest.mark.parametrize(
    ("unit_flow", "slope", "printed"), [(0.05, 0.02, 0.014), (0.7, 0.06, 0.134), (0.05, 0.4, 0.077), (0.93, 0.4, 0.360)]
)
def test_size_that_stays(unit_flow: float, slope: float, printed: float) -> None:
    """The worksheet's own examples. It labels the steep branch S**-0.58; only S**0.58 gives its numbers."""
    law = gentle_chute_size if slope < 0.1 else steep_chute_size
    assert law(unit_flow, slope) == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize("slope", [0.02, 0.05, 0.09, 0.10, 0.25, 0.40])
def test_size_by_the_printing_in_feet(slope: float) -> None:
    """Stored slides of a course give D50 in inches: 4.75e-3 and S**1.5 below 10 %, 3.93e-2 and S**0.58 above."""
    feet = 0.54
    power, constant = (1.5, 4.75e-3) if slope < 0.1 else (0.58, 3.93e-2)
    inches = (feet * slope**power / constant) ** (1 / 1.89)
    unit_flow = feet * 0.3048**2
    size = gentle_chute_size(unit_flow, slope) if slope < 0.1 else steep_chute_size(unit_flow, slope)
    assert size / 0.0254 == pytest.approx(inches, rel=2e-3)


def test_margin() -> None:
    """The slides: a factor of safety of 1.2 on the size."""
    assert safe_size(0.05, SIZE_SAFETY.amount) == pytest.approx(0.06)
