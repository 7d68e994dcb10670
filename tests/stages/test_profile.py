"""Water profiles against a published backwater example, an independent integration, and the jump's own balance."""

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from beckwright import design, read_job
from beckwright.job.model import NamedFlow
from beckwright.stages.water import march, run_water
from beckwright.stages.water.bed import Bed
from beckwright.stages.water.depth import Channel, normal_depth
from beckwright.stages.water.profile import critical_depths, profiles

GRAVITY = 9.80665
FOOT = 0.3048
EXAMPLES = Path(__file__).parents[2] / "examples"
Array = NDArray[np.float64]


def a_bed(*, width: float, side_slope: float, n: float, slope: float, flow: float, length: float, step: float) -> Bed:
    """A straight run of one section, head first, as the profile wants it: bands and flows of one."""
    chain = np.arange(0.0, length + step / 2, step)
    return on_stations(chain, width=width, side_slope=side_slope, n=n, slope=slope, flow=flow)


def on_stations(chain: Array, *, width: float, side_slope: float, n: float, slope: float, flow: float) -> Bed:
    ones = np.ones_like(chain)
    gradient = slope / np.hypot(1.0, slope)
    channel = Channel(
        width=width * ones,
        side_slope=side_slope,
        gradient=gradient * ones,
        manning=np.full((1, 1, len(chain)), n),
        grain84=0.05 * ones,
    )
    flows = np.full((1, 1, len(chain)), flow)
    return Bed(
        channel=channel,
        upright=np.sqrt(1.0 - channel.gradient**2),
        factor=np.ones((1, 1, len(chain))),
        level=100.0 - gradient * chain,
        flow=flows,
        normal=normal_depth(channel, flows),
        critical=critical_depths(channel, flows),
    )


def depths(bed: Bed, foot: float) -> Array:
    whole = (slice(0, len(bed.level)),)
    return profiles(bed, whole, np.full((1, 1, 1), foot))[0, 0]


@pytest.mark.parametrize(("slope", "foot"), [(0.01, 0.12), (0.01, 0.06), (0.03, 0.0)])
def test_between_uneven_stations_energy_goes_into_friction_alone(slope: float, foot: float) -> None:
    """Bernoulli's law with losses: from station to station the energy line falls by friction times the way."""
    chain = np.array([0.0, 0.1, 0.35, 0.4, 0.9, 1.0, 1.75, 2.0])
    bed = on_stations(chain, width=0.6, side_slope=0.5, n=0.04, slope=slope, flow=0.006)
    depth = depths(bed, foot)
    energy, friction = bed.energy(depth)[0, 0], bed.friction(depth)[0, 0]
    assert (depth >= bed.critical[0, 0]).all()
    way = -np.diff(bed.level) / bed.channel.gradient[1:]
    assert energy[:-1] - energy[1:] == pytest.approx(way * friction[:-1], abs=3e-5)


class TestBackwaterBehindADam:
    """Chow, V. T. 1959. Open-Channel Hydraulics. McGraw-Hill. Examples 10-1 and 10-7, direct step, from memory.

    Trapezium 20 ft wide, sides 2 to 1, n 0.025, slope 0.0016, 400 ft3/s, 5 ft deep at the dam; the book takes an
    energy coefficient of 1.1 where we take 1, and steps of half a foot to two: 2 %.
    """

    bed = a_bed(
        width=20 * FOOT, side_slope=2.0, n=0.025, slope=0.0016, flow=400 * FOOT**3, length=2600 * FOOT, step=2 * FOOT
    )

    def test_normal_and_critical_depth(self) -> None:
        assert self.bed.normal[0, 0, 0] / FOOT == pytest.approx(3.36, abs=0.01)
        assert self.bed.critical[0, 0, 0] / FOOT == pytest.approx(2.22, rel=0.04)  # his 1.1 makes it 3 % deeper

    @pytest.mark.parametrize(("depth", "distance"), [(4.6, 318.0), (4.0, 891.0)])
    def test_distance_from_the_dam(self, depth: float, distance: float) -> None:
        found = depths(self.bed, 5.0 * FOOT)[::-1] / FOOT
        upstream = np.arange(len(found)) * 2.0
        assert np.interp(-depth, -found, upstream) == pytest.approx(distance, rel=0.02)


