"""The ground surface against scipy's own interpolation, closed forms of solid geometry, and laws of a surface."""

import math
from itertools import pairwise, permutations

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.interpolate import LinearNDInterpolator

from beckwright.base.errors import JobError
from beckwright.base.quantities import FloatArray
from beckwright.job.model import Survey
from beckwright.stages.ground import (
    Contour,
    Ground,
    build_ground,
    contours,
    extent,
    inside,
    level_at,
    level_where,
    slope_at,
    thin_places,
)

seeds = st.integers(0, 2**32 - 1)
few = settings(max_examples=40)
ROUNDING = 1e-9
"""Three equal levels, weighted, may come out a hair lower."""


def survey(points: FloatArray, levels: FloatArray, *breaklines: tuple[int, ...]) -> Survey:
    return Survey(
        points=np.array(points, dtype=float),
        levels=np.array(levels, dtype=float),
        codes=("GL",) * len(points),
        breaklines=breaklines,
    )


def grid(columns: int, rows: int, spacing: float = 1.0) -> FloatArray:
    return np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), axis=-1).reshape(-1, 2) * spacing


def turned(points: FloatArray, angle: float, shift: tuple[float, float]) -> FloatArray:
    cosine, sine = math.cos(angle), math.sin(angle)
    return points @ np.array([[cosine, sine], [-sine, cosine]]) + shift


def doubled_areas(corners: FloatArray) -> FloatArray:
    (x1, y1), (x2, y2) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    return x1 * y2 - x2 * y1


def volume_under(ground: Ground) -> float:
    """Sum of upright prisms below the triangles, down to level 0."""
    return float(np.sum(doubled_areas(ground.corners) / 2.0 * ground.levels[ground.triangles].mean(axis=1)))


def as_shapely(contour: Contour) -> shapely.LineString:
    return shapely.LinearRing(contour.line) if contour.closed else shapely.LineString(contour.line)


