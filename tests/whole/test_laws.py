"""Laws a whole design must keep whatever its numbers: more is never less, turned it is the same, nothing is lost."""

import dataclasses
import json
import math
import re
from collections.abc import Iterator
from dataclasses import FrozenInstanceError, replace
from datetime import date
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pint
import pytest
from hypothesis import example as once
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.figures import Figure
from beckwright.base.quantities import FloatArray
from beckwright.compose import Design, design
from beckwright.equations.water import water_viscosity
from beckwright.figures import figures_of
from beckwright.job.model import BedMakeUp, Edge, Job, NamedFlow, Run
from beckwright.job.read import read_job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.supply import curve_of, duty_of, lay
from beckwright.stages.water import Water, run_water
from beckwright.stages.water.beds import HIGH
from beckwright.tables.sources import SOURCES

PLAIN = str | int | float | bool | tuple | slice | date | Enum | np.generic
EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("fennymoor_park", "hazel_bank", "larkspur_court", "withy_lane")
ROUNDING = 1e-12

few = settings(max_examples=25)
flows = st.floats(2e-4, 0.012)
factors = st.floats(1.01, 3)
every_example = pytest.mark.parametrize("name", NAMES)

UNITS = pint.UnitRegistry()
UNITS.define("currency = [currency]")


@cache
def example(name: str) -> Job:
    return read_job(EXAMPLES / name)


@cache
def designed(name: str) -> Design:
    return design(example(name))


@cache
def figures(name: str) -> tuple[Figure, ...]:
    return figures_of(designed(name))


@cache
def _ground(name: str) -> Ground:
    return build_ground(example(name).survey)


def set_out(name: str, job: Job) -> SetOutCourse:
    """The course of a changed job on the example's own ground."""
    return set_out_course(job.course, job.source, job.layers, _ground(name))


def run_down(name: str, job: Job, *amounts: float) -> Water:
    named = tuple(NamedFlow(name=f"flow {number}", flow=amount) for number, amount in enumerate(amounts))
    return run_water(set_out(name, job), job.source, named, job.water_temperature)


def rises(values: FloatArray) -> bool:
    """Whether the second flow gives no less than the first, everywhere: flows stand second in (3, k, ...)."""
    return bool(np.all(values[:, 1] >= values[:, 0] - ROUNDING))


@every_example
@given(flow=flows, factor=factors)
@once(flow=0.0010342343697036455, factor=2.0)
@few
def test_more_flow_never_gives_less_water(name: str, flow: float, factor: float) -> None:
    """Uniform depth always rises; the level itself only by the high law, which is calm everywhere: by the low law a
    little more water may shoot where a little less stands. Within a millimetre, for past a dry stretch the march
    begins again from uniform depth, at one station or the next.
    """
    water = run_down(name, example(name), flow, flow * factor)
    assert rises(water.uniform)
    assert np.all(water.level[HIGH, 1] >= water.level[HIGH, 0] - 1e-3)
    assert rises(water.hidden)
    assert rises(water.stored.in_motion)
    assert all(rises(lip.head) for lip in water.lips)
    assert all(np.all(pool.level[HIGH, 1] >= pool.level[HIGH, 0] - 1e-3) for pool in water.pools)


@every_example
@given(flow=flows)
@few
def test_hidden_and_visible_make_the_flow(name: str, flow: float) -> None:
    """Visible flow is area times velocity, trapezium by trapezium; what is not visible is hidden."""
    job = example(name)
    water, course = run_down(name, job, flow), set_out(name, job)
    assert np.all(water.hidden >= 0)
    assert np.all(water.hidden <= flow + ROUNDING)
    at = course.stations
    for run in water.runs:
        here = at.of(run.number)
        depth = water.depth[:, 0, here]
        area = (at.width[here] + course.side_slope * depth) * depth
        carried = area * water.velocity[:, 0, here] + water.hidden[:, 0, here]
        assert carried == pytest.approx(flow, rel=1e-9)
        assert water.shown[:, 0, here] == pytest.approx(1 - water.hidden[:, 0, here] / flow, abs=1e-12)


@pytest.mark.parametrize("name", ["fennymoor_park", "hazel_bank", "withy_lane"])
@given(flow=flows, share=st.floats(0.1, 0.95))
@few
def test_more_stone_never_shows_more_water(name: str, flow: float, share: float) -> None:
    """Two layers on the same course; stations are the same, for sills and lengths are."""
    job = example(name)
    thin = with_beds(job, lambda bed: replace(bed, depth=bed.depth * share))
    deep, shallow = run_down(name, job, flow), run_down(name, thin, flow)
    assert np.all(deep.shown <= shallow.shown + ROUNDING)
    assert np.all(deep.uniform <= shallow.uniform + ROUNDING)


