"""Lamb, M. P., Dietrich, W. E. & Venditti, J. G. (2008). Is the critical Shields stress for incipient sediment motion
dependent on channel-bed slope? Journal of Geophysical Research 113, F02008.

Provenance: 0.15 S**0.25 as coded in a stored public model; values by hand from it.
"""

import pytest

from beckwright.equations.stability import critical_shields, relative_density, shields_size


@pytest.mark.parametrize(("slope", "critical"), [(0.4, 0.1193), (0.01, 0.04743), (0.0001, 0.015)])
def test_critical_shields(slope: float, critical: float) -> None:
    assert critical_shields(slope) == pytest.approx(critical, rel=1e-3)


def test_stone_at_the_point_of_moving() -> None:
    """50 mm of hydraulic radius on 1 in 100, stone of 2650 kg/m3: 0.0005 / (1.65 x 0.04743) is 6.39 mm."""
    assert relative_density(2650) == pytest.approx(2.65)
    assert shields_size(0.05, 0.01, 2.65, 0.04743) == pytest.approx(6.389e-3, rel=1e-3)
