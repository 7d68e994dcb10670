"""Lips and their falls: how water shares itself across a lip, where its sheet lands, what the pool below must take."""

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from beckwright.base.findings import Finding, Severity
from beckwright.compose import Design, design
from beckwright.equations.drops import free_fall_distance, mean_velocity, nappe_length, tailwater_depth
from beckwright.equations.lips import HEAD_ADDITION, brink_depth
from beckwright.equations.open_channel import critical_depth
from beckwright.figures.falls import fall_figures
from beckwright.job.model import BedMakeUp, Job, NamedFlow, Pool, Reach, Run, Step
from beckwright.stages.course import set_out_course
from beckwright.stages.falls import Fall, Sheet, fall_water, share_left
from beckwright.stages.findings.falls import fall_findings
from beckwright.stages.ground import build_ground
from beckwright.stages.water import Water, run_water
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables.lips import LIP_COEFFICIENTS

heads = st.floats(0.002, 0.08)
tilts = st.floats(1e-5, 0.08)


def level_flow(head: float) -> float:
    return head**1.5


class TestShares:
    @given(head=heads, tilt=tilts)
    def test_shares_by_quadrature(self, head: float, tilt: float) -> None:
        """Reference: root and integral by scipy. The law runs to 0 at its own zero; the lip is 1 m wide."""

        def over(middle: float, start: float, end: float) -> float:
            edge = min(max((middle / tilt) + 0.5, start), end)
            carried, _ = quad(lambda x: max(middle + tilt * (0.5 - x), 0.0) ** 1.5, start, edge, epsabs=1e-13)
            return float(carried)

        middle = brentq(lambda trial: over(trial, 0, 1) - level_flow(head), -tilt / 2, head + tilt, xtol=1e-14)
        left = over(middle, 0, 0.5) / level_flow(head)
        assert share_left(np.array(head), np.array(tilt)) == pytest.approx(left, abs=1e-5)

    @given(head=heads, tilt=tilts)
    def test_a_mirrored_lip_mirrors_its_shares(self, head: float, tilt: float) -> None:
        left, mirrored = share_left(np.array(head), np.array([tilt, -tilt]))
        assert left + mirrored == pytest.approx(1, abs=1e-12)
        assert 0.5 <= left <= 1

    @given(head=heads)
    def test_a_level_lip_shares_evenly(self, head: float) -> None:
        assert share_left(np.array(head), np.array([0.0, 1e-9])) == pytest.approx([0.5, 0.5], abs=1e-5)

    @given(head=heads, tilt=tilts, factor=st.floats(1.01, 3))
    def test_more_tilt_draws_more_aside_and_more_water_less(self, head: float, tilt: float, factor: float) -> None:
        left = share_left(np.array(head), np.array(tilt))
        assert share_left(np.array(head), np.array(tilt * factor)) >= left - 1e-9
        assert share_left(np.array(head * factor), np.array(tilt)) <= left + 1e-9


def course_of(plain: Job, *reaches: Reach, flows: tuple[float, ...] = (0.001, 0.003), side_slope: float = 0.0) -> Job:
    """The plain job with other reaches and flows; the reaches are 10 m long together."""
    return replace(
        plain,
        course=replace(plain.course, reaches=reaches, side_slope=side_slope),
        flows=tuple(NamedFlow(name=f"flow {n}", flow=flow) for n, flow in enumerate(flows, 1)),
    )


def run(bed: BedMakeUp, length: float, fall: float = 0.1, name: str = "run 1", width: float = 0.6) -> Run:
    return Run(name=name, length=length, fall=fall, width=width, bed=bed, sills=())


STEP = Step(name="lip 1", drop=0.3, lip_width=0.6, lip="flat slab")
POOL = Pool(name="pool 1", length=1.0, width=1.2, depth=0.2)

Made = Callable[[Job], tuple[Water, tuple[Fall, ...]]]


def fallen(job: Job) -> tuple[Water, tuple[Fall, ...]]:
    course = set_out_course(job.course, job.source, job.layers, build_ground(job.survey))
    water = run_water(course, job.source, job.flows, job.water_temperature)
    return water, fall_water(course, water)


def sheet_of(fall: Fall) -> Sheet:
    assert fall.sheet is not None
    return fall.sheet


@pytest.fixture(scope="module")
def stepped(plain: Job, bare: BedMakeUp) -> Job:
    """A run of 5 m, 300 mm over a flat slab into a pool 200 mm deep, 4 m more of run."""
    return course_of(plain, run(bare, 5.0), STEP, POOL, run(bare, 4.0, name="run 2"))


