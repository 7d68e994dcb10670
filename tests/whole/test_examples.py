"""The four example jobs: what their briefs say must be noticed, and the hand calculation beside each of them.

The hand calculations (``HAND.md``) and the traps are those of the invented scenarios; they were made apart from this
program. A figure must agree to half a unit of the last digit printed there.
"""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.base.values import value
from beckwright.compose import Design, Works, design
from beckwright.figures import figures_of, figures_of_works
from beckwright.job.model import Job
from beckwright.job.read import read_job
from beckwright.stages.supply import Duty, curve_of
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("fennymoor_park", "hazel_bank", "larkspur_court", "withy_lane")
every_example = pytest.mark.parametrize("name", NAMES)


@cache
def designed(name: str) -> Design:
    return design(read_job(EXAMPLES / name))


@cache
def amounts(name: str) -> dict[str, float]:
    made = designed(name)
    return {figure.name: figure.amount for figure in (*figures_of(made), *figures_of_works(Works(made)))}


def found(name: str, code: str) -> list[Finding]:
    return [finding for finding in designed(name).findings if finding.code == code]


def the(name: str, code: str) -> Finding:
    (finding,) = found(name, code)
    return finding


@every_example
def test_every_example_is_here_and_designs(name: str) -> None:
    assert {folder.name for folder in EXAMPLES.iterdir() if folder.is_dir()} == set(NAMES)
    assert designed(name).job.title.invented
    assert len(figures_of(designed(name))) > 100


def circle(name: str, species: str) -> Finding:
    (finding,) = (each for each in found(name, "inside-root-circle") if species in each.place)
    return finding


class TestHazelBank:
    """A woodland edge: three trees, fill under the upper banks, a hose right for one flow and wrong for another."""

    @pytest.mark.parametrize(
        ("species", "start", "end"), [("oak", 1.6, 9.3), ("birch", 8.8, 11.5), ("field maple", 13.4, 15.4)]
    )
    def test_roots(self, species: str, start: float, end: float) -> None:
        """Chainages of the brief, told here to the stations inside the circle, 0.25 m apart."""
        finding = circle("hazel_bank", species)
        assert finding.chainage == pytest.approx((start, end), abs=0.26)

    def test_oak_is_protected_and_its_ground_is_raised(self) -> None:
        finding = circle("hazel_bank", "oak")
        assert finding.severity is Severity.FAIL
        assert "raised" in finding.says
        (oak,) = (each for each in designed("hazel_bank").surroundings.circles if each.tree.species == "oak")
        assert oak.nearest == pytest.approx(5.5, abs=0.05)

    def test_fill_that_settles_drops_edges(self) -> None:
        """Hand calculation: at the first lip the dig stands 0.08 m over the ground (brief: 0.07 m), 150 mm of make-up
        and 200 mm of edge on it, and 250 mm of topsoil stripped first: 0.68 m, of which a tenth is lost. (The brief's
        30 mm leaves out make-up and strip.)"""
        at = designed("hazel_bank").course.stations
        lost = np.concatenate([at.edge_left - at.settled_left, at.edge_right - at.settled_right])
        assert lost.max() == pytest.approx(0.068, abs=0.003)
        assert lost.min() >= 0

    def test_last_fall(self) -> None:
        """Bed at the lower end 0.19 m over the reservoir's cover."""
        assert "190 mm" in the("hazel_bank", "last-fall").says

    def test_hose_of_38_mm_is_right_for_everyday_and_wrong_for_full(self) -> None:
        """Brief: about 1.3 m of loss at 4500 L/h, about 5 m at 9000 L/h, more than the pump can give."""
        (offer,) = (
            each
            for each in designed("hazel_bank").supply.offers
            if (each.pump.name, each.hose.name) == ("PG-200", "spiral 38")
        )
        everyday, full = offer.flows[1], offer.flows[2]
        assert everyday.duty is not None
        assert everyday.duty.losses.along + everyday.duty.losses.fittings == pytest.approx(1.3, abs=0.1)
        assert full.duty is None

    def test_water_between_the_stones_doubles_a_guess_from_the_surface(self) -> None:
        """Brief: a surface-only estimate is low by a factor of about 2."""
        stored = designed("hazel_bank").water.stored
        everything = stored.in_motion[MIDDLE, 1]
        assert 1.5 < everything / (everything - stored.pores[MIDDLE, 1]) < 4

    def test_two_metres_south_the_pit_stands_over_the_water_main(self) -> None:
        """At -0.2 the pit is 1.0 m clear of the main at -2; at -2.2 it crosses it."""
        job = designed("hazel_bank").job
        assert not [each for each in found("hazel_bank", "near-service") if "main" in each.place]
        east, north = job.reservoir.centre
        south = design(replace(job, reservoir=replace(job.reservoir, centre=(east, north - 2.0))))
        over = [each for each in south.findings if each.code == "near-service" and "main" in each.place]
        assert [each.severity for each in over] == [Severity.FAIL]

    def test_an_empty_lining_may_float(self) -> None:
        assert "nothing in it yet" in the("hazel_bank", "may-float").place

    def test_pools_keep_half_a_cubic_metre(self) -> None:
        """Hand calculation of the brief: 522 L, boxes times 0.75 for their shape."""
        assert designed("hazel_bank").water.stored.kept_pools[MIDDLE, 0] == pytest.approx(0.522, rel=0.05)

    def test_the_pump_does_not_reach_the_party_flow(self) -> None:
        assert "party" in the("hazel_bank", "pump-too-small").says