def with_beds(job: Job, change: Any) -> Job:
    reaches = tuple(
        replace(reach, bed=change(reach.bed)) if isinstance(reach, Run) else reach for reach in job.course.reaches
    )
    return replace(job, course=replace(job.course, reaches=reaches))


@given(length=st.floats(3, 30), slope=st.floats(0.021, 0.3), flow=flows)
@few
def test_more_length_adds_uniform_film(length: float, slope: float, flow: float) -> None:
    """What is added lies uniform, whatever the ends do; within 3 %, for on a short run the ends may touch.

    Steeper than 2 %: there the low end of the band changes its law, and rounding decides which.
    """
    bed = BedMakeUp(name="bare", depth=0.0, size=(0.02, 0.05), voids=0.4, retained=0.0, laid="loose", manning=None)
    job = example("hazel_bank")
    films, area = [], np.zeros(0)
    for long in (length, 2 * length):
        run = Run(name="run", length=long, fall=long * slope, width=0.6, bed=bed, sills=())
        water = run_down("hazel_bank", replace(job, course=replace(job.course, reaches=(run,), edges=())), flow)
        films.append(water.stored.film[:, 0])
        depth = water.uniform[:, 0, 0]
        area = (0.6 + job.course.side_slope * depth) * depth
    assert films[1] - films[0] == pytest.approx(area * length * np.hypot(1.0, slope), rel=0.03)


@every_example
@given(bore=st.floats(0.02, 0.12), factor=factors, lift=st.floats(0.2, 6))
@few
def test_a_wider_hose_never_gives_less(name: str, bore: float, factor: float, lift: float) -> None:
    job = example(name)
    viscosity, curve = water_viscosity(job.water_temperature), curve_of(job.pumps.chosen)
    narrow, wide = (
        duty_of(curve, 1, lay(replace(job.route.chosen, bore=each), job.route, viscosity), lift)
        for each in (bore, bore * factor)
    )
    assert (narrow is None) == (wide is None)
    if narrow is not None and wide is not None:
        assert wide.flow >= narrow.flow - 1e-9


@every_example
@given(lift=st.floats(0.2, 6), more=st.floats(0, 2))
@few
def test_more_lift_never_gives_more(name: str, lift: float, more: float) -> None:
    job = example(name)
    curve = curve_of(job.pumps.chosen)
    laid = lay(job.route.chosen, job.route, water_viscosity(job.water_temperature))
    low, high = (duty_of(curve, job.pumps.together, laid, each) for each in (lift, lift + more))
    assert (high.flow if high else 0.0) <= (low.flow if low else 0.0) + 1e-9


@every_example
@given(factor=factors)
@settings(max_examples=5)
def test_a_dearer_kilowatt_hour_costs_more_and_changes_nothing_else(name: str, factor: float) -> None:
    job, before = example(name), designed(name).supply.chosen
    price = job.prices.energy
    assert price is not None
    after = design(replace(job, prices=replace(job.prices, energy=price * factor)), _ground(name)).supply.chosen
    assert after.energy == before.energy
    assert after.flows == before.flows
    assert (after.cost is None) == (before.cost is None)
    if after.cost is not None and before.cost is not None:
        assert after.cost == pytest.approx(before.cost * factor, rel=1e-12)


def moved(job: Job, move: Any, turn: float = 0.0) -> Job:
    """The whole site carried elsewhere: ``move`` takes points (n, 2); the pit's long side turns by ``turn``."""

    def line(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        return tuple((float(x), float(y)) for x, y in move(np.array(points))) if points else ()

    site, reservoir = job.site, job.reservoir
    return replace(
        job,
        survey=replace(job.survey, points=move(job.survey.points)),
        course=replace(job.course, line=move(job.course.line)),
        site=replace(
            site,
            trees=tuple(replace(tree, at=line((tree.at,))[0]) for tree in site.trees),
            services=tuple(replace(service, line=line(service.line)) for service in site.services),
            boundaries=tuple(replace(boundary, line=line(boundary.line)) for boundary in site.boundaries),
        ),
        reservoir=replace(reservoir, centre=line((reservoir.centre,))[0], turned=reservoir.turned + turn),
        route=replace(job.route, line=line(job.route.line)),
    )


def off_its_grid(job: Job) -> Job:
    """Survey points nudged by up to 50 mm: four on a square grid may be joined either way, and turning would decide."""
    nudge = np.random.default_rng(1).uniform(-0.05, 0.05, job.survey.points.shape)
    return replace(job, survey=replace(job.survey, points=job.survey.points + nudge))


def same_figures(one: Design, other: Design, *, swap: bool = False) -> None:
    """Every figure the same to 1e-6 of itself, under the same name; ``swap`` exchanges left and right."""
    sides = {"left": "right", "right": "left"}

    def other_side(name: str) -> str:
        return ".".join(sides.get(part, part) for part in name.split(".")) if swap else name

    theirs = {figure.name: figure for figure in figures_of(other)}
    ours = figures_of(one)
    assert {other_side(figure.name) for figure in ours} == theirs.keys()
    for figure in ours:
        twin = theirs[other_side(figure.name)]
        assert (twin.low, twin.amount, twin.high) == pytest.approx(
            (figure.low, figure.amount, figure.high), rel=1e-6, abs=1e-6
        ), figure.name


@every_example
@pytest.mark.parametrize("angle", [0.3, 1.7, -2.5])
def test_turned_and_shifted_it_is_the_same(name: str, angle: float) -> None:
    job = off_its_grid(example(name))
    turn = np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]])
    same_figures(design(job), design(moved(job, lambda points: points @ turn + [350.0, -120.0], angle)))


