"""Pockets on a plain job: ground, plants, zones, distances and the channel, each against a sum done by hand."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.findings import Finding, Severity
from beckwright.compose import design
from beckwright.figures.planting import planting_figures
from beckwright.job.model import Job, PlantingWork, PlantShare, Pocket, Tree
from beckwright.stages.course import set_out_course
from beckwright.stages.findings.planting import planting_findings
from beckwright.stages.ground import build_ground
from beckwright.stages.levels import freeboard
from beckwright.stages.planting import Planting, plant, planting_items
from beckwright.stages.planting.make import letter_of, whole
from beckwright.stages.stones import blocked
from beckwright.stages.water import run_water


def share(name: str, part: float = 1.0, spacing: float | None = None) -> PlantShare:
    return PlantShare(plant=name, share=part, spacing=spacing)


def pocket(*plants: PlantShare, **changes: Any) -> Pocket:
    """2 m long and 0.5 m wide, outside the lining on the left, 0.3 m off it."""
    kept = Pocket(
        name="one",
        start=2.0,
        end=4.0,
        side="left",
        inside=False,
        gap=0.3,
        width=0.5,
        above_bed=None,
        soil=None,
        light="sun",
        plants=plants or (share("Betonica officinalis"),),
    )
    return replace(kept, **changes)


def work(*pockets: Pocket, **changes: Any) -> PlantingWork:
    kept = PlantingWork(pattern="triangles", loss=0.05, place="England", pockets=pockets)
    return replace(kept, **changes)


def plan(job: Job, *pockets: Pocket, **changes: Any) -> tuple[Job, Planting]:
    job = replace(job, planting=work(*pockets, **changes))
    ground = build_ground(job.survey)
    course = set_out_course(job.course, job.source, job.layers, ground)
    return job, plant(job, course, ground, run_water(course, job.source, job.flows, job.water_temperature))


def found(job: Job, *pockets: Pocket, **changes: Any) -> dict[str, Finding]:
    return {each.code: each for each in planting_findings(*plan(job, *pockets, **changes))}


class TestGround:
    def test_a_pocket_on_a_straight_course(self, plain: Job) -> None:
        """2.0 by 0.5 m; ground falls 1 in 20, so it is (1 + 0.05**2)**0.5 of the plan."""
        placed = plan(plain, pocket())[1].pockets[0]
        assert placed.plan == pytest.approx(1.0)
        assert placed.round_it == pytest.approx(5.0)
        assert placed.slope == pytest.approx(math.atan(0.05))
        assert placed.ground == pytest.approx(math.hypot(1.0, 0.05))

    def test_its_place(self, plain: Job) -> None:
        """Upright sides: the lining's edge stands over the edge of the 0.6 m bed; left of a way east is north."""
        outline = plan(plain, pocket())[1].pockets[0].outline
        assert outline.min(axis=0) == pytest.approx([2.0, 0.6])
        assert outline.max(axis=0) == pytest.approx([4.0, 1.1])
        right = plan(plain, pocket(side="right"))[1].pockets[0].outline
        assert right.max(axis=0) == pytest.approx([4.0, -0.6])

    def test_gaps_are_taken_off_the_bed_inside_and_off_the_lining_outside(self, plain: Job) -> None:
        """Sides 1 in 1 and an edge 0.2 m over the bed: the lining's edge stands 0.5 m off the line, the bed's 0.3 m."""
        sloped = replace(plain, course=replace(plain.course, side_slope=1.0))
        outside, inside = plan(sloped, pocket(), pocket(name="two", inside=True, gap=0.1))[1].pockets
        assert outside.outline[:, 1].min() == pytest.approx(0.8)
        assert inside.outline[:, 1].min() == pytest.approx(0.4)
        assert inside.beyond == pytest.approx(0.1 + 0.5 - 0.2)

    def test_the_water_widens_with_its_depth(self, plain: Job) -> None:
        """Sides 1 in 1: the water's edge lies as far off the bed as the water is deep at the largest flow."""
        sloped = replace(plain, course=replace(plain.course, side_slope=1.0))
        ground = build_ground(sloped.survey)
        course = set_out_course(sloped.course, sloped.source, sloped.layers, ground)
        water = run_water(course, sloped.source, sloped.flows, sloped.water_temperature)
        here = (course.stations.chainage >= 2.0) & (course.stations.chainage <= 4.0)
        deepest = float((water.level[2, 1] - course.stations.bed)[here].max())
        placed = plan(sloped, pocket(inside=True, gap=0.1))[1].pockets[0]
        assert deepest > 0.01
        assert placed.from_water == pytest.approx(0.1 - deepest)

    def test_inside_it_falls_as_the_stream_does(self, plain: Job) -> None:
        placed = plan(plain, pocket(inside=True, gap=0.15))[1].pockets[0]
        assert placed.slope == pytest.approx(math.atan(0.5 / 10))
        assert placed.outline.min(axis=0) == pytest.approx([2.0, 0.45])

    def test_shares_and_numbers(self, plain: Job) -> None:
        """1.001249 m2: 60 % at 0.25 m in triangles 11.10, 12 with 5 %; 40 % at 0.3 m 5.139, 6 with 5 %."""
        given_ = (share("Carex remota", 0.6, 0.25), share("Geum rivale", 0.4, 0.3))
        planted = plan(plain, pocket(*given_))[1].pockets[0].plants
        assert [each.covers for each in planted] == pytest.approx([11.0990, 5.1384], abs=5e-4)
        assert [(each.low, each.number, each.high) for each in planted] == [(12, 12, 13), (6, 6, 6)]

    def test_squares_take_fewer(self, plain: Job) -> None:
        """A triangle pattern holds 2 / 3**0.5 as many as squares."""
        triangles, squares = (
            plan(plain, pocket(), pattern=pattern)[1].pockets[0].plants[0].covers
            for pattern in ("triangles", "squares")
        )
        assert triangles / squares == pytest.approx(2 / math.sqrt(3))

    def test_without_a_spacing_the_tables_counts(self, plain: Job) -> None:
        assert plan(plain, pocket(share("Carex remota")))[1].pockets[0].plants[0].spacing == 0.35

    def test_a_whole_count_is_not_rounded_up(self) -> None:
        assert whole(20.0 / 1.05, 0.05) == 20
        assert whole(0.0, 0.05) == 0

    def test_letters_go_on_after_z(self) -> None:
        assert [letter_of(number) for number in (0, 25, 26, 27, 51, 52, 701, 702)] == [
            "A", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
        ]  # fmt: skip

    def test_soil_and_fleece(self, plain: Job) -> None:
        """Inside: ground by 0.3 m, and ground + 5.0 m by 0.3 m of fleece. Outside: ground by 75 mm, no fleece."""
        ground = math.hypot(1.0, 0.05)
        inside, outside = plan(plain, pocket(inside=True, gap=0.15), pocket(name="two", start=6.0, end=8.0))[1].pockets
        assert inside.soil == pytest.approx(ground * 0.3)
        assert inside.fleece == pytest.approx(ground + 5.0 * 0.3)
        assert (outside.soil, outside.fleece) == (pytest.approx(ground * 0.075), 0.0)

    def test_a_fold_in_a_bend_is_counted_once(self, plain: Job) -> None:
        """A course round a tight bend: ground on the inner side is no more than the disc its far side sweeps over."""
        bent = replace(plain.course, line=np.array([[0.0, 0.0], [4.0, 0.0], [5.0, 1.0], [4.0, 2.0], [0.0, 2.0]]))
        reach = replace(plain.course.reaches[0], length=11.0)
        job = replace(plain, course=replace(bent, reaches=(reach,)))
        wide = pocket(inside=False, gap=0.0, width=3.0, start=4.0, end=7.0)
        placed = plan(job, wide)[1].pockets[0]
        box = placed.outline.max(axis=0) - placed.outline.min(axis=0)
        assert 0 < placed.plan <= box[0] * box[1]

    def test_off_the_survey_it_says_so(self, plain: Job) -> None:
        assert "pocket-off-survey" in found(plain, pocket(width=20.0))


