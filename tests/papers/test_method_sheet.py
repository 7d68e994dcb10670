"""The method sheets: every number is the design's own, every stage has orders and somebody who decides."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright import Design, design, read_job
from beckwright.base.words import US, litres, metres, millimetres, told_in, watts, with_unit
from beckwright.compose import Works
from beckwright.job.model import Pool
from beckwright.papers.drawing import Sheet, Text, plain
from beckwright.papers.sheets.method.numbers import deepest_dig, heaviest_sheet, standing_waters
from beckwright.papers.sheets.method.sheet import method_pages, method_sheets
from beckwright.papers.sheets.method.stage import dates_of
from beckwright.papers.sheets.method.words import stages_of_work
from beckwright.stages.water.beds import HIGH

from .test_trees_sheet import clashes, outside

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
VERDICTS = re.compile(r"\b(safe|safely|ok|okay|good|acceptable|approved|compliant|harmless|fine)\b", re.IGNORECASE)


@pytest.fixture(scope="module", params=NAMES)
def works(request: pytest.FixtureRequest) -> Works:
    return Works(design(read_job(EXAMPLES / request.param)))


@pytest.fixture(scope="module")
def sheets(works: Works) -> tuple[Sheet, ...]:
    pages = method_pages(works.design, works)
    return method_sheets(works.design, works, pages, 1, len(pages))


def words_of(sheet: Sheet) -> list[Text]:
    return [replace(part, halo=0.0) for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def said_on(sheets: tuple[Sheet, ...]) -> str:
    return " ".join(" ".join(text.words.split()) for sheet in sheets for text in words_of(sheet))


def told(works: Works) -> str:
    """All stages in one string, before they are broken into lines."""
    return " ".join(
        " ".join((stage.name, *stage.numbers, *stage.orders, stage.decides))
        for stage in stages_of_work(works.design, works)
    )


def test_two_pages_the_last_to_be_signed(sheets: tuple[Sheet, ...]) -> None:
    assert [sheet.name for sheet in sheets] == ["method-1", "method-2"]
    last = {text.words for text in words_of(sheets[-1])}
    assert {"name", "signature", "date", "licensed electrician", "competent person for the dig"} <= last


def test_words_keep_apart_and_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert not list(clashes(words_of(sheet)))
        assert not outside(words_of(sheet))


def test_every_word_of_every_stage_is_on_paper(works: Works, sheets: tuple[Sheet, ...]) -> None:
    said = said_on(sheets)
    for stage in stages_of_work(works.design, works):
        assert stage.orders
        assert stage.numbers
        assert stage.decides
        for line in (stage.name, *stage.numbers, *stage.orders):
            assert " ".join(line.split()) in said, line


def test_numbers_are_those_of_the_stages(works: Works) -> None:
    each, said = works.design, told(works)
    assert f"Pit up to {metres(works.groundwork.pit.depth)} deep" in said
    assert f"chamber {metres(works.chamber.depth)} deep" in said
    assert f"Reservoir holds {litres(each.reservoir.pit.held(each.reservoir.pit.rested))}" in said
    for near in each.surroundings.services:
        assert f"pit {metres(near.pit)}, stream bed {metres(near.course)}" in said
        assert f"by hand {metres(near.thing.clearance)} each side" in said
    heaviest = max(works.stonework.lifts, key=lambda lift: lift.mass)
    assert f"{heaviest.what}, {heaviest.count} of {with_unit(heaviest.mass, 'kg'):,.0f}" in said
    if heaviest.machine and heaviest.people is None:
        assert f"gives {with_unit(heaviest.machine, 'kg'):,.0f}" in said
    duties = [given.duty.watts for given in each.supply.chosen.flows if given.duty is not None]
    assert f"up to {watts(max(duties))}" in said
    sheet = max([works.lining.pit.mass, *(piece.mass for piece in works.lining.pieces)])
    assert heaviest_sheet(works)[1] == sheet
    assert f"{with_unit(sheet, 'kg'):,.0f}" in said


def test_the_deepest_open_water_is_found(works: Works) -> None:
    """By hand: a pool's depth under its rim and what stands over the rim at the strongest flow, the wetter end."""
    each, waters = works.design, standing_waters(works.design)
    by_hand = {}
    for place, stretch in enumerate(each.course.of_kind(Pool)):
        runs = [water for water in (each.water, each.flat_out) if len(water.flows)]
        over = max(float(water.pools[place].level[HIGH].max()) for water in runs) - each.water.pools[place].rim
        assert isinstance(stretch.reach, Pool)
        by_hand[stretch.reach.name] = stretch.reach.depth + max(over, 0.0)
    for water in waters.open:
        if water.where in by_hand:
            assert water.depth == pytest.approx(by_hand.pop(water.where))
    assert not by_hand
    depths = [water.depth for water in waters.open]
    assert depths == sorted(depths, reverse=True)
    assert f"Deepest open water: {waters.open[0].where}, {millimetres(waters.open[0].depth)}" in told(works)


