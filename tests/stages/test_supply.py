"""Pump and hose: duty, speed, watts and a year of it, by hand and against the reference library ``fluids``."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from fluids.friction import Swamee_Jain_1976
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from beckwright.compose import Design, design
from beckwright.job.model import Hose, Job, NamedFlow, Pump, Running
from beckwright.stages.supply import Duty, LaidHose, PumpCurve, Supply, curve_of, duty_of, loss_sum, speed_for
from beckwright.stages.supply.hose import friction_of

GRAVITY = 9.80665


@pytest.fixture(scope="session")
def pump(plain: Job) -> Pump:
    """4.0 m shut, 3.0 m at 2 L/s, 0 at 4 L/s; 100, 140, 160 W."""
    return plain.pumps.chosen


@pytest.fixture(scope="session")
def hose(plain: Job) -> Hose:
    """50 mm of bore, smooth."""
    return plain.route.chosen


@pytest.fixture(scope="session")
def curve(pump: Pump) -> PumpCurve:
    """The same as plain numbers."""
    return curve_of(pump)


def without_loss(hose: Hose) -> LaidHose:
    return LaidHose(hose=replace(hose, bore=1.0), length=1e-9, fittings=0.0, viscosity=1e-6)


def supplied(job: Job) -> Supply:
    return design(job).supply


class TestDuty:
    @pytest.mark.parametrize(
        ("lift", "flow", "watts"),
        [(3.5, 0.001, 120), (3.0, 0.002, 140), (1.5, 0.003, 150), (0.75, 0.0035, 155)],
    )
    def test_straight_between_the_rows(
        self, curve: PumpCurve, hose: Hose, lift: float, flow: float, watts: float
    ) -> None:
        """Hand calculation, no loss: the flow at which the table gives the lift."""
        duty = duty_of(curve, 1, without_loss(hose), lift)
        assert isinstance(duty, Duty)
        assert (duty.flow, duty.watts) == pytest.approx((flow, watts), rel=1e-6)

    def test_two_together_without_loss_give_twice(self, curve: PumpCurve, hose: Hose) -> None:
        duty = duty_of(curve, 2, without_loss(hose), 1.5)
        assert isinstance(duty, Duty)
        assert (duty.flow, duty.watts) == pytest.approx((0.006, 300), rel=1e-6)

    @pytest.mark.parametrize("bore", [0.012, 0.025, 0.05, 0.1])
    def test_pump_and_hose_agree_where_a_search_of_the_library_finds_it(
        self, curve: PumpCurve, hose: Hose, bore: float
    ) -> None:
        """scipy's brentq, at lifts that lead through water that runs smooth, unsteady and rough."""
        laid = LaidHose(hose=replace(hose, bore=bore), length=60.0, fittings=4.0, viscosity=1.3e-6)
        for lift in np.linspace(0.0, 3.99, 200).tolist():
            duty = duty_of(curve, 1, laid, lift)
            assert isinstance(duty, Duty)
            if duty.flow < curve.flows[-1]:
                agree = brentq(lambda flow: curve.head(flow) - lift - laid.head_lost(flow), 1e-9, 0.004, xtol=1e-15)  # noqa: B023
                assert duty.flow == pytest.approx(agree, abs=2e-10)

    def test_a_lift_the_pump_cannot_reach(self, curve: PumpCurve, hose: Hose) -> None:
        assert duty_of(curve, 1, without_loss(hose), 4.0) is None
        assert duty_of(curve, 1, without_loss(hose), 5.0) is None

    def test_no_flow_is_told_beyond_the_last_row(self, curve: PumpCurve, hose: Hose) -> None:
        duty = duty_of(curve, 1, without_loss(hose), 0.0)
        assert isinstance(duty, Duty)
        assert duty.flow == pytest.approx(0.004, rel=1e-9)

    def test_head_given_is_head_needed(self, plain: Job, pump: Pump) -> None:
        duty = supplied(plain).chosen.flat_out
        assert isinstance(duty, Duty)
        given = 4.0 - 500 * duty.flow if duty.flow < 0.002 else 3.0 - 1500 * (duty.flow - 0.002)
        assert duty.head == pytest.approx(given, rel=1e-7)
        assert duty.head == pytest.approx(duty.lift + duty.losses.along + duty.losses.fittings, rel=1e-12)