@every_example
def test_mirrored_it_changes_sides_and_nothing_else(name: str) -> None:
    job = off_its_grid(example(name))
    mirrored = moved(job, lambda points: points * [1.0, -1.0], -2 * job.reservoir.turned)
    sides = {"left": "right", "right": "left", "both": "both"}
    edges = tuple(replace(edge, side=sides[edge.side]) for edge in job.course.edges)
    shot = job.course.measured_edges
    turned_shot = None if shot is None else replace(shot, left=shot.right, right=shot.left)
    mirrored = replace(mirrored, course=replace(mirrored.course, edges=edges, measured_edges=turned_shot))
    before, after = design(job), design(mirrored)
    assert after.freeboard.settled_left == pytest.approx(before.freeboard.settled_right, abs=1e-6)
    assert after.freeboard.settled_right == pytest.approx(before.freeboard.settled_left, abs=1e-6)
    same_figures(before, after, swap=True)


def test_one_edge_of_its_own_changes_sides_too() -> None:
    """The examples have no edge on one side only; this one has."""
    job = off_its_grid(example("hazel_bank"))
    low = Edge(start=2.0, end=3.0, side="left", above_bed=0.05)
    one = design(replace(job, course=replace(job.course, edges=(low,))))
    mirrored = moved(job, lambda points: points * [1.0, -1.0])
    other = design(replace(mirrored, course=replace(mirrored.course, edges=(replace(low, side="right"),))))
    assert one.freeboard.left.min() < one.freeboard.right.min() - 0.1
    assert other.freeboard.right == pytest.approx(one.freeboard.left, abs=1e-6)


LEVELS = ("course.end_level", "reservoir.level.")
"""Figures that are levels; freeboards and lifts carry two each among their inputs, and are differences."""


@every_example
def test_ten_metres_up_nothing_but_levels_changes(name: str) -> None:
    job, up = example(name), 10.0
    shot = job.course.measured_edges
    raised = replace(
        job,
        datum=replace(job.datum, level=job.datum.level + up),
        survey=replace(job.survey, levels=job.survey.levels + up),
        site=replace(
            job.site,
            boundaries=tuple(
                replace(each, damp_proof=None if each.damp_proof is None else each.damp_proof + up)
                for each in job.site.boundaries
            ),
        ),
        source=replace(job.source, lip_level=job.source.lip_level + up, hose_outlet=job.source.hose_outlet + up),
        course=replace(
            job.course,
            end=None if job.course.end is None else job.course.end + up,
            measured_edges=None if shot is None else replace(shot, left=shot.left + up, right=shot.right + up),
        ),
        reservoir=replace(
            job.reservoir,
            cover=job.reservoir.cover + up,
            overflow=job.reservoir.overflow + up,
            rested=job.reservoir.rested + up,
        ),
    )
    higher = {figure.name: figure for figure in figures_of(design(raised))}
    assert higher.keys() == {figure.name for figure in figures(name)}
    for figure in figures(name):
        by = up if figure.name.startswith(LEVELS) else 0.0
        assert higher[figure.name].amount == pytest.approx(figure.amount + by, rel=1e-9, abs=1e-9), figure.name


@every_example
def test_bands_are_in_order(name: str) -> None:
    wrong = [
        figure.name for figure in figures(name) if not figure.low - ROUNDING <= figure.amount <= figure.high + ROUNDING
    ]
    assert wrong == []


@every_example
def test_designed_twice_it_is_the_same_value(name: str) -> None:
    again = design(read_job(EXAMPLES / name))
    assert again == designed(name)
    assert figures_of(again) == figures(name)


@every_example
def test_a_changed_job_is_another_value(name: str) -> None:
    job = example(name)
    assert design(replace(job, water_temperature=job.water_temperature + 1), _ground(name)) != designed(name)


