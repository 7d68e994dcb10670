"""Hand calculations for what needs no publication: geometry, conservation, definitions.

Provenance: closed-form arithmetic, worked apart from this code and typed in with the digits shown.
"""

from math import hypot

import pytest

from beckwright.equations.energy import energy_cost, energy_used
from beckwright.equations.lining import edge_over_water, girth, settled_edge
from beckwright.equations.open_channel import manning_ratio, surface_width, unit_flow, wetted_area, wetted_perimeter
from beckwright.equations.pipe import (
    fittings_loss,
    friction_loss,
    pipe_velocity,
    pipe_volume,
    reynolds_number,
    swamee_jain_friction,
)
from beckwright.equations.pump import between_rows, hydraulic_power, static_lift, total_head
from beckwright.equations.reservoir import level_change, reserve_time, stored_water, useful_water, water_lent
from beckwright.equations.stone import bulk_density, stone_mass
from beckwright.tables.constants import GRAVITY, WATER_UNIT_WEIGHT
from beckwright.tables.hoses import CORRUGATED_FRICTION
from beckwright.tables.practice import SHEET_CLINGS

DAY = 86_400.0
KWH = 3.6e6


def test_section_by_its_corners() -> None:
    """Bed 0.6 m, sides 1.5:1, 0.2 m deep: corners (-0.3, 0), (0.3, 0), (0.6, 0.2), (-0.6, 0.2)."""
    assert wetted_area(0.6, 0.2, 1.5) == pytest.approx((0.6 + 1.2) / 2 * 0.2)
    assert wetted_perimeter(0.6, 0.2, 1.5) == pytest.approx(0.6 + 2 * hypot(0.3, 0.2))
    assert surface_width(0.6, 0.2, 1.5) == pytest.approx(1.2)


def test_girth() -> None:
    """Bed 0.6 m, edges 0.3 m up at 1.5:1, 0.15 m over each edge: 0.6 + 2 x 0.54083 + 0.30 = 1.9817 m."""
    assert girth(0.6, 0.3, 1.5, 0.15) == pytest.approx(1.9817, abs=5e-5)


def test_flow_for_each_metre() -> None:
    """3 L/s over 0.6 m: 5 L/s for each metre."""
    assert unit_flow(3e-3, 0.6) == pytest.approx(5e-3)


def test_edge_that_settles() -> None:
    """Built 0.45 m up on tipped fill that loses a tenth: 45 mm down, so 120 mm over water at 20.28 become 75."""
    settled = settled_edge(20.40, 0.45, 0.10)
    assert settled == pytest.approx(20.355)
    assert edge_over_water(20.40, 20.28) == pytest.approx(0.120)
    assert edge_over_water(settled, 20.28) == pytest.approx(0.075)


def test_edge_in_firm_ground_does_not_settle() -> None:
    assert settled_edge(20.40, 0.0, 0.10) == 20.40


def test_lift_from_the_running_level() -> None:
    """Outlet 101.30, reservoir running at 99.22: 2.08 m."""
    assert static_lift(101.30, 99.22) == pytest.approx(2.08)


def test_water_lent_and_water_left() -> None:
    """0.18 in the film, 0.06 in pools, 0.25 between stones, 0.02 in the box and 0.06 in the hose: 0.57 of 1.50 m3."""
    lent = water_lent(0.18, 0.06, 0.25, 0.02, 0.06)
    assert lent == pytest.approx(0.57)
    assert useful_water(1.50, 0.35) - lent == pytest.approx(0.58)


def test_crates_in_gravel() -> None:
    """2.0 x 1.0 x 0.8 m of crates at 0.95 in a pit of 2.6 x 1.6 x 0.9 m, stone at 0.40 round them: 2.3776 m3."""
    crates = stored_water(2.0 * 1.0, 0.8, 0.95)
    stone = stored_water(1, 2.6 * 1.6 * 0.9 - 2.0 * 1.0 * 0.8, 0.40)
    assert crates == pytest.approx(1.52)
    assert crates + stone == pytest.approx(2.3776)


