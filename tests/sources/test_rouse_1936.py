"""Rouse, H. (1936). Discharge characteristics of the free overfall. Civil Engineering 6(4), 257-260.

Provenance: end depth 0.715 of critical, from memory; the lip table was worked by hand with a calculator.
"""

import pytest

from beckwright.equations.lips import brink_depth, lip_head
from beckwright.equations.open_channel import critical_depth


@pytest.mark.parametrize(
    ("litres_an_hour_per_cm", "upstream", "critical", "brink", "digit"),
    [(75, 11, 7.6, 5.4, 0.1), (298, 29, 19, 14, 1)],
)
def test_three_depths_at_a_lip(
    litres_an_hour_per_cm: float, upstream: float, critical: float, brink: float, digit: float
) -> None:
    """Head before an ideal broad crest, critical depth on it and depth at its brink, mm, to the digits of the table."""
    unit_flow = litres_an_hour_per_cm * 1e-3 / 3600 * 100
    depth = critical_depth(unit_flow)
    assert (lip_head(unit_flow, 1.70) + 0.001) * 1000 == pytest.approx(upstream, abs=0.5)
    assert depth * 1000 == pytest.approx(critical, abs=digit / 2)
    assert brink_depth(depth) * 1000 == pytest.approx(brink, abs=digit / 2)


def test_brink_lies_between_no_pressure_and_full_pressure() -> None:
    """Momentum over a level bed: 2/3 of critical if the sheet bears no pressure at the brink, 1 if all of it."""
    assert 2 / 3 < brink_depth(1.0) < 1
