"""BS 5837:2012. Trees in relation to design, demolition and construction. 4.6.1 and Annex D.

Provenance: 12 x diameter, the root of the sum of squares for two to five stems, the cap of 15 m and the 452 m2 of a
1 m stem are stored; the rule for more than five stems is from memory.
"""

import pytest

from beckwright.equations.trees import combined_stem, combined_stem_many, root_area, root_radius


@pytest.mark.parametrize(("stem", "radius", "area"), [(0.5, 6.0, 113.1), (1.0, 12.0, 452.0), (1.25, 15.0, 707.0)])
def test_single_stem(stem: float, radius: float, area: float) -> None:
    assert root_radius(stem) == pytest.approx(radius, rel=1e-12)
    assert root_area(root_radius(stem)) == pytest.approx(area, abs=0.5)


def test_two_to_five_stems() -> None:
    """200, 250 and 300 mm: 438.75 mm, radius 5.265 m."""
    stem = combined_stem(0.2**2 + 0.25**2 + 0.3**2)
    assert stem == pytest.approx(0.43875, abs=5e-6)
    assert root_radius(stem) == pytest.approx(5.265, abs=5e-4)


def test_more_than_five_stems() -> None:
    """Eight of 120 mm: 339.41 mm, radius 4.073 m."""
    stem = combined_stem_many(0.12, 8)
    assert stem == pytest.approx(0.33941, abs=5e-6)
    assert root_radius(stem) == pytest.approx(4.073, abs=5e-4)
