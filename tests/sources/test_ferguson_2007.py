"""Ferguson, R. (2007). Flow resistance equations for gravel- and boulder-bed streams. Water Resources Research 43,
W05427.

Provenance: the limiting forms a1 x**(1/6) in deep and a2 x in shallow water are from memory.
"""

import pytest

from beckwright.equations.resistance import variable_power_ratio


def test_deep_water_is_manning_strickler() -> None:
    assert variable_power_ratio(1000) == pytest.approx(6.5 * 1000 ** (1 / 6), rel=1e-2)


def test_shallow_water_is_linear() -> None:
    assert variable_power_ratio(0.05) == pytest.approx(2.5 * 0.05, rel=1e-2)
