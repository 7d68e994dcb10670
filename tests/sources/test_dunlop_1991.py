"""Dunlop, E. J. (1991). WADI Users Manual. Local Government Computer Services Board, Dublin.

Provenance: the cubic as printed in chapter 12 of the EPANET 2.2 manual, stored. It is said to join 64/Re at 2000 and
Swamee-Jain at 4000; that is checked here, slopes too, and the engine's own values in ``test_epanet_2_2.py``.
"""

import pytest

from beckwright.equations.pipe import laminar_friction, swamee_jain_friction, transition_friction

STEP = 1e-3


@pytest.mark.parametrize("relative_roughness", [1e-6, 2e-4, 2e-3, 1e-2])
class TestJoins:
    def test_at_2000(self, relative_roughness: float) -> None:
        assert transition_friction(2000, relative_roughness) == pytest.approx(laminar_friction(2000), rel=1e-12)

    def test_at_4000(self, relative_roughness: float) -> None:
        joined = swamee_jain_friction(4000, relative_roughness)
        assert transition_friction(4000, relative_roughness) == pytest.approx(joined, rel=1e-12)

    def test_slope_at_2000(self, relative_roughness: float) -> None:
        slope = (
            transition_friction(2000 + STEP, relative_roughness) - transition_friction(2000, relative_roughness)
        ) / STEP
        assert slope == pytest.approx(-64 / 2000**2, rel=1e-3)

    def test_slope_at_4000(self, relative_roughness: float) -> None:
        below = (
            transition_friction(4000, relative_roughness) - transition_friction(4000 - STEP, relative_roughness)
        ) / STEP
        above = (
            swamee_jain_friction(4000 + STEP, relative_roughness) - swamee_jain_friction(4000, relative_roughness)
        ) / STEP
        assert below == pytest.approx(above, rel=1e-3)
