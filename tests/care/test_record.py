"""The yearly record, settlement and a second feature: trends against scipy and by their coverage, sums by hand."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from beckwright import JobError
from beckwright.base.findings import Severity
from beckwright.care import (
    ITEMS,
    Limit,
    Record,
    limits,
    read_service,
    second_feature,
    second_findings,
    settling,
    trend,
    trends,
)
from beckwright.care.visits import Visit
from beckwright.care.years import trend_said
from beckwright.readings import Shot

from .conftest import usual, worked

FLOW = next(item for item in ITEMS if item.key == "flow_l_h")


def _record(years: np.ndarray, values: np.ndarray) -> Record:
    return Record(item=FLOW, years=years, values=values)


def test_the_slope_and_its_interval_are_those_of_scipy() -> None:
    """scipy.stats.linregress for slope and standard error; Student's 97.5 % point with n - 2 degrees (tables: 4.303
    at 2)."""
    years, values = np.array([2027.0, 2028, 2029, 2030]), np.array([4600.0, 4480, 4330, 4190])
    found, fit = trend(_record(years, values), None), stats.linregress(years, values)
    assert found.slope[1] == pytest.approx(fit.slope)
    assert found.slope[2] - found.slope[1] == pytest.approx(4.303 * fit.stderr, rel=1e-3)
    assert found.slope[1] == pytest.approx(-138.0)
    """By hand: sum of (year - mean) * value = -1.5*4600 - 0.5*4480 + 0.5*4330 + 1.5*4190 = -690; over 5."""


def test_its_interval_holds_the_truth_nineteen_times_in_twenty() -> None:
    years = np.arange(2027.0, 2033.0)
    random, held, turns = np.random.default_rng(11), 0, 2000
    for _ in range(turns):
        found = trend(_record(years, 1.25 - 0.0375 * (years - 2027) + random.normal(0, 0.03, len(years))), None)
        held += found.slope[0] <= -0.0375 <= found.slope[2]
    # Four standard deviations of a share of 0.95 among 2000.
    assert held / turns == pytest.approx(0.95, abs=4 * np.sqrt(0.95 * 0.05 / turns))


def test_when_a_limit_is_crossed_by_hand() -> None:
    """Exactly 100 a year down from 1000 in 2027: 500 in 2032. Without scatter both ends meet there."""
    years = np.array([2027.0, 2028, 2029, 2030])
    down = trend(_record(years, 1000 - 100 * (years - 2027)), Limit(amount=500, below=True, why=""))
    assert down.crosses == pytest.approx([2032, 2032])
    up = trend(_record(years, 1000 + 100 * (years - 2027)), Limit(amount=500, below=True, why=""))
    assert up.crosses is None
    slow = trend(_record(years, 1000 - 1 * (years - 2027)), Limit(amount=500, below=True, why=""))
    assert slow.crosses is None


def test_the_same_every_year_is_no_change() -> None:
    """By hand: 60 W three times fall by nothing, and scatter about that by nothing."""
    found = trend(_record(np.array([2027.0, 2028.0, 2029.0]), np.full(3, 60.0)), None)
    assert (found.slope.tolist(), found.now) == ([0.0, 0.0, 0.0], 60.0)
    assert "no change that shows" in trend_said(found)


def test_two_years_make_no_trend() -> None:
    found = trend(_record(np.array([2027.0, 2028.0]), np.array([1.0, 2.0])), None)
    assert not found.enough


def test_the_record_is_read_and_every_fault_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "service.csv"
    path.write_text("year,item,value\n2028,flow_l_h,4400\n2027,flow_l_h,4600\n2027.5,leak_l_h,0.2\n")
    flow, leak = read_service(path)
    assert flow.years.tolist() == [2027, 2028]
    assert flow.values == pytest.approx([4.6 / 3600, 4.4 / 3600])
    assert leak.values == pytest.approx([0.2e-3 / 3600])
    path.write_text("year,item,value\n2028,flow_lh,4400\n2028,wats,60\n")
    with pytest.raises(JobError) as caught:
        read_service(path)
    assert len(caught.value.problems) == 2
    assert "flow_l_h" in caught.value.problems[0].remedy


def test_limits_are_the_jobs_own() -> None:
    """Hazel Bank runs at everyday, 4500 L/h; from rest to the pump's least are 970 - 200 = 770 mm."""
    held = limits(worked("hazel_bank").design, usual("hazel_bank"))
    assert held["flow_l_h"].amount == pytest.approx(4.5 / 3600)
    assert held["draw_down_mm"].amount == pytest.approx(0.770)
    records = (_record(np.array([2027.0, 2028, 2029]), np.array([5.0, 4.9, 4.8]) / 3600),)
    assert trends(records, worked("hazel_bank").design, usual("hazel_bank"))[0].limit == held["flow_l_h"]


