"""Rand, W. (1955). Flow geometry at straight drop spillways. Proceedings ASCE 81, paper 791.

Provenance: title page stored; the equations and the numbers are those of a stored worksheet of a canal drop 2.36 m
high, 0.80 m3/s over 1.40 m, at full and half flow. The sheet writes 0.33 m2/s for half flow: 0.40 over 1.20 m.
"""

import pytest

from beckwright.equations.drops import drop_number, nappe_length, tailwater_depth, toe_depth

CASES = pytest.mark.parametrize(
    ("flow", "width", "number", "landing", "toe", "tailwater"),
    [(0.80, 1.40, 0.0025, 2.02, 0.10, 0.78), (0.40, 1.20, 0.0009, 1.51, 0.06, 0.58)],
)


@CASES
def test_canal_drop(flow: float, width: float, number: float, landing: float, toe: float, tailwater: float) -> None:
    found = drop_number(flow / width, 2.36)
    assert found == pytest.approx(number, abs=5e-5)
    assert nappe_length(2.36, found) == pytest.approx(landing, abs=0.015)
    assert toe_depth(2.36, found) == pytest.approx(toe, abs=0.006)
    assert tailwater_depth(2.36, found) == pytest.approx(tailwater, abs=0.006)


def test_small_falls_lie_outside_what_was_measured() -> None:
    """5 L/s over each metre of a lip 200 mm high: 3.2e-4, below the 5e-4 recalled as the least."""
    number = drop_number(0.005, 0.2)
    assert number == pytest.approx(3.2e-4, rel=0.01)
    assert nappe_length.outside(drop=0.2, drop_number=number) == ("drop_number",)
