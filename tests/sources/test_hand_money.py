"""Hand calculations of money: definitions, worked apart from this code and typed in with the digits shown."""

import pytest

from beckwright.equations.money import contingency_sum, line_cost, payback, without_tax


def test_an_amount_at_its_price() -> None:
    """7.2 t at 165 a tonne."""
    assert line_cost(7.2, 165.0) == pytest.approx(1188.0)


def test_tax_taken_off() -> None:
    """72 with 20 % in it is 60; a fifth of 60 is 12."""
    assert without_tax(72.0, 0.20) == pytest.approx(60.0)


def test_contingency() -> None:
    """12 % of 8 871.32."""
    assert contingency_sum(0.12, 8871.32) == pytest.approx(1064.5584)


def test_payback() -> None:
    """118.68 more to buy, 13.20 saved a year: 8.99 years."""
    assert payback(118.68, 13.20) == pytest.approx(8.9909, abs=1e-4)
