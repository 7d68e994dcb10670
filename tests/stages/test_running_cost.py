"""What running costs against the bore, when a bigger hose pays, and every pair over the years."""

from dataclasses import replace

import numpy as np
import pytest

from beckwright.compose import Design, design
from beckwright.job.model import Job
from beckwright.stages.money import running_cost, whole_life, worth_of
from tests.stages.prices import TERMS, row, sold

HOUR, KWH = 3600.0, 3.6e6


class TestRunning:
    def test_the_year_is_the_chosen_pairs_own(self, hazel: Job, hazel_design: Design) -> None:
        """Two ways to one number: the pairs of the design, and the middle of the band here."""
        found = running_cost(hazel, hazel_design.reservoir)
        assert found is not None
        by_hose = {each.hose.name: each.year for each in found.hoses}
        for offer in hazel_design.supply.offers:
            if offer.pump == hazel.pumps.chosen:
                assert by_hose[offer.hose.name] == pytest.approx(offer.cost)

    def test_hours_and_one_flow_all_of_them(self, hazel: Job, hazel_design: Design) -> None:
        """11 h on 183 days and 4 h on 182 are 2 741 h; watts x 2 741 h x 0.27 a kWh at each hose of the offer."""
        found = running_cost(hazel, hazel_design.reservoir)
        assert found is not None
        assert found.time == pytest.approx(2741 * HOUR)
        curve = next(each for each in found.curves if each.flow == "trickle")
        given = next(each for each in hazel_design.supply.chosen.flows if each.name == "trickle")
        assert given.duty is not None
        by_hand = given.duty.watts * 2741 / 1000 * 0.27
        assert np.interp(0.050, curve.bores, curve.middle) == pytest.approx(by_hand, rel=1e-3)

    def test_a_wider_bore_never_costs_more(self, hazel: Job, hazel_design: Design) -> None:
        found = running_cost(hazel, hazel_design.reservoir)
        assert found is not None
        for curve in found.curves:
            for line in (curve.low, curve.middle, curve.high):
                assert (np.diff(line) <= 1e-12).all(), curve.flow
            upper = curve.high
            assert (
                curve.low[len(curve.low) - len(upper) :] <= curve.middle[len(curve.middle) - len(upper) :] + 1e-12
            ).all()
            assert (curve.middle[len(curve.middle) - len(upper) :] <= upper + 1e-12).all()

    def test_payback_by_hand(self, hazel: Job, hazel_design: Design) -> None:
        """63 in place of 50: (11.50 - 7.20) x 23 m x 1.20 = 118.68 more; over what each saves in a year."""
        found = running_cost(hazel, hazel_design.reservoir)
        assert found is not None
        (paid,) = [each for each in found.paybacks if each.bigger == "spiral 63"]
        costs = {each.hose.name: each for each in found.hoses}
        middle = (costs["spiral 50"].year or 0.0) - (costs["spiral 63"].year or 0.0)
        assert paid.extra == pytest.approx(118.68)
        assert paid.saved[1] == pytest.approx(middle)
        assert paid.years is not None
        assert paid.years[0] <= 118.68 / middle <= paid.years[1]

    def test_energy_without_a_price_costs_nothing_known(self, hazel: Job, hazel_design: Design) -> None:
        assert running_cost(replace(hazel, prices=replace(hazel.prices, energy=None)), hazel_design.reservoir) is None
        assert running_cost(replace(hazel, running=()), hazel_design.reservoir) is None

    def test_twice_the_price_is_twice_the_cost(self, hazel: Job, hazel_design: Design) -> None:
        dearer = replace(hazel, prices=replace(hazel.prices, energy=2 * 0.27 / KWH))
        one, other = (running_cost(job, hazel_design.reservoir) for job in (hazel, dearer))
        assert one is not None
        assert other is not None
        for single, double in zip(one.curves, other.curves, strict=True):
            np.testing.assert_allclose(double.middle, 2 * single.middle)


class TestLife:
    def test_by_hand(self) -> None:
        """3 % interest, prices rising 2 %: ten years of 100 are 948.127 (factor 9.48127), a pump of 300 after seven is
        300 x (1.02 / 1.03)**7 = 280.196; with 500 at the start 1 728.323.
        """
        assert worth_of(500.0, 100.0, 300.0, TERMS) == pytest.approx(1728.323, abs=1e-3)

    def test_without_interest_it_is_a_plain_sum(self) -> None:
        """Over 20 years a pump of 7 is bought again after 7 and 14."""
        terms = replace(TERMS, interest=0.0, rise=0.0, years=20)
        assert worth_of(500.0, 100.0, 300.0, terms) == pytest.approx(500 + 20 * 100 + 2 * 300)

    def test_no_pump_is_bought_for_the_last_day(self) -> None:
        terms = replace(TERMS, interest=0.0, rise=0.0, years=14)
        assert worth_of(0.0, 0.0, 1.0, terms) == pytest.approx(1.0)

    def test_every_pair_stands_once_the_able_and_cheap_on_top(self, hazel: Job, hazel_design: Design) -> None:
        lives = whole_life(hazel, hazel_design.supply)
        assert len(lives) == len(hazel.pumps.offered) * len(hazel.route.offered)
        able = [life for life in lives if all(given.duty for given in life.offer.flows)]
        assert list(lives[: len(able)]) == able
        worths = [life.worth for life in able]
        assert None not in worths
        assert worths == sorted(worths, key=lambda worth: worth or 0.0)
        assert lives[0].why == "cheapest over 10 years"
        for life in lives[len(able) :]:
            assert life.why.startswith("cannot give")

    def test_first_cost_by_hand(self, hazel: Job, hazel_design: Design) -> None:
        """PG-200 at 290 and 23 m of spiral 50 at 7.20, 20 % tax on both: 546.72."""
        (life,) = [
            life
            for life in whole_life(hazel, hazel_design.supply)
            if (life.offer.pump.name, life.offer.hose.name) == ("PG-200", "spiral 50")
        ]
        assert life.first == pytest.approx(546.72)
        assert life.pumps == 2

    def test_a_missing_price_is_said(self, hazel: Job, hazel_design: Design) -> None:
        bare = replace(hazel, price_list=(row("pump.pg-350", 520.0, sold("each")),))
        lives = whole_life(bare, hazel_design.supply)
        without = [life for life in lives if life.offer.pump.name != "PG-350"]
        assert all(life.worth is None and "no price for the pump" in life.why for life in without)

    def test_several_pumps_are_all_bought(self, hazel: Job) -> None:
        pair = replace(hazel, pumps=replace(hazel.pumps, together=2))
        firsts = [
            next(life.first for life in whole_life(job, design(job).supply) if life.offer.pump.name == "PG-60")
            for job in (hazel, pair)
        ]
        assert (firsts[1] or 0.0) - (firsts[0] or 0.0) == pytest.approx(95 * 1.2)
