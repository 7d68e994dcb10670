"""An engineering page on ducts: ``a = pi/4 d**2`` and ``D = (4 Ca / (pi k))**0.5``, with typical diameters of cables.

Provenance: the formulae and the diameters are stored; the numbers are worked by hand, for the page has no example.
"""

import pytest

from beckwright.equations.electrics import cable_section, duct_bore
from beckwright.stages.electrics.route import size_duct
from beckwright.tables.electrics import CABLE_DIAMETERS


def test_section_of_a_cable() -> None:
    """14.1 mm over its sheath: 156.1 mm2."""
    assert cable_section(CABLE_DIAMETERS[2.5].amount) == pytest.approx(156.1e-6, rel=5e-4)


def test_bore_of_a_duct() -> None:
    """A fill of a quarter leaves a bore twice the cable; at 40 % 14.1 mm wants 22.3 mm, and 32 mm is the next."""
    assert duct_bore(cable_section(0.014), 0.25) == pytest.approx(0.028, rel=1e-12)
    duct = size_duct(2.5)
    assert duct.bore == pytest.approx(0.02229, abs=5e-6)
    assert duct.taken == 0.032


def test_a_size_without_a_diameter_takes_the_next() -> None:
    assert size_duct(1.0) == size_duct(1.5)