class TestWithyLane:
    """A stream that leaks, with a reservoir far too small."""

    def test_the_low_edge_is_found(self) -> None:
        """Answer of the brief: at full the left edge at chainage 9.0 is 12 mm below the running water."""
        (finding,) = (
            each
            for each in found("withy_lane", "freeboard-short")
            if each.place.startswith("Left") and each.chainage[0] <= 9.0 <= each.chainage[1]
        )
        assert finding.severity is Severity.FAIL
        assert "under water" in finding.says

    def test_how_far_it_is_below(self) -> None:
        """Answer of the brief: 12 mm at full. It lies in the band of the water, the middle within 4 mm of it."""
        low, middle, high = self.over_the_edge("full")
        assert low < 0.012 < high
        assert middle == pytest.approx(0.012, abs=0.004)

    def test_at_low_the_water_just_stays_under_the_edge(self) -> None:
        """Answer of the brief. It lies in the band of the water, the middle within 4 mm of the edge."""
        low, middle, _ = self.over_the_edge("low")
        assert low < 0
        assert middle == pytest.approx(0.0, abs=0.004)

    @staticmethod
    def over_the_edge(flow: str) -> list[float]:
        """Water over the left edge at chainage 9.0, where it was shot at 48.376: low, middle, high."""
        whole = designed("withy_lane")
        level, at = whole.water.level[:, whole.water.number(flow)], whole.course.stations.chainage
        return [float(np.interp(9.0, at, band)) - 48.376 for band in level]

    def test_it_runs_dry_at_every_start(self) -> None:
        assert the("withy_lane", "runs-dry-at-start").severity is Severity.FAIL
        assert the("withy_lane", "first-fill")

    def test_bucket_and_stopwatch_agree_with_pump_and_hose(self) -> None:
        """10 L in 6.93 s are 5190 L/h; hand calculation of the brief 5235 L/h at 1.50 m of lift, 2.90 m of head,
        103 W, with a little more in fittings. The bucket itself scatters by 4 %. The label says 12 000 L/h."""
        flat_out = designed("withy_lane").supply.chosen.flat_out
        assert isinstance(flat_out, Duty)
        assert flat_out.flow * 3.6e6 == pytest.approx(5190, rel=0.03)
        assert flat_out.flow * 3.6e6 == pytest.approx(5235, rel=0.03)
        assert flat_out.head == pytest.approx(2.90, rel=0.02)
        assert flat_out.watts == pytest.approx(103, abs=0.6)

    def test_nobody_knows_the_ground_water(self) -> None:
        assert the("withy_lane", "groundwater-unknown")

    def test_pumped_dry_in_a_minute(self) -> None:
        """The owner counts 57 s; useful water over the flow, nothing coming back."""
        filled = designed("withy_lane").reservoir
        assert filled.useful / (5200 / 3.6e6) == pytest.approx(57, abs=1.5)


