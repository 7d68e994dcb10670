"""The first visit worked by hand beside it, from published figures and the arithmetic of the trade."""

import math
import tomllib
from datetime import date
from pathlib import Path

import pytest

from beckwright.base.words import US, told_in
from beckwright.compose import Works, design
from beckwright.job.read import read_job
from beckwright.languages import told_in as spoken_in
from beckwright.stages.supply import lay
from beckwright.tables import visit as rows
from beckwright.visit import Visit, estimate, job_text, visit_of
from beckwright.visit.designed import Made
from beckwright.visit.sketch import Sketch, machine_for, pit_for, sketch_at, water_wanted

US_GALLON, INCH, FOOT = 3.785411784, 2.54, 30.48
"""Litres, centimetres: NIST SP 811, appendix B.8 (from memory)."""


def made(visit: Visit, **places: float) -> Made:
    return Made(sketch_at(visit, places), visit)


def of_flow(flow_l_h: float, **given: float) -> Visit:
    return visit_of({"length": 18.0, "fall": 1.6, "width": 0.6, "access": 1.2, "flow": flow_l_h, **given})


@pytest.mark.parametrize(
    ("look", "low", "high"),
    [
        ("trickle", 5 * 60 * US_GALLON / FOOT, 10 * 60 * US_GALLON / FOOT),
        ("everyday", 10 * 60 * US_GALLON / FOOT, 100 * US_GALLON / INCH),
        ("full", 100 * US_GALLON / INCH, 200 * US_GALLON / INCH),
    ],
)
def test_a_look_is_what_the_trades_rules_say(look: str, low: float, high: float) -> None:
    """Rules of the trade, common practice: 5 and 10 gal/min a foot of lip, 100 and 200 gal/h an inch."""
    water = visit_of({}, look=look).of("water")
    litres_an_hour_a_cm = 3.6e6 * 0.01
    assert water.low * litres_an_hour_a_cm == pytest.approx(low, rel=0.01)
    assert water.high * litres_an_hour_a_cm == pytest.approx(high, rel=0.01)


def test_water_that_must_run_over_sixty_centimetres() -> None:
    """60 cm at 75 to 149 L/h a cm: 4 500 to 8 940 L/h; the width is measured to 5 % either way."""
    answers = estimate(visit_of({"width": 0.6}, look="everyday", measured=frozenset({"width"})))
    flow = answers.of("flow")
    assert flow is not None
    assert flow.low * 3.6e6 == pytest.approx(4500, rel=0.05)
    assert flow.high * 3.6e6 == pytest.approx(8940, rel=0.05)


def test_the_head_on_the_lip_is_that_of_critical_flow() -> None:
    """5 L/s a metre: H = 1.5 (q**2 / g)**(1/3) = 20.5 mm (Chow 1959, ideal broad crest), within the band of a stone."""
    head = made(of_flow(5e-3 * 0.6 * 3.6e6)).design.water.lips[0].head[:, 0]
    ideal = 1.5 * (5e-3**2 / 9.80665) ** (1 / 3)
    assert ideal == pytest.approx(0.0205, abs=5e-5)
    assert head.min() <= ideal - 0.001 <= head.max()


@pytest.mark.parametrize(
    ("bore_mm", "most_l_h"),
    [(25, 2100), (32, 3500), (38, 4900), (50, 8500), (63, 13500), (75, 19000), (100, 34000)],
)
def test_bore_by_flow(bore_mm: float, most_l_h: float) -> None:
    """1.2 m/s: 0.25 pi d**2 v, which the trade rounds to these (own arithmetic in the reference)."""
    assert most_l_h == pytest.approx(math.pi / 4 * (bore_mm / 1000) ** 2 * 1.2 * 3.6e6, rel=0.015)
    assert sketch_at(of_flow(0.97 * most_l_h), {}).bore * 1000 == pytest.approx(bore_mm)


def test_what_a_hose_of_38_mm_loses() -> None:
    """23 m at 4 500 L/h: 1.3 m, 20 % either way, worked by the trade's arithmetic with fittings."""
    told = made(of_flow(4500, length=23 / 1.3))
    supply = told.design.supply.chosen.flows[0]
    assert told.design.job.route.length == pytest.approx(23, abs=0.05)
    assert told.design.job.route.chosen.bore == pytest.approx(0.038)
    head = told.told(told.sketch)["head"]
    assert head - supply.lift == pytest.approx(1.3, rel=0.2)
    # Of it entrance, exit and three bends: from 0.5 + 1 to that and 3 x 0.8 of v**2 / 2g, Crane TP-410 (from memory).
    velocity_head = (4500 / 3.6e6 / (math.pi / 4 * 0.038**2)) ** 2 / (2 * 9.80665)
    along = lay(told.design.job.route.chosen, told.design.job.route, 1.307e-6).losses_at(supply.wanted).along
    assert 1.5 * velocity_head <= head - supply.lift - along <= 3.9 * velocity_head