def test_evaporation_shows_in_the_reservoir() -> None:
    """4 mm from 20 m2 of stream, out of 2.5 m2 of voids: 32 mm. Half voids in 5 m2 is the same."""
    assert level_change(0.004 * 20, 2.5, 1.0) == pytest.approx(0.032)
    assert level_change(0.004 * 20, 5.0, 0.5) == pytest.approx(0.032)


def test_reserve() -> None:
    """1.04 m3 against 5 mm a day from 18 m2: 11.6 days."""
    assert reserve_time(1.04, 0.005 * 18 / DAY) / DAY == pytest.approx(11.6, abs=0.05)


def test_hose_contents() -> None:
    """25 m of 55.4 mm: 60.263 litres."""
    assert pipe_volume(0.0554, 25) * 1000 == pytest.approx(60.263, abs=5e-4)


@pytest.mark.parametrize(
    ("bore", "head", "cost"), [(0.0352, 4.79, 235), (0.0440, 2.87, 141), (0.0554, 2.17, 107), (0.0660, 1.97, 97)]
)
def test_yearly_cost_against_bore(bore: float, head: float, cost: float) -> None:
    """6 m3/h through 25 m, K 5, 1.8 m of lift, 0.30 efficient, 3000 h a year at 0.30 a kWh; worked with Colebrook."""
    flow = 6 / 3600
    velocity = pipe_velocity(flow, bore)
    friction = swamee_jain_friction(reynolds_number(velocity, bore, 1.004e-6), 1e-5 / bore)
    needed = total_head(1.8, friction_loss(friction, 25, bore, velocity), fittings_loss(5, velocity))
    energy = energy_used(hydraulic_power(flow, needed) / 0.30, 3000 * 3600)
    assert needed == pytest.approx(head, rel=5e-3)
    assert energy_cost(energy, 0.30 / KWH) == pytest.approx(cost, rel=6e-3)


def test_between_rows() -> None:
    """3.1 m at 8 m3/h and 1.7 m at 10: 2.4 m half way, and the rows themselves at their ends."""
    assert between_rows(9, 8, 10, 3.1, 1.7) == pytest.approx(2.4)
    assert between_rows(8, 8, 10, 3.1, 1.7) == pytest.approx(3.1)
    assert between_rows(10, 8, 10, 3.1, 1.7) == pytest.approx(1.7)


def test_stone_as_laid() -> None:
    """Granite at 2650 kg/m3 with 40 % voids: 1590 kg/m3; 18 x 1.2 x 0.15 m of it are 5151.6 kg."""
    assert bulk_density(2650, 0.40) == pytest.approx(1590)
    assert stone_mass(2650, 18 * 1.2 * 0.15, 0.40) == pytest.approx(5151.6)


def test_water_weighs() -> None:
    """Gravity as declared in 1901; a cubic metre weighs 9806.65 N."""
    assert GRAVITY.amount == 9.80665
    assert WATER_UNIT_WEIGHT.amount == pytest.approx(9806.65)


def test_corrugated_hose_from_land_drain() -> None:
    """Manning n 0.015 and 0.018 (from memory) in a round pipe of 55 mm, R = D/4: f = 0.074 and 0.106."""
    row = CORRUGATED_FRICTION
    assert 8 / manning_ratio(0.015, 0.055 / 4) ** 2 == pytest.approx(row.low, abs=5e-4)
    assert 8 / manning_ratio(0.018, 0.055 / 4) ** 2 == pytest.approx(row.high, abs=5e-4)


def test_sheet_that_clings() -> None:
    """A trade table calls 37 L/h for each cm of lip barely wet: 1.03 L/s for each metre."""
    assert SHEET_CLINGS.high == pytest.approx(37e-3 / 3600 * 100, rel=5e-3)
