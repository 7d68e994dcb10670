"""SI figures in print: four significant digits and powers in threes, by the definition of engineering notation."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.base.words import THIN, grouped, quantity, quantity_band

AMOUNTS = st.floats(1e-9, 1e9)


@pytest.mark.parametrize(
    ("amount", "unit", "printed"),
    [
        (0.0025, "m3/s", "0.0025 m³/s"),
        (0.00249617, "m3/s", "0.002496 m³/s"),
        (1.30712e-6, "m2/s", "1.307 × 10^−6 m²/s"),
        (2.5e-5, "m3/s", "25 × 10^−6 m³/s"),
        (412.3456, "m", "412.346 m"),
        (-0.0123449, "m", "−0.01234 m"),
        (123456.7, "J", f"123{THIN}457 J"),
        (1213579000.0, "J", "1.214 × 10^9 J"),
        (999999.9, "W", "1 × 10^6 W"),
        (0.0, "m", "0 m"),
        (0.384615, "1", "0.3846"),
        (10.0, "degC", "10 °C"),
    ],
)
def test_a_quantity_in_print(amount: float, unit: str, printed: str) -> None:
    assert quantity(amount, unit) == printed


def read(printed: str) -> float:
    digits, _, power = printed.replace(THIN, "").replace("−", "-").partition(" × 10^")
    return float(digits) * 10.0 ** int(power or 0)


@given(amount=AMOUNTS)
def test_print_is_true_to_half_of_the_fourth_digit(amount: float) -> None:
    assert read(quantity(amount, "1")) == pytest.approx(amount, rel=5.001e-4)


@given(one=AMOUNTS, other=AMOUNTS)
def test_a_band_is_rounded_outward_and_not_far(one: float, other: float) -> None:
    low, high = sorted((one, other))
    if math.isclose(low, high, rel_tol=1e-9):
        assert quantity_band(low, high, "1") == ""
        return
    bottom, top = map(read, quantity_band(low, high, "1").split(" to "))
    close = 1 + 1e-11  # What is printed is decimal, what was computed is binary.
    assert bottom <= low * close
    assert high <= top * close
    assert bottom >= low * (1 - 1.001e-3)
    assert top <= high * (1 + 1.001e-3)


@pytest.mark.parametrize(
    ("number", "decimals", "told"), [(-0.0, 1, "0.0"), (-0.04, 1, "0.0"), (-0.06, 1, "\u22120.1"), (0.0, 0, "0")]
)
def test_what_rounds_to_nothing_has_no_sign(number: float, decimals: int, told: str) -> None:
    assert grouped(number, decimals) == told