class TestFennymoorPark:
    """A long stream in clay, five pools, lorries over the reservoir."""

    def test_dry_pools_take_over_ten_cubic_metres(self) -> None:
        assert designed("fennymoor_park").reservoir.kept[MIDDLE].min() > 10
        assert the("fennymoor_park", "first-fill")

    def test_the_pit_may_float_before_its_cover_is_on(self) -> None:
        assert [each.place for each in found("fennymoor_park", "may-float")] == ["Pit: lined pit, nothing in it yet"]

    @pytest.mark.parametrize(("species", "start", "end"), [("beech", 37.3, 46.2), ("lime", 10.7, 18.8)])
    def test_roots(self, species: str, start: float, end: float) -> None:
        assert circle("fennymoor_park", species).chainage == pytest.approx((start, end), abs=0.26)

    def test_the_rare_lorry_governs(self) -> None:
        tractor, lorry = designed("fennymoor_park").reservoir.pressed
        assert tractor.use is not None
        assert lorry.use is not None
        assert tractor.use < lorry.use < 1

    def test_overflow_lies_above_the_culvert_that_takes_it(self) -> None:
        """Culvert invert 60.62."""
        assert designed("fennymoor_park").reservoir.pit.overflow > 60.62

    def test_two_pumps_on_one_main_do_not_give_twice(self) -> None:
        """Hand calculation of the brief: 33 633 L/h by one, 49 504 L/h by two, 125 mm pipe."""
        job = designed("fennymoor_park").job
        one = design(replace(job, pumps=replace(job.pumps, together=1))).supply.chosen.flat_out
        two = designed("fennymoor_park").supply.chosen.flat_out
        assert isinstance(one, Duty)
        assert isinstance(two, Duty)
        assert one.flow < two.flow < 1.6 * one.flow
        assert two.flow * 3.6e6 == pytest.approx(49_504, rel=0.02)


class TestLarkspurCourt:
    """A formal rill against a house wall."""

    def test_water_stands_above_the_damp_proof_course(self) -> None:
        """Upper terrace 20.55, damp-proof course 20.150."""
        finding = the("larkspur_court", "above-damp-proof")
        assert "20.15" in finding.place
        assert designed("larkspur_court").water.level[HIGH].max() == pytest.approx(20.57, abs=0.02)

    def test_the_sheet_clings_at_trickle_and_nearly_at_night(self) -> None:
        """Below about 1100 L/h it clings; night is 1200."""
        finding = the("larkspur_court", "sheet-clings")
        assert "trickle" in finding.place
        assert "1\u2009100 L/h" in finding.cure

    def test_a_narrow_hose_loses_more_than_the_lift(self) -> None:
        """Brief: 25 mm at 4000 L/h loses over 3.5 m; the lift is about 1 m."""
        (narrow,) = (hose for hose in designed("larkspur_court").job.route.offered if hose.bore == 0.025)
        job = designed("larkspur_court").job
        strong = next(pump for pump in job.pumps.offered if pump.name == "PG-350")
        chosen = replace(
            job,
            route=replace(job.route, chosen=narrow),
            pumps=replace(job.pumps, chosen=strong),
        )
        show = design(chosen).supply.chosen.flows[3]
        assert show.duty is not None
        assert show.duty.losses.along + show.duty.losses.fittings > 3.5
        assert show.lift == pytest.approx(1.0, abs=0.3)

    def test_the_chamber_holds_start_and_stop(self) -> None:
        assert not found("larkspur_court", "runs-dry-at-start")
        assert not found("larkspur_court", "overflows-at-stop")


@value
class Row:
    """One row of a hand calculation in SI, and half a unit of its last digit."""

    amount: float
    half: float


SCALES = {
    "": 1.0,
    "m": 1.0,
    "mm": 1e-3,
    "m/s": 1.0,
    "l/s a metre": 1e-3,
    "l": 1e-3,
    "W": 1.0,
    "kPa": 1e3,
    "kN": 1e3,
    "cm²": 1e-4,
    "m²": 1.0,
}


