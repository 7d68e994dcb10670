"""Ways of water on the net against closed forms: a plane, a cone, a saddle, a gutter; and what no turn changes."""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.quantities import FloatArray
from beckwright.job.model import Survey
from beckwright.stages.ground import Ground, build_ground, level_at
from beckwright.stages.surroundings.descent import Descent, Net

SHALLOW = 0.02
few = settings(max_examples=40)


def ground(points: FloatArray, levels: FloatArray, *breaklines: tuple[int, ...]) -> Ground:
    return build_ground(
        Survey(
            points=np.array(points, dtype=float),
            levels=np.array(levels, dtype=float),
            codes=("GL",) * len(points),
            breaklines=breaklines,
        )
    )


def grid(half: int, spacing: float) -> FloatArray:
    marks = np.arange(-half, half + 1) * spacing
    return np.stack(np.meshgrid(marks, marks), axis=2).reshape(-1, 2)


def scattered(seed: int, count: int = 150) -> FloatArray:
    """Points at random in a square of 20 m, its corners among them."""
    inner = np.random.default_rng(seed).uniform(0.0, 20.0, (count, 2))
    return np.vstack([inner, [[0, 0], [20, 0], [20, 20], [0, 20]]])


def let_run(net: Net, start: tuple[float, float]) -> Descent:
    way = net.descend(start)
    assert way is not None
    return way


@given(st.floats(0, 2 * pi), st.floats(0.01, 0.5), st.integers(0, 10_000))
@few
def test_plane(angle: float, slope: float, seed: int) -> None:
    """Water on a plane runs straight down it, whatever net lies over it; so it does from a point of the net."""
    points = scattered(seed)
    way_down = np.array([cos(angle), sin(angle)])
    net = Net(ground(points, 50.0 - slope * (points @ way_down)), SHALLOW)
    for start in ((10.0, 10.0), (float(points[0, 0]), float(points[0, 1]))):
        way = let_run(net, start)
        off = (way.line - start) @ [-way_down[1], way_down[0]]
        assert way.ended == "leaves the survey"
        assert np.abs(off).max() < 1e-6
        assert np.all(np.diff(way.line @ way_down) > 0)
        last = way.line[-1]
        assert min(last.min(), (20.0 - last).min()) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("sides", [24, 96])
def test_cone(sides: int) -> None:
    """Straight from the top: a net of rings leads water off by no more than one of its sides, for a side of the
    pyramid falls square to its foot and not along its rays."""
    rings = np.arange(1, 11)
    turns = np.arange(sides) * 2 * pi / sides
    rays = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    points = np.vstack([[[0.0, 0.0]], *(ring * rays for ring in rings)])
    net = Net(ground(points, 100.0 - 0.3 * np.hypot(*points.T)), SHALLOW)
    for angle in (0.1, 1.0, 2.5, 4.0):
        way = let_run(net, (2.0 * cos(angle), 2.0 * sin(angle)))
        off = np.unwrap(np.arctan2(way.line[:, 1], way.line[:, 0]))
        assert way.ended == "leaves the survey"
        assert np.abs(off - off[0]).max() < 2 * pi / sides
        assert hypot(*way.line[-1]) > 9.5


def test_turned_cone_ponds_in_its_point() -> None:
    """A funnel 3 m deep with its point in the middle: water stands there and spills at the lowest of its rim."""
    points = grid(10, 1.0)
    levels = 0.3 * np.hypot(*points.T)
    way = let_run(Net(ground(points, levels), SHALLOW), (6.3, 4.1))
    assert way.ended == "ponds"
    assert way.line[-1] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert way.deep == pytest.approx(3.0, abs=1e-9)


def test_saddle() -> None:
    """On z = x**2 - y**2 over 20 the product x y is kept (dx/dt = -x, dy/dt = y); a net half as wide errs by less."""
    errors = []
    for half, spacing in ((8, 1.0), (32, 0.25)):
        points = grid(half, spacing)
        net = Net(ground(points, 10.0 + (points[:, 0] ** 2 - points[:, 1] ** 2) / 20), SHALLOW)
        worst = 0.0
        for start in ((6.1, 0.55), (5.3, -0.7), (-6.2, 0.9)):
            way = let_run(net, start)
            assert way.ended == "leaves the survey"
            assert abs(way.line[-1, 1]) == pytest.approx(8.0, abs=1e-6)
            product = way.line[:, 0] * way.line[:, 1]
            worst = max(worst, float(np.abs(product / product[0] - 1.0).max()))
        errors.append(worst)
    assert errors[1] < 0.15
    assert errors[1] < errors[0] / 2


