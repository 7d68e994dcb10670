"""Crane Co. Flow of Fluids Through Valves, Fittings, and Pipe. Technical Paper 410.

Provenance: Examples 7-1 and 7-33 and the valve factors as stored in the notebooks of the reference library ``fluids``,
where book and library agree.
"""

import fluids
import pytest

from beckwright.equations.pipe import swamee_jain_friction
from beckwright.equations.pump import flow_at_speed, head_at_speed, power_at_speed
from beckwright.tables.fittings import FITTINGS


def test_affinity_example_7_33() -> None:
    """400 gal/min, 126 ft and 17.5 hp at 3500 rpm become 194.3, 29.7 and 2.0 at 1700 rpm."""
    speed = 1700 / 3500
    assert flow_at_speed(400, speed) == pytest.approx(194.2857, rel=1e-5)
    assert head_at_speed(126, speed) == pytest.approx(29.7257, rel=1e-5)
    assert power_at_speed(17.5, speed) == pytest.approx(2.00531, rel=1e-5)


def test_smooth_plastic_friction() -> None:
    """Smooth plastic at a Reynolds number of 100 600: f = 0.0179."""
    assert swamee_jain_friction(100_600, 1e-5) == pytest.approx(0.0179, rel=5e-3)


@pytest.mark.parametrize("bore", [0.025, 0.05, 0.075])
def test_ball_valve_is_three_times_the_friction_of_clean_steel(bore: float) -> None:
    row = FITTINGS["ball valve"]
    assert row.low <= round(3 * fluids.fittings.ft_Crane(bore), 2) <= row.high