@given(
    start=st.floats(0.0, 9.0),
    length=st.floats(0.1, 1.0),
    width=st.floats(0.05, 3.0),
    gap=st.floats(-0.5, 4.0),
    inside=st.booleans(),
    first=st.floats(0.0, 1.0),
    spacing=st.floats(0.1, 2.0),
)
@settings(max_examples=40)
def test_laws_of_any_pocket(
    plain: Job,
    start: float,
    length: float,
    width: float,
    gap: float,
    inside: bool,
    first: float,
    spacing: float,
) -> None:
    """Straight course: plan is length by width; shares of ground add up; an order covers; losses never order less."""
    gap = gap if inside else abs(gap)
    plants = (share("Carex remota", first, spacing), share("Geum rivale", 1 - first, spacing))
    one = pocket(*plants, start=start, end=start + length, width=width, gap=gap, inside=inside)
    job, planting = plan(plain, one)
    placed = planting.pockets[0]
    assert placed.plan == pytest.approx(length * width, rel=1e-6)
    assert placed.ground >= placed.plan * (1 - 1e-12)
    assert sum(each.area for each in placed.plants) == pytest.approx(placed.ground)
    for each in placed.plants:
        assert each.low <= each.number <= each.high
        assert each.covers * 1.05 - 1e-6 <= each.number < each.covers * 1.05 + 1
    assert 0 <= placed.reach <= min(width, 0.6) + 1e-12
    assert all(finding.cure and finding.says and finding.source for finding in planting_findings(job, planting))