def hand(name: str) -> dict[str, Row]:
    """Rows ``| key | number unit | working |`` of the example's hand calculation whose unit is one of ours."""
    text = (EXAMPLES / name / "HAND.md").read_text(encoding="utf-8")
    rows = {}
    for key, number, decimals, unit in re.findall(
        r"^\| ([\w.]+) \| (−?\d+(?:\.(\d+))?)(?: ([^|]*?))? \|", text, re.MULTILINE
    ):
        if unit in SCALES:
            amount = float(number.replace("−", "-"))
            half = 0.5 * 10.0 ** -len(decimals)
            rows[key] = Row(amount=amount * SCALES[unit], half=half * SCALES[unit])
    return rows


SAME = {
    "course.length": "course.length",
    "course.fall": "course.fall",
    "course.end": "course.end_level",
    "reservoir.floor": "reservoir.level.floor",
    "reservoir.pump_minimum": "reservoir.level.pump_minimum",
    "reservoir.overflow": "reservoir.level.overflow",
    "reservoir.useful": "reservoir.useful",
    "reservoir.held_full": "reservoir.held.rested",
    "reservoir.crates": "crates.places",
    "hose.volume": "supply.hose_volume",
}
"""Key of a hand calculation and name of the figure."""

AT_A_FLOW = {
    "unit_flow": "lip.{lip}.{flow}.unit_flow",
    "critical_depth": "lip.{lip}.{flow}.critical",
    "head": "lip.{lip}.{flow}.head",
    "velocity": "supply.{flow}.velocity",
    "reynolds": "supply.{flow}.reynolds",
    "friction_factor": "supply.{flow}.friction",
    "friction": "supply.{flow}.along",
    "fitting_loss": "supply.{flow}.fittings",
    "watts": "supply.{flow}.throttled",
}
"""Middle part of a key such as ``hose.friction.full`` and the figure."""


def figure_for(key: str, trees: dict[str, str]) -> str:
    """Name of the figure that a row of the hand calculation is about, or empty."""
    first, _, rest = key.partition(".")
    what, _, flow = rest.rpartition(".")
    if first == "trees" and flow == "root_radius":
        return f"trees.{trees[what]}.root_radius"
    if (first.startswith("lip") and what in {"unit_flow", "critical_depth", "head"}) or (
        first in {"hose", "pump"} and what not in {"head", "unit_flow", "critical_depth"}
    ):
        lip = first if "_" in first else "lip_1"
        return AT_A_FLOW.get(what, "").format(lip=lip, flow=flow)
    return SAME.get(key, "")


def trees_of(job: Job) -> dict[str, str]:
    """The figures' name for each species, by its last word."""
    return {tree.species.split()[-1]: tree.name.lower() for tree in job.site.trees}


@every_example
def test_figures_agree_with_the_hand_calculation(name: str) -> None:
    trees, ours = trees_of(designed(name).job), amounts(name)
    compared = []
    for key, row in hand(name).items():
        figure = figure_for(key, trees)
        if figure in ours:
            # The head of a hand calculation leaves out the 1 mm of Kindsvater and Carter.
            addition = 0.001 if figure.startswith("lip.") and figure.endswith(".head") else 0.0
            near = 1.05 * row.half + 1e-3 * abs(row.amount) * (not figure.startswith(("course", "reservoir")))
            assert ours[figure] + addition == pytest.approx(row.amount, abs=near), key
            compared.append(key)
    assert len(compared) >= 20, compared


@pytest.mark.parametrize(
    ("name", "flow"),
    [
        ("hazel_bank", "everyday"),
        ("hazel_bank", "full"),
        ("hazel_bank", "party"),
        ("fennymoor_park", "weekday"),
        ("fennymoor_park", "open_day"),
        ("larkspur_court", "day"),
        ("larkspur_court", "show"),
        ("withy_lane", "low"),
        ("withy_lane", "full"),
    ],
)
def test_water_in_motion_is_what_a_checker_estimates(name: str, flow: str) -> None:
    """To a factor of two, as the hand calculations say of themselves: published resistance laws differ that much. It
    leaves out box and hose."""
    rows, whole = hand(name), designed(name)
    estimate = sum(rows[key].amount for key in rows if key.startswith("motion.") and key.endswith(f".{flow}"))
    number = whole.water.number(flow.replace("_", " "))
    stored = whole.water.stored
    ours = stored.in_motion[:, number] - stored.box[:, number]
    assert estimate > 0
    assert ours[LOW] <= 2 * estimate
    assert ours[HIGH] >= estimate / 2
    assert 0.5 < ours[MIDDLE] / estimate < 2