class TestLevels:
    def test_scipy_interpolates_the_same(self) -> None:
        chance = np.random.default_rng(11)
        points, levels = chance.uniform(0.0, 40.0, (300, 2)), chance.uniform(98.0, 103.0, 300)
        asked = chance.uniform(0.0, 40.0, (5000, 2))
        reference = LinearNDInterpolator(points, levels)(asked)
        ground = build_ground(survey(points, levels))
        np.testing.assert_array_equal(inside(ground, asked), ~np.isnan(reference))
        on = inside(ground, asked)
        np.testing.assert_allclose(level_at(ground, asked[on]), reference[on], rtol=0.0, atol=1e-9)

    @few
    @given(seeds, st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
    def test_a_plane_is_reproduced(self, seed: int, east: float, north: float) -> None:
        points = np.random.default_rng(seed).uniform(0.0, 30.0, (60, 2))
        ground = build_ground(survey(points, 100.0 + points @ [east, north]))
        asked = ground.corners.mean(axis=1)
        np.testing.assert_allclose(level_at(ground, asked), 100.0 + asked @ [east, north], atol=1e-9)
        np.testing.assert_allclose(slope_at(ground, asked), np.tile([-east, -north], (len(asked), 1)), atol=1e-7)

    def test_survey_points_keep_their_own_levels(self) -> None:
        chance = np.random.default_rng(3)
        points, levels = grid(12, 9, 2.0), chance.uniform(99.0, 101.0, 108)
        turned_points = turned(points, 0.3, (412_000.0, 287_000.0))
        np.testing.assert_allclose(
            level_at(build_ground(survey(turned_points, levels)), turned_points), levels, atol=1e-8
        )

    @few
    @given(seeds, st.floats(0.0, 6.28), st.floats(-5e5, 5e5), st.floats(-5e5, 5e5))
    def test_turning_and_shifting_the_survey_changes_nothing(
        self, seed: int, angle: float, east: float, north: float
    ) -> None:
        chance = np.random.default_rng(seed)
        points, levels = chance.uniform(0.0, 30.0, (50, 2)), chance.uniform(99.0, 101.0, 50)
        here = build_ground(survey(points, levels))
        # Points in the outline's long thin triangles would move more than their levels may: ask in the thick ones.
        thick = doubled_areas(here.corners) > 1e-2
        asked = here.corners[thick].mean(axis=1)
        there = build_ground(survey(turned(points, angle, (east, north)), levels))
        np.testing.assert_allclose(
            level_at(there, turned(asked, angle, (east, north))), level_at(here, asked), atol=1e-6
        )

    def test_steep_triangles_are_neither_missed_nor_carried_on_beyond_their_edge(self) -> None:
        # Two faces, 10,000 m up for each metre, back to back on a line at level 0: half a micrometre from the line the
        # level is 5 mm up or down. Half a micrometre beyond a tip counts as the tip, whose level is 5,000 m.
        points = [[0.0, 0.0], [10.0, 0.0], [5.0, 0.5], [5.0, -0.5]]
        ground = build_ground(survey(points, [0.0, 0.0, 5000.0, -5000.0], (0, 1)))
        asked = np.array([[5.0, 5e-7], [5.0, -5e-7], [5.0, 0.5 + 5e-7], [5.0, -0.5 - 5e-7]])
        np.testing.assert_allclose(level_at(ground, asked), [0.005, -0.005, 5000.0, -5000.0], rtol=0.0, atol=1e-6)

    def test_a_net_far_from_the_origin_joins_the_same_points(self) -> None:
        points = np.random.default_rng(6).uniform(0.0, 20.0, (400, 2))
        near, far = (build_ground(survey(points + shift, np.zeros(400))) for shift in ([0.0, 0.0], [5e5, 9.2e6]))
        assert {frozenset(row) for row in near.triangles.tolist()} == {frozenset(row) for row in far.triangles.tolist()}

    def test_no_point_asked_no_level_told(self) -> None:
        ground = build_ground(survey(grid(2, 2), np.zeros(4)))
        assert level_at(ground, np.empty((0, 2))).shape == (0,)

    def test_levels_where_there_are_any(self) -> None:
        """Law: on the surface they are those of ``level_at``, and it is ``inside`` that says where."""
        ground = build_ground(survey(np.array([[0, 0], [10, 0], [10, 10], [0, 10]]), np.array([1.0, 2.0, 4.0, 3.0])))
        points = np.array([[1.0, 2.0], [11.0, 5.0], [10.0, 10.0], [-0.1, 0.0]])
        levels, on = level_where(ground, points)
        assert on.tolist() == inside(ground, points).tolist() == [True, False, True, False]
        assert levels[on].tolist() == level_at(ground, points[on]).tolist()
        assert levels[~on].tolist() == [0.0, 0.0]

    def test_a_point_off_the_surface_is_named(self) -> None:
        ground = build_ground(survey(grid(5, 5), np.zeros(25)))
        with pytest.raises(ValueError, match=r"point \(4\.500, 1\.000\) lies off the surveyed ground"):
            level_at(ground, np.array([[1.0, 1.0], [4.5, 1.0], [-7.0, 1.0]]))
        with pytest.raises(ValueError, match="off the surveyed ground"):
            slope_at(ground, np.array([[2.0, 4.1]]))


class TestOutline:
    @pytest.mark.parametrize("angle", [0.0, 0.3, 1.0, 2.2])
    def test_a_turned_grid_is_covered_once_without_slivers(self, angle: float) -> None:
        points = turned(grid(30, 20), angle, (4e5, 3e5))
        ground = build_ground(survey(points, np.zeros(600)))
        assert len(ground.triangles) == 2 * 29 * 19
        assert doubled_areas(ground.corners).sum() / 2.0 == pytest.approx(29 * 19, rel=1e-9)
        outline = shapely.Polygon(ground.hull)
        assert outline.exterior.is_ccw
        assert outline.area == pytest.approx(29 * 19, rel=1e-9)
        assert len(ground.hull) == 2 * (29 + 19)
        assert inside(ground, ground.hull).all()

    def test_inside_agrees_with_shapely(self) -> None:
        chance = np.random.default_rng(5)
        points = chance.uniform(0.0, 10.0, (25, 2))
        ground = build_ground(survey(points, np.zeros(25)))
        asked = chance.uniform(-2.0, 12.0, (3000, 2))
        expected = shapely.contains_xy(shapely.MultiPoint(points).convex_hull, asked)
        np.testing.assert_array_equal(inside(ground, asked), expected)

    def test_a_fan_of_thin_triangles_is_looked_up(self) -> None:
        # 720 points on a circle: every triangle's bounding box covers many cells of the grid.
        angles = np.linspace(0.0, 2.0 * math.pi, 721)[:-1]
        rim = 50.0 * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        ground = build_ground(survey(np.vstack([rim, [[0.0, 0.0]]]), np.append(np.zeros(720), 10.0)))
        asked = np.stack([np.linspace(0.0, 49.9, 500), np.zeros(500)], axis=1)
        np.testing.assert_allclose(level_at(ground, asked), 10.0 * (1.0 - asked[:, 0] / 50.0), atol=1e-9)

    def test_extent_is_that_of_the_survey(self) -> None:
        ground = build_ground(survey([[3.0, 1.0], [9.0, 2.0], [5.0, 8.0], [5.0, 3.0]], np.zeros(4)))
        assert extent(ground) == (3.0, 1.0, 9.0, 8.0)

    def test_thin_places_by_their_longest_side(self) -> None:
        ground = build_ground(survey([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0]], np.zeros(3)))
        assert thin_places(ground, 4.999).tolist() == [0]
        assert thin_places(ground, 5.001).tolist() == []

    def test_the_same_survey_gives_an_equal_ground_that_cannot_be_written(self) -> None:
        one, other = (build_ground(survey(grid(6, 5), np.arange(30.0), (0, 7, 14))) for _ in range(2))
        assert one == other
        assert one != build_ground(survey(grid(6, 5), np.arange(30.0) + 1.0))
        with pytest.raises(ValueError, match="read-only"):
            one.levels[0] = 5.0


