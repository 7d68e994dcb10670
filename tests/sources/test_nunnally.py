"""Nunnally, S. W. Construction Methods and Management. Prentice Hall. Chapter 2: volumes, and spoil banks and piles.

Provenance: tables 2-5 and the problem of the conical spoil pile as quoted on stored pages of problems; the problem's
answer, which stands there as one of four to choose from, and the example of 1 000 000 loose cubic metres from memory.
"""

import math

import pytest

from beckwright.equations.earthworks import bank_volume, cone_radius, loose_volume, soil_mass
from beckwright.tables.soils import DENSITY


def test_conical_spoil_pile() -> None:
    """76.5 bank m3 at 12 % of swell and a repose of 32 degrees: 10.156 m across and 3.173 m high."""
    slope = 1 / math.tan(math.radians(32))
    radius = cone_radius(loose_volume(76.5, 0.12), slope)
    assert 2 * radius == pytest.approx(10.156, abs=0.01)
    assert radius / slope == pytest.approx(3.173, abs=0.003)


def test_million_loose_cubic_metres() -> None:
    """1163, 1661 and 2077 kg/m3 loose, in the bank and compacted: load factor 0.70, shrinkage factor 0.80.

    1 000 000 loose m3 are 700 000 in the bank, and make 560 000 of fill.
    """
    bank = soil_mass(1e6, 1163) / 1661
    assert bank == pytest.approx(700_000, rel=0.003)
    assert loose_volume(bank, 1661 / 1163 - 1) == pytest.approx(1e6)
    assert bank_volume(560_000, 1661 / 2077) == pytest.approx(bank, rel=0.003)


@pytest.mark.parametrize(("soil", "pounds"), [("clay", 3000), ("common earth", 3100), ("gravel", 3200), ("sand", 3200)])
def test_table_2_5(soil: str, pounds: float) -> None:
    """Weight in the bank, lb a cubic yard."""
    assert DENSITY[soil].amount == pytest.approx(pounds * 0.45359237 / 0.764554858, abs=1)


def test_shrinkage_of_clay() -> None:
    """3000 lb in the bank, 3750 compacted: 0.80 of the volume, so a fill wants a quarter more soil than it holds."""
    assert bank_volume(1.0, 3000 / 3750) == pytest.approx(1.25)
