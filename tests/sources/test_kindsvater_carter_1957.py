"""Kindsvater, C. E. & Carter, R. W. (1957). Discharge characteristics of rectangular thin-plate weirs. Journal of the
Hydraulics Division ASCE 83(6), 1453.

Provenance: computed by the reference library ``fluids`` (its code, not its docstring), and a table of heads worked
apart from this code with C 1.78 and the 1 mm of the effective head.
"""

import fluids
import pytest

from beckwright.equations.lips import lip_head, lip_unit_flow

TABLE = [(3, 0.45), (5, 0.83), (10, 2.05), (15, 3.60), (20, 5.41), (30, 9.70), (40, 14.8)]
"""Head in mm, flow in L/s for each metre."""


@pytest.mark.parametrize(("head", "unit_flow"), TABLE)
def test_flow_from_head(head: float, unit_flow: float) -> None:
    assert lip_unit_flow(head / 1000, 1.78) == pytest.approx(unit_flow / 1000, rel=0.013)


@pytest.mark.parametrize(("head", "unit_flow"), TABLE)
def test_head_from_flow(head: float, unit_flow: float) -> None:
    assert lip_head(unit_flow / 1000, 1.78) == pytest.approx(head / 1000, abs=5e-5)


@pytest.mark.parametrize("head", [0.03, 0.05, 0.1])
def test_full_width_weir_of_the_library(head: float) -> None:
    """A sharp crest so high that the approach does not matter: C = 0.602 (2/3) (2 g)**0.5."""
    coefficient = 0.602 * 2 / 3 * (2 * 9.80665) ** 0.5
    width = 100.0
    theirs = fluids.Q_weir_rectangular_full_Kindsvater_Carter(h1=head, h2=1e6, b=width)
    assert lip_unit_flow(head, coefficient) == pytest.approx(theirs / width, rel=1e-3)