class TestBreaklines:
    # A bank top 20 m long, shot at its ends only, between two rows of shots 5 m lower and 1 m to each side.
    feet = np.array([[x, y] for x in np.arange(-1.0, 22.0) for y in (-1.0, 1.0)])
    points = np.vstack([[[0.0, 0.0], [20.0, 0.0]], feet])
    levels = np.append([10.0, 10.0], np.full(len(feet), 5.0))
    along = np.stack([np.linspace(0.0, 20.0, 201), np.zeros(201)], axis=1)

    def test_a_ridge_holds_its_level(self) -> None:
        ridge = build_ground(survey(self.points, self.levels, (0, 1)))
        np.testing.assert_allclose(level_at(ridge, self.along), 10.0, atol=1e-9)

    def test_without_a_breakline_the_net_cuts_across(self) -> None:
        plain = build_ground(survey(self.points, self.levels))
        assert level_at(plain, np.array([[10.0, 0.0]]))[0] == pytest.approx(5.0)

    def test_frustum_of_a_pyramid_by_prisms(self) -> None:
        # Euclid XII: V = h/3 (A1 + A2 + sqrt(A1 A2)). Base 10 m, top 4 m, height 3 m: 3/3 (100 + 16 + 40) = 156 m3.
        square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
        points, levels = np.vstack([5.0 * square, 2.0 * square]), np.repeat([0.0, 3.0], 4)
        lines = ((0, 1, 2, 3, 0), (4, 5, 6, 7, 4), (0, 4), (1, 5), (2, 6), (3, 7))
        ground = build_ground(survey(turned(points, 0.7, (530_000.0, 180_000.0)), levels, *lines))
        assert volume_under(ground) == pytest.approx(156.0, rel=1e-8)

    def test_a_ditch_keeps_its_volume(self) -> None:
        # A ditch of triangular section, 0.5 m deep and 1 m wide at the top, 12 m long across a flat lawn at 2 m. Its
        # three lines are shot at their ends only: section 0.25 m2, so the lawn's 240 m3 lose 3 m3.
        lawn = [[x, y] for x in (-10.0, -6.0, -2.0, 2.0, 6.0, 10.0) for y in (0.0, 3.1, 5.9, 9.2, 12.0)]
        cut = [[-0.5, 0.0], [-0.5, 12.0], [0.0, 0.0], [0.0, 12.0], [0.5, 0.0], [0.5, 12.0]]
        levels = np.append(np.full(len(lawn), 2.0), [2.0, 2.0, 1.5, 1.5, 2.0, 2.0])
        first = len(lawn)
        lines = ((first, first + 1), (first + 2, first + 3), (first + 4, first + 5))
        ground = build_ground(survey(np.vstack([lawn, cut]), levels, *lines))
        assert volume_under(ground) == pytest.approx(2.0 * 20.0 * 12.0 - 3.0, rel=1e-9)

    @few
    @given(seeds)
    def test_levels_run_straight_along_any_breakline(self, seed: int) -> None:
        chance = np.random.default_rng(seed)
        points, levels = chance.uniform(0.0, 20.0, (40, 2)), chance.uniform(99.0, 103.0, 40)
        # Led from west to east through every fourth point, so it cannot cross itself.
        line = np.argsort(points[:, 0])[::4]
        others = np.setdiff1d(np.arange(40), line)
        trace = shapely.LineString(points[line])
        assume(shapely.distance(trace, shapely.points(points[others])).min() > 2e-3)
        ground = build_ground(survey(points, levels, tuple(line.tolist())))
        easting = np.linspace(points[line[0], 0], points[line[-1], 0], 300)
        asked = np.stack([easting, np.interp(easting, *points[line].T)], axis=1)
        expected = np.interp(easting, points[line, 0], levels[line])
        steepest = np.abs(slope_at(ground, ground.corners.mean(axis=1))).max()
        np.testing.assert_allclose(level_at(ground, asked), expected, atol=1e-9 + 1e-12 * steepest)

    @few
    @given(st.lists(st.integers(0, 179), min_size=2, max_size=9, unique=True), seeds)
    def test_breaklines_that_meet_at_a_sharp_angle(self, degrees: list[int], seed: int) -> None:
        angles = np.radians(np.array(degrees) * 2.0)
        reach = np.random.default_rng(seed).uniform(3.0, 12.0, len(angles))
        tips = reach[:, np.newaxis] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        around = 20.0 * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
        points = np.vstack([[[0.0, 0.0]], tips, around])
        levels = np.concatenate([[5.0], np.arange(len(tips)) % 3.0, np.zeros(4)])
        ground = build_ground(survey(points, levels, *((0, tip) for tip in range(1, len(tips) + 1))))
        share = np.linspace(0.0, 1.0, 50)[:, np.newaxis]
        for tip, level in zip(tips, levels[1:], strict=False):
            np.testing.assert_allclose(level_at(ground, share * tip), 5.0 + share[:, 0] * (level - 5.0), atol=1e-8)

    def test_a_shot_on_the_line_overrules_the_level_between(self) -> None:
        points = np.vstack([[[0.0, 0.0], [10.0, 0.0], [4.0, 0.0]], 10.0 * grid(2, 3) - [0.0, 10.0]])
        points = np.unique(points, axis=0)
        middle = int(np.flatnonzero((points == [4.0, 0.0]).all(axis=1))[0])
        ends = [int(np.flatnonzero((points == [x, 0.0]).all(axis=1))[0]) for x in (0.0, 10.0)]
        levels = np.zeros(len(points))
        levels[middle] = 2.0
        ground = build_ground(survey(points, levels, tuple(ends)))
        np.testing.assert_allclose(level_at(ground, np.array([[2.0, 0.0], [4.0, 0.0], [7.0, 0.0]])), [1.0, 2.0, 1.0])


