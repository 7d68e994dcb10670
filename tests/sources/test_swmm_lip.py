"""US EPA Storm Water Management Model, dynamic wave, transverse weir.

Provenance: computed by that engine (pyswmm 2.2.0), steady after 300 s: 3 L/s over 0.6 m, coefficient 1.7, crest
50 mm up, stands 70.53 mm deep. The engine has no 1 mm in its head.
"""

import pytest

from beckwright.equations.lips import lip_head


def test_head_on_the_lip() -> None:
    assert lip_head(0.003 / 0.6, 1.7) + 0.001 == pytest.approx(0.07053 - 0.05, rel=1e-3)