class TestLosses:
    @given(flow=st.floats(1e-5, 0.01))
    def test_the_quick_sum_is_the_slow_one(self, hose: Hose, flow: float) -> None:
        laid = LaidHose(hose=replace(hose, loss_factor=1.2), length=20.0, fittings=1.5, viscosity=1.0e-6)
        losses = laid.losses_at(flow)
        assert laid.head_lost(flow) == pytest.approx(losses.along + losses.fittings, rel=1e-12)

    def test_losses_by_the_reference_library(self, hose: Hose) -> None:
        """2 L/s through 20 m of 50 mm, roughness 0.01 mm, K 1.5, 1.0e-6 m2/s: friction by ``fluids``."""
        laid = LaidHose(hose=hose, length=20.0, fittings=1.5, viscosity=1.0e-6)
        losses = laid.losses_at(0.002)
        velocity = 0.002 / (pi * 0.025**2)
        reynolds = velocity * 0.05 / 1e-6
        head = velocity**2 / (2 * GRAVITY)
        assert losses.velocity == pytest.approx(velocity, rel=1e-12)
        assert losses.reynolds == pytest.approx(reynolds, rel=1e-12)
        assert losses.along == pytest.approx(Swamee_Jain_1976(reynolds, 1e-5 / 0.05) * 400 * head, rel=1e-4)
        assert losses.fittings == pytest.approx(1.5 * head, rel=1e-12)

    @pytest.mark.parametrize(
        ("litres_an_hour", "bore", "length", "loss"),
        [
            (2500, 0.032, 8, 0.45),
            (4500, 0.038, 23, 1.33),
            (9000, 0.050, 23, 1.33),
            (12000, 0.063, 23, 0.77),
            (5200, 0.038, 17, 1.38),
        ],
    )
    def test_hose_friction_of_the_briefs(
        self, hose: Hose, *, litres_an_hour: float, bore: float, length: float, loss: float
    ) -> None:
        """Hand calculation beside the four briefs: a wall of 0.1 mm, K 4, both losses in one; 1.2e-6 m2/s."""
        spiral = replace(hose, bore=bore, roughness=1e-4, wall="spiral")
        laid = LaidHose(hose=spiral, length=length, fittings=4.0, viscosity=1.2e-6)
        losses = laid.losses_at(litres_an_hour / 3.6e6)
        assert losses.along + losses.fittings == pytest.approx(loss, rel=0.02, abs=0.006)

    def test_loss_factor_multiplies_what_is_lost_along(self, hose: Hose) -> None:
        one, two = (
            LaidHose(hose=replace(hose, loss_factor=factor), length=20.0, fittings=1.5, viscosity=1e-6).losses_at(0.002)
            for factor in (1.0, 2.0)
        )
        assert two.along == pytest.approx(2 * one.along, rel=1e-12)
        assert two.fittings == one.fittings

    def test_friction_by_the_law_that_holds(self, hose: Hose) -> None:
        """64/Re at 1000; the published 0.0185 at 100 000 (P02 of the reference: 0.01845245 at 1e-4 of the bore)."""
        fine = replace(hose, roughness=0.05e-4)
        assert friction_of(1000, fine) == pytest.approx(0.064, rel=1e-12)
        assert friction_of(1e5, fine) == pytest.approx(0.01845245, rel=1e-6)
        assert friction_of(1e5, replace(fine, wall="corrugated")) == 0.08

    def test_sum_of_fittings(self, plain: Job) -> None:
        """Entrance 0.5, two medium bends of 0.8, exit 1.0 (EPANET 2.2, table 3.3): 3.1."""
        route = replace(plain.route, fittings=(("entrance", 1), ("bend 90 medium", 2), ("exit", 1)))
        assert loss_sum(route) == pytest.approx(3.1, abs=1e-12)


