"""EN 1997-1. Eurocode 7: Geotechnical design - General rules. 2.4.7.4, failure by uplift (UPL), UK National Annex.

Provenance: (a) worked example of a buried concrete tank on a structural engineering page of 2018, stored, with 10
kN/m3 for water; (b) an empty pit worked by hand with 9.81 kN/m3.
"""

import pytest

from beckwright.equations.reservoir import cover_pressure, uplift_pressure, uplift_use
from beckwright.tables.partial_factors import UPLIFT_FACTOR, WEIGHT_FACTOR


def test_buried_tank() -> None:
    """3.7 by 2.7 m, 3.35 m of water, 486.41 kN to hold it down: 368.131 against 437.769 kN, use 0.8409."""
    plan = 3.7 * 2.7
    uplift = uplift_pressure(3.35) * 10 / 9.80665
    assert uplift * plan == pytest.approx(334.665e3, rel=1e-5)
    assert uplift_use(uplift, 486.41e3 / plan) == pytest.approx(0.8409, abs=5e-5)


def test_empty_pit() -> None:
    """0.4 m of cover at 18 kN/m3 on 0.8 m of crates at 0.5 kN/m3, water 0.6 m above the floor: use 0.9466."""
    uplift = uplift_pressure(0.6)
    weight = cover_pressure(18e3, 0.4) + cover_pressure(0.5e3, 0.8)
    assert uplift == pytest.approx(5.886e3, rel=1e-3)
    assert weight == pytest.approx(7.6e3, rel=1e-12)
    assert uplift_use(uplift, weight) == pytest.approx(0.9466, rel=1e-3)


def test_table_rows_are_the_factors_of_the_equation() -> None:
    assert uplift_use(1, 1) == pytest.approx(UPLIFT_FACTOR.amount / WEIGHT_FACTOR.amount, rel=1e-12)