@every_example
def test_trees_stand_as_near_as_the_hand_calculation_says(name: str) -> None:
    """It measured to the surveyed line; ours is the smooth one through fewer points: 50 mm."""
    rows = hand(name)
    for tree in designed(name).surroundings.circles:
        key = f"trees.{tree.tree.species.split()[-1]}.nearest"
        if key in rows:
            assert tree.nearest == pytest.approx(rows[key].amount, abs=0.05), key


@every_example
def test_lift_ends(name: str) -> None:
    """Outlet, lift from the rested level and from where the pump stops: every flow's lift lies between the two."""
    rows, whole = hand(name), designed(name)
    assert whole.job.source.hose_outlet == pytest.approx(rows["supply.outlet"].amount, abs=5e-3)
    rested = whole.job.source.hose_outlet - whole.job.reservoir.rested
    lowest = whole.job.source.hose_outlet - whole.reservoir.pit.pump_minimum
    assert rested == pytest.approx(rows["supply.lift_rested"].amount, abs=5e-3)
    assert lowest == pytest.approx(rows["supply.lift_lowest"].amount, abs=5e-3)
    for given in whole.supply.chosen.flows:
        assert rested - 1e-9 <= given.lift <= lowest + 1e-9


@pytest.mark.parametrize(
    ("name", "key", "litres_an_hour"),
    [
        ("hazel_bank", "pump.head.full", 9000),
        ("hazel_bank", "pump.head.party", 12000),
        ("larkspur_court", "pump.head.day", 2500),
        ("larkspur_court", "pump.head.show", 4000),
        ("withy_lane", "pump.head.full", 5200),
        ("fennymoor_park", "pump.head.open_day", 18000),
        ("fennymoor_park", "pump.head.show", 22500),
        ("fennymoor_park", "pump.head.one", 36000),
    ],
)
def test_head_between_the_rows_of_the_table(name: str, key: str, litres_an_hour: float) -> None:
    curve = curve_of(designed(name).job.pumps.chosen)
    assert curve.head(litres_an_hour / 3.6e6) == pytest.approx(hand(name)[key].amount, abs=5.1e-3)


def test_pit_of_fennymoor() -> None:
    """Uplift over the plan, the cover's weight and the two wheels, each of the hand calculation."""
    rows, filled = hand("fennymoor_park"), designed("fennymoor_park").reservoir
    empty = filled.uplifts[1]
    reservoir = designed("fennymoor_park").job.reservoir
    # The checker took the pit's floor and the ground at the cover; the sump lies 0.30 m deeper, the survey's ground
    # 0.30 m lower.
    ground = designed("fennymoor_park").reservoir.ground_level
    assert ground is not None
    over_floor = empty.head - reservoir.sump + (filled.pit.cover - ground)
    assert over_floor == pytest.approx(rows["reservoir.uplift_head"].amount, abs=5e-3)
    assert over_floor * 9806.65 * filled.pit.plan == pytest.approx(rows["reservoir.uplift"].amount, abs=600)
    cover = reservoir.cover_weight * reservoir.cover_depth * filled.pit.plan
    assert cover == pytest.approx(rows["reservoir.cover_weight"].amount, abs=500)
    tractor, lorry = filled.pressed
    assert tractor.spread == pytest.approx(rows["loads.tractor.spread"].amount, abs=50)
    assert lorry.spread == pytest.approx(rows["loads.lorry.spread"].amount, abs=50)


@pytest.mark.parametrize("name", ["fennymoor_park", "hazel_bank", "larkspur_court"])
def test_climate_sums(name: str) -> None:
    rows, climate = hand(name), designed(name).job.climate
    assert climate is not None
    assert climate.rain.sum() == pytest.approx(rows["climate.rain"].amount, abs=5e-4)
    assert climate.evaporation.sum() == pytest.approx(rows["climate.evaporation"].amount, abs=5e-4)
