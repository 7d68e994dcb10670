"""Steady water by closed form and by hand: depths, hidden flow, lips, pools, levels and what is stored."""

from dataclasses import replace
from math import hypot, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.quantities import FloatArray
from beckwright.compose import Design
from beckwright.equations.lips import drowned_share, lip_unit_flow
from beckwright.job.model import BedMakeUp, Job, LipKind, NamedFlow, Pool, Run, Step
from beckwright.stages.course import set_out_course
from beckwright.stages.ground import build_ground
from beckwright.stages.water import Water, run_water
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE, grain_sizes, law_of
from beckwright.stages.water.controls import drowned_head, heads_over
from beckwright.stages.water.depth import Channel, normal_depth

GRAVITY = 9.80665


def run_down(job: Job, *flows: float) -> Water:
    """Water of some flows, m3/s, in a course."""
    course = set_out_course(job.course, job.source, job.layers, build_ground(job.survey))
    named = tuple(NamedFlow(name=f"flow {number}", flow=flow) for number, flow in enumerate(flows))
    return run_water(course, job.source, named, job.water_temperature)


def with_reaches(job: Job, *reaches: Run | Step | Pool) -> Job:
    return replace(job, course=replace(job.course, reaches=reaches))


def a_run(bed: BedMakeUp, **changes: object) -> Run:
    return replace(Run(name="run", length=10.0, fall=0.5, width=0.6, bed=bed, sills=()), **changes)


def a_step(drop: float = 0.2) -> Step:
    return Step(name="lip", drop=drop, lip_width=0.6, lip="flat slab")


def a_channel(width: float, sides: float, gradient: float, *, manning: float = 0.0, grain84: float = 0.05) -> Channel:
    one = np.ones(1)
    return Channel(
        width=width * one, side_slope=sides, gradient=gradient * one, manning=manning * one, grain84=grain84 * one
    )


def depth_of(channel: Channel, flow: float) -> float:
    return float(normal_depth(channel, np.array([flow]))[0])


class TestNormalDepth:
    def test_rectangular_channel_of_the_reference(self) -> None:
        """19.38 mm: 3 L/s, 0.6 m, 5 %, n 0.06, walls counted; computed by the public-domain routing engine."""
        assert depth_of(a_channel(0.6, 0.0, 0.05, manning=0.06), 0.003) == pytest.approx(0.01938, rel=5e-4)

    def test_wide_channel_of_the_reference(self) -> None:
        """18.91 mm: the same for each metre of a channel without walls, (q n / S**0.5)**0.6."""
        assert depth_of(a_channel(1e4, 0.0, 0.05, manning=0.06), 0.005 * 1e4) == pytest.approx(0.01891, rel=5e-4)

    @pytest.mark.parametrize(
        ("bottom", "sides", "flow", "n", "slope", "depth"),
        [(5, 0, 20, 0.02, 0.001, 2.257), (3, 2, 22.2, 0.013, 0.0005, 1.83), (8, 2, 30, 0.025, 0.001, 1.754)],
        ids=["Apsley 2021 Q1(a)", "Maurer, hydraulics, manningt", "Sturm 5.1, from memory"],
    )
    def test_published_depths(
        self, *, bottom: float, sides: float, flow: float, n: float, slope: float, depth: float
    ) -> None:
        assert depth_of(a_channel(bottom, sides, slope, manning=n), flow) == pytest.approx(depth, rel=1e-3)

    def test_variable_power_law_in_its_shallow_limit(self) -> None:
        """Closed form: where V is 2.5 (h/D) (g h S)**0.5, h is (q D / (2.5 (g S)**0.5))**0.4."""
        grain, slope, across = 1.0, 0.1, 0.005
        limit = (across * grain / (2.5 * sqrt(GRAVITY * slope))) ** 0.4
        assert limit / grain < 0.1
        assert depth_of(a_channel(1e4, 0.0, slope, grain84=grain), across * 1e4) == pytest.approx(limit, rel=2e-3)

    def test_variable_power_law_against_the_law_in_flow(self) -> None:
        """Rickenmann & Recking 2011 eq. 22 tells the velocity without the depth: 0.2583 m/s at 10 L/s for each metre,
        5 %, D84 50 mm. The two laws are told to agree to 1 %."""
        depth = depth_of(a_channel(1e4, 0.0, 0.05, grain84=0.05), 0.01 * 1e4)
        assert 0.01 / depth == pytest.approx(0.2583, rel=1e-2)

    @given(
        depth=st.floats(2e-3, 0.3),
        width=st.floats(0.2, 2),
        sides=st.floats(0, 3),
        slope=st.floats(0.005, 0.4),
        grain=st.floats(0.01, 0.15),
    )
    @settings(max_examples=60)
    def test_depth_gives_back_its_flow(
        self, depth: float, width: float, sides: float, slope: float, grain: float
    ) -> None:
        """The variable power law written out anew: eq. 10a of Rickenmann & Recking 2011."""
        area = (width + sides * depth) * depth
        radius = area / (width + 2 * depth * sqrt(1 + sides**2))
        x = radius / grain
        ratio = 6.5 * 2.5 * x / sqrt(6.5**2 + 2.5**2 * x ** (5 / 3))
        flow = area * ratio * sqrt(GRAVITY * radius * slope)
        assert depth_of(a_channel(width, sides, slope, grain84=grain), flow) == pytest.approx(depth, rel=1e-6)

    def test_no_flow_no_depth(self) -> None:
        assert depth_of(a_channel(0.6, 0.0, 0.05), 0.0) == 0


