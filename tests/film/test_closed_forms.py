"""Films that can be worked by hand, from the laws alone; and a start that was timed."""

import csv
from dataclasses import replace

import numpy as np
import pytest

from beckwright.compose import Design
from beckwright.film import film, film_band
from beckwright.film.march import march
from beckwright.film.nodes import cut
from beckwright.film.pump import Pumping, pumping_of
from beckwright.film.rates import SPILL_TIME
from beckwright.film.reel import Rules
from beckwright.film.starts import dry

from .streams import BARE, EXAMPLES, STONES, one_run, straight_design

OFF = Rules(running=False, endless=True, tolerance=1e-5, until=600.0)


def _manning_depth(flow: float, width: float, slope: float, manning: float) -> float:
    """Uniform depth in a rectangular section by bisection on Manning's formula."""
    low, high = 0.0, 1.0
    for _ in range(60):
        depth = (low + high) / 2
        area, perimeter = width * depth, width + 2 * depth
        low, high = (
            (depth, high) if area ** (5 / 3) / perimeter ** (2 / 3) * slope**0.5 / manning < flow else (low, depth)
        )
    return (low + high) / 2


def test_a_front_runs_at_flow_over_area() -> None:
    """Kinematic shock on a dry bed: the front of a steady flow needs L A / Q. 20 m, 5 %, n 0.06, 0.6 m, 3 L/s."""
    taken = film(straight_design(one_run()), "first fill", endless=True)
    slope = 0.05 / (1 + 0.05**2) ** 0.5
    area = 0.6 * _manning_depth(0.003, 0.6, slope, 0.06)
    assert taken.back_half - taken.lips[0].half == pytest.approx(20.0 * area / 0.003, rel=0.02)
    assert taken.film[-1] == pytest.approx(20.0 * area, rel=0.01)


def test_a_front_in_stones_fills_them_on_its_way() -> None:
    """Where the stones cannot carry it all: L (A + n t b) / Q, with the film's own A."""
    taken = film(straight_design(one_run(STONES)), "first fill", endless=True)
    stones = 20.0 * 0.4 * 0.1 * 0.6
    assert taken.pores[-1] == pytest.approx(stones, rel=0.01)
    needed = (taken.film[-1] + stones) / 0.003
    assert taken.back_half - taken.lips[0].half == pytest.approx(needed, rel=0.03)


def test_the_first_water_fills_hose_and_box(hazel: Design) -> None:
    """45.2 L of hose and 99 L of box at a good 9 000 L/h: 57.7 s by hand, a little less while the pit is full."""
    by_hand = (45.2 + 550 * 600 * 300 / 1e6) / 9000 * 3600
    assert film(hazel, "first fill", "full").lips[0].half == pytest.approx(by_hand, rel=0.05)


def test_the_first_fill_of_hazel_bank_against_a_sum_by_hand(hazel: Design) -> None:
    """Hose 45, box 99, pools 1.2 m2 by their depths less the ramps, stones 288, film 143, pools' rise 65 (HAND.md)."""
    pools = sum(1.2 * depth * (1.0 - depth) for depth in (0.2, 0.2, 0.18)) * 1000
    by_hand = 45 + 99 + pools + 288 + 143 + 65
    low, _, high = film_band(hazel, "first fill", "full")
    assert low.borrowed * 1000 < by_hand * 1.1
    assert by_hand * 0.9 < high.borrowed * 1000
    assert (high.borrowed - low.borrowed) * 1000 < 0.4 * by_hand


def test_a_pit_over_its_overflow_runs_off_as_a_linear_store(hazel: Design) -> None:
    """dW/dt = -W / T, so W = W0 exp(-t / T)."""
    nodes, pumping = cut(hazel, 1, 0.25), pumping_of(hazel, "full", 0.1)
    held = np.zeros(nodes.count)
    held[-2] = pumping.overflow + 0.05
    taken = march(nodes, pumping, held, np.zeros(nodes.count), replace(OFF, tolerance=1e-6, until=8.0))
    over = taken.held[:, -2] - pumping.overflow
    assert over == pytest.approx(0.05 * np.exp(-taken.seconds / SPILL_TIME), abs=0.05 * 2e-3)


def test_the_box_empties_over_its_lip_as_a_weir(hazel: Design) -> None:
    """A dH/dt = -C b (H + k)**1.5, so (H + k)**-0.5 grows by C b t / (2 A); k 1 mm (Kindsvater and Carter)."""
    nodes, pumping = cut(hazel, 1, 0.25), pumping_of(hazel, "full", 0.1)
    plan, width, coefficient, added = 0.55 * 0.6, 0.55, 1.45, 0.001
    held = np.zeros(nodes.count)
    held[1], held[-2] = nodes.full[1] + plan * 0.02, pumping.least
    taken = march(nodes, pumping, held, np.zeros(nodes.count), replace(OFF, until=20.0))
    head = (taken.held[:, 1] - nodes.full[1]) / plan
    exact = ((0.02 + added) ** -0.5 + coefficient * width * taken.seconds / (2 * plan)) ** -2 - added
    above = exact > 0.001
    assert head[above] == pytest.approx(exact[above], rel=5e-3)


def test_the_start_that_was_timed_at_withy_lane(withy: Design) -> None:
    """startup_log.csv: from 560 mm over the floor the pump draws air after 57 s, at 231 mm. Invented, as the job is."""
    with (EXAMPLES / "withy_lane" / "startup_log.csv").open() as lines:
        log = [
            (float(row["seconds_after_start"]), float(row["reservoir_level_mm_above_floor"]))
            for row in csv.DictReader(lines)
        ]
    floor = withy.reservoir.pit.floor
    for taken in film_band(withy, "restart", "full"):
        assert taken.cut_outs[0] == pytest.approx(57.0, abs=3.0)
        for seconds, height in log:
            if seconds <= 50:
                assert np.interp(seconds, taken.seconds, taken.level - floor) * 1000 == pytest.approx(height, abs=15)


def _constant(pumping: Pumping, flow: float) -> Pumping:
    return replace(pumping, flow=np.full_like(pumping.flow, flow), hose=0.0)


def test_a_reservoir_sinks_by_what_is_pumped() -> None:
    """3 L/s out of 8 m2 of crates with 0.95 of voids, nothing back yet: 0.395 mm a second."""
    design = straight_design(one_run(BARE, length=60.0, fall=3.0))
    nodes, pumping = cut(design, 1, 0.25), _constant(pumping_of(design, "one", 0.1), 0.003)
    start = dry(nodes, pumping, pools_filled=False, missing=0.0)
    taken = march(nodes, pumping, start.held, start.highest, replace(OFF, running=True, until=30.0))
    pit = design.reservoir.pit
    sunk = (pumping.rested - taken.held[-1, -2]) / (8.0 * (0.95 if pit.rested <= pit.fill_top else 0.4))
    assert pumping.rested - taken.held[-1, -2] == pytest.approx(0.09, rel=1e-9)
    assert pit.rested - float(pumping.level(taken.held[-1:, -2])[0]) == pytest.approx(sunk, rel=0.01)