def test_the_deepest_dig_is_no_deeper_than_any_station(works: Works) -> None:
    at = works.design.course.stations
    deep, _ = deepest_dig(works)
    assert 0.0 <= deep <= float(np.max(at.ground - at.dig)) + 1e-9


def test_dates_are_the_programmes(works: Works) -> None:
    if works.programme is None:
        assert dates_of(works, ("dig the pit",)) == ""
        return
    pit = next(each for each in works.programme.tasks if each.task.name == "dig the pit")
    first, last = (f"{day.day} {day:%b}" for day in (pit.starts, pit.ends))
    assert dates_of(works, ("dig the pit",)) == (first if pit.starts == pit.ends else f"{first} to {last}")


def test_people_the_job_names_stand_beside_what_they_decide(works: Works, sheets: tuple[Sheet, ...]) -> None:
    said = {text.words: text.at[1] for text in words_of(sheets[-1])}
    wired = [each for each in works.design.job.people if each.trade == "electrician"]
    for person in wired[:1]:
        assert said[person.name] == said["licensed electrician"] == said[person.telephone]


def test_it_defers_and_judges_nothing(works: Works, sheets: tuple[Sheet, ...]) -> None:
    said = said_on(sheets)
    assert not VERDICTS.search(said), VERDICTS.search(said)
    assert "Local codes and licensed practice decide" in said
    for wanted in ("29 CFR 1926 subpart P", "HSE L23 (UK)", "30 mA", "legionella", "Children", "banksman"):
        assert wanted in said, wanted


def test_upright_sides_are_told_as_such() -> None:
    """A batter of nothing is no slope: the sheet asks for support before anybody goes in."""
    each: Design = design(read_job(EXAMPLES / "larkspur_court"))
    assert Works(each).groundwork.pit.batter == 0.0
    assert "upright sides: supported, or battered back" in told(Works(each))


def test_told_in_us() -> None:
    with told_in(US):
        works = Works(design(read_job(EXAMPLES / "hazel_bank")))
        said = told(works)
        # 1.4673 m over 0.3048 m to the foot (NIST SP 811): 4.81 ft. 20 to 45 degrees Celsius: 68 to 113 Fahrenheit.
        assert "Pit up to 4.81 ft deep" in said
        assert "Water of 68 to 113 °F" in said
        assert not re.search(r"\d (mm|m|kg|L)\b", said)
        pages = method_pages(works.design, works)
        for sheet in method_sheets(works.design, works, pages, 1, len(pages)):
            assert not list(clashes(words_of(sheet)))
            assert not outside(words_of(sheet))


def test_a_job_with_many_services_takes_another_page() -> None:
    """Nothing is cut: what does not fit goes on."""
    job = read_job(EXAMPLES / "hazel_bank")
    main = job.site.services[0]
    many = tuple(replace(main, name=f"{main.name} {number}") for number in range(40))
    each = design(replace(job, site=replace(job.site, services=many)))
    works = Works(each)
    pages = method_pages(each, works)
    assert len(pages) > 2
    said = said_on(method_sheets(each, works, pages, 1, len(pages)))
    assert all(f"ater main {number}, " in said for number in range(40))
