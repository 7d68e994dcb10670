"""ISO 10567:2007. Hydraulic excavators - Lift capacity.

Provenance: two operators' manuals, stored: rated is the lower of 75 % of the static tipping load and 87 % of the
hydraulic one; the bucket's mass comes off the values of a chart for the bare arm. The numbers are worked by hand.
"""

import pytest

from beckwright.equations.stonework import hook_lift
from beckwright.tables.lifting import CHART_SHARE


def test_shares() -> None:
    assert CHART_SHARE["tipping"].amount == 0.75
    assert CHART_SHARE["hydraulic"].amount == 0.87
    assert CHART_SHARE["rated"].amount == 1.0


def test_bucket_comes_off() -> None:
    """400 kg just tip it, bucket and sling are 60 kg: 300 less 60."""
    assert hook_lift(400, CHART_SHARE["tipping"].amount, 60) == pytest.approx(240, rel=1e-12)
