"""Rickenmann, D. & Recking, A. (2011). Evaluation of flow resistance in gravel-bed rivers through a large field data
set. Water Resources Research 47, W07538.

Provenance: equations 10a and 22 as stored in two public codes. The variable power equation (10a) needs the depth,
equation 22 needs the flow; both were fitted to the same field data and are said to agree, so one checks the other.
"""

import pytest

from beckwright.equations.open_channel import velocity_by_ratio
from beckwright.equations.resistance import variable_power_ratio


def _flow_form_velocity(unit_flow: float, slope: float, size84: float) -> float:
    scaled = unit_flow / (9.81 * slope * size84**3) ** 0.5
    return 1.443 * (9.81 * slope * size84) ** 0.5 * scaled**0.60 * (1 + (scaled / 43.78) ** 0.8214) ** -0.2435


@pytest.mark.parametrize(("relative_depth", "ratio"), [(1.0, 2.3334), (4.0, 6.3359)])
def test_closed_form_by_hand(relative_depth: float, ratio: float) -> None:
    assert variable_power_ratio(relative_depth) == pytest.approx(ratio, rel=5e-5)


@pytest.mark.parametrize("slope", [0.02, 0.1, 0.4])
@pytest.mark.parametrize("depth", [0.01, 0.03, 0.1])
def test_agrees_with_the_flow_form(depth: float, slope: float) -> None:
    size84 = 0.05
    velocity = velocity_by_ratio(variable_power_ratio(depth / size84), depth, slope)
    assert velocity == pytest.approx(_flow_form_velocity(velocity * depth, slope, size84), rel=0.02)


def test_worked_flow_form() -> None:
    """0.01 m2/s on 5 %, D84 50 mm: equation 22 gives 0.2583 m/s."""
    depth = 0.01 / 0.2583
    assert velocity_by_ratio(variable_power_ratio(depth / 0.05), depth, 0.05) == pytest.approx(0.2583, rel=0.02)
