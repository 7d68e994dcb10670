"""The order list by hand arithmetic."""

from dataclasses import replace
from math import hypot

import pytest

from beckwright.compose import Design, design
from beckwright.job.model import BedMakeUp, Job, Run, Step
from beckwright.stages.quantities import Quantities


def taken(job: Job, *reaches: Run | Step) -> Quantities:
    course = replace(job.course, reaches=reaches) if reaches else job.course
    return design(replace(job, course=course)).quantities


def test_lining_of_a_straight_run(plain: Job) -> None:
    """Hand calculation: 0.6 m of bed, sides 0.2 m and 4 mm of fleece, 0.3 m over each edge: 1.608 m; along the slope
    (10**2 + 0.5**2)**0.5 = 10.012 m."""
    quantities = taken(plain)
    assert quantities.developed == pytest.approx(hypot(10, 0.5), rel=1e-9)
    assert quantities.lining_course == pytest.approx(1.608 * hypot(10, 0.5), rel=1e-9)


def test_sides_aslope_take_more(plain: Job) -> None:
    """Hand calculation: 0.75 out for 1 up is 1.25 along for each 1 up: 0.6 + 2 x 0.204 x 1.25 + 0.6 = 1.710 m."""
    aslope = replace(plain, course=replace(plain.course, side_slope=0.75))
    assert taken(aslope).lining_course == pytest.approx(1.710 * hypot(10, 0.5), rel=1e-9)


def test_lining_lies_under_the_stones(plain: Job, pebbles: BedMakeUp) -> None:
    """Hand calculation: 0.1 m deeper, so 0.2 m wider: 1.808 m."""
    run = replace(plain.course.reaches[0], bed=pebbles)
    assert taken(plain, run).lining_course == pytest.approx(1.808 * hypot(10, 0.5), rel=1e-9)


def test_risers_are_counted(plain: Job, bare: BedMakeUp) -> None:
    """Published form of a stepped sheet: treads and risers add up. Here 2.0 + 1.5 + 2.5 m of tread all but level,
    risers of 0.25 and 0.40 m: 6.65 m."""
    treads = [
        Run(name=f"run {n}", length=long, fall=1e-6, width=0.6, bed=bare, sills=())
        for n, long in enumerate((2.0, 1.5, 2.5))
    ]
    steps = [Step(name=f"lip {n}", drop=drop, lip_width=0.6, lip="flat slab") for n, drop in enumerate((0.25, 0.40))]
    quantities = taken(plain, treads[0], steps[0], treads[1], steps[1], treads[2])
    assert quantities.developed == pytest.approx(6.65, abs=1e-4)
    assert quantities.lining_course == pytest.approx(1.608 * 6.65, rel=1e-4)


def test_twice_the_length_twice_the_lining(plain: Job, bare: BedMakeUp) -> None:
    long = Run(name="run", length=20.0, fall=1.0, width=0.6, bed=bare, sills=())
    assert taken(plain, long).lining_course == pytest.approx(2 * taken(plain).lining_course, rel=1e-9)


def test_lining_of_the_pit(plain: Job) -> None:
    """Hand calculation: 2.0 and 1.5 m and twice 1.0 m of side and 0.3 m of edge: 4.6 x 4.1 m."""
    assert taken(plain).lining_pit == pytest.approx(4.6 * 4.1, rel=1e-9)


def test_mass_and_fleece(plain: Job) -> None:
    """Fleece above and below: twice the lining; without the upper one: once."""
    quantities = taken(plain)
    lining = quantities.lining_course + quantities.lining_pit
    assert quantities.lining_mass == pytest.approx(1.2 * lining, rel=1e-12)
    assert quantities.fleece == pytest.approx(2 * lining, rel=1e-12)
    below = replace(plain, layers=replace(plain.layers, fleece_over=0.0))
    once = taken(below)
    assert once.fleece == pytest.approx(once.lining_course + once.lining_pit, rel=1e-12)


def test_stone_of_a_bed(plain: Job, pebbles: BedMakeUp) -> None:
    """Hand calculation: 10.012 x 0.6 x 0.1 = 0.6007 m3, 0.60 of it stone of 2600 kg/m3: 937 kg."""
    (bed,) = taken(plain, replace(plain.course.reaches[0], bed=pebbles)).beds
    assert bed.volume == pytest.approx(0.60075, rel=1e-5)
    assert bed.mass == pytest.approx(0.60075 * 0.6 * 2600, rel=1e-5)


def test_bare_bed_orders_no_stone(plain: Job) -> None:
    assert taken(plain).beds == ()


def test_edge_stone_on_both_banks(plain: Job) -> None:
    """Hand calculation: 2 x 10 m at 200 kg a metre."""
    quantities = taken(plain)
    assert quantities.banks == pytest.approx(20.0, rel=1e-12)
    assert quantities.edge_stone == pytest.approx(4000.0, rel=1e-12)


def test_crates_of_the_brief(hazel_design: Design) -> None:
    """24 crates, two layers of 0.8 by 0.4 by 0.4 m in 2.4 by 1.6 m: hand calculation of the brief."""
    assert hazel_design.quantities.crates == 24


@pytest.mark.parametrize(
    ("length", "width", "crates"),
    [
        (2.0, 1.5, 12),  # 2 x 3 in each of two layers
        (2.9, 1.9, 12),  # none is cut
        (1.5, 2.0, 12),  # turned, 3 x 2
        (0.9, 0.4, 0),
    ],
)
def test_whole_crates(plain: Job, length: float, width: float, crates: int) -> None:
    """Hand calculation: crates of 1.0 by 0.5 by 0.4 m in 0.8 m of depth."""
    pit = replace(plain.reservoir, length=length, width=width)
    assert design(replace(plain, reservoir=pit)).quantities.crates == crates


def test_no_crates_where_stones_fill_the_pit(plain: Job) -> None:
    pit = replace(plain.reservoir, fill="stones", crate=None)
    assert design(replace(plain, reservoir=pit)).quantities.crates == 0


def test_cover_and_hose(plain: Job) -> None:
    """Hand calculation: 2.0 x 1.5 x 0.2 m."""
    quantities = taken(plain)
    assert quantities.cover == pytest.approx(0.6, rel=1e-12)
    assert quantities.hose == 20.0
