"""Brater, E. F., King, H. W., Lindell, J. E. & Wei, C. Y. (1996). Handbook of Hydraulics, 7th ed. McGraw-Hill. Broad
crests.

Provenance: the coefficients in feet, 3.32 on a crest the sheet springs clear of and 2.63 on a long one, from memory.
"""

import pytest

from beckwright.tables.lips import LIP_COEFFICIENTS

FOOT = 0.3048


@pytest.mark.parametrize(("kind", "in_feet"), [("sharp edge", 3.32), ("flat slab", 2.63)])
def test_coefficient(kind: str, in_feet: float) -> None:
    assert LIP_COEFFICIENTS[kind].amount == pytest.approx(in_feet * FOOT**0.5, abs=5e-3)
