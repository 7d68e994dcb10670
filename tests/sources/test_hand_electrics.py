"""Hand calculations of low-voltage lights, transformers and angles of beams."""

from math import degrees, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.equations.electrics import (
    angle_between,
    drop_share,
    even_string_factor,
    load_centre,
    supply_current,
    transformer_rating,
    voltage_drop,
    wall_power,
)
from beckwright.tables.electrics import DROP_RATES

RATE = DROP_RATES["PVC", 2.5].amount
AMOUNTS = st.floats(0.1, 1000)


def test_lights_at_24_v() -> None:
    """25 W over 20 m of 2.5 mm2: 1.0417 A, 0.375 V, 1.5625 %; at 12 V four times the share, 6.25 %."""
    current = supply_current(25, 24, 1)
    assert current == pytest.approx(1.0417, abs=5e-5)
    drop = voltage_drop(RATE, current, 20)
    assert drop == pytest.approx(0.375, rel=1e-9)
    assert drop_share(drop, 24) == pytest.approx(0.015625, rel=1e-9)
    assert drop_share(voltage_drop(RATE, supply_current(25, 12, 1), 20), 12) == pytest.approx(0.0625, rel=1e-9)


def test_a_string_span_by_span() -> None:
    """5 lights of 5 W at 12 V, 4 m apart: 25, 20, 15, 10, 5 W / 12; 0.45 V, where 0.75 V if all hung at the end."""
    currents = [each / 12 for each in (25, 20, 15, 10, 5)]
    summed = sum(voltage_drop(RATE, current, 4) for current in currents)
    assert summed == pytest.approx(0.45, rel=1e-9)
    at_end = voltage_drop(RATE, 25 / 12, 20)
    assert at_end == pytest.approx(0.75, rel=1e-9)
    assert even_string_factor(5) == pytest.approx(summed / at_end, rel=1e-12)
    centre = load_centre(sum(current * 4 for current in currents), 25 / 12)
    assert voltage_drop(RATE, 25 / 12, centre) == pytest.approx(summed, rel=1e-12)


def test_many_lights_lose_half() -> None:
    """A trade page's rule for ten lights, 0.0011 % a watt and foot at 12 V, is the limit of very many: half.

    90 W, 40 ft: 3.96 % printed. AWG 12 is 1.588 ohm in 1000 ft (from memory): 7.5 A, 0.953 V, and half of it 3.97 %.
    """
    whole = 7.5 * 2 * 40 * 1.588e-3
    assert 100 * even_string_factor(1e6) * whole / 12 == pytest.approx(3.96, abs=0.02)


def test_transformer() -> None:
    """25 W of lamps, power factor 0.9, loaded to 80 %: 34.7 VA; at an efficiency of 0.85 it draws 29.4 W."""
    assert transformer_rating(25, 0.9, 0.8) == pytest.approx(34.722, abs=5e-4)
    assert wall_power(25, 0.85) == pytest.approx(29.41, abs=5e-3)


@pytest.mark.parametrize(
    ("along", "across", "angle"), [(1, 0, 0), (0, 1, 90), (-1, 0, 180), (0.5**0.5, 0.5**0.5, 45), (0.8, 0.6, 36.87)]
)
def test_angle_off_a_beam(along: float, across: float, angle: float) -> None:
    assert degrees(angle_between(along, across)) == pytest.approx(angle, abs=5e-3)


@given(AMOUNTS, AMOUNTS, st.floats(6, 300))
def test_twice_the_voltage_quarters_the_share(power: float, length: float, voltage: float) -> None:
    def share(volts: float) -> float:
        return drop_share(voltage_drop(RATE, supply_current(power, volts, 1), length), volts)

    assert share(2 * voltage) == pytest.approx(share(voltage) / 4, rel=1e-12)


@given(AMOUNTS, AMOUNTS)
def test_half_the_current_half_the_drop_and_longer_more(current: float, length: float) -> None:
    assert voltage_drop(RATE, current / 2, length) == pytest.approx(voltage_drop(RATE, current, length) / 2, rel=1e-12)
    assert voltage_drop(RATE, current, length * 1.01) > voltage_drop(RATE, current, length)


@given(st.integers(1, 500))
def test_an_even_string_lies_between_half_and_all(count: int) -> None:
    assert 0.5 < even_string_factor(count) <= 1
    assert even_string_factor(count) == pytest.approx(sum(range(1, count + 1)) / count**2, rel=1e-12)


@given(st.floats(0, pi))
def test_angle_is_the_one_turned_by(turned: float) -> None:
    from math import cos, sin

    assert angle_between(cos(turned), sin(turned)) == pytest.approx(turned, abs=1e-9)
    assert radians(degrees(turned)) == pytest.approx(turned)
