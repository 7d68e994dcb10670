"""Johnson, A. I. (1967). Specific yield - compilation of specific yields for various materials. USGS WSP 1662-D.

Provenance: table as quoted on a stored page: least, mean and most, per cent. Porosity of the same gravels from Morris &
Johnson (1967), USGS WSP 1839-D, means from memory.
"""

import pytest

from beckwright.tables.gravels import GRAVELS

SPECIFIC_YIELD = {"fine": (21, 25, 35), "medium": (13, 23, 26), "coarse": (12, 22, 26)}
POROSITY = {"fine": 34, "medium": 32, "coarse": 28}


@pytest.mark.parametrize("kind", SPECIFIC_YIELD)
def test_specific_yield(kind: str) -> None:
    row = GRAVELS[kind].drains
    assert tuple(100 * share for share in (row.low, row.amount, row.high)) == pytest.approx(SPECIFIC_YIELD[kind])


@pytest.mark.parametrize("kind", POROSITY)
def test_porosity(kind: str) -> None:
    assert 100 * GRAVELS[kind].voids.amount == pytest.approx(POROSITY[kind])


@pytest.mark.parametrize("kind", GRAVELS)
def test_what_drains_and_what_clings_fill_the_voids(kind: str) -> None:
    gravel = GRAVELS[kind]
    assert gravel.drains.amount + gravel.retained.amount == pytest.approx(gravel.voids.amount)
    for row in (gravel.voids, gravel.drains, gravel.retained):
        assert 0 < row.low <= row.amount <= row.high < 0.5
        assert row.place
