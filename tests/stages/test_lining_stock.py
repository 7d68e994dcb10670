"""Lengths cut from rolls, and rectangles round points: published examples and laws."""

from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint

from beckwright.stages.lining.rectangles import Box, least_area, least_length
from beckwright.stages.lining.stock import fewest_rolls, first_fit, least_rolls

# To the micrometre: at coordinates of 1e-262 m the reference library loses its own rectangle.
points = st.lists(st.tuples(st.floats(-5, 5), st.floats(-2, 2)), min_size=3, max_size=12).map(
    lambda pairs: np.round(np.array(pairs), 6)
)


class TestRolls:
    def test_cutstock_of_the_gams_library(self) -> None:
        """Check L13, stored table: 14, 31, 36, 45 wide, 211, 395, 610, 97 of them, from rolls of 100: 453 rolls."""
        wanted = {14.0: 211, 31.0: 395, 36.0: 610, 45.0: 97}
        rolls, exact = fewest_rolls([width for width, count in wanted.items() for _ in range(count)], 100.0)
        assert exact
        assert len(rolls) == 453
        assert Counter(width for roll in rolls for width in roll) == wanted

    def test_first_fit_is_not_always_the_fewest(self) -> None:
        """Check L14: rolls of 6 m; first-fit decreasing 4, the fewest 3."""
        pieces = [3.5, 3.5, 2.6, 2.0, 1.7, 1.6, 1.3, 1.1]
        assert len(first_fit(pieces, 6.0)) == 4
        assert least_rolls(pieces, 6.0) == 3
        rolls, exact = fewest_rolls(pieces, 6.0)
        assert (len(rolls), exact) == (3, True)

    def test_thirteen_widths_of_a_paper_machine(self) -> None:
        """The example every encyclopaedia page on cutting stock gives (from memory): rolls of 5600 mm, 73 of them."""
        wanted = {
            1380: 22,
            1520: 25,
            1560: 12,
            1710: 14,
            1820: 18,
            1880: 18,
            1930: 20,
            2000: 10,
            2050: 12,
            2100: 14,
            2140: 16,
            2150: 18,
            2200: 20,
        }
        rolls, exact = fewest_rolls([float(width) for width, count in wanted.items() for _ in range(count)], 5600.0)
        assert exact
        assert len(rolls) == 73

    @given(lengths=st.lists(st.integers(1, 40).map(lambda n: n * 0.25), min_size=1, max_size=12))
    def test_what_was_wanted_is_cut_and_nothing_hangs_over(self, lengths: list[float]) -> None:
        """First-fit decreasing is at most 11/9 of the fewest and 2/3 (Dosa 2007)."""
        rolls, exact = fewest_rolls(lengths, 10.0)
        assert Counter(length for roll in rolls for length in roll) == Counter(lengths)
        assert all(sum(roll) <= 10.0 + 1e-9 for roll in rolls)
        assert exact
        assert least_rolls(lengths, 10.0) <= len(rolls) <= len(first_fit(lengths, 10.0)) <= 11 / 9 * len(rolls) + 6 / 9


class TestRectangles:
    def test_any_triangle_takes_twice_its_area(self) -> None:
        """Check L09 (Freeman & Shapira 1975): sides 3, 4, 5."""
        box = least_area(np.array([(0.0, 0.0), (4.0, 0.0), (0.0, 3.0)]))
        assert box.length * box.width == pytest.approx(12.0, rel=1e-6)

    def test_hexagon(self) -> None:
        """Check L10: side 1 takes 1.7321 by 2.0."""
        corners = np.array([(np.cos(k * np.pi / 3), np.sin(k * np.pi / 3)) for k in range(6)])
        box = least_area(corners)
        assert (box.length, box.width) == pytest.approx((2.0, 3**0.5), rel=1e-3)

    @given(points=points)
    def test_least_area_is_shapely_s(self, points: np.ndarray) -> None:
        if MultiPoint(points).convex_hull.area < 1e-3:
            return
        box = least_area(points)
        assert box.length * box.width == pytest.approx(MultiPoint(points).minimum_rotated_rectangle.area, rel=1e-6)

    @given(points=points, share=st.floats(0.05, 1.3))
    def test_no_turn_makes_a_shorter_rectangle_of_that_width(self, points: np.ndarray, share: float) -> None:
        """Against a scan of half a circle in steps of a fiftieth of a degree."""
        if MultiPoint(points).convex_hull.area < 1e-3:
            return
        turns = np.radians(np.arange(0.0, 180.0, 0.02))
        down = np.ptp(points @ np.stack([np.cos(turns), np.sin(turns)]), axis=0)
        across = np.ptp(points @ np.stack([-np.sin(turns), np.cos(turns)]), axis=0)
        width = float(across.min() + share * (across.max() - across.min()))
        box = least_length(points, width)
        assert box is not None
        assert box.width <= width + 1e-9
        assert box.length <= down[across <= width].min() + 1e-9
        assert holds(box, points)

    def test_too_narrow_is_told(self) -> None:
        square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
        assert least_length(square, 0.99) is None
        assert least_length(square, 1.0) is not None

    def test_a_way_keeps_the_length_along_it(self) -> None:
        """2 by 1: across it would be 1 long in a width of 2, along it is 2 long."""
        oblong = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)])
        across, along = least_length(oblong, 2.0), least_length(oblong, 2.0, 0.0)
        assert across is not None
        assert along is not None
        assert (across.length, along.length) == pytest.approx((1.0, 2.0), abs=1e-9)


def holds(box: Box, points: np.ndarray) -> bool:
    """Whether a rectangle covers points."""
    way = np.array([np.cos(box.turn), np.sin(box.turn)])
    moved = points - box.corner
    down, across = moved @ way, moved @ np.array([-way[1], way[0]])
    return bool(
        down.min() >= -1e-9
        and across.min() >= -1e-9
        and down.max() <= box.length + 1e-9
        and across.max() <= box.width + 1e-9
    )
