"""Hand calculations of stone, crates and slots: geometry and conservation of mass.

Provenance: closed-form arithmetic, worked apart from this code; shape factors and voids are common practice.
"""

import math

import pytest

from beckwright.equations.reservoir import slot_area, slot_velocity, wrap_area
from beckwright.equations.stonework import ball_size, block_mass, containers, courses_mass, ordered_mass


def test_boulder_as_an_ellipsoid() -> None:
    """0.60 by 0.45 by 0.40 m of 2650 kg/m3: pi / 6 of 286.2 kg, 149.85 kg."""
    assert block_mass(math.pi / 6, 0.6, 0.45, 0.4, 2650) == pytest.approx(149.85, rel=1e-4)


def test_ball_of_two_hundred_kilograms() -> None:
    """200 kg of 2650 kg/m3 are a cube of 0.4226 m and a ball of 0.52432 m, 1.2407 times as wide."""
    cube = (200 / 2650) ** (1 / 3)
    assert cube == pytest.approx(0.4226, rel=1e-4)
    assert ball_size(200, 2650) == pytest.approx(0.52432, rel=1e-4)
    assert ball_size(200, 2650) / cube == pytest.approx(1.2407, rel=1e-4)


def test_what_one_person_lifts_is_small() -> None:
    """25 kg of granite is 0.26 m across."""
    assert ball_size(25, 2650) == pytest.approx(0.262, abs=1e-3)


def test_edge_stone_of_a_metre() -> None:
    """One course 0.30 m high and 0.35 m deep on both banks, a quarter gaps, 2650 kg/m3: 0.4174 t a metre of stream."""
    assert courses_mass(1, 0.3, 0.35, 0.25, 2650, 2.0) == pytest.approx(417.4, rel=1e-4)


def test_gravel_to_order() -> None:
    """18.0 by 1.2 by 0.15 m at 1590 kg/m3 and a tenth over: 5.6668 t."""
    assert ordered_mass(18.0 * 1.2 * 0.15 * 1590, 0.1) == pytest.approx(5666.8, rel=1e-5)


def test_cans() -> None:
    """7.5 m of joint at 3 m a can."""
    assert containers(7.5, 3.0) == pytest.approx(2.5, rel=1e-12)


def test_geotextile_without_laps_is_the_block() -> None:
    """2.4 by 1.6 by 0.8 m has 2 (3.84 + 1.92 + 1.28) = 14.08 m2 of faces."""
    assert wrap_area(2.4, 1.6, 0.8, 0.0) == pytest.approx(14.08, rel=1e-12)


def test_geotextile_with_laps() -> None:
    """Laps of 0.3 m: (2 x 2.4 + 0.3) x 3.0 round, 2 x 2.2 x 1.4 at the ends: 15.3 + 6.16 m2."""
    assert wrap_area(2.4, 1.6, 0.8, 0.3) == pytest.approx(21.46, rel=1e-12)


def test_slots() -> None:
    """12 000 L/h through 620 cm2: 53.8 mm/s; at 50 mm/s it wants 667 cm2."""
    flow = 12.0 / 3600
    assert slot_velocity(flow, 620e-4) == pytest.approx(0.05376, rel=1e-3)
    assert slot_area(flow, 0.05) == pytest.approx(666.7e-4, rel=1e-4)
