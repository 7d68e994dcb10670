"""Swamee, P. K. & Jain, A. K. (1976). Explicit equations for pipe-flow problems. Journal of the Hydraulics Division
ASCE 102(5), 657-664.

Provenance: computed by the reference library ``fluids``: its own Swamee-Jain, and Colebrook-White, which the formula
stands in for.
"""

import fluids
import pytest

from beckwright.equations.pipe import swamee_jain_friction


def test_worked_value() -> None:
    assert swamee_jain_friction(1e5, 1e-4) == pytest.approx(0.01845245, rel=5e-6)


@pytest.mark.parametrize("reynolds", [4e3, 2e4, 1e5, 1e6])
@pytest.mark.parametrize("relative_roughness", [1e-5, 2e-4, 1e-3])
class TestLibrary:
    def test_same_formula(self, reynolds: float, relative_roughness: float) -> None:
        theirs = fluids.friction.Swamee_Jain_1976(reynolds, relative_roughness)
        assert swamee_jain_friction(reynolds, relative_roughness) == pytest.approx(theirs, rel=5e-6)

    def test_within_two_percent_of_colebrook(self, reynolds: float, relative_roughness: float) -> None:
        colebrook = fluids.friction.Colebrook(reynolds, relative_roughness)
        assert swamee_jain_friction(reynolds, relative_roughness) == pytest.approx(colebrook, rel=0.02)
