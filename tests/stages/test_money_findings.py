"""Findings on the money: each where it should be, none where it should not."""

from dataclasses import replace
from datetime import date

import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import THIN
from beckwright.compose import Design
from beckwright.job.model import Job
from beckwright.stages.findings.money import money_findings
from beckwright.stages.money import compare_with_quote, price, whole_life
from tests.stages.prices import item, priced, row, sold

STONE = item("stone.edge", (6000.0, 7000.0, 9000.0), "kg")
CREW = item("labour.own_crew", 3.0, "day")
PRICED = (row("stone.*", (150.0, 160.0, 185.0), sold("t")), row("labour.own_crew", 500.0, sold("day")))


def found(job: Job, *items: object) -> dict[str, Finding]:
    estimate = price(job, items or (STONE, CREW))  # type: ignore[arg-type]
    variations = compare_with_quote(job.quote, job.money, estimate)
    return {each.code: each for each in money_findings(job, estimate, (), variations)}


@pytest.fixture
def plainly(hazel: Job) -> Job:
    return replace(priced(hazel, *PRICED), quote=())


def test_nothing_to_say_where_all_is_told(plainly: Job) -> None:
    assert found(plainly) == {}


def test_a_job_without_any_price_is_not_nagged(plainly: Job) -> None:
    assert found(replace(plainly, price_list=())) == {}


def test_a_missing_price(plainly: Job) -> None:
    told = found(plainly, STONE, CREW, item("crates", 20.0, "each"))["price-missing"]
    assert told.severity is Severity.CAUTION
    assert "1 of 3 lines" in told.says
    assert "crates" in told.says


def test_a_price_that_does_not_fit(plainly: Job) -> None:
    job = replace(plainly, price_list=(row("stone.*", 90.0, sold("roll", "25 m")), PRICED[1]))
    told = found(job)["price-unit"]
    assert told.severity is Severity.FAIL
    assert "stone.edge is sold by the roll and counted in kg" in told.says


def test_no_labour(plainly: Job) -> None:
    assert "labour-missing" in found(plainly, STONE)


@pytest.mark.parametrize(("day", "told"), [(date(2026, 5, 1), True), (date(2026, 8, 1), False)])
def test_an_old_price(plainly: Job, day: date, *, told: bool) -> None:
    """The job is of 1 September 2026: 123 days and 31; a supplier keeps to a price about 90."""
    job = replace(plainly, price_list=(replace(PRICED[0], date=day), PRICED[1]))
    assert ("price-old" in found(job)) is told


def test_a_row_nobody_asks_for(plainly: Job) -> None:
    told = found(replace(plainly, price_list=(*PRICED, row("stnoe.*", 5.0, sold("t")))))["price-unused"]
    assert "stnoe.*" in told.says


@pytest.mark.parametrize(("budget", "told"), [(2600.0, True), (4000.0, False)])
def test_a_budget_that_may_not_last(plainly: Job, budget: float, *, told: bool) -> None:
    """Stone 900 to 1 665, crew 1 500: every sum lies between 2 400 and 3 165."""
    codes = found(replace(plainly, money=replace(plainly.money, budget=budget)))
    assert ("over-budget" in codes) is told


def test_energy_without_a_price(plainly: Job) -> None:
    assert "energy-price-missing" in found(replace(plainly, prices=replace(plainly.prices, energy=None)))


def test_a_pair_that_costs_more_over_the_years(hazel: Job, hazel_design: Design) -> None:
    """The dearest pair that gives all flows is chosen: the cheapest is named, with the difference."""
    lives = whole_life(hazel, hazel_design.supply)
    able = [life for life in lives if all(given.duty for given in life.offer.flows)]
    dear = able[-1].offer
    job = replace(
        hazel, pumps=replace(hazel.pumps, chosen=dear.pump), route=replace(hazel.route, chosen=dear.hose), quote=()
    )
    told = {each.code: each for each in money_findings(job, price(job, ()), lives, None)}["dearer-for-years"]
    assert lives[0].offer.pump.name in told.says
    less = (able[-1].worth or 0.0) - (able[0].worth or 0.0)
    assert f"{less:,.0f}".replace(",", THIN) in told.says