def test_twice_the_length_twice_the_ground(plain: Job) -> None:
    short, long = (plan(plain, pocket(end=end))[1].pockets[0].ground for end in (4.0, 6.0))
    assert long == pytest.approx(2 * short)


class TestZones:
    def test_ordinary_soil_outside_is_dry(self, plain: Job) -> None:
        assert plan(plain, pocket())[1].pockets[0].zone == "dry"
        assert "plant-wrong-zone" in found(plain, pocket(share("Caltha palustris")))
        assert "plant-wrong-zone" not in found(plain, pocket(share("Betonica officinalis")))

    def test_ground_water_near_makes_it_damp(self, plain: Job) -> None:
        near = replace(plain, site=replace(plain.site, groundwater_summer=0.25))
        assert plan(near, pocket())[1].pockets[0].zone == "damp"

    def test_inside_it_hangs_on_the_height_over_the_water(self, plain: Job) -> None:
        """Soil at the bed, in its water, is wet; 0.2 m over the bed damp; 0.5 m dry: water is some 15 mm deep."""
        for height, zone in ((0.0, "wet"), (0.2, "damp"), (0.5, "dry")):
            assert plan(plain, pocket(inside=True, gap=0.15, above_bed=height))[1].pockets[0].zone == zone

    def test_soil_over_water_is_a_difference_of_levels(self, plain: Job) -> None:
        ground = build_ground(plain.survey)
        course = set_out_course(plain.course, plain.source, plain.layers, ground)
        water = run_water(course, plain.source, plain.flows, plain.water_temperature)
        here = (course.stations.chainage >= 2.0) & (course.stations.chainage <= 4.0)
        depth = float((water.level[1, 0] - course.stations.bed)[here].mean())
        placed = plan(plain, pocket(inside=True, gap=0.15, above_bed=0.08))[1].pockets[0]
        assert placed.over_water == pytest.approx(0.08 - depth)

    def test_the_cure_lowers_the_soil_enough(self, plain: Job) -> None:
        wet = pocket(share("Alisma plantago-aquatica"), inside=True, gap=0.2, above_bed=0.15)
        cure = found(plain, wet)["plant-wrong-zone"].cure
        lower = float(cure.split("Lower the soil ")[1].split(" mm")[0]) / 1000
        assert plan(plain, replace(wet, above_bed=0.15 - lower))[1].pockets[0].zone == "wet"

    def test_light(self, plain: Job) -> None:
        assert "plant-wrong-light" in found(plain, pocket(share("Betonica officinalis"), light="shade"))