class TestRefusals:
    def test_points_on_each_other(self) -> None:
        points = np.vstack([grid(3, 3), [[1.0, 2.0]]])
        with pytest.raises(JobError, match=r"\(1\.000, 2\.000\) and \(1\.000, 2\.000\) lie on each other"):
            build_ground(survey(points, np.zeros(10)))

    @pytest.mark.parametrize("angle", [0.0, 0.4])
    def test_points_on_one_line(self, angle: float) -> None:
        with pytest.raises(JobError, match="all lie on one line"):
            build_ground(survey(turned(grid(9, 1), angle, (4e5, 3e5)), np.zeros(9)))

    def test_breaklines_that_cross(self) -> None:
        with pytest.raises(JobError, match=r"breaklines cross at \(0\.500, 0\.500\)"):
            build_ground(survey(grid(2, 2), np.zeros(4), (0, 3), (1, 2)))

    def test_breaklines_too_close_to_tell_apart(self) -> None:
        # Two lines 50 m long leave one point and are 1.2 mm apart at their ends.
        points = [[0.0, 0.0], [50.0, 0.0], [40.0, 1.2e-3], [25.0, 30.0], [25.0, -30.0]]
        with pytest.raises(JobError, match="too close to be told apart"):
            build_ground(survey(points, np.zeros(5), (0, 1), (0, 2)))

    @pytest.mark.parametrize("interval", [0.0, -0.1, math.nan, math.inf])
    def test_a_contour_interval_that_is_none(self, interval: float) -> None:
        with pytest.raises(ValueError, match="contour interval"):
            contours(build_ground(survey(grid(2, 2), np.arange(4.0))), interval)