def parts_of(held: Any, path: str = "design") -> Iterator[tuple[str, Any]]:
    """Everything a value holds, at any depth, with the way to it."""
    yield path, held
    if dataclasses.is_dataclass(held):
        for field in dataclasses.fields(held):
            yield from parts_of(getattr(held, field.name), f"{path}.{field.name}")
    elif isinstance(held, tuple):
        for place, each in enumerate(held):
            yield from parts_of(each, f"{path}[{place}]")


@every_example
def test_frozen_all_the_way_down(name: str) -> None:
    kinds = set()
    for path, held in parts_of(designed(name)):
        kinds.add(type(held))
        if dataclasses.is_dataclass(held):
            field = dataclasses.fields(held)[0].name
            with pytest.raises(FrozenInstanceError):
                setattr(held, field, None)
            assert not hasattr(held, "__dict__"), path
        elif isinstance(held, np.ndarray):
            assert not held.flags.writeable, path
        else:
            assert held is None or isinstance(held, PLAIN), path
    assert np.ndarray in kinds


@every_example
def test_no_number_is_missing_or_endless(name: str) -> None:
    """But for what a day's weather was not measured of, and the use of an empty lining that nothing holds down."""
    for path, held in parts_of(designed(name)):
        if ".job.weather." in path:
            continue
        if isinstance(held, np.ndarray) and held.dtype.kind == "f":
            assert np.all(np.isfinite(held)), path
        elif isinstance(held, float) and not (path.endswith(".use") and ".uplifts[" in path):
            assert math.isfinite(held), path


class TestFigures:
    @every_example
    def test_equation_at_its_inputs_is_the_amount(self, name: str) -> None:
        worked = [figure for figure in figures(name) if figure.equation is not None]
        assert len(worked) > 50
        for figure in worked:
            assert figure.equation is not None
            again = figure.equation(**{item.name: item.amount for item in figure.inputs})
            assert again == pytest.approx(figure.amount, rel=1e-9, abs=1e-300), figure.name

    @every_example
    def test_names_are_dotted_and_told_once(self, name: str) -> None:
        names = [figure.name for figure in figures(name)]
        assert len(set(names)) == len(names)
        for each in names:
            assert "." in each
            assert all(part and part == part.lower() and " " not in part for part in each.split("."))

    @every_example
    def test_units_are_units(self, name: str) -> None:
        for figure in figures(name):
            for unit in (figure.unit, *(item.unit for item in figure.inputs)):
                powers = re.sub(r"([a-z])(\d)", r"\1**\2", unit).replace("^", "**")
                UNITS.Quantity(1, "" if unit == "1" else powers)
            if figure.equation is not None:
                assert figure.unit == figure.equation.unit

    @every_example
    def test_source_of_a_worked_figure_is_a_publication(self, name: str) -> None:
        for figure in figures(name):
            if figure.equation is not None:
                assert figure.source.split(",")[0] in SOURCES, figure.name

    @every_example
    def test_source_of_a_told_figure_is_a_name_or_plain_words(self, name: str) -> None:
        """A figure, a key of the job, a table, an equation, or the sum or trial it came from."""
        names = {figure.name for figure in figures(name)}
        for figure in figures(name):
            if figure.equation is None:
                source = figure.source
                known = source in names or source.split(",")[0] in SOURCES
                looks_like_a_key = re.fullmatch(r"[a-z][a-z0-9-]*-\d{4}", source.split(",")[0])
                assert source, figure.name
                assert known or not looks_like_a_key, (figure.name, source)

    @every_example
    def test_they_can_be_sent(self, name: str) -> None:
        """As JSON, where a number is a plain one and never NaN."""
        for figure in figures(name):
            sent = {
                "name": figure.name,
                "label": figure.label,
                "band": [figure.low, figure.amount, figure.high],
                "unit": figure.unit,
                "grade": figure.grade.value,
                "source": figure.source,
                "inputs": [[item.name, item.amount, item.unit, item.comes] for item in figure.inputs],
                "note": figure.note,
            }
            assert json.loads(json.dumps(sent, allow_nan=False)) == sent

    @every_example
    def test_inputs_that_come_from_a_figure_carry_its_amount(self, name: str) -> None:
        """Where an input says it came from another figure, that figure says the same number."""
        amounts = {figure.name: figure.amount for figure in figures(name)}
        linked = 0
        for figure in figures(name):
            for item in figure.inputs:
                if item.comes in amounts:
                    linked += 1
                    assert item.amount == pytest.approx(amounts[item.comes], rel=1e-9), (figure.name, item.name)
        assert linked > 50


@every_example
def test_high_end_is_what_freeboard_is_judged_by(name: str) -> None:
    whole = designed(name)
    at = whole.course.stations
    assert whole.freeboard.left == pytest.approx(at.edge_left - whole.water.level[HIGH], abs=1e-12)
