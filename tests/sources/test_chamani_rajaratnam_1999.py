"""Chamani, M. R. & Rajaratnam, N. (1999). Onset of skimming flow on stepped spillways. J. Hydraul. Eng. 125(9), 969.

Provenance: limit and worked example on a stored design page: 50 ft2/s over steps of 2 ft on a slope of 51.3 degrees.
"""

from math import radians, tan

import pytest

from beckwright.equations.drops import nappe_limit, relative_critical_depth
from beckwright.equations.open_channel import critical_depth

FOOT = 0.3048


def test_steps_that_skim() -> None:
    critical = critical_depth(50 * FOOT**2)
    assert critical / FOOT == pytest.approx(4.27, abs=5e-3)
    relative = relative_critical_depth(critical, 2 * FOOT)
    assert relative == pytest.approx(2.13, abs=5e-3)
    limit = nappe_limit(tan(radians(51.3)))
    assert limit == pytest.approx(0.39, abs=1e-3)
    assert relative > limit