class TestSpeed:
    def test_speed_by_hand(self, curve: PumpCurve) -> None:
        """1 L/s at 1.0 m: 4 n**2 - 0.5 n - 1 = 0 gives 0.5664."""
        assert speed_for(curve, 0.001, 1.0) == pytest.approx((0.5 + sqrt(16.25)) / 8, rel=1e-9)

    @given(at_full=st.floats(1e-5, 0.0039), speed=st.floats(0.1, 1.0))
    def test_speed_undoes_the_affinity_laws(self, curve: PumpCurve, at_full: float, speed: float) -> None:
        """Q goes with n and H with n**2 (Crane TP-410, example 7-33)."""
        head = float(np.interp(at_full, [0, 0.002, 0.004], [4.0, 3.0, 0.0]))
        assert speed_for(curve, speed * at_full, speed**2 * head) == pytest.approx(speed, rel=1e-7)

    @given(flow=st.floats(1e-4, 0.01), head=st.floats(0.01, 8))
    def test_above_one_just_where_the_table_gives_less(self, curve: PumpCurve, flow: float, head: float) -> None:
        can = flow <= 0.004 and float(np.interp(flow, [0, 0.002, 0.004], [4.0, 3.0, 0.0])) >= head
        speed = speed_for(curve, flow, head)
        assert (speed <= 1 + 1e-9) if can else (speed > 1 - 1e-9)


class TestNamedFlows:
    def test_a_flow_at_its_speed(self, plain: Job, pump: Pump) -> None:
        """The watts of the table at Q/n, times n**3; held back by a valve, the watts of the table at Q."""
        low = supplied(plain).chosen.flows[0]
        duty = low.duty
        assert isinstance(duty, Duty)
        assert duty.flow == 0.001
        assert 0.1 < duty.speed < 1
        full = duty.flow / duty.speed
        assert duty.speed**2 * float(np.interp(full, pump.flows, pump.heads)) == pytest.approx(duty.head, rel=1e-9)
        assert duty.watts == pytest.approx(duty.speed**3 * float(np.interp(full, pump.flows, pump.watts)), rel=1e-9)
        assert low.throttled == pytest.approx(120, rel=1e-9)

    def test_lift_is_from_the_running_level_to_where_the_hose_lets_go(self, plain: Job) -> None:
        designed = design(plain)
        running = designed.reservoir.running[1]
        for number, supplied_flow in enumerate(designed.supply.chosen.flows):
            assert supplied_flow.lift == pytest.approx(100.2 - running[number], abs=1e-12)
        flat_out = designed.supply.chosen.flat_out
        assert isinstance(flat_out, Duty)
        assert flat_out.lift == pytest.approx(100.2 - running.min(), abs=1e-12)

    def test_water_is_never_lifted_from_below_where_the_pump_stops(self, withy: Job) -> None:
        """A pit too small is topped up by hose until the stream is full; the pump cuts out 230 mm over its floor, so
        it can never lift more than from there to the hose's outlet. (The brief's hand calculation takes 1.50 m.)"""
        designed = design(withy)
        flat_out = designed.supply.chosen.flat_out
        assert isinstance(flat_out, Duty)
        assert flat_out.lift <= withy.source.hose_outlet - designed.reservoir.pit.pump_minimum + 1e-9

    def test_a_pump_runs_no_slower_than_it_can(self, plain: Job, pump: Pump) -> None:
        """Hand calculation at 0.9: (Q/0.9) read off the table, times 0.729."""
        slow = replace(plain, pumps=replace(plain.pumps, chosen=replace(pump, slowest=0.9)))
        duty = supplied(slow).chosen.flows[0].duty
        assert isinstance(duty, Duty)
        assert duty.speed == 0.9
        assert duty.watts == pytest.approx(0.729 * (100 + 20_000 * 0.001 / 0.9), rel=1e-9)

    def test_a_flow_the_pair_cannot_give(self, plain: Job) -> None:
        much = replace(plain, flows=(*plain.flows, NamedFlow(name="flood", flow=0.006)))
        given = supplied(much).chosen.flows[2]
        assert given.duty is None
        assert given.throttled is None

    def test_two_pumps_share_the_flow(self, plain: Job, pump: Pump) -> None:
        both = replace(plain, pumps=replace(plain.pumps, together=2))
        duty = supplied(both).chosen.flows[1].duty
        assert isinstance(duty, Duty)
        each = 0.0015 / duty.speed
        assert duty.speed**2 * float(np.interp(each, pump.flows, pump.heads)) == pytest.approx(duty.head, rel=1e-9)
        watts = 2 * duty.speed**3 * float(np.interp(each, pump.flows, pump.watts))
        assert duty.watts == pytest.approx(watts, rel=1e-9)


