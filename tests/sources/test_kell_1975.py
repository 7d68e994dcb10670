"""Kell, G. S. (1975). Density, thermal expansivity, and compressibility of liquid water from 0 to 150 C. Journal of
Chemical and Engineering Data 20(1), 97-105.

Provenance: computed by the reference library ``chemicals`` (IAPWS-IF97), which is another formulation; and the
greatest density, 999.97 kg/m3 at 4 degrees Celsius, from memory.
"""

import pytest
from chemicals.iapws import iapws97_rho

from beckwright.equations.water import water_density
from beckwright.tables.constants import WATER_DENSITY


@pytest.mark.parametrize("temperature", [0.01, 4, 10, 20, 30, 40, 70, 99])
def test_full_formulation(temperature: float) -> None:
    assert water_density(temperature) == pytest.approx(iapws97_rho(temperature + 273.15, 101_325.0), rel=2e-5)


def test_densest_at_four_degrees() -> None:
    assert water_density(4) == pytest.approx(999.97, abs=0.005)
    assert water_density(3) < water_density(4) > water_density(5)


def test_table_row_spans_a_garden_year() -> None:
    assert WATER_DENSITY.low == pytest.approx(water_density(30), abs=0.1)
    assert water_density(0) <= WATER_DENSITY.high
