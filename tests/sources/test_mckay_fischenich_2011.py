"""McKay, S. K. & Fischenich, J. C. (2011). Robust prediction of hydraulic roughness. USACE ERDC/CHL CHETN-VII-11.

Provenance: stored examples of the manual pages of package HYDROCAL 1.0.0, to the digits printed there.
"""

import pytest

from beckwright.equations.open_channel import manning_ratio, manning_velocity
from beckwright.equations.resistance import strickler_n


@pytest.mark.parametrize(("median_size", "printed"), [(0.1, 0.032), (0.02, 0.025), (0.008, 0.021)])
def test_strickler(median_size: float, printed: float) -> None:
    assert strickler_n(median_size) == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize(
    ("n", "radius", "slope", "velocity"), [(0.71, 2, 0.05, 0.5), (3.216, 10, 0.03, 0.25), (5.44, 22, 0.12, 0.5)]
)
def test_roughness_back_from_velocity(n: float, radius: float, slope: float, velocity: float) -> None:
    assert manning_velocity(n, radius, slope) == pytest.approx(velocity, rel=1e-3)


def test_manning_to_darcy() -> None:
    """n 0.03 at 10 m: f = 0.0331."""
    assert 8 / manning_ratio(0.03, 10) ** 2 == pytest.approx(0.0331, rel=0.02)