class TestYear:
    def test_energy_and_cost(self, plain: Job) -> None:
        """1000 hours at W watts are W kilowatt hours, at 0.36 each."""
        chosen = supplied(plain).chosen
        duty = chosen.flows[0].duty
        assert isinstance(duty, Duty)
        assert chosen.energy == pytest.approx(duty.watts * 3.6e6, rel=1e-12)
        assert chosen.cost == pytest.approx(duty.watts * 0.36, rel=1e-12)

    def test_no_price_no_cost(self, plain: Job) -> None:
        free = replace(plain, prices=replace(plain.prices, energy=None))
        assert supplied(free).chosen.cost is None
        assert supplied(free).chosen.energy == supplied(plain).chosen.energy

    def test_no_year_of_a_flow_that_cannot_be_given(self, plain: Job) -> None:
        job = replace(
            plain,
            flows=(*plain.flows, NamedFlow(name="flood", flow=0.006)),
            running=(Running(flow="flood", time=3600.0, when="an hour"),),
        )
        assert supplied(job).chosen.energy is None
        assert supplied(job).chosen.cost is None


class TestOffers:
    def test_every_pair_is_offered_once(self, hazel: Job, hazel_design: Design) -> None:
        pairs = [(offer.pump.name, offer.hose.name) for offer in hazel_design.supply.offers]
        assert len(set(pairs)) == len(pairs) == len(hazel.pumps.offered) * len(hazel.route.offered)

    def test_chosen_pair_is_one_of_them(self, hazel: Job, hazel_design: Design) -> None:
        chosen = hazel_design.supply.chosen
        assert chosen in hazel_design.supply.offers
        assert (chosen.pump, chosen.hose) == (hazel.pumps.chosen, hazel.route.chosen)

    def test_each_pair_flat_out_gives_the_head_it_needs(self, hazel_design: Design) -> None:
        """Law: where pump and hose agree the table's head is the lift and what is lost on the way."""
        able = [(offer, offer.flat_out) for offer in hazel_design.supply.offers if offer.flat_out is not None]
        assert len(able) > 10
        for offer, duty in able:
            needed = offer.lift + offer.laid.head_lost(duty.flow)
            if duty.flow < offer.curve.flows[-1] * offer.together:
                assert offer.curve.head(duty.flow / offer.together) == pytest.approx(needed, abs=1e-6)
        assert hazel_design.supply.chosen.flat_out == hazel_design.supply.flat_out[1]

    def test_band_is_what_the_wall_may_lose(self, hazel_design: Design) -> None:
        """A spiral hose loses 1.0 to 2.0 times a smooth one, 1.2 in the middle."""
        least, middle, most = hazel_design.supply.flat_out
        assert isinstance(least, Duty)
        assert isinstance(middle, Duty)
        assert isinstance(most, Duty)
        assert least.flow < middle.flow < most.flow

    def test_smooth_pipe_has_no_band_of_its_own(self, plain: Job) -> None:
        """What is left of the band is the running level's."""
        least, middle, most = supplied(plain).flat_out
        assert isinstance(least, Duty)
        assert isinstance(middle, Duty)
        assert isinstance(most, Duty)
        assert least.lift >= middle.lift >= most.lift
        assert most.flow - least.flow < 0.02 * middle.flow
