"""The covered reservoir: volumes and levels by hand, uplift and loads by published checks."""

from dataclasses import replace
from math import inf, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.compose import Design, design
from beckwright.job.model import Climate, Job, Load
from beckwright.stages.reservoir import FilledReservoir, dig_pit
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE

DAY = 86400.0


def filled(job: Job) -> FilledReservoir:
    return design(job).reservoir


def test_levels_from_the_cover_down(plain: Job) -> None:
    """Hand calculation: 99.30 less 0.20 of cover, 0.80 of crates, 0.10 of sump; the pump stops 0.20 over its floor."""
    pit = dig_pit(plain.reservoir)
    assert (pit.fill_top, pit.floor, pit.sump_floor) == pytest.approx((99.10, 98.30, 98.20), abs=1e-9)
    assert pit.pump_minimum == pytest.approx(98.40, abs=1e-9)


@pytest.mark.parametrize(
    ("level", "volume"),
    [
        (98.30, 0.0),
        (98.70, 1.14),  # 3 m2 x 0.4 m x 0.95
        (99.10, 2.28),  # 3 m2 x 0.8 m x 0.95
        (99.20, 2.40),  # and 3 m2 x 0.1 m x 0.4
        (99.30, 2.52),
        (99.80, 2.52),  # over the cover it runs away
        (98.20, -0.285),  # 0.285 m3 are missing
    ],
)
def test_water_held_layer_by_layer(plain: Job, level: float, volume: float) -> None:
    """Hand calculation."""
    assert dig_pit(plain.reservoir).held(level) == pytest.approx(volume, abs=1e-9)


def test_crates_of_the_brief(hazel: Job) -> None:
    """2.4 x 1.6 x 0.8 m of crates hold 2918 L: hand calculation of the brief. Its overflow stands 50 mm up in the
    cover: 3.84 m2 x 0.05 m x 0.4 = 77 L more; the pump leaves 3.84 x 0.08 x 0.95 = 292 L."""
    pit = dig_pit(hazel.reservoir)
    assert pit.held(pit.fill_top) == pytest.approx(2.918, abs=1e-3)
    assert pit.held(pit.overflow) == pytest.approx(2.995, abs=1e-3)
    assert pit.held(pit.pump_minimum) == pytest.approx(0.292, abs=1e-3)


def test_useful_water_of_a_stone_pit(withy: Job) -> None:
    """0.9 x 0.7 m of cobbles, 230 to 560 mm: 83 L, hand calculation of the brief."""
    assert filled(withy).useful == pytest.approx(0.083, abs=5e-4)


def test_one_layer_where_nothing_covers(plain: Job) -> None:
    bare = replace(plain.reservoir, cover_depth=0.0)
    assert [holding.name for holding in dig_pit(bare).holdings] == ["crates"]


@given(level=st.floats(97.0, 99.3))
def test_level_of_what_is_held_is_the_level(plain: Job, level: float) -> None:
    pit = dig_pit(plain.reservoir)
    assert pit.level_of(pit.held(level)) == pytest.approx(level, abs=1e-9)


@given(volume=st.floats(-1.0, 2.52))
def test_what_is_held_at_a_volumes_level_is_the_volume(plain: Job, volume: float) -> None:
    pit = dig_pit(plain.reservoir)
    assert pit.held(pit.level_of(volume)) == pytest.approx(volume, abs=1e-9)


def test_running_level(plain: Job) -> None:
    """Hand calculation: 99.00 less what is lent over 3 m2 of 0.95."""
    designed = design(plain)
    lent = designed.water.stored.in_motion + pi * 0.05**2 / 4 * 20
    assert designed.reservoir.lent == pytest.approx(lent, rel=1e-9)
    assert designed.reservoir.running == pytest.approx(99.0 - lent / 2.85, abs=1e-9)
    assert designed.reservoir.lowest == pytest.approx(float(designed.reservoir.running.min()), abs=1e-12)