def integrated(bed: Bed, *, n: float, slope: float, flow: float, start: float, way: float, length: float) -> Array:
    """The same water by scipy's integrator on dy/dx = (S - Sf) / (1 - Fr2), a rectangle 0.6 m wide."""
    from scipy.integrate import solve_ivp

    def bend(_: float, depth: Array) -> Array:
        area = 0.6 * depth
        radius = area / (0.6 + 2 * depth)
        friction = (n * flow / area) ** 2 / radius ** (4 / 3)
        froude = flow**2 * 0.6 / (GRAVITY * area**3)
        return way * (slope - friction) / (1 - froude)

    out = solve_ivp(bend, (0.0, length), [start], rtol=1e-9, atol=1e-12, dense_output=True, method="LSODA")
    chain = np.linspace(0.0, length, len(bed.level))
    return np.asarray(out.sol(chain)[0])


class TestAgainstAnIntegrator:
    def test_backwater_of_a_high_lip(self) -> None:
        bed = a_bed(width=0.6, side_slope=0.0, n=0.06, slope=0.005, flow=0.003, length=8.0, step=0.005)
        wanted = integrated(bed, n=0.06, slope=0.005, flow=0.003, start=0.06, way=-1.0, length=8.0)
        assert depths(bed, 0.06)[::-1] == pytest.approx(wanted, rel=0.005)

    def test_drawdown_to_a_low_lip(self) -> None:
        bed = a_bed(width=0.6, side_slope=0.0, n=0.06, slope=0.005, flow=0.003, length=8.0, step=0.002)
        wanted = integrated(bed, n=0.06, slope=0.005, flow=0.003, start=0.02, way=-1.0, length=8.0)
        assert depths(bed, 0.02)[::-1] == pytest.approx(wanted, rel=0.03)

    def test_shooting_water_down_a_chute(self) -> None:
        """From just under critical at the head; compared past the first 0.1 m, where the surface stands on end."""
        bed = a_bed(width=0.6, side_slope=0.0, n=0.015, slope=0.05, flow=0.003, length=3.0, step=0.002)
        critical = float(bed.critical[0, 0, 0])
        wanted = integrated(bed, n=0.015, slope=0.05, flow=0.003, start=critical * 0.999, way=1.0, length=3.0)
        assert depths(bed, 0.0)[50:] == pytest.approx(wanted[50:], rel=0.02)


class TestTheJump:
    def test_it_stands_where_both_sides_push_alike(self) -> None:
        """Momentum over weight on either side, worked here: Q2/(gA) + b h2/2. Sequent depths by Belanger's formula."""
        bed = a_bed(width=0.6, side_slope=0.0, n=0.012, slope=0.03, flow=0.006, length=6.0, step=0.005)
        found = depths(bed, 0.10)
        critical = float(bed.critical[0, 0, 0])
        shooting = found < critical
        assert shooting[100]
        assert not shooting[-1]
        at = int(np.flatnonzero(shooting)[-1])
        before, after = found[at], found[at + 1]
        froude = np.sqrt((0.006 / 0.6) ** 2 / (GRAVITY * before**3))
        belanger = before / 2 * (np.sqrt(1 + 8 * froude**2) - 1)
        assert after == pytest.approx(belanger, rel=0.03)

    def test_a_higher_lip_drives_it_up(self) -> None:
        bed = a_bed(width=0.6, side_slope=0.0, n=0.012, slope=0.03, flow=0.006, length=6.0, step=0.01)
        places = [int(np.flatnonzero(depths(bed, foot) < bed.critical[0, 0, 0])[-1]) for foot in (0.06, 0.08, 0.12)]
        assert places == sorted(places, reverse=True)
        assert len(set(places)) == 3


def test_refining_the_stations_hardly_moves_the_level() -> None:
    """At the spacing of the course, 0.25 m, on a bed of 5 %: within 2 mm of stations five times as close."""
    coarse = a_bed(width=0.6, side_slope=0.0, n=0.06, slope=0.05, flow=0.003, length=5.0, step=0.25)
    fine = a_bed(width=0.6, side_slope=0.0, n=0.06, slope=0.05, flow=0.003, length=5.0, step=0.05)
    assert depths(coarse, 0.012) == pytest.approx(depths(fine, 0.012)[::5], abs=0.002)