class TestDistances:
    def test_a_dry_gap_of_150_mm(self, plain: Job) -> None:
        near = found(plain, pocket(inside=True, gap=0.10, above_bed=0.08))["pocket-near-water"]
        assert "Move them out: A 50 mm" in near.cure
        assert "pocket-near-water" not in found(plain, pocket(inside=True, gap=0.15, above_bed=0.08))

    def test_soil_against_the_edge_from_outside(self, plain: Job) -> None:
        assert "A 110 mm" in found(plain, pocket(gap=0.04))["soil-at-edge"].cure
        assert "soil-at-edge" not in found(plain, pocket(gap=0.15))

    def test_past_the_edge_of_the_lining(self, plain: Job) -> None:
        """Upright sides: the edge stands at the bed's own edge, so gap and width lie past it: 0.15 + 0.5 m."""
        finding = found(plain, pocket(inside=True, gap=0.15))["lining-wider"]
        assert "A 650 mm" in finding.says

    @pytest.mark.parametrize(("name", "least"), [("Viburnum opulus", 0.8), ("Betula pubescens", 5.0)])
    def test_shrubs_and_trees(self, plain: Job, name: str, least: float) -> None:
        near = found(plain, pocket(share(name), gap=least - 0.25))["roots-near-lining"]
        assert "Move it 0.30 m farther out" in near.cure
        assert "roots-near-lining" not in found(plain, pocket(share(name), gap=least, start=1.0, end=2.0))

    def test_the_pits_lining_counts_too(self, plain: Job) -> None:
        """The pit reaches from 11 to 13 m and 0.75 m each side; a pocket that ends at (10, 2.3) is nearer to it."""
        placed = plan(plain, pocket(start=9.0, end=10.0, gap=0.2, width=0.2))[1].pockets[0]
        assert placed.from_lining == pytest.approx(0.2)
        wide = plan(plain, pocket(start=9.0, end=10.0, gap=2.0, width=0.2))[1].pockets[0]
        assert wide.from_lining == pytest.approx(math.hypot(1.0, 2.3 - 0.75))

    @pytest.mark.parametrize("name", ["Phragmites australis", "Typha latifolia", "Phyllostachys nigra", "Salix caprea"])
    def test_what_goes_through_a_lining_is_never_near(self, plain: Job, name: str) -> None:
        assert found(plain, pocket(share(name), inside=True, gap=0.15))["roots-near-lining"].severity is Severity.FAIL
        assert found(plain, pocket(share(name), gap=1.0))["roots-near-lining"].severity is Severity.FAIL
        assert found(plain, pocket(share(name), gap=7.0))["roots-near-lining"].severity is Severity.CAUTION

    def test_a_trees_root_circle(self, plain: Job) -> None:
        """A stem of 0.3 m: 3.6 m (BS 5837). The pocket's nearest corner is at (4.0, 1.1)."""
        for away, entered in ((3.5, True), (3.7, False)):
            tree = Tree(name="T1", species="oak", at=(4.0, 1.1 + away), stems=(0.3,), protected=False)
            job = replace(plain, site=replace(plain.site, trees=(tree,)))
            assert ("pocket-in-roots" in found(job, pocket())) is entered

    def test_two_pockets_on_one_spot(self, plain: Job) -> None:
        finding = found(plain, pocket(), pocket(name="two", start=3.0, end=5.0))["pockets-overlap"]
        assert "0.50 m²" in finding.says


