"""Items of ground work, supply and labour, against the values they are read off."""

from dataclasses import replace
from datetime import date
from math import ceil

import pytest

from beckwright.compose import Design, Works
from beckwright.job.model import Job
from beckwright.stages.earthworks import Groundwork
from beckwright.stages.earthworks.items import earthworks_items
from beckwright.stages.money import labour_items
from beckwright.stages.programme import Programme, Task, make_programme
from beckwright.stages.supply import supply_items


@pytest.fixture(scope="module")
def groundwork(hazel_design: Design) -> Groundwork:
    return Works(hazel_design).dug


class TestGround:
    def test_what_is_dug_is_what_the_parts_hold(self, groundwork: Groundwork) -> None:
        items = {each.key: each for each in earthworks_items(groundwork, None)}
        for kind in ("strip", "pit", "channel", "trench"):
            wanted = sum(part.cut for part in groundwork.parts if part.kind == kind)
            assert items[f"ground.{kind}"].amount == pytest.approx(wanted)
        filled = sum(part.fill for part in groundwork.parts if part.kind not in ("strip", "trench"))
        assert items["ground.fill"].amount == pytest.approx(filled)

    def test_loads_are_whole_and_none_holds_two_soils(self, groundwork: Groundwork) -> None:
        items = {each.key: each for each in earthworks_items(groundwork, 16e3)}
        for soil in groundwork.balances:
            away = soil.mass > 0
            key = f"ground.{'cart' if away else 'bring'}.{soil.holds}"
            assert items[key].amount == ceil(abs(soil.mass) / 16e3)
            assert items[key].unit == "each"
            assert items[key].low <= items[key].amount <= items[key].high

    def test_without_a_lorry_it_is_told_by_mass(self, groundwork: Groundwork) -> None:
        for each in earthworks_items(groundwork, None):
            if each.key.startswith(("ground.cart", "ground.bring")):
                assert each.unit == "kg"
                assert 0 <= each.low <= each.amount <= each.high

    def test_a_soil_that_may_go_either_way_is_both(self, groundwork: Groundwork) -> None:
        """From 20 t too little to 30 t too much, 5 t left in the middle: loads of 10 t."""
        soil = replace(groundwork.balances[-1], mass=5e3, masses=(-20e3, 5e3, 30e3))
        items = {each.key: each for each in earthworks_items(replace(groundwork, balances=(soil,)), 10e3)}
        cart, bring = items["ground.cart.subsoil"], items["ground.bring.subsoil"]
        assert (cart.low, cart.amount, cart.high) == (0, 1, 3)
        assert (bring.low, bring.amount, bring.high) == (0, 0, 2)


class TestSupply:
    def test_pump_hose_and_what_is_really_bought(self, hazel: Job, hazel_design: Design) -> None:
        """Entrance and exit are losses of the water's own way: nobody sells them."""
        items = {each.key: each for each in supply_items(hazel, hazel_design.supply)}
        assert set(items) == {"pump.pg-200", "hose.length.spiral_50", "fitting.bend_90_medium"}
        assert items["fitting.bend_90_medium"].amount == 2
        hose = items["hose.length.spiral_50"]
        assert (hose.amount, hose.unit) == (23.0, "m")
        assert "50 mm (1.97 in)" in hose.note
        for given in hazel_design.supply.chosen.flows:
            assert (given.name in items["pump.pg-200"].note) is (given.duty is not None)


class TestLabour:
    @pytest.fixture
    def programme(self, hazel: Job) -> Programme:
        tasks = [
            Task(name=name, crew=crew, shortest=1.0, likely=2.0, longest=5.0, after=after, weather=False)
            for name, crew, after in (
                ("dig", "digger", ()),
                ("line", "own crew", ("dig",)),
                ("wait", "nobody", ("line",)),
                ("stone", "own crew", ("wait",)),
                ("trim", "digger", ("stone",)),
            )
        ]
        made = make_programme(tuple(tasks), replace(hazel.force, start=date(2026, 9, 28), people=3))
        assert made is not None
        return made

    def test_days_are_the_tasks(self, hazel: Job, programme: Programme) -> None:
        """Two tasks of 1, 2, 5 days for each crew; nobody is paid for waiting."""
        force = replace(hazel.force, people=3)
        items = {each.key: each for each in labour_items(force, programme)}
        assert set(items) == {"labour.own_crew", "hire.digger"}
        crew = items["labour.own_crew"]
        assert (crew.low, crew.amount, crew.high, crew.unit) == (2.0, 4.0, 10.0, "day")
        assert "3 people" in crew.note

    def test_a_digger_may_stand_for_every_day_between(self, hazel: Job, programme: Programme) -> None:
        digger = next(each for each in labour_items(hazel.force, programme) if each.key == "hire.digger")
        held = (programme.hires[0].ends - programme.hires[0].starts).days + 1
        assert held > 10
        assert (digger.amount, digger.high) == (4.0, held)

    def test_without_a_programme_there_is_none(self, hazel: Job) -> None:
        assert labour_items(hazel.force, None) == ()