class TestBeds:
    def test_sizes_of_stone_sold_as_20_to_80(self, pebbles: BedMakeUp) -> None:
        """Hand calculation: D50 is 20 x 4**0.5 = 40 mm, D84 is 40 x 4**0.425 = 72.1 mm, D10 20 mm."""
        grain10, grain50, grain84 = grain_sizes(replace(pebbles, size=(0.02, 0.08)))
        assert (grain10, grain50, grain84) == pytest.approx((0.020, 0.040, 0.0721), rel=1e-3)

    @pytest.mark.parametrize("laid", ["loose", "bedded flat", "with boulders", "smooth"])
    @pytest.mark.parametrize("slope", [0.01, 0.05, 0.2])
    def test_bounds_are_in_order(self, plain: Job, pebbles: BedMakeUp, laid: str, slope: float) -> None:
        bed = replace(pebbles, depth=0.0, laid=laid)
        water = run_down(with_reaches(plain, a_run(bed, fall=10 * slope)), 0.001, 0.005)
        assert np.all(np.diff(water.depth, axis=0) >= -1e-12)

    def test_own_roughness_stands_before_all_others(self, pebbles: BedMakeUp) -> None:
        law = law_of(replace(pebbles, manning=0.05), 0.05)
        assert law.manning[MIDDLE] == 0.05
        assert law.manning[LOW] < 0.05 < law.manning[HIGH]


