"""Villemonte, J. R. 1947. Submerged weir discharge studies. Engineering News Record 139, 866-869.

His own tables were not to be had. Provenance of the numbers: the law as quoted in the manuals of public flow models,
worked by hand; and heads computed by a public engine that has it, the US EPA Storm Water Management Model (pyswmm
2.2.0, dynamic wave, transverse weir 100 mm up, fixed level below, steady after an hour). It has no 1 mm in its head.
"""

import numpy as np
import pytest

from beckwright.equations.lips import drowned_share
from beckwright.stages.water.controls import drowned_head

ENGINE = (
    (1.70, 0.6, 0.003, 0.010, 0.022470),
    (1.70, 0.6, 0.003, 0.020, 0.026784),
    (1.70, 0.6, 0.003, 0.040, 0.041768),
    (1.45, 0.6, 0.010, 0.050, 0.066662),
    (1.45, 0.6, 0.001, 0.030, 0.030384),
)
"""Coefficient, width, flow, water below over the crest, and the head that the engine found."""


@pytest.mark.parametrize(("ratio", "share"), [(0.2, 0.965), (0.5, 0.845), (0.8, 0.616), (0.9, 0.477)])
def test_share_by_hand(ratio: float, share: float) -> None:
    """At half: 0.5**1.5 is 0.3536, 0.6464**0.385 is 0.845; the others likewise."""
    assert drowned_share(1.0, ratio) == pytest.approx(share, abs=6e-4)


@pytest.mark.parametrize(("coefficient", "width", "flow", "below", "head"), ENGINE)
def test_flow_over_a_drowned_weir(coefficient: float, width: float, flow: float, below: float, head: float) -> None:
    """The last head stands 0.4 mm over the water below: its sixth digit moves the flow by some 0.05 %."""
    free = coefficient * width * head**1.5
    assert free * drowned_share(head, below) == pytest.approx(flow, rel=1e-3)


def test_head_over_a_drowned_weir() -> None:
    """3.333 m3/s over 1 m, C 1.7, freely 1.5666 m: with 1.2 m below by scipy's bisection 1.8809 m, without the 1 mm."""
    free = (10 / 3 / 1.7) ** (2 / 3)
    assert float(drowned_head(np.array([free]), np.array([1.2]))[0]) == pytest.approx(1.8809, rel=1e-3)