class TestChannel:
    def test_it_closes_what_it_takes_and_the_water_rises_as_the_stones_stage_says(self, plain: Job) -> None:
        """0.15 of 0.6 m is a quarter. The rise is that stage's own answer for a quarter."""
        choked = plan(plain, pocket(inside=True, gap=-0.15, width=0.3))[1].choked[0]
        ground = build_ground(plain.survey)
        course = set_out_course(plain.course, plain.source, plain.layers, ground)
        water = run_water(course, plain.source, plain.flows, plain.water_temperature)
        quarter = blocked(course, water, np.array([0.25]))[0]
        assert choked.share == pytest.approx(0.25)
        assert choked.rise == pytest.approx(float(quarter.rise[0]))
        assert choked.left == pytest.approx(float(quarter.left[0]))
        assert choked.rise > 0
        before = freeboard(course, water, 0.1).least(1)
        assert choked.left <= before

    def test_pockets_that_face_each_other_add_up(self, plain: Job) -> None:
        both = plan(
            plain,
            pocket(inside=True, gap=-0.15, width=0.3),
            pocket(name="two", side="right", inside=True, gap=-0.09, width=0.3),
        )[1]
        assert both.choked[0].share == pytest.approx(0.4)
        assert both.choked[0].letters == ("A", "B")

    def test_pockets_one_after_the_other_do_not(self, plain: Job) -> None:
        row = plan(
            plain,
            pocket(inside=True, gap=-0.15, width=0.3),
            pocket(name="two", start=6.0, end=7.0, inside=True, gap=-0.09, width=0.3),
        )[1]
        assert row.choked[0].share == pytest.approx(0.25)

    def test_only_the_run_it_stands_in_is_closed(self, hazel: Job) -> None:
        """Hazel Bank's fourth run begins at 14.8 m, below three pools; its bed is 0.6 m wide."""
        choked = plan(hazel, pocket(start=15.0, end=16.0, inside=True, gap=-0.15, width=0.3))[1].choked
        assert [(each.run, each.share) for each in choked] == [("run 4", pytest.approx(0.25))]

    def test_one_that_keeps_out_closes_nothing(self, plain: Job) -> None:
        assert plan(plain, pocket(inside=True, gap=0.0))[1].choked == ()

    def test_the_cure_keeps_the_freeboard_wanted(self, plain: Job) -> None:
        """Low edges and a bed nearly closed: drawn back as told, what is wanted stands."""
        low = replace(plain, course=replace(plain.course, edge_above_bed=0.16))
        closed = pocket(inside=True, gap=-0.54, width=0.6)
        finding = found(low, closed)["plants-in-channel"]
        assert finding.severity >= Severity.CAUTION
        back = float(finding.cure.split("Draw them back ")[1].split(" mm")[0]) / 1000
        cured = found(low, replace(closed, gap=-0.54 + back))["plants-in-channel"]
        assert cured.severity is Severity.NOTE

    def test_in_a_pool_it_is_told_apart(self, hazel: Job) -> None:
        """Hazel Bank's first pool lies from 4.5 to 5.5 m."""
        assert "plants-in-pool" in found(hazel, pocket(start=4.7, end=5.3, inside=True, gap=-0.1))


class TestNames:
    def test_a_listed_plant_fails_and_names_list_and_date(self, plain: Job) -> None:
        finding = found(plain, pocket(share("Eichhornia crassipes")))["plant-invasive"]
        assert finding.severity is Severity.FAIL
        assert "Pontederia crassipes" in finding.says
        assert "1 December 2019" in finding.says
        assert "Order 2019" in finding.says

    def test_in_england_the_sale_ban_is_named(self, plain: Job) -> None:
        finding = found(plain, pocket(share("Azolla filiculoides")))["plant-invasive"]
        assert finding.severity is Severity.FAIL
        assert "England) Order 2014 (since 6 April 2014)" in finding.says

    def test_what_only_the_wild_is_kept_from_is_a_caution(self, plain: Job) -> None:
        assert found(plain, pocket(share("Rosa rugosa")))["plant-invasive"].severity is Severity.CAUTION

    def test_a_list_of_another_place_is_a_note(self, plain: Job) -> None:
        codes = found(plain, pocket(share("Pistia stratiotes")), place="Scotland")
        assert codes["plant-invasive-elsewhere"].severity is Severity.NOTE
        assert "plant-invasive" not in codes

    def test_loosestrife_is_at_home_in_england_and_listed_in_america(self, plain: Job) -> None:
        one = pocket(share("Lythrum salicaria"))
        assert not {code for code in found(plain, one) if code.startswith("plant-invasive")}
        assert found(plain, one, place="USA")["plant-invasive"].severity is Severity.FAIL

    def test_giant_rhubarb_may_be_another(self, plain: Job) -> None:
        assert "Gunnera × cryptica" in found(plain, pocket(share("Gunnera manicata")))["plant-sold-as"].says

    def test_an_unknown_plant_is_a_note_and_is_counted_by_its_spacing(self, plain: Job) -> None:
        one = pocket(share("Nothing whatever", 1.0, 0.5))
        assert found(plain, one)["plant-unknown"].severity is Severity.NOTE
        assert plan(plain, one)[1].orders[0].number == 5
        assert "write spacing_mm" in found(plain, pocket(share("Nothing whatever")))["plant-unknown"].cure

    def test_a_slip_that_may_be_an_invasive_plant_is_a_caution(self, plain: Job) -> None:
        finding = found(plain, pocket(share("Crassula helmsi")))["plant-unknown"]
        assert finding.severity is Severity.CAUTION
        assert 'Did you mean "Crassula helmsii"' in finding.cure

    def test_what_is_told_to_be_planted_instead_fits(self, plain: Job) -> None:
        from beckwright.stages.planting import look_up

        finding = found(plain, pocket(share("Azolla filiculoides"), inside=True, gap=0.2, above_bed=0.0))
        told = finding["plant-invasive"].cure.split("plant ")[1].split(".")[0].split(" or ")
        for name in told:
            row = look_up(name).plant
            assert row is not None
            assert "wet" in row.zones
            assert row.roots == "clump"