def test_gutter() -> None:
    """Two planes that fall 1 in 5 to a gutter falling 1 in 10 east: to it at 45 degrees from 2 to 1, then along it.

    From (1, 3): down (1/10, 1/5) to (2.5, 0), then east to the edge at x = 10.
    """
    points = np.array([(x, y) for y in (-5.0, 0.0, 5.0) for x in np.arange(0.0, 11.0, 2.0)])
    levels = 10.0 - points[:, 0] / 10 + np.abs(points[:, 1]) / 5
    row = tuple(int(each) for each in np.flatnonzero(points[:, 1] == 0.0))
    way = let_run(Net(ground(points, levels, row), SHALLOW), (1.0, 3.0))
    to_gutter = way.line[np.abs(way.line[:, 1]) < 1e-9][0]
    assert to_gutter == pytest.approx([2.5, 0.0], abs=1e-6)
    assert way.line[-1] == pytest.approx([10.0, 0.0], abs=1e-6)
    assert way.ended == "leaves the survey"


def test_flat_between_two_slopes() -> None:
    """A terrace 2 m wide on a slope: water comes onto it, finds its lower lip and goes on."""
    points = np.array([(x, y) for x in np.arange(0.0, 10.5, 1.0) for y in np.arange(0.0, 6.5, 1.0)])
    x = points[:, 0]
    levels = 10.0 - 0.2 * np.where(x < 4, x, np.where(x < 6, 4, x - 2))
    way = let_run(Net(ground(points, levels), SHALLOW), (1.3, 2.7))
    assert way.ended == "leaves the survey"
    assert way.line[-1, 0] == pytest.approx(10.0, abs=1e-6)


def test_wholly_flat_ground_ends_at_its_edge() -> None:
    points = grid(3, 1.0)
    assert let_run(Net(ground(points, np.full(len(points), 7.0)), SHALLOW), (0.4, 0.3)).ended == "leaves the survey"


@pytest.mark.parametrize(("deep", "ended"), [(0.019, "leaves the survey"), (0.021, "ponds")])
def test_a_hollow_no_deeper_than_a_slip_of_the_staff_is_run_over(deep: float, ended: str) -> None:
    """One point of a plane shot too low: its four neighbours on the grid leave it ``deep`` below the lowest."""
    points = grid(5, 1.0)
    levels = 10.0 - 0.1 * points[:, 0]
    middle = int(np.flatnonzero((points == 0.0).all(axis=1))[0])
    levels[middle] = levels[points[:, 0] == 1.0].min() - deep
    way = let_run(Net(ground(points, levels), SHALLOW), (-2.5, 0.1))
    assert way.ended == ended
    if ended == "ponds":
        assert way.deep == pytest.approx(deep, abs=1e-9)


def test_off_the_survey() -> None:
    points = grid(2, 1.0)
    assert Net(ground(points, points[:, 0]), SHALLOW).descend((9.0, 9.0)) is None


@given(st.integers(0, 10_000), st.floats(0.5, 19.5), st.floats(0.5, 19.5))
@few
def test_never_uphill_but_over_a_shallow_hollow(seed: int, east: float, north: float) -> None:
    """On any ground: levels along the way fall, but for what a hollow may be filled to; and every way ends."""
    points = scattered(seed)
    rough = ground(points, np.random.default_rng(seed + 1).uniform(0.0, 2.0, len(points)))
    way = let_run(Net(rough, SHALLOW), (east, north))
    levels = level_at(rough, way.line * (1 - 1e-12) + 10.0 * 1e-12)
    assert np.all(levels[1:] <= np.minimum.accumulate(levels)[:-1] + SHALLOW + 1e-6)
    assert (way.deep > SHALLOW) == (way.ended == "ponds")


@given(st.integers(0, 10_000), st.floats(0, 2 * pi), st.floats(-500, 500), st.floats(-500, 500))
@few
def test_turned_and_moved_ground_has_the_same_ways(seed: int, angle: float, east: float, north: float) -> None:
    points = scattered(seed)
    levels = np.random.default_rng(seed + 1).uniform(0.0, 2.0, len(points))
    turn = np.array([[cos(angle), sin(angle)], [-sin(angle), cos(angle)]])
    one, other = Net(ground(points, levels), SHALLOW), Net(ground(points @ turn + [east, north], levels), SHALLOW)
    for start in ((5.0, 5.0), (12.0, 7.0), (3.0, 16.0)):
        moved = np.array(start) @ turn + [east, north]
        here, there = let_run(one, start), let_run(other, (float(moved[0]), float(moved[1])))
        assert here.ended == there.ended
        assert here.line[-1] @ turn + [east, north] == pytest.approx(there.line[-1], abs=1e-5)