class TestLips:
    @pytest.mark.parametrize(
        ("litres_an_hour", "width", "head", "critical", "brink"),
        [
            (2500, 0.30, 12.3, 8.2, 5.8),
            (4000, 0.30, 16.8, 11.2, 8.0),
            (9000, 0.60, 18.1, 12.1, 8.6),
            (36000, 1.20, 28.8, 19.2, 13.7),
            (5200, 0.45, 15.2, 10.2, 7.3),
        ],
    )
    def test_hand_calculation_of_the_briefs(
        self, plain: Job, *, litres_an_hour: float, width: float, head: float, critical: float, brink: float
    ) -> None:
        """Hand calculation beside the four briefs, in mm: the ideal broad crest, C 1.705, which is the low head of a
        flat slab; our head law takes 1 mm off it. Brink 0.715 of the critical depth."""
        job = with_reaches(plain, replace(a_step(), lip_width=width), a_run(plain.course.reaches[0].bed))
        lip = run_down(job, litres_an_hour / 3.6e6).lips[1]
        assert lip.head[LOW, 0] * 1000 == pytest.approx(head - 1.0, abs=0.06)
        assert lip.brink[0] * 1000 == pytest.approx(brink, abs=0.06)
        assert lip.brink[0] * 1000 / 0.715 == pytest.approx(critical, abs=0.06)

    @pytest.mark.parametrize("kind", ["sharp edge", "flat slab", "round edge", "boulders"])
    def test_low_is_below_middle_is_below_high(self, kind: LipKind) -> None:
        heads = heads_over(kind, np.array([0.001, 0.01]))
        assert np.all(np.diff(heads, axis=0) > 0)

    def test_a_mere_film_has_no_head(self) -> None:
        """1e-5 m2/s over C 1.45 is 0.36 mm, less than the 1 mm that surface tension takes."""
        assert np.all(heads_over("flat slab", np.array([1e-5])) == 0)