def test_hose_drains_back_unless_a_valve_holds_it(plain: Job) -> None:
    """25 m of 55.4 mm hold 60.263 L, published check P21."""
    chosen = replace(plain.route.chosen, bore=0.0554)
    drains = replace(plain, route=replace(plain.route, chosen=chosen, length=25.0))
    held = replace(drains, route=replace(drains.route, fittings=(*plain.route.fittings, ("check valve", 1))))
    assert filled(drains).hose == pytest.approx(0.060263, rel=1e-4)
    assert filled(drains).lent - filled(held).lent == pytest.approx(0.060263, rel=1e-4)


def test_first_fill_takes_everything_a_dry_course_holds(plain: Job) -> None:
    designed = design(plain)
    stored = designed.water.stored
    everything = stored.in_motion + stored.kept + designed.reservoir.hose
    assert designed.reservoir.first_fill == pytest.approx(99.0 - everything / 2.85, abs=1e-9)


def test_more_depth_in_the_course_leaves_less_in_the_pit(hazel_design: Design) -> None:
    running = hazel_design.reservoir.running
    assert np.all(running[LOW] >= running[MIDDLE])
    assert np.all(running[MIDDLE] >= running[HIGH])


def climate(june: float) -> Climate:
    evaporation = np.full(12, 0.031)
    evaporation[5] = june
    return Climate(station="invented", rain=np.zeros(12), evaporation=evaporation)


def test_driest_day(plain: Job) -> None:
    """Hand calculation: 120 mm in June's 30 days is 4 mm a day."""
    assert filled(replace(plain, climate=climate(0.120))).loss_rate == pytest.approx(0.004 / DAY, rel=1e-9)
    assert filled(plain).loss_rate is None


def in_ground_water(job: Job, below: float) -> Job:
    """Level ground at 100.00 over the pit, and winter water so far below it."""
    flat = replace(job.survey, levels=np.full(4, 100.0))
    return replace(job, survey=flat, site=replace(job.site, groundwater_winter=below))


def test_uplift_of_an_empty_pit(plain: Job) -> None:
    """Published balance R03: 0.4 m of cover at 18 kN/m3 over 0.8 m of crates at 0.5; water 0.6 m down.
    5.886 kPa against 7.6 kPa, use 0.9466, with 9.81 for gravity."""
    pit = replace(
        plain.reservoir,
        cover=100.0,
        cover_depth=0.4,
        cover_weight=18e3,
        fill_depth=0.8,
        crate_weight=0.5e3,
        sump=0.0,
        overflow=99.6,
        rested=99.5,
    )
    job = in_ground_water(replace(plain, reservoir=pit), 0.6)
    nothing, empty, full = filled(job).uplifts
    assert empty.head == pytest.approx(0.6, abs=1e-9)
    assert empty.uplift == pytest.approx(5886, rel=1e-3)
    assert empty.weight == pytest.approx(7600, rel=1e-9)
    assert empty.use == pytest.approx(0.9466, rel=1e-3)
    assert nothing.use == inf
    # hand calculation: 0.7 m of water in voids of 0.95 weigh 0.665 x 9.80665 = 6.521 kPa
    assert full.weight == pytest.approx(7600 + 6521, abs=1)


def test_water_level_at_which_an_empty_pit_floats(plain: Job) -> None:
    """Published balance R03: it floats when the water stands 0.5661 m down or higher."""
    pit = replace(
        plain.reservoir,
        cover=100.0,
        cover_depth=0.4,
        cover_weight=18e3,
        fill_depth=0.8,
        crate_weight=0.5e3,
        sump=0.0,
        overflow=99.6,
        rested=99.5,
    )
    use = filled(in_ground_water(replace(plain, reservoir=pit), 0.5661)).uplifts[1].use
    assert use == pytest.approx(1.0, rel=1e-3)


