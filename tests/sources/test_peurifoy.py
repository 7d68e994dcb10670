"""Peurifoy, R. L., Schexnayder, C. J. & Shapira, A. Construction Planning, Equipment, and Methods. Table 4-1.

Provenance: the table as quoted on a stored mailing list; middles from a stored engineer's table of swell.
"""

import pytest

from beckwright.tables.soils import BULKING


@pytest.mark.parametrize(
    ("soil", "low", "high"),
    [
        ("sand", 5, 15),
        ("gravel", 5, 15),
        ("topsoil", 10, 25),
        ("loam", 10, 35),
        ("common earth", 20, 45),
        ("clay", 30, 60),
        ("rock", 50, 80),
    ],
)
def test_table_4_1(soil: str, low: float, high: float) -> None:
    row = BULKING[soil]
    assert (row.low * 100, row.high * 100) == (pytest.approx(low), pytest.approx(high))


@pytest.mark.parametrize(("soil", "percent"), [("clay", 40), ("loam", 25), ("gravel", 12), ("sand", 12)])
def test_middle(soil: str, percent: float) -> None:
    assert BULKING[soil].amount * 100 == pytest.approx(percent)


def test_published_example() -> None:
    """8000 m3 in the bank at 40 % are 11 200 m3 loose (clay)."""
    assert 8000 * (1 + BULKING["clay"].amount) == pytest.approx(11_200)