class TestHidden:
    def test_stones_carry_velocity_times_layer_times_width(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Published split: 150 mm of 20 mm stones with 0.40 of voids, 0.6 m wide at 5 %, hide 1.40 of 3 L/s with rough
        grains, 15.5 mm/s. A layer of one size has but one grain size."""
        bed = replace(pebbles, depth=0.15, size=(0.02, 0.020001))
        water = run_down(with_reaches(plain, a_run(bed, length=20.0, fall=1.0)), 0.003)
        assert water.runs[0].through[HIGH] == pytest.approx(0.0155, rel=5e-3)
        assert water.hidden[HIGH, 0].max() == pytest.approx(0.00140, rel=5e-3)

    def test_water_sinks_within_depth_over_slope(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Hand calculation: 0.1 m of stones at 5 % take 2 m; half is hidden after 1 m, nothing at the head."""
        water = run_down(with_reaches(plain, a_run(pebbles)), 0.01)
        at = np.linspace(0, 10, water.hidden.shape[2])
        share = np.interp([0.0, 1.0, 2.0, 6.0], at, water.hidden[MIDDLE, 0] / water.hidden[MIDDLE, 0].max())
        assert share == pytest.approx([0.0, 0.5, 1.0, 1.0], abs=1e-9)

    def test_sill_forces_all_water_up(self, plain: Job, pebbles: BedMakeUp) -> None:
        water = run_down(with_reaches(plain, a_run(pebbles, sills=(5.0,))), 0.01)
        at = np.linspace(0, 10, water.hidden.shape[2])
        assert np.interp(5.0, at, water.hidden[MIDDLE, 0]) == pytest.approx(0.0, abs=1e-12)
        assert np.interp(5.0, at, water.shown[MIDDLE, 0]) == pytest.approx(1.0, abs=1e-12)

    def test_a_lip_below_forces_all_water_up(self, plain: Job, pebbles: BedMakeUp) -> None:
        water = run_down(with_reaches(plain, a_run(pebbles), a_step()), 0.01)
        assert water.hidden[:, 0, -1] == pytest.approx(0.0, abs=1e-12)

    def test_a_flow_smaller_than_the_stones_can_carry_is_unseen(self, plain: Job, pebbles: BedMakeUp) -> None:
        """What is in the stones then stands as deep as it must: flow over velocity and width."""
        water = run_down(with_reaches(plain, a_run(pebbles)), 2e-4)
        assert water.shown[MIDDLE, 0, 20:].max() == pytest.approx(0.0, abs=1e-12)
        assert water.depth[MIDDLE, 0, 20:].max() == 0
        over_lining = 2e-4 / (0.6 * water.runs[0].through[MIDDLE])
        bed = 100.0 - 0.05 * 9.0
        assert np.interp(9.0, np.linspace(0, 10, water.level.shape[2]), water.level[MIDDLE, 0]) == pytest.approx(
            bed - 0.1 + over_lining, abs=1e-6
        )

    def test_bare_bed_hides_nothing(self, plain: Job) -> None:
        assert np.all(run_down(plain, 0.001).hidden == 0)


frees = st.floats(0.0, 0.1)
tailwaters = st.floats(1e-7, 0.3)


def drowned(free: float, tailwater: float) -> float:
    return float(drowned_head(np.array([free]), np.array([tailwater]))[0])


class TestDrownedHead:
    @given(free=st.floats(0.002, 0.1), tailwater=tailwaters)
    def test_the_flow_passes(self, free: float, tailwater: float) -> None:
        """Both published laws together, C 1.6: what the lip passes freely under the head, times Villemonte's share.

        Compared by the share to the power 1 / 0.385: under a deep tailwater the head stands a rounding over it.
        """
        head = drowned(free, tailwater)
        wanted = lip_unit_flow(free, 1.6) / lip_unit_flow(head, 1.6)
        assert drowned_share(head, tailwater) ** (1 / 0.385) == pytest.approx(wanted ** (1 / 0.385), abs=1e-12)

    @given(free=frees, tailwater=tailwaters)
    def test_it_stands_over_the_water_below_and_over_the_free_head(self, free: float, tailwater: float) -> None:
        assert drowned(free, tailwater) >= max(free, tailwater)

    @given(free=frees, tailwater=tailwaters, factor=st.floats(1.0, 3.0))
    def test_more_tailwater_or_more_flow_never_less_head(self, free: float, tailwater: float, factor: float) -> None:
        head = drowned(free, tailwater)
        assert drowned(free, tailwater * factor) >= head * (1 - 1e-12)
        assert drowned(free * factor, tailwater) >= head * (1 - 1e-12)

    @given(free=frees)
    def test_it_grows_out_of_the_free_head(self, free: float) -> None:
        """No jump where the water below reaches the crest."""
        assert drowned(free, 1e-12) == pytest.approx(free, abs=1e-8)

    def test_still_water_stands_level(self) -> None:
        """Free at -1 mm nothing flows."""
        assert drowned(-0.001, 0.05) == 0.05


class TestDrownedLips:
    """A step of 20 mm into a pool that rises over it at 3 L/s. A rim itself is never over the lip: a step drops."""

    pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)

    def course(self, plain: Job, bare: BedMakeUp, drop: float) -> Job:
        """A flat run over a step, a pool, a flat run."""
        flat = a_run(bare, length=4.5, fall=0.02)
        return with_reaches(plain, flat, a_step(drop), self.pool, replace(flat, name="run 2"))

    def test_head_and_water_below_by_both_laws(self, plain: Job, bare: BedMakeUp) -> None:
        """Each end of the band by itself: C 1.705, 1.45 and 1.40 of a flat slab, 5 L/s for each metre."""
        water = run_down(self.course(plain, bare, 0.02), 0.003)
        lip, (pool,) = water.lips[1], water.pools
        assert lip.tailwater == pytest.approx(pool.level - lip.crest, abs=1e-12)
        assert np.all(lip.tailwater > 0)
        for end, coefficient in enumerate((1.705, 1.45, 1.40)):
            head, below = float(lip.head[end, 0]), float(lip.tailwater[end, 0])
            assert head > lip.free[end, 0]
            assert lip_unit_flow(head, coefficient) * drowned_share(head, below) == pytest.approx(0.005, rel=1e-6)

    def test_the_run_above_stands_in_it(self, plain: Job, bare: BedMakeUp) -> None:
        """Its foot stands at the raised head; with it rise its level, what it holds, and what the reservoir lends."""
        low, high = (run_down(self.course(plain, bare, drop), 0.003) for drop in (0.02, 0.2))
        foot = low.runs[0].stations.stop - 1
        lip = low.lips[1]
        assert low.level[:, 0, foot] == pytest.approx(lip.crest + lip.head[:, 0], abs=1e-9)
        first = low.runs[0].stations
        assert np.all(low.depth[:, 0, first] >= high.depth[:, 0, first] - 1e-9)
        assert np.all(low.stored.film > high.stored.film)

    def test_a_drowned_lip_drowns_the_next_one_up(self, plain: Job, bare: BedMakeUp) -> None:
        """Two steps in a row. Where the water falls 200 mm over the lower one both are free; where 5 mm, neither."""

        def down(drop: float) -> Water:
            first, last = a_run(bare, length=1.0, fall=0.001), a_run(bare, name="run 3", length=8.0, fall=0.0005)
            second, lower = replace(first, name="run 2"), replace(a_step(drop), name="lower")
            return run_down(with_reaches(plain, first, a_step(0.032), second, lower, last), 0.003)

        free, water = down(0.2), down(0.005)
        assert all(np.all(lip.tailwater <= 0) for lip in free.lips)
        for lip, below in zip(water.lips[1:], water.runs[1:], strict=True):
            assert np.all(lip.tailwater > 0)
            assert np.all(lip.head > lip.free)
            level = water.level[:, :, below.stations.start]
            assert lip.tailwater == pytest.approx(level - lip.crest, abs=1e-12)

    def test_a_pool_that_ends_at_a_drowned_lip_rises_with_it(self, plain: Job, bare: BedMakeUp) -> None:
        last = a_run(bare, name="run 2", fall=0.01)
        water = run_down(with_reaches(plain, a_run(bare, length=4.0), self.pool, a_step(0.005), last), 0.003)
        lip, (pool,) = water.lips[1], water.pools
        assert np.all(lip.head > lip.free)
        assert pool.level - pool.rim == pytest.approx(lip.head, abs=1e-12)

    def test_a_free_lip_keeps_its_own_head(self, plain: Job, bare: BedMakeUp) -> None:
        water = run_down(self.course(plain, bare, 0.2), 0.001, 0.003)
        for lip in water.lips:
            assert np.array_equal(lip.head, lip.free)
            assert np.array_equal(lip.head, heads_over(lip.kind, lip.unit_flow))