@pytest.fixture(scope="module")
def drowned(stepped: Job, bare: BedMakeUp, plain: Job) -> Job:
    """A drop of 10 mm: the pool rises over the crest of its lip."""
    low = course_of(stepped, run(bare, 5.0), replace(STEP, drop=0.01), POOL, run(bare, 4.0, name="run 2"))
    return replace(low, flows=plain.flows)


def found(job: Job, code: str) -> list[Finding]:
    return [finding for finding in fall_findings(*fallen(job)) if finding.code == code]


class TestSheet:
    def test_drop_is_counted_to_the_floor_and_fall_to_the_water(self, stepped: Job) -> None:
        """300 mm of drop and 200 mm of pool: 500 mm to the floor; to the water 300 mm less what the pool rises."""
        water, (_, fall) = fallen(stepped)
        sheet, (pool,) = sheet_of(fall), water.pools
        assert sheet.floor_drop == pytest.approx(0.5)
        assert sheet.fall == pytest.approx(0.3 - (pool.level - pool.rim))
        assert sheet.basin.pool_depth == pytest.approx(0.2 + (pool.level - pool.rim)[LOW])

    def test_landing_by_hand(self, stepped: Job) -> None:
        """3 L/s over 0.6 m is 5 L/s for each metre: 0.512 m/s at the brink (see the hand calculation of that sheet).
        The drop law over 0.5 m: D 2.04e-5, Ld 4.30 x 0.5 x 0.0542 = 116 mm, y2 1.66 x 0.5 x 0.0542 = 45 mm."""
        _, (_, fall) = fallen(stepped)
        sheet = sheet_of(fall)
        assert sheet.landed.by_fall[MIDDLE, 1] == pytest.approx(
            0.512 * (2 * sheet.fall[MIDDLE, 1] / 9.80665) ** 0.5, rel=1e-3
        )
        assert sheet.number[1] == pytest.approx(2.04e-5, rel=5e-3)
        assert sheet.landed.by_drop[1] == pytest.approx(0.116, abs=1e-3)
        assert sheet.basin.tailwater[1] == pytest.approx(0.045, abs=5e-4)
        assert sheet.landed.far[1] == pytest.approx(max(1.3 * 0.116, sheet.landed.by_fall[LOW, 1]), abs=1.5e-3)
        assert sheet.landed.near[1] == pytest.approx(0.7 * 0.116, abs=1e-3)

    @pytest.mark.parametrize(
        ("unit_flow", "drop", "landing", "tailwater", "at_toe", "in_all"),
        [(0.005, 0.20, 98, 38, 52, 82), (0.005, 0.40, 112, 43, 64, 90), (0.0083, 0.30, 139, 54, 53, 83)],
    )
    def test_garden_falls(
        self,
        plain: Job,
        bare: BedMakeUp,
        unit_flow: float,
        drop: float,
        landing: float,
        tailwater: float,
        at_toe: float,
        in_all: float,
    ) -> None:
        """Worked apart from this code with the same laws: mm and per cent, without a pool."""
        step = replace(STEP, drop=drop)
        job = course_of(plain, run(bare, 5.0), step, run(bare, 5.0, name="run 2"), flows=(0.6 * unit_flow,))
        sheet = sheet_of(fallen(job)[1][1])
        assert sheet.landed.by_drop[0] * 1000 == pytest.approx(landing, abs=1)
        assert sheet.basin.tailwater[0] * 1000 == pytest.approx(tailwater, abs=0.6)
        assert sheet.spent.at_toe[0] * 100 == pytest.approx(at_toe, abs=0.6)
        assert sheet.spent.in_all[0] * 100 == pytest.approx(in_all, abs=0.6)

    def test_energy_is_whole(self, stepped: Job) -> None:
        """What heats the water and what it keeps is what it had: rho g Q E0."""
        _, (_, fall) = fallen(stepped)
        sheet = sheet_of(fall)
        had = 1000 * 9.80665 * fall.flows * sheet.spent.energy
        assert sheet.spent.heating == pytest.approx(had * sheet.spent.in_all)
        assert np.all((sheet.spent.at_toe > 0) & (sheet.spent.at_toe < sheet.spent.in_all) & (sheet.spent.in_all < 1))

    def test_the_source_has_a_lip_and_no_fall(self, stepped: Job) -> None:
        _, (source, _) = fallen(stepped)
        assert source.sheet is None
        assert source.voice == "an even sheet"

    def test_depths_are_those_of_the_lip(self, hazel_design: Design) -> None:
        for fall, lip in zip(fall_water(hazel_design.course, hazel_design.water), hazel_design.water.lips, strict=True):
            assert fall.lip is lip
            assert np.all((lip.brink < fall.critical) & (fall.critical[None] < lip.head[HIGH] + HEAD_ADDITION))

    def test_last_fall_into_the_reservoir(self, plain: Job, bare: BedMakeUp) -> None:
        _, (_, fall) = fallen(course_of(plain, run(bare, 10.0), STEP))
        sheet = sheet_of(fall)
        assert sheet.below == "reservoir"
        assert sheet.fall == pytest.approx(0.3)
        assert sheet.steps.slope == 0

    def test_no_flow_is_no_trouble(self, stepped: Job) -> None:
        """Flat out, a pump that cannot lift the water gives no flow at all."""
        course = set_out_course(stepped.course, stepped.source, stepped.layers, build_ground(stepped.survey))
        water = run_water(course, stepped.source, (), 12.0)
        assert [fall.critical.shape for fall in fall_water(course, water)] == [(0,), (0,)]

    def test_step_slope_and_regime(self, plain: Job, bare: BedMakeUp) -> None:
        """Two lips 0.6 m apart, 0.3 m high: 1 in 2. Sheets up to 0.89 - 0.20 = 0.69 drops; skims above 1.0375."""
        lips = (STEP, run(bare, 0.6, 0.0001, "run 2"), replace(STEP, name="lip 2"), run(bare, 4.4, name="run 3"))
        flows = tuple(0.6 * 9.80665**0.5 * (0.3 * relative) ** 1.5 for relative in (0.5, 0.8, 1.2))
        job = course_of(plain, run(bare, 5.0), *lips, flows=flows)
        steps = sheet_of(fallen(job)[1][1]).steps
        assert steps.slope == pytest.approx(0.5)
        assert steps.relative == pytest.approx([0.5, 0.8, 1.2])
        assert steps.regimes == ("nappe", "between", "skimming")
        assert (finding := found(job, "skims-steps")[0]).severity is Severity.CAUTION
        assert "1.20 drops" in finding.says


