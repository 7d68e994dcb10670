"""Worked examples of earthwork from stored pages without an author: heaps, pits, grids and mass hauls.

Each is named where it is used. What a page works by an approximate rule is held against that rule, and ours against the
exact one.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.equations.earthworks import (
    bank_volume,
    cone_radius,
    corner,
    flat_heap_radius,
    loose_volume,
    overbuild,
    prism,
    soil_mass,
)

CUBIC_FOOT = 0.3048**3
CUBIC_YARD = 27 * CUBIC_FOOT


class TestHeaps:
    @pytest.mark.parametrize(
        ("diameter", "height", "yards"), [(26.5, 10, 68), (53.0, 20, 545), (132.66, 50, 8540), (265.3, 100, 68_300)]
    )
    def test_conical_stockpiles(self, diameter: float, height: float, yards: float) -> None:
        """A contractor's table of conical stockpiles at 37 degrees: feet and cubic yards, to its own rounding."""
        radius = cone_radius(yards * CUBIC_YARD, diameter / 2 / height)
        assert 2 * radius == pytest.approx(diameter * 0.3048, rel=3e-3)

    def test_cone_of_sand(self) -> None:
        """A page on heaps: 10 m across and 4 m high is 104.72 m3, at 1.6 t/m3 167.55 t."""
        assert cone_radius(104.72, 5 / 4) == pytest.approx(5.0, abs=1e-4)
        assert soil_mass(104.72, 1600) == pytest.approx(167.55e3, rel=1e-4)

    def test_flat_top(self) -> None:
        """The same page's frustum of a cone, pi h (R2 + R r + r2) / 3, by hand at R 3, r 1.5, h 1: 16.49 m3."""
        assert np.pi / 3 * (9 + 4.5 + 2.25) == pytest.approx(16.49, abs=0.005)
        assert flat_heap_radius(np.pi / 3 * (9 + 4.5 + 2.25), 1.0, 1.5) == pytest.approx(3.0)

    def test_flat_top_of_no_size_is_a_cone(self) -> None:
        radius = cone_radius(8.0, 1.5)
        assert flat_heap_radius(8.0, radius / 1.5, 1.5) == pytest.approx(radius)


class TestPrisms:
    @given(a=st.floats(0.01, 10), b=st.floats(0.01, 10), c=st.floats(0.01, 10), area=st.floats(0.01, 10))
    def test_both_sides_of_the_zero_line_make_the_whole(self, a: float, b: float, c: float, area: float) -> None:
        """One corner above, two below: what is above less what is below is the plain prism of all three.

        Below lies a quadrilateral, here cut into two triangles by hand.
        """
        first, second = a / (a + b), a / (a + c)
        below = area * (1 - first) * (b + c) / 3 + area * first * (1 - second) * c / 3
        assert corner(area, a, b, c) - below == pytest.approx(prism(area, a, -b, -c), abs=1e-9 * area * 10)

    def test_wedge(self) -> None:
        """A plane that rises from an edge to 1 over 1 m2: half above one corner of height 1 is a pyramid of 1/3."""
        assert corner(1.0, 1.0, 0.0, 0.0) == pytest.approx(1 / 3)

    def test_pyramid_against_end_areas(self) -> None:
        """60 m2 run out to a point over 10 m: 200 m3; end areas give 300, 50 % too much."""
        assert prism(60.0, 10.0, 0.0, 0.0) == pytest.approx(200.0)
        assert pytest.approx(1.5 * 200.0) == (60.0 + 0.0) / 2 * 10.0

    @pytest.mark.parametrize(
        ("corners", "target", "area", "yards", "off"),
        [
            ((87.6, 87.6, 87.6, 88.6), 90.0, 2500.0, 199.0, 0.5),
            ((75.4, 77.5, 74.6, 80.5), 83.0, 2000.0, 444.44, 0.1),
        ],
    )
    def test_grid_cell(self, corners: tuple[float, ...], target: float, area: float, yards: float, off: float) -> None:
        """Two worked cells of a grid in feet: the mean of both ways to part a square is the four-corner rule."""
        a, b, c, d = (target - level for level in corners)
        one = prism(area / 2, a, b, c) + prism(area / 2, a, c, d)
        other = prism(area / 2, a, b, d) + prism(area / 2, b, c, d)
        assert (one + other) / 2 / 27 == pytest.approx(yards, abs=off)


class TestSoil:
    def test_fill_wants_more_soil(self) -> None:
        """A stored sheet divides compacted yards by 0.9 for yards in the bank: 563 sf over 100 ft, half at one end."""
        fill = (0 + 563) / 2 * 100 / 27
        assert fill == pytest.approx(1042.593, abs=0.001)
        assert bank_volume(fill, 0.9) == pytest.approx(1158.44, abs=0.01)

    def test_swell(self) -> None:
        """8000 m3 in the bank at 40 % are 11 200 loose (a stored example)."""
        assert loose_volume(8000, 0.40) == pytest.approx(11_200)

    def test_shrink_factor(self) -> None:
        """The American roads' manual: 25 % of shrinkage is a factor of 1 / 1.25 = 0.80, not 0.75."""
        assert bank_volume(100.0, 1 / 1.25) == pytest.approx(125.0)

    @given(height=st.floats(0.01, 3), share=st.floats(0, 0.3))
    def test_overbuilt_fill_sinks_to_level(self, height: float, share: float) -> None:
        assert (height + overbuild(height, share)) * (1 - share) == pytest.approx(height)

    def test_overbuilt_by_hand(self) -> None:
        """900 mm that lose a tenth: build 1000."""
        assert overbuild(0.9, 0.1) == pytest.approx(0.1)