class TestLevels:
    def test_uniform_flow_stands_its_depth_over_the_bed(self, plain: Job) -> None:
        """Depth is square to the bed, so upright it is longer by (1 + S**2)**0.5."""
        water = run_down(plain, 0.003)
        bed = 100.0 - 0.05 * np.linspace(0, 10, water.level.shape[2])
        assert water.level[MIDDLE, 0] - bed == pytest.approx(water.depth[MIDDLE, 0] * hypot(1, 0.05), rel=1e-9)

    def test_a_lip_throws_its_level_back(self, plain: Job, bare: BedMakeUp) -> None:
        """No water behind a lip stands lower than lip and head: on 1 % it reaches back over the bed."""
        water = run_down(with_reaches(plain, a_run(bare, fall=0.1), a_step()), 0.003)
        lip = water.lips[1]
        assert water.level[MIDDLE, 0].min() >= lip.crest + lip.head[MIDDLE, 0] - 1e-12
        assert water.level[MIDDLE, 0, -1] == pytest.approx(
            max(lip.crest + lip.head[MIDDLE, 0], 99.9 + water.depth[MIDDLE, 0, -1]), abs=1e-5
        )

    def test_pool_rises_by_the_head_over_the_lip_it_ends_at(self, plain: Job, bare: BedMakeUp) -> None:
        """Hand calculation: 3 L/s over 0.6 m of flat slab is (0.005 / 1.45)**(2/3) - 0.001 = 21.82 mm."""
        pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)
        water = run_down(with_reaches(plain, a_run(bare), pool, a_step()), 0.003)
        rise = water.pools[0].level[MIDDLE, 0] - water.pools[0].rim
        assert rise == pytest.approx(0.02182, abs=2e-5)

    def test_pool_over_a_run_rises_by_its_rim_or_the_energy_below(self, plain: Job, bare: BedMakeUp) -> None:
        """Hand calculation: 3 L/s over 0.6 m of boulders, C 1.44, is 21.9 mm. A run at 1 in 5000 needs far more: its
        depth and V**2/2g."""
        pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)
        steep = run_down(with_reaches(plain, pool, a_run(bare)), 0.003)
        assert steep.pools[0].level[MIDDLE, 0] - 100.0 == pytest.approx(0.0219, abs=1e-4)
        flat = run_down(with_reaches(plain, pool, a_run(bare, fall=0.002)), 0.003)
        depth = flat.depth[MIDDLE, 0, flat.runs[0].stations.start]
        energy = depth + (0.003 / (0.6 * depth)) ** 2 / (2 * GRAVITY)
        assert energy > 0.022
        assert flat.pools[0].level[MIDDLE, 0] - 100.0 == pytest.approx(energy, rel=1e-9)

    def test_still_water_lies_level_behind_a_lip(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Hand calculation: the lip at 99.50 holds water in the stones 2.08 m back, where the lining comes up to it."""
        job = with_reaches(plain, a_run(pebbles), a_step())
        water = run_down(job, 0.003)
        at = np.linspace(0, 10, len(water.still))
        assert water.still[at > 8] == pytest.approx(99.5, abs=1e-9)
        assert water.held[at > 8].all()
        assert not water.held[(at > 0) & (at < 7.75)].any()

    def test_nothing_is_held_at_the_head_of_a_run(self, plain: Job, pebbles: BedMakeUp) -> None:
        """The lip at 99.50 stands half a metre under the stones of the head: they drain when the pump stops."""
        water = run_down(with_reaches(plain, a_run(pebbles), a_step()), 0.003)
        assert not water.held[0]
        assert water.still[0] < 99.95

    def test_nothing_is_held_on_the_last_run(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Its foot is open: the water leaves into the reservoir as it comes."""
        water = run_down(with_reaches(plain, a_run(pebbles)), 0.003)
        assert not water.held[1:].any()

    def test_pool_rests_at_its_rim(self, hazel_design: Design) -> None:
        at, water = hazel_design.course.stations, hazel_design.water
        for pool in water.pools:
            assert water.still[at.of(pool.number)] == pytest.approx(pool.rim, abs=1e-12)


class TestStored:
    def test_film_is_area_times_length(self, plain: Job) -> None:
        """One long uniform run: width times depth times its 10 m."""
        water = run_down(plain, 0.003)
        along = np.hypot(10.0, 0.5)
        assert water.stored.film[MIDDLE, 0] == pytest.approx(0.6 * water.depth[MIDDLE, 0, 5] * along, rel=2e-3)
        assert water.stored.pores[MIDDLE, 0] == 0

    def test_film_of_the_reference(self, plain: Job, bare: BedMakeUp) -> None:
        """19.38 mm deep, 0.6 m wide, 30 m long at 5 %: 0.349 m3, told as 0.35 m3."""
        long = with_reaches(plain, a_run(replace(bare, manning=0.06), length=30.0, fall=1.5))
        assert run_down(long, 0.003).stored.film[MIDDLE, 0] == pytest.approx(0.349, rel=3e-3)

    def test_pores_less_the_wedge_behind_a_lip(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Hand calculation: 0.6 m of layer 0.1 m deep over 10 m is 0.6 m3. Lying still behind the lip is a triangle
        0.1 m deep and 0.1 / 0.05 = 2 m long: 0.06 m3. What moves drains 0.40 - 0.05 of the rest: 0.189 m3. What stays
        is 0.40 of the wedge and 0.05 of the rest: 0.024 + 0.027 = 0.051 m3. A station stands for half its spacing, so
        either end may be 0.125 m out: 2 %."""
        no_fleece = replace(plain, layers=replace(plain.layers, fleece_over=0.0))
        stored = run_down(with_reaches(no_fleece, a_run(pebbles), a_step()), 0.02).stored
        assert stored.pores[MIDDLE, 0] == pytest.approx(0.189, rel=0.02)
        assert stored.kept_pores[MIDDLE, 0] == pytest.approx(0.051, abs=0.02 * 0.189)

    def test_everything_between_the_stones_is_voids_times_layer(self, plain: Job, pebbles: BedMakeUp) -> None:
        """Hand calculation: 0.40 of 0.6 m3, whoever keeps it."""
        stored = run_down(with_reaches(plain, a_run(pebbles), a_step()), 0.02).stored
        assert stored.pores[MIDDLE, 0] + stored.kept_pores[MIDDLE, 0] == pytest.approx(
            0.24 * np.hypot(1.0, 0.05), rel=1e-9
        )

    def test_pool_volume(self, plain: Job, bare: BedMakeUp) -> None:
        """Closed form: 1.0 m long, 1.2 m wide, 0.25 m deep; half of it flat, half rising 1 in 2:
        1.2 x (0.5 x 0.25 + 0.5 x 0.125) = 0.225 m3."""
        pool = Pool(name="pool", length=1.0, width=1.2, depth=0.25)
        assert run_down(with_reaches(plain, pool, a_run(bare)), 0.003).pools[0].full == pytest.approx(0.225, rel=1e-9)

    @pytest.mark.parametrize(("length", "depth"), [(1.0, 0.2), (3.0, 0.3), (0.8, 0.1)])
    @pytest.mark.parametrize("sides", [0.0, 0.5])
    def test_pool_volume_by_closed_form(
        self, plain: Job, bare: BedMakeUp, length: float, depth: float, sides: float
    ) -> None:
        """Closed form: flat floor A (L - 2d), and the integral of (w - z y) y up the way out, 2 (w d**2/2 - z d**3/3).
        Stations every 0.25 m or so cut its corner: 3 %."""
        wide = replace(plain, course=replace(plain.course, side_slope=sides))
        pool = Pool(name="pool", length=length, width=1.2, depth=depth)
        exact = (1.2 - sides * depth) * depth * (length - 2 * depth)
        exact += 2 * (1.2 * depth**2 / 2 - sides * depth**3 / 3)
        full = run_down(with_reaches(wide, pool, a_run(bare)), 0.003).pools[0].full
        assert full == pytest.approx(exact, rel=0.03)

    def test_pool_lends_its_plan_times_its_rise(self, plain: Job, bare: BedMakeUp) -> None:
        pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)
        water = run_down(with_reaches(plain, a_run(bare), pool, a_step()), 0.003)
        assert water.stored.pools[MIDDLE, 0] == pytest.approx(1.2 * 0.02182, rel=1e-3)
        assert water.stored.kept_pools[MIDDLE, 0] == pytest.approx(water.pools[0].full, rel=1e-12)

    def test_box(self, plain: Job) -> None:
        """Hand calculation: 0.5 m of flat slab, (0.006 / 1.45)**(2/3) - 0.001 = 24.77 mm over 0.4 by 0.5 m; 0.3 m of
        box fills once."""
        stored = run_down(plain, 0.003).stored
        assert stored.box[MIDDLE, 0] == pytest.approx(0.02477 * 0.2, rel=1e-3)
        assert stored.kept_box[MIDDLE, 0] == pytest.approx(0.3 * 0.2, rel=1e-9)

    def test_sums(self, hazel_design: Design) -> None:
        stored = hazel_design.water.stored
        whole: FloatArray = stored.film + stored.pools + stored.pores + stored.box
        assert np.array_equal(stored.in_motion, whole)
        assert np.array_equal(stored.kept, stored.kept_pools + stored.kept_pores + stored.kept_box)

    def test_wet_area(self, plain: Job, bare: BedMakeUp) -> None:
        """Hand calculation: 10 x 0.6 m of run and 1.0 x 1.2 m of pool."""
        pool = Pool(name="pool", length=1.0, width=1.2, depth=0.2)
        assert run_down(with_reaches(plain, a_run(bare), pool, a_step()), 0.003).wet_area == pytest.approx(7.2)