@given(flow=st.floats(5e-4, 0.02), factor=st.floats(1.01, 3), drop=st.floats(0.1, 0.8))
def test_more_flow_never_lands_nearer(flow: float, factor: float, drop: float) -> None:
    def lands(unit_flow: float) -> tuple[float, float, float]:
        number = unit_flow**2 / (9.80665 * drop**3)
        speed = mean_velocity(unit_flow, brink_depth(critical_depth(unit_flow)))
        return free_fall_distance(speed, drop), nappe_length(drop, number), tailwater_depth(drop, number)

    assert all(more > less for more, less in zip(lands(factor * flow), lands(flow), strict=True))


class TestClinging:
    def test_breaks_free_at_its_limit(self, stepped: Job) -> None:
        """0.7 to 1.03 L/s for each metre (trade table): 0.42 to 0.618 L/s over 0.6 m; 1 L/s frees up to 0.971 m."""
        _, (_, fall) = fallen(stepped)
        assert fall.free_flow == pytest.approx([0.42e-3, 0.618e-3])
        assert fall.free_width[:, 0] == pytest.approx([0.971, 1.429], abs=1e-3)
        assert not fall.clings.any()

    def test_clings_below_it(self, stepped: Job) -> None:
        _, (_, fall) = fallen(replace(stepped, flows=(NamedFlow(name="less", flow=0.6e-3), *stepped.flows)))
        assert fall.clings.tolist() == [True, False, False]