def test_uplift_of_the_buried_tank(plain: Job) -> None:
    """Published EN 1997-1 example R02: 486.41 kN over 3.7 by 2.7 m, 3.35 m of water at 10 kN/m3, use 0.8409. Its unit
    weight of water is 10, ours 9.80665."""
    pit = replace(
        plain.reservoir,
        cover=100.0,
        cover_depth=0.0,
        fill_depth=3.35,
        crate_weight=486.41e3 / (3.7 * 2.7) / 3.35,
        sump=0.0,
        overflow=99.6,
        rested=99.5,
    )
    use = filled(in_ground_water(replace(plain, reservoir=pit), 0.0)).uplifts[1].use
    assert use == pytest.approx(0.8409 * 0.980665, rel=1e-3)


def test_water_over_the_crates_buoys_the_cover(plain: Job) -> None:
    """Hand calculation: 0.2 m of cover at 16 kN/m3 is 3.2 kPa; water 0.1 m over the crates takes 0.98 of it, and 0.8 m
    of crates weigh 0.4 kPa."""
    job = in_ground_water(plain, 100.0 - 99.2)
    assert filled(job).uplifts[1].weight == pytest.approx(3200 - 980.665 + 400, abs=0.1)


def test_uplift_is_taken_at_the_lowest_floor(plain: Job) -> None:
    """Water at 98.70 stands 0.50 m over the sump's floor at 98.20."""
    assert filled(in_ground_water(plain, 1.3)).uplifts[0].head == pytest.approx(0.5, abs=1e-9)


def test_dry_ground_lifts_nothing(plain: Job) -> None:
    uplifts = filled(in_ground_water(plain, 3.0)).uplifts
    assert [uplift.use for uplift in uplifts] == [0.0, 0.0, 0.0]


def test_unknown_ground_water_is_not_guessed(plain: Job) -> None:
    assert filled(plain).uplifts == ()


WHEEL = Load(name="wheel", force=10e3, contact=(0.2, 0.2), dynamic=1.0)


def under(job: Job, load: Load, **changes: object) -> Job:
    pit = replace(job.reservoir, cover_depth=0.5, cover_weight=18e3, loads=(load,), **changes)
    return replace(job, reservoir=pit)


def test_wheel_through_its_cover(plain: Job) -> None:
    """Published checks R09 and R10: 10 kN on 0.2 by 0.2 m through 0.5 m is 20.408 kPa; with 18 kN/m3 of cover the
    design pressure is 42.762 kPa; 171.6 kPa over 2.75 carries 62.4 kPa, use 0.6853."""
    (pressed,) = filled(under(plain, WHEEL, strength_vertical=171.6e3)).pressed
    assert pressed.spread == pytest.approx(20408, rel=1e-3)
    assert pressed.design == pytest.approx(42762, rel=2e-3)
    assert pressed.strength == pytest.approx(62400, rel=1e-6)
    assert pressed.use == pytest.approx(0.6853, rel=2e-3)


def test_maker_long_term_strength_goes_first(plain: Job) -> None:
    (pressed,) = filled(under(plain, WHEEL, strength_vertical=171.6e3, strength_long_term=80e3)).pressed
    assert pressed.strength == 80e3
    assert pressed.use == pytest.approx(42762 / 80e3, rel=2e-3)


def test_strength_nobody_gave_is_not_guessed(plain: Job) -> None:
    (pressed,) = filled(under(plain, WHEEL)).pressed
    assert pressed.strength is None
    assert pressed.use is None


def test_lorry_of_the_brief(plain: Job) -> None:
    """Hand calculation of the brief: 27.0 kN, 0.30 by 0.25 m, 0.70 m of cover, moving 1.6: 45 kPa."""
    lorry = Load(name="lorry", force=26.98e3, contact=(0.30, 0.25), dynamic=1.6)
    pit = replace(plain.reservoir, cover_depth=0.7, loads=(lorry,))
    (pressed,) = filled(replace(plain, reservoir=pit)).pressed
    assert pressed.spread == pytest.approx(45e3, rel=0.02)
