"""Hydraulic Institute & Europump (2001), pump life cycle costs; worked answers of engineering-economy pages.

Provenance: the guide's real rate and factor are from memory, and so is the value of the standard interest table; the
worked answers (a water main, a power backup, alternatives C and D) are stored pages without an author, which print four
or five digits.
"""

import pytest

from beckwright.equations.money import present_worth, real_rate


def series(payment: float, rate: float, years: int) -> float:
    """Worth today of a payment at the end of each year."""
    return sum(present_worth(payment, rate, year) for year in range(1, years + 1))


def test_real_rate_and_its_factor() -> None:
    """3 % nominal, prices rising 2 %: real rate 0.9804 %, factor over ten years 9.48127."""
    rate = real_rate(0.03, 0.02)
    assert rate == pytest.approx(0.009804, rel=1e-4)
    assert series(1.0, rate, 10) == pytest.approx(9.48127, rel=1e-5)


def test_uniform_series_of_the_standard_table() -> None:
    assert series(1.0, 0.03, 10) == pytest.approx(8.530203, rel=1e-6)


def test_uniform_series_is_the_closed_form() -> None:
    """(1 - (1 + i)**-n) / i, the sum of a geometric series."""
    assert series(1.0, 0.07, 23) == pytest.approx((1 - 1.07**-23) / 0.07, rel=1e-12)


def test_water_main() -> None:
    """75 000 saved a year for 12 years at 6 %: printed factor 8.3838.

    Its printed worth, 178 965 after 450 000 spent, is a slip of the page: 75 000 times its own factor is 628 785.
    """
    assert series(1.0, 0.06, 12) == pytest.approx(8.3838, abs=6e-5)
    assert series(75_000, 0.06, 12) == pytest.approx(628_785, abs=5)


def test_power_backup() -> None:
    """22 000 saved a year for 10 years at 8 %, 125 000 spent: printed factor 6.7101, present worth 22 621."""
    assert series(1.0, 0.08, 10) == pytest.approx(6.7101, abs=6e-5)
    assert series(22_000, 0.08, 10) - 125_000 == pytest.approx(22_621, abs=3)


@pytest.mark.parametrize(
    ("bought", "first", "rise", "sold", "printed"),
    [(40_000, 12_000, 1_000, 9_000, 133_162), (31_000, 6_500, 1_200, 10_000, 94_556.7)],
    ids=["C", "D"],
)
def test_alternatives_whose_cost_rises_every_year(
    bought: float, first: float, rise: float, sold: float, printed: float
) -> None:
    """Ten years at 10 %; the pages work with four-digit factors, so they are good to some 10 in 100 000."""
    yearly = sum(present_worth(first + rise * (year - 1), 0.10, year) for year in range(1, 11))
    assert bought + yearly - present_worth(sold, 0.10, 10) == pytest.approx(printed, abs=15)