class TestTilt:
    def test_tilted_lip_carries_all_of_the_flow(self, hazel_design: Design) -> None:
        """Reference: the lip law summed along the crest by scipy."""
        for fall in fall_water(hazel_design.course, hazel_design.water):
            coefficient = LIP_COEFFICIENTS[fall.lip.kind].amount
            for place, tilt in enumerate(fall.tilt.tilts):
                middle = float(fall.tilt.middle[MIDDLE, place, 0]) + HEAD_ADDITION
                end = min(middle / tilt + 0.5, 1.0)
                carried, _ = quad(lambda x, m=middle, t=tilt: (m + t * (0.5 - x)) ** 1.5, 0, end)
                assert coefficient * carried * fall.lip.width == pytest.approx(fall.flows[0], rel=1e-6)
                assert fall.tilt.dry[MIDDLE, place, 0] == pytest.approx(1 - end, abs=1e-9)

    def test_twice_as_much_over_the_lower_half(self, stepped: Job) -> None:
        _, (_, fall) = fallen(stepped)
        level = fall.lip.head[MIDDLE, 0] + HEAD_ADDITION
        assert share_left(np.array(level), np.array(fall.tilt.twice[MIDDLE, 0])) == pytest.approx(2 / 3, abs=1e-9)

    def test_a_centimetre_leaves_the_high_end_dry(self, plain: Job, bare: BedMakeUp) -> None:
        """A fifth of a litre over 0.6 m: H = (q / 1.45)**(2/3) = 3.75 mm. Dry from 1.842 H on, 6.9 mm of tilt. At 10 mm
        the wet part carries all: q = 2/5 C w**2.5 / 10 mm for each metre, so its deep end w is 8.01 mm: 20 % dry."""
        _, (_, fall) = fallen(course_of(plain, run(bare, 5.0), STEP, run(bare, 5.0, name="run 2"), flows=(0.0002,)))
        dry = fall.tilt.dry[MIDDLE, :, 0]
        assert dry[:3].tolist() == [0, 0, 0]
        assert dry[3] == pytest.approx(0.199, abs=1e-3)


class TestSound:
    def test_twice_as_loud_for_eight_times_the_water(self, plain: Job, bare: BedMakeUp) -> None:
        job = course_of(plain, run(bare, 5.0), STEP, run(bare, 5.0, name="run 2"), flows=(0.0005, 0.001, 0.004))
        _, (_, fall) = fallen(job)
        assert fall.louder(0.0005) == pytest.approx([0, 10 / 3, 10])
        assert fall.voice == "an even sheet on bare stone"

    def test_words_say_what_it_strikes(self, stepped: Job, pebbles: BedMakeUp) -> None:
        assert "drones" in fallen(stepped)[1][1].voice
        rough = replace(STEP, lip="boulders")
        stony = course_of(stepped, run(pebbles, 5.0), rough, run(replace(pebbles, laid="with boulders"), 5.0, name="r"))
        assert fallen(stony)[1][1].voice == "broken water on boulders, which listeners like best"