class TestWhole:
    def test_harm_is_told_once_for_all(self, plain: Job) -> None:
        finding = found(plain, pocket(share("Caltha palustris", 0.5), share("Digitalis purpurea", 0.5)))
        assert "Caltha palustris (A)" in finding["plants-harm-people"].says
        assert "Digitalis purpurea (A)" in finding["plants-harm-people"].says
        assert "plants-harm-people" not in found(plain, pocket(share("Betonica officinalis")))

    def test_bare_ground_is_told(self, plain: Job) -> None:
        assert "30 %" in found(plain, pocket(share("Betonica officinalis", 0.7)))["pocket-bare"].says
        assert "pocket-bare" not in found(plain, pocket())

    def test_odd_spacing_is_told(self, plain: Job) -> None:
        assert "plant-spacing-odd" in found(plain, pocket(share("Betonica officinalis", 1.0, 0.9)))

    def test_a_reminder_of_the_capillary_break(self, plain: Job) -> None:
        assert "capillary-break" in found(plain, pocket(inside=True, gap=0.2))
        assert "capillary-break" not in found(plain, pocket())

    def test_fast_spreaders_inside(self, plain: Job) -> None:
        assert "plants-spread" in found(plain, pocket(share("Mentha aquatica"), inside=True, gap=0.2))

    def test_items_add_up_over_pockets(self, plain: Job) -> None:
        """Two pockets of one plant: one item, as many as both order; soil of one and compost of the other."""
        job, planting = plan(plain, pocket(), pocket(name="two", start=6.0, end=8.0, inside=True, gap=0.2))
        items = {item.key: item for item in planting_items(planting)}
        assert items["plants.betonica_officinalis"].amount == sum(
            each.number for placed in planting.pockets for each in placed.plants
        )
        assert items["planting.soil"].amount == pytest.approx(planting.soil)
        assert items["planting.compost"].amount == pytest.approx(planting.compost)
        assert items["planting.fleece"].amount == pytest.approx(planting.fleece * 1.1)
        for item in items.values():
            assert item.low <= item.amount <= item.high
            assert item.unit in ("each", "m3", "m2")
        assert job.planting.pockets

    def test_without_pockets_there_is_nothing(self, plain: Job) -> None:
        job, planting = plan(plain)
        assert planting_items(planting) == ()
        assert list(planting_findings(job, planting)) == []
        assert list(planting_figures(job, planting)) == []

    def test_every_figure_can_be_followed_by_hand(self, hazel: Job) -> None:
        designed = design(hazel)
        planting = plant(hazel, designed.course, designed.ground, designed.water)
        figures = list(planting_figures(hazel, planting))
        assert len({figure.name for figure in figures}) == len(figures)
        worked = [figure for figure in figures if figure.equation is not None]
        assert worked
        for figure in worked:
            assert figure.equation is not None
            inputs = {item.name: item.amount for item in figure.inputs}
            assert figure.equation(**inputs) == pytest.approx(figure.amount), figure.name
        names = {figure.name for figure in figures}
        told = {finding.figure for finding in planting_findings(hazel, planting) if finding.figure}
        assert told <= names
