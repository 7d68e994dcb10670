"""Two worked examples of pump power from engineering pages.

Provenance: stored web pages without a named publication. (a) 0.05 m3/s against 20 m at an efficiency of 0.75 with g
9.81 takes 13 080 W. (b) 50 m3/h against 30 m: 4.09 kW of water power, 5.84 kW drawn at 0.70, 58.4 kWh in ten hours.
"""

import pytest

from beckwright.equations.energy import energy_cost, energy_used
from beckwright.equations.pump import hydraulic_power

KWH = 3.6e6


def test_power_drawn() -> None:
    assert hydraulic_power(0.05, 20) / 0.75 == pytest.approx(13_080, rel=5e-4)


def test_energy_of_a_day() -> None:
    power = hydraulic_power(50 / 3600, 30)
    assert power == pytest.approx(4090, rel=1e-3)
    assert energy_used(power / 0.70, 10 * 3600) / KWH == pytest.approx(58.4, rel=1e-3)


def test_cost_of_that_day_by_hand() -> None:
    """58.4 kWh at 0.25: 14.60."""
    assert energy_cost(58.4 * KWH, 0.25 / KWH) == pytest.approx(14.60, abs=1e-9)