class TestContours:
    def test_a_plane_has_straight_contours_from_edge_to_edge(self) -> None:
        chance = np.random.default_rng(8)
        points = np.vstack([20.0 * grid(2, 2), chance.uniform(0.5, 19.5, (200, 2))])
        ground = build_ground(survey(points, 100.0 + points @ [0.03, 0.04]))
        lines = contours(ground, 0.1)
        # 20 m of plane with gradient (0.03, 0.04) rise from 100.0 to 101.4: contours at 100.1 to 101.3.
        assert [line.level for line in lines] == pytest.approx(np.arange(100.1, 101.35, 0.1))
        square = shapely.box(0.0, 0.0, 20.0, 20.0)
        for line in lines:
            # 0.03 x + 0.04 y = rise goes through (rise / 0.03, 0) along (-4, 3): drawn long, cut to the square.
            rise = line.level - 100.0
            foot, along = np.array([rise / 0.03, 0.0]), np.array([-4.0, 3.0])
            exact = square.intersection(shapely.LineString([foot - 50.0 * along, foot + 50.0 * along]))
            assert not line.closed
            assert as_shapely(line).length == pytest.approx(exact.length, rel=1e-9)
            np.testing.assert_allclose(line.line @ [0.03, 0.04], rise, atol=1e-9)

    def test_a_cone_has_round_contours(self) -> None:
        angles = np.radians(np.arange(360.0))
        ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
        points = np.vstack([[[0.0, 0.0]], *(radius * ring for radius in range(1, 11))])
        ground = build_ground(survey(points, 8.0 - 0.5 * np.hypot(*points.T)))
        lines = contours(ground, 0.7)
        assert [line.level for line in lines] == pytest.approx([3.5, 4.2, 4.9, 5.6, 6.3, 7.0, 7.7])
        for line in lines:
            radius = (8.0 - line.level) / 0.5
            assert line.closed
            # A chord of 1 degree lies inside its arc by this share of the radius.
            np.testing.assert_allclose(np.hypot(*line.line.T), radius, rtol=1.0 - math.cos(math.radians(0.5)))
            assert as_shapely(line).length == pytest.approx(2.0 * math.pi * radius, rel=1e-3)

    def test_contour_points_lie_at_their_level(self) -> None:
        chance = np.random.default_rng(2)
        points = chance.uniform(0.0, 40.0, (400, 2))
        ground = build_ground(survey(points, 100.0 + np.sin(points[:, 0] / 5.0) + np.cos(points[:, 1] / 7.0)))
        lines = contours(ground, 0.25)
        assert len(lines) > 7
        for line in lines:
            np.testing.assert_allclose(level_at(ground, line.line), line.level, atol=1e-8)

    @few
    @given(seeds, st.integers(1, 3))
    def test_contours_part_high_from_low_where_they_pass_through_points(self, seed: int, highest: int) -> None:
        # Levels in whole metres on a grid: every contour runs through survey points, flats, crests and saddles.
        chance = np.random.default_rng(seed)
        levels = chance.integers(0, highest, 56, endpoint=True).astype(float)
        ground = build_ground(survey(grid(8, 7), levels))
        outline = shapely.LinearRing(ground.hull)
        sprinkled = chance.uniform(0.0, 1.0, (1000, 2)) * [7.0, 6.0]
        lines = contours(ground, 1.0)
        for level in range(1, highest + 1):
            here = [line for line in lines if line.level == level]
            check_pieces(ground, here)
            for line in here:
                ends = shapely.points(line.line[[0, -1]])
                assert line.closed or (shapely.distance(outline, ends) < 1e-9).all()
            faces = shapely.get_parts(shapely.polygonize([shapely.union_all([outline, *map(as_shapely, here)])]))
            face, point = shapely.STRtree(shapely.points(sprinkled)).query(faces, predicate="contains")
            high = level_at(ground, sprinkled[point]) >= level - ROUNDING
            held = np.bincount(face, minlength=len(faces))
            high_held = np.bincount(face[high], minlength=len(faces))
            assert ((high_held == 0) | (high_held == held)).all()

    def test_ground_falling_from_the_edge_of_the_survey_leaves_that_edge_bare(self) -> None:
        # The north edge of this plane stands at 2 m: what lies beyond nobody knows, so only 1 m is drawn.
        points = grid(4, 3)
        (line,) = contours(build_ground(survey(points, points[:, 1])), 1.0)
        assert line.level == 1.0
        assert as_shapely(line).length == pytest.approx(3.0)

    def test_a_crest_at_the_level_is_not_drawn_twice(self) -> None:
        # A roof: ridge at 1 m between eaves at 0. A contour just below runs round the ridge; at 1 m nothing is left.
        points = np.array([[x, y] for x in range(6) for y in (-1.0, 0.0, 1.0)], dtype=float)
        levels = np.where((points[:, 1] == 0.0) & (points[:, 0] > 0.5) & (points[:, 0] < 4.5), 1.0, 0.0)
        assert contours(build_ground(survey(points, levels)), 1.0) == ()

    def test_a_flat_top_at_the_level_is_outlined_once(self) -> None:
        points = grid(6, 6)
        top = (points > 1.5).all(axis=1) & (points < 3.5).all(axis=1)
        (line,) = contours(build_ground(survey(points, top.astype(float))), 1.0)
        assert line.closed
        assert shapely.Polygon(line.line).equals(shapely.box(2.0, 2.0, 3.0, 3.0))

    def test_a_crest_between_two_flat_tops_leaves_two_outlines(self) -> None:
        # Two flat triangles of 1 m2 look at each other; a crest joins their tips.
        high = [[0.0, 1.0], [0.0, -1.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.0], [4.0, 1.0], [4.0, -1.0]]
        low = [[x, y] for x in (-1.5, 1.0, 2.0, 3.0, 5.5) for y in (-1.5, 1.5)] + [[-1.5, 0.0], [5.5, 0.0]]
        lines = contours(build_ground(survey(np.array(high + low), np.repeat([1.0, 0.0], [7, 12]))), 1.0)
        assert len(lines) == 2
        for line in lines:
            assert line.closed
            assert shapely.Polygon(line.line).area == pytest.approx(1.0)

    @pytest.mark.parametrize("order", list(permutations(range(1, 5))))
    def test_a_saddle_at_the_level_makes_lines_that_touch_and_do_not_cross(self, order: tuple[int, ...]) -> None:
        points = np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 2.0], [-2.0, 0.0], [0.0, -2.0]])
        levels = np.array([1.0, 2.0, 0.0, 2.0, 0.0])
        rows = [0, *order]
        lines = contours(build_ground(survey(points[rows], levels[rows])), 1.0)
        assert len(lines) == 2
        for line in lines:
            # Both ends lie in one half of the plan: a line through the saddle would join opposite quarters.
            assert (line.line[0] * line.line[-1]).max() > 0.0
        # From the saddle, half way along each of the four sides: 4 sqrt(2) m in all.
        assert sum(as_shapely(line).length for line in lines) == pytest.approx(4.0 * math.sqrt(2.0))

    def test_the_order_is_lowest_first_and_the_same_every_time(self) -> None:
        chance = np.random.default_rng(4)
        given_survey = survey(chance.uniform(0.0, 30.0, (150, 2)), chance.uniform(0.0, 3.0, 150))
        once, again = (contours(build_ground(given_survey), 0.5) for _ in range(2))
        assert once == again
        assert [line.level for line in once] == sorted(line.level for line in once)


def check_pieces(ground: Ground, lines: list[Contour]) -> None:
    """No piece of a contour is drawn twice, and each has ground at its level or above on one side only."""
    drawn = set()
    for line in lines:
        ring = np.vstack([line.line, line.line[:1]]) if line.closed else line.line
        for start, end in pairwise(ring):
            piece = frozenset([tuple(start), tuple(end)])
            assert len(piece) == 2
            assert piece not in drawn
            drawn.add(piece)
            aside = np.array([start[1] - end[1], end[0] - start[0]]) * 1e-4
            one, other = level_at(ground, (start + end) / 2.0 + [aside, -aside]) >= line.level - ROUNDING
            assert one != other
