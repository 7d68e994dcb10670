"""Zachoval, Z. et al. (2014). Discharge coefficient of a rectangular sharp-edged broad-crested weir. Journal of
Hydrology and Hydromechanics 62(2), 145-149.

Provenance: the coefficient 0.845 as used in a stored public test: 2.038 m3/s over 4 m at 0.5 m of head. Our law adds
1 mm to the head, which is 0.3 % of the flow here.
"""

import pytest

from beckwright.equations.lips import lip_unit_flow
from beckwright.tables.lips import LIP_COEFFICIENTS


def test_flow_over_a_broad_crest() -> None:
    assert 4 * lip_unit_flow(0.5, LIP_COEFFICIENTS["boulders"].amount) == pytest.approx(2.038, rel=5e-3)


def test_coefficient_of_the_ideal_crest() -> None:
    ideal = (2 / 3) ** 1.5 * 9.80665**0.5
    assert LIP_COEFFICIENTS["boulders"].amount == pytest.approx(0.845 * ideal, abs=2e-3)