@pytest.mark.parametrize("name", ["hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane"])
def test_a_search_that_shrinks_at_every_trial_finds_the_same(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The quick search against the plain one, over flows from a dribble to a flood: within 0.02 mm."""
    designed = design(read_job(EXAMPLES / name))
    flows = tuple(NamedFlow(name=f"{flow:g}", flow=float(flow)) for flow in np.geomspace(2e-4, 2e-2, 41))
    quick = run_water(designed.course, designed.job.source, flows, 12.0).depth
    monkeypatch.setattr(march, "_TRUSTED", 0)
    plain = run_water(designed.course, designed.job.source, flows, 12.0).depth
    assert np.abs(quick - plain).max() < 2e-5


class TestStationByStation:
    """The same marches by a general-purpose root finder, scipy's brentq: one station, one flow and one way at a time.

    Rough beds that no garden has: slopes, widths and spacing change from station to station, some of it dry. One of
    them, 566, has a depth where two trials far apart would be believed.
    """

    GRAIN = 0.08

    def the_bed(self, seed: int) -> Bed:
        random = np.random.default_rng(seed)
        count = 16
        chain = np.cumsum(random.choice([0.01, 0.05, 0.25, 1.0], count) * random.uniform(0.5, 1.5, count))
        slope = random.choice([0.0005, 0.005, 0.05, 0.3], count) * random.uniform(0.5, 1.5, count)
        channel = Channel(
            width=random.uniform(0.3, 1.5, count),
            side_slope=float(random.choice([0.0, 0.5, 2.0])),
            gradient=slope / np.hypot(1.0, slope),
            manning=np.array([0.0, 0.02, 0.08])[:, None, None] * np.ones(count),
            grain84=np.full(count, self.GRAIN),
        )
        flow = np.maximum(random.uniform(0.0, 0.02, (1, 4, 1)) - random.uniform(0.0, 0.006, (3, 1, count)), 0.0)
        return Bed(
            channel=channel,
            upright=np.sqrt(1.0 - channel.gradient**2),
            factor=np.ones((3, 1, count)),
            level=10.0 - np.append(0.0, np.cumsum(np.diff(chain) * channel.gradient[1:])),
            flow=flow,
            normal=normal_depth(channel, flow),
            critical=critical_depths(channel, flow),
        )

    @pytest.mark.parametrize("seed", [*range(6), 566])
    def test_every_depth_is_the_one_a_root_finder_finds(self, seed: int) -> None:
        bed = self.the_bed(seed)
        random = np.random.default_rng(100 + seed)
        down = np.arange(len(bed.level))[:, None]
        rows = bed.laid_out(np.concatenate([down[::-1], down], axis=1))
        begun = np.maximum(random.uniform(0.0, 0.2, 12), rows.critical[0, :12])
        shoots = rows.normal[0, 12:] < rows.critical[0, 12:]
        begun = np.append(begun, np.where(shoots, 0.9 * rows.critical[0, 12:], 0.0))
        new, upward = np.ones((len(down) - 1, 24), dtype=bool), np.arange(24) < 12
        found = march.march(rows, new, upward, begun)
        for column in range(24):
            for row in range(1, len(down)):
                wanted = self.root(rows, row, column, last=found[row - 1, column], upward=column < 12)
                assert found[row, column] == pytest.approx(wanted, abs=2e-5), (row, column)

    def root(self, rows: Bed, row: int, column: int, *, last: float, upward: bool) -> float:
        """The depth at a row that meets the energy at the depth before it; the rules of what else stands as written."""
        from scipy.optimize import brentq

        width, slope = rows.channel.width[:, column], rows.channel.side_slope
        flow, normal, critical = rows.flow[row, column], rows.normal[row, column], rows.critical[row, column]

        def energy(at: int, depth: float) -> float:
            velocity = rows.flow[at, column] / (width[at] * depth + slope * depth**2)
            return float(rows.level[at, column] + depth * rows.upright[at, column] + velocity**2 / (2 * GRAVITY))

        def met(depth: float) -> float:
            area = width[row] * depth + slope * depth**2
            radius = area / (width[row] + 2 * depth * np.hypot(1.0, slope))
            n = rows.channel.manning[row, column]
            deep = radius / self.GRAIN
            ratio = (
                radius ** (1 / 6) / (n * np.sqrt(GRAVITY))
                if n
                else 16.25 * deep / np.sqrt(42.25 + 6.25 * deep ** (5 / 3))
            )
            friction = (flow / area / ratio) ** 2 / (GRAVITY * radius)
            fall = abs(rows.level[row, column] - rows.level[row - 1, column])
            way = fall / rows.channel.gradient[row, column]
            return energy(row, depth) - (way if upward else -way) * friction

        target = energy(row - 1, max(last, 1e-9))
        if flow == 0:
            return max((target - rows.level[row, column]) / rows.upright[row, column], 0.0) if upward else 0.0
        if not upward and last <= 1e-9:
            return normal if normal < critical else 0.0
        if met(critical) >= target:
            return critical if upward else 0.0
        return float(
            brentq(lambda depth: met(depth) - target, *((critical, 10.0) if upward else (1e-7, critical)), xtol=1e-9)
        )