class TestFindings:
    def test_a_good_fall_has_only_its_notes(self, stepped: Job) -> None:
        codes = [finding.code for finding in fall_findings(*fallen(stepped))]
        assert codes == ["lip-level", "drops-untested"]

    def test_lip_out_of_level_is_told_once_for_the_smallest_flow(self, stepped: Job) -> None:
        (finding,) = found(stepped, "lip-level")
        assert finding.severity is Severity.NOTE
        assert "flow 1" in finding.place
        for low, high in re.findall(r"(\d+) parts over the lower half, (\d+) over the other", finding.says):
            assert int(low) + int(high) == 100
            assert int(low) > 50

    @pytest.mark.parametrize("length", [0.1, 0.2])
    def test_pool_too_short_and_its_cure(self, stepped: Job, bare: BedMakeUp, length: float) -> None:
        """The sheet lands about 150 mm out at the far end, the jump takes as much again."""

        def with_pool(long: float) -> Job:
            pool = replace(POOL, length=long)
            return course_of(stepped, run(bare, 5.0), STEP, pool, run(bare, 5.0 - long, name="run 2"))

        code, other = ("sheet-beyond-pool", "pool-short") if length == 0.1 else ("pool-short", "sheet-beyond-pool")
        (finding,) = found(with_pool(length), code)
        assert finding.severity is Severity.CAUTION
        assert not found(with_pool(length), other)
        wanted = int(re.search(r"(\d+) mm long", finding.cure)[1]) / 1000  # type: ignore[index]
        assert not found(with_pool(wanted), code)
        assert found(with_pool(wanted - 0.02), "pool-short")

    def test_pool_too_shallow_and_its_cure(self, stepped: Job, bare: BedMakeUp) -> None:
        def with_pool(deep: float) -> Job:
            return course_of(stepped, run(bare, 5.0), STEP, replace(POOL, depth=deep), run(bare, 4.0, name="run 2"))

        (finding,) = found(with_pool(0.01), "pool-shallow")
        deeper = int(re.search(r"Dig it (\d+) mm", finding.cure)[1]) / 1000  # type: ignore[index]
        assert not found(with_pool(0.01 + deeper + 0.01), "pool-shallow")

    @pytest.mark.parametrize(("drop", "splashes"), [(0.45, False), (0.46, True)])
    def test_drop_that_splashes(self, stepped: Job, bare: BedMakeUp, drop: float, splashes: bool) -> None:
        """Over 450 mm, common practice; lining one drop out each side, two to windward."""
        job = course_of(stepped, run(bare, 5.0), replace(STEP, drop=drop), POOL, run(bare, 4.0, name="run 2"))
        told = found(job, "drop-splashes")
        assert len(told) == splashes
        assert all("460 mm out each side, 920 mm to windward" in finding.cure for finding in told)

    def test_lip_wider_than_its_landing(self, stepped: Job, bare: BedMakeUp) -> None:
        narrow = run(bare, 5.0, name="run 2", width=0.4)
        (finding,) = found(course_of(stepped, run(bare, 5.0), STEP, narrow), "lip-wide")
        assert "600 mm" in finding.says
        assert "Narrow the lip to 400 mm" in finding.cure
        cured = course_of(stepped, run(bare, 5.0), replace(STEP, lip_width=0.4), narrow)
        assert not found(cured, "lip-wide")

    def test_drowned_lip(self, stepped: Job, bare: BedMakeUp) -> None:
        """20 mm of drop into a pool that rises 25 mm and more at 3 L/s."""
        low = course_of(stepped, run(bare, 5.0), replace(STEP, drop=0.02), POOL, run(bare, 4.0, name="run 2"))
        water, (_, fall) = fallen(low)
        assert (water.pools[0].level - water.pools[0].rim)[HIGH, 1] > 0.02
        assert sheet_of(fall).drowned[1]
        assert sheet_of(fall).fall.min() == 0
        assert found(low, "lip-drowned")[0].severity is Severity.CAUTION

    def test_drowned_lip_tells_its_head_and_what_it_would_be(self, drowned: Job) -> None:
        """Freely 5 L/s for each metre, C 1.705 to 1.40, take 19.5 to 22.4 mm."""
        _, (_, fall) = fallen(drowned)
        (finding,) = found(drowned, "lip-drowned")
        assert "19 to 23 mm if it were free" in finding.says
        assert f"{np.ceil(fall.lip.head[HIGH, 1] * 1000 - 1e-6):.0f} mm of head" in finding.says

    def test_what_a_drowned_lip_loses(self, drowned: Job) -> None:
        """Conservation: over the lip the energy line falls by its head less the water below; weight 9806.65 N/m3."""
        _, (_, fall) = fallen(drowned)
        lip, spent = fall.lip, sheet_of(fall).spent
        lost = lip.head[MIDDLE, 1] - lip.tailwater[MIDDLE, 1]
        assert lip.tailwater[MIDDLE, 1] > 0
        assert spent.heating[1] == pytest.approx(9806.65 * 0.003 * lost, rel=2e-3)
        assert spent.in_all[1] * spent.energy[1] == pytest.approx(lost, abs=1e-12)
        assert spent.energy[1] == pytest.approx(0.21 + lip.head[MIDDLE, 1], abs=1e-12)

    def test_each_kind_once(self, hazel_design: Design) -> None:
        water = hazel_design.water
        codes = [finding.code for finding in fall_findings(water, fall_water(hazel_design.course, water))]
        assert len(codes) == len(set(codes))


@pytest.mark.parametrize("make", ["hazel", "withy", "drowned"])
def test_every_figure_evaluates_to_its_amount_and_every_finding_names_one(
    request: pytest.FixtureRequest, make: str
) -> None:
    job = request.getfixturevalue(make)
    designed = design(job)
    falls = fall_water(designed.course, designed.water)
    figures = list(fall_figures(job, designed.water, falls, job.flows[0].name))
    names = {figure.name for figure in figures}
    assert len(names) == len(figures)
    for figure in figures:
        assert figure.low - 1e-12 <= figure.amount <= figure.high + 1e-12, figure.name
        if figure.equation is not None:
            inputs = {item.name: item.amount for item in figure.inputs}
            assert figure.equation(**inputs) == pytest.approx(figure.amount, rel=1e-9, abs=1e-12), figure.name
    told = {finding.figure for finding in fall_findings(designed.water, falls) if finding.figure}
    assert told <= names