def _shot(left: float) -> Shot:
    return Shot(chainage=8.0, lip="", left=left, middle=None, right=None, dig=None, note="")


def _visit(year: int, left: float) -> Visit:
    return Visit(day=date(year, 12, 1), shots=(_shot(left),), comes="invented")


def test_an_edge_that_sinks_is_found_with_its_pace() -> None:
    """20 mm in a year of 365.25 days, two shots of +-3 or 10 mm each: the pace is off by sqrt 2 tolerances a year."""
    designed = worked("hazel_bank").design
    drawn = float(np.interp(8.0, designed.course.stations.chainage, designed.course.stations.edge_left))
    found = settling(designed, [_visit(2027, drawn - 0.020), _visit(2026, drawn)])
    (edge,) = found
    assert edge.dates == (date(2026, 12, 1), date(2027, 12, 1))
    assert edge.rate[1] == pytest.approx(0.020 * 365.25 / 365, rel=1e-6)
    tolerance = designed.job.tolerances.survey
    assert edge.rate[2] - edge.rate[1] == pytest.approx(tolerance * np.sqrt(2) * 365.25 / 365, rel=1e-6)
    """The freeboard left over 25 mm at the fast end of the pace is the earliest date."""
    years = (edge.freeboard - 0.025) / edge.rate[2]
    assert edge.runs_out[0] is not None
    assert (edge.runs_out[0] - date(2027, 12, 1)).days == pytest.approx(years * 365.25, abs=1)


def test_an_edge_shot_once_says_nothing_of_sinking() -> None:
    designed = worked("hazel_bank").design
    assert settling(designed, [_visit(2026, 101.0)]) == ()


def test_a_second_feature_by_hand() -> None:
    """Larkspur Court, one layer of 0.7469 m2 of water: 30 to 50 L more in motion take the level 40.2 to 66.9 mm
    lower."""
    works, held = worked("larkspur_court"), usual("larkspur_court")
    found = second_feature(works.design, held, 400 / 3.6e6, 0.5, (0.030, 0.050))
    assert found.running[0] - held.running[0] == pytest.approx(0.030 / 0.7469, rel=1e-6)
    assert found.running[2] - held.running[2] == pytest.approx(0.050 / 0.7469, rel=1e-6)
    assert found.lowest[2] - held.lowest[2] == pytest.approx(0.050 / 0.7469, rel=1e-6)
    assert found.flow == pytest.approx(2900 / 3.6e6)


def test_the_findings_of_a_second_feature_turn_as_it_grows() -> None:
    works, held = worked("larkspur_court"), usual("larkspur_court")
    worst = []
    for litres in (5, 150, 400):
        found = second_feature(works.design, held, 100 / 3.6e6, 0.3, (litres / 1000, litres / 1000))
        codes = {each.code: each.severity for each in second_findings(found, held)}
        worst.append(codes.get("second-runs-dry", Severity.NOTE))
    assert worst[0] == Severity.NOTE
    assert worst[-1] == Severity.FAIL
    assert worst == sorted(worst)
    thirsty = second_feature(works.design, held, 30_000 / 3.6e6, 0.3, (0.005, 0.005))
    assert "second-pump-short" in {each.code for each in second_findings(thirsty, held)}


def test_a_pump_that_gives_the_head_is_not_found_short() -> None:
    """At full speed the pump's own curve decides: short exactly where it gives less head than is wanted."""
    works, held = worked("hazel_bank"), usual("hazel_bank")
    for flow in (500, 3000, 6000, 9000, 15000):
        for lift in (0.5, 2.0, 4.0, 6.0):
            found = second_feature(works.design, held, flow / 3.6e6, lift, (0.02, 0.03))
            if found.gives is not None and abs(found.gives - found.head) > 0.01:
                assert (found.speed > 1.0) == (found.gives < found.head), (flow, lift)


def test_no_feature_changes_nothing() -> None:
    works, held = worked("hazel_bank"), usual("hazel_bank")
    found = second_feature(works.design, replace(held), 1e-9, 0.0, (0.0, 0.0))
    assert found.running == pytest.approx(held.running)
    assert found.lowest == pytest.approx(held.lowest)