def test_lift_power_and_a_year_of_it() -> None:
    """P = Q H / 367 kW in m3/h and m (rho g / 3.6e6), over 0.25 from wire to water; 2 000 h at 0.30 a kWh."""
    visit = visit_of({"length": 18, "fall": 1.6, "width": 0.6, "flow": 6000}, prices={"energy": 0.30})
    told = made(visit)
    outcome = told.told(told.sketch)
    # The outlet stands 50 mm over a lip 150 mm below the ground; the water between its rest and the pump's least.
    outlet, rest, least = 1.6 - 0.15 + 0.05, -0.2 - 0.2, -0.2 - 0.2 - 0.8 - 0.1 + 0.18
    assert outlet - rest <= told.design.supply.chosen.flows[0].lift <= outlet - least
    kilowatts = 6.0 * outcome["head"] / 367 / 0.25
    assert outcome["power"] / 1000 == pytest.approx(kilowatts, rel=0.003)
    assert outcome["energy"] / 3.6e6 == pytest.approx(kilowatts * 2000, rel=0.003)
    assert outcome["running"] == pytest.approx(kilowatts * 2000 * 0.30, rel=0.003)


def test_the_reservoir_by_the_trades_sum() -> None:
    """1.15 (1.3 (in motion + hose) + 7 days of 25 mm a week), common practice, in crates of 0.8 x 0.4 x 0.4 m."""
    sketch = sketch_at(of_flow(6000), {})
    in_motion, wet = 0.5, 20.0
    hose = math.pi / 4 * sketch.bore**2 * sketch.hose
    wanted = 1.15 * (1.3 * (in_motion + hose) + 0.025 * wet)
    assert water_wanted(sketch, in_motion, wet) == pytest.approx(wanted)
    length, width = pit_for(wanted)
    # Two crates high, less the 80 mm under which the pump stops.
    held_by_one = 0.8 * 0.4 * 0.95 * (0.8 - 0.08)
    crates = round(length / 0.8) * round(width / 0.4)
    assert length * width == pytest.approx(crates * 0.32)
    assert crates * held_by_one >= wanted
    smaller = [
        long * wide
        for long in range(1, 20)
        for wide in range(1, 40)
        if 1 <= 2 * long / wide <= 2.5 and long * wide * held_by_one >= wanted
    ]
    assert crates == min(smaller)


def test_stones_hold_no_more_than_their_voids() -> None:
    """What is kept and moves between the stones lies within 0.40 of their volume: 18 m x 0.6 m x 80 mm, less pools."""
    stored = made(of_flow(6000)).design.water.stored
    runs = 18 - 4 * 0.8
    most = 0.40 * runs * 0.6 * 0.080
    pores = (stored.pores + stored.kept_pores)[:, 0]
    assert (pores <= most * 1.01).all()
    assert pores.max() > 0.25 * most


@pytest.mark.parametrize(
    ("access", "machine"), [(0.7, "by hand"), (1.07, "by hand"), (1.08, "1.5 t"), (1.7, "3 t"), (2.6, "8 t")]
)
def test_what_gets_through(access: float, machine: str) -> None:
    """Width of the digger (from memory) and 50 mm either side (common practice)."""
    assert machine_for(access) == machine


def test_steps_share_the_fall() -> None:
    """60 % of 1.6 m in drops of 250 mm at most: four of 240 mm; runs take 640 mm in five."""
    sketch: Sketch = sketch_at(of_flow(6000), {})
    assert (sketch.steps, sketch.drop, sketch.run_fall) == (4, pytest.approx(0.24), pytest.approx(0.128))
    assert sketch.steps * (sketch.drop) + 5 * sketch.run_fall == pytest.approx(1.6)
    assert 5 * sketch.run_length + 4 * rows.POOL_LENGTH.amount == pytest.approx(18)


def test_a_job_is_told_as_its_maker_was_told(tmp_path: Path) -> None:
    """A telephone that reads US units and German makes a job whose papers do; the keys stay metric."""
    with told_in(US), spoken_in("de"):
        texts = job_text(of_flow(6000), title="Sketch", day=date(2026, 1, 1))
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    title = read_job(tmp_path).title
    assert (title.units, title.language) == (US, "de")
    assert not {"units", "language"} & set(
        tomllib.loads(job_text(of_flow(6000), title="Sketch", day=date(2026, 1, 1))["job.toml"])["job"]
    )


def test_the_job_written_is_the_stream_in_the_middle(tmp_path: Path) -> None:
    """Read from its files, it is the job that was designed, and lies within the ranges told."""
    visit = of_flow(6000)
    for name, text in job_text(visit, title="Sketch", day=date(2026, 1, 1)).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    job = read_job(tmp_path)
    assert job == made(visit).design.job
    answers = estimate(visit)
    dug, stone = answers.of("dug"), answers.of("lining")
    assert dug is not None
    assert stone is not None
    works = Works(design(job))
    assert dug.low <= sum(part.cut for part in works.dug.parts if part.kind == "pit") <= dug.high
    area = sum(item.amount for item in works.items if item.key in ("lining.course", "lining.pit"))
    assert area == pytest.approx(stone.middle)
