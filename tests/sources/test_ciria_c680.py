"""Wilson, S. (2008). Structural design of modular geocellular drainage tanks. CIRIA C680. With EN 1990 table A1.2(B).

Provenance: rules from memory, the example worked by hand: 10 kN on a patch of 0.2 by 0.2 m through 0.5 m of cover at
18 kN/m3, on crates of 171.6 kPa.
"""

import pytest

from beckwright.equations.reservoir import cover_pressure, design_pressure, spread_pressure
from beckwright.tables.partial_factors import (
    CRATE_MATERIAL_FACTOR,
    CRATE_STRENGTH_LANDSCAPED,
    PERMANENT_FACTOR,
    VARIABLE_FACTOR,
)


def test_spread_of_a_wheel() -> None:
    assert spread_pressure(10e3, 0.2, 0.2, 0.5) == pytest.approx(20.408e3, rel=5e-5)


def test_spread_keeps_the_force() -> None:
    """The pressure times the patch it acts on is the wheel again."""
    assert spread_pressure(10e3, 0.3, 0.2, 0.5) * (0.3 + 0.5) * (0.2 + 0.5) == pytest.approx(10e3, rel=1e-12)


def test_crates_under_a_wheel() -> None:
    design = design_pressure(cover_pressure(18e3, 0.5), 20.408e3)
    resistance = CRATE_STRENGTH_LANDSCAPED.amount / CRATE_MATERIAL_FACTOR.amount
    assert design == pytest.approx(42.762e3, rel=1e-5)
    assert resistance == pytest.approx(62.4e3, rel=1e-4)
    assert design / resistance == pytest.approx(0.6853, abs=5e-5)


def test_strength_in_tonnes() -> None:
    assert CRATE_STRENGTH_LANDSCAPED.amount == pytest.approx(17.5e3 * 9.80665, rel=5e-4)


def test_table_rows_are_the_factors_of_the_equation() -> None:
    assert design_pressure(1, 0) == PERMANENT_FACTOR.amount
    assert design_pressure(0, 1) == VARIABLE_FACTOR.amount
