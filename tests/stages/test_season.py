"""The year of water: nothing appears and nothing is lost, and its sums follow by hand."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright import design, read_job
from beckwright.base.findings import Severity
from beckwright.compose import Works
from beckwright.figures.season import in_reserve
from beckwright.job.model import Climate
from beckwright.stages.findings.season import season_findings
from beckwright.stages.season import Season, go_through_year
from beckwright.stages.season.days import typical_year
from beckwright.stages.season.march import go_through, tank_wanted
from beckwright.stages.season.values import LENGTHS

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
YEAR = 365


@cache
def _works(name: str) -> Works:
    return Works(design(read_job(EXAMPLES / name)))


def _year(name: str, **changed: object) -> Season:
    """The year of an example with keys of its season changed."""
    made = _works(name).design
    job = replace(made.job, season=replace(made.job.season, **changed))
    year = go_through_year(job, made.course, made.water, made.reservoir, made.supply)
    assert year is not None
    return year


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("roof", [0.0, 40.0])
def test_what_comes_in_goes_out(name: str, roof: float) -> None:
    """Conservation of volume: over a year that ends as it began, rain and filling up are losses and overflow."""
    year = _year(name, roof=roof, tank=1.5)
    came = (year.rain + year.topped + year.from_tank).sum(axis=1)
    went = (year.lost + year.over).sum(axis=1)
    assert came == pytest.approx(went, rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_bands_are_in_order(name: str) -> None:
    year = _works(name).season
    assert year is not None
    assert (np.diff(year.lost, axis=0) >= 0).all()
    assert (np.diff(year.topped, axis=0) >= -1e-12).all()
    assert (np.diff(year.reserve[:, year.running > 0], axis=0) <= 0).all()


def test_a_typical_year_keeps_the_table() -> None:
    climate = Climate(
        station="of the test", rain=np.linspace(0.0, 0.11, 12), evaporation=np.linspace(0.12, 0.01, 12), frost_days=None
    )
    days = typical_year(climate)
    assert len(days.rain) == YEAR
    for month in range(12):
        here = days.month == month
        assert here.sum() == LENGTHS[month]
        assert days.rain[here].sum() == pytest.approx(climate.rain[month])
        assert days.evaporation[here].sum() == pytest.approx(climate.evaporation[month])
    # By hand: 110 mm at 5 mm a wet day are 22 wet days of 5 mm.
    december = days.rain[days.month == 11]
    assert (december > 0).sum() == 22
    assert december.max() == pytest.approx(0.005)


def test_three_days_by_hand() -> None:
    """Room 10 L, catch 2 m2. Day 1: 8 mm of rain are 16 L, 1 L is lost: 15 L up, 5 L over. Day 2 loses 6 L: 4 L up.

    Day 3 loses 9 L: 5 L are missing, 2 L of them in the tank that day 1 filled: 8 mm on 1 m2, but it holds 2 L.
    """
    lost = np.tile(np.array([0.001, 0.006, 0.009]), (3, 1))
    passed = go_through(lost, np.array([0.008, 0.0, 0.0]), 2.0, 0.010, np.ones(3), 0.002)
    assert passed.over[1] == pytest.approx([0.005, 0, 0])
    assert passed.from_tank[1] == pytest.approx([0, 0, 0.002])
    assert passed.topped[1] == pytest.approx([0, 0, 0.003])
    assert passed.stored == pytest.approx(np.zeros(3))


def test_a_tank_by_hand() -> None:
    """Mass curve: 10 L come every tenth day, 1 L goes every day. The tank holds nine days of it after its last rain."""
    missing = np.full((3, 20), 1.0)
    yielded = np.tile(np.where(np.arange(20) % 10 == 0, 10.0, 0.0), (3, 1))
    assert tank_wanted(missing, yielded) == pytest.approx(np.full(3, 9.0))
    assert np.isinf(tank_wanted(missing * 1.01, yielded)).all()


@settings(max_examples=15)
@given(size=st.floats(0.0, 5.0), roof=st.floats(1.0, 100.0))
def test_a_bigger_tank_never_asks_for_more(size: float, roof: float) -> None:
    small = _year("hazel_bank", roof=roof, tank=size)
    large = _year("hazel_bank", roof=roof, tank=size + 1.0)
    assert (large.topped.sum(axis=1) <= small.topped.sum(axis=1) + 1e-12).all()


def test_the_tank_wanted_is_just_enough() -> None:
    """The mass curve against the march: with it nothing comes from elsewhere, with a tenth less something does."""
    wanted = _year("hazel_bank", roof=100.0).tank_wanted
    assert wanted is not None
    assert np.isfinite(wanted[1])
    assert _year("hazel_bank", roof=100.0, tank=float(wanted[1])).topped[1].sum() == pytest.approx(0.0, abs=1e-6)
    assert _year("hazel_bank", roof=100.0, tank=float(wanted[1]) * 0.9).topped[1].sum() > 1e-4


def test_running_less_of_the_year_takes_less() -> None:
    whole, summer = _year("hazel_bank"), _year("hazel_bank", first=4, last=10)
    assert (summer.running[:3] == 0).all()
    assert summer.running.sum() == pytest.approx(whole.running.sum())
    assert np.isinf(summer.reserve[:, 0]).all()


def test_how_long_it_runs_by_hand() -> None:
    """Hazel Bank, by hand: from the running level to the pump's least, 98.69 m, over 2.40 x 1.60 m of crates at 0.95
    (by then the stones over them, 99.41 m, are dry), through what a dry day of July takes."""
    works = _works("hazel_bank")
    year = works.season
    assert year is not None
    made = works.design
    level = made.reservoir.running[1, made.water.number("everyday")]
    spare = (level - 98.69) * 2.40 * 1.60 * 0.95
    assert year.reserve[1, 6] == pytest.approx(spare / year.daily[1, 6] * 86400, rel=1e-9)
    figure = in_reserve(works)
    assert figure is not None
    assert (figure.low, figure.amount, figure.high) == pytest.approx(sorted(year.reserve[:, 6]))


def test_too_few_dry_days_are_found() -> None:
    """Seven are wanted (common practice). By hand: 12 L/h of leak are 288 L a day; 2.2 m3 go in six days of July."""
    few = _year("hazel_bank", leak_running=12e-3 / 3600, leak_resting=12e-3 / 3600)
    filled = _works("hazel_bank").design.reservoir
    told = {each.code: each for each in season_findings(_works("hazel_bank").design.job, filled, few)}
    assert told["reserve-short"].severity is Severity.CAUTION
    assert 5 * 86400 < few.reserve.min() < 7 * 86400
    as_it_is = season_findings(_works("hazel_bank").design.job, filled, _works("hazel_bank").season)
    assert "reserve-short" not in {each.code for each in as_it_is}


def test_a_measured_leak_counts_day_and_night() -> None:
    """By hand: 1 L/h at rest and running is 8 760 L a year more, most of it filled up."""
    dry, leaking = _year("hazel_bank"), _year("hazel_bank", leak_resting=1e-3 / 3600, leak_running=1e-3 / 3600)
    assert (leaking.lost - dry.lost).sum(axis=1) == pytest.approx(np.full(3, 8.760))
    assert (leaking.topped.sum(axis=1) > dry.topped.sum(axis=1)).all()


def test_splash_by_hand() -> None:
    """Three falls, 1 % each of 4 500 L/h for the hours of the year at everyday, and of the other flows."""
    made = _works("hazel_bank").design
    year = _year("hazel_bank", splash=0.01)
    flows = {each.name: each.flow for each in made.job.flows}
    poured = sum(flows[row.flow] * row.time for row in made.job.running)
    falls = sum(1 for lip in made.water.lips if lip.drop > 0)
    assert year.splash.sum(axis=1) == pytest.approx(np.full(3, 0.01 * falls * poured))


def test_without_a_climate_nothing_is_said() -> None:
    made = _works("hazel_bank").design
    job = replace(made.job, climate=None)
    assert go_through_year(job, made.course, made.water, made.reservoir, made.supply) is None
    assert list(season_findings(job, made.reservoir, None)) == []


def test_findings_say_what_the_year_holds() -> None:
    made = _works("hazel_bank").design
    codes = {each.code for each in season_findings(made.job, made.reservoir, _works("hazel_bank").season)}
    assert codes == {"rain-not-kept", "runs-in-frost", "top-up-gap"}
    small = _year("hazel_bank", roof=5.0, tank=0.1, first=4, last=10)
    job = replace(made.job, season=replace(made.job.season, roof=5.0, tank=0.1, first=4, last=10))
    assert {each.code for each in season_findings(job, made.reservoir, small)} == {
        "rain-not-kept",
        "tank-too-small",
        "top-up-gap",
    }
