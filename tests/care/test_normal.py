"""What is normal: hand calculations beside the numbers, and laws. The hand works from climate.csv and the pit's
sizes."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.care import Normal, judge, lost_over, normal
from beckwright.compose import Design, Works
from beckwright.job.model import Job

from .conftest import EXAMPLES, NAMES, usual, worked

JULY = 6


def _of(job: Job) -> tuple[Design, Normal]:
    designed = design(job)
    return designed, normal(designed, Works(designed))


def test_a_dry_july_day_of_hazel_bank_by_hand() -> None:
    """113 mm of July over 31 days: 3.645 mm a day, off the wet ground at the cascading factor of 1.00 to 1.25.

    The most: all the wet ground wet all day and a hot day 1.5 times the mean: wet * 1.25 * 1.5 * 3.645 mm. Splash at
    its
    most: 2e-4 at each of three falls, 6.39 h of everyday (4500 L/h) and 1.13 h of full (9000 L/h) a day (9.35 h and
    1.65 h
    on 183 days, 3.4 h and 0.6 h on 182 days, spread over 365). Wicking at its most: 0.2 L a metre, both edges, while
    it runs.
    """
    works, held = worked("hazel_bank"), usual("hazel_bank")
    wet = works.design.water.wet_area
    assert held.evaporates[2, JULY] == pytest.approx(wet * 1.25 * 1.5 * 0.113 / 31, rel=1e-6)
    everyday = (9.35 * 183 + 3.4 * 182) / 365
    full = (1.65 * 183 + 0.6 * 182) / 365
    splash = 3 * 2e-4 * (everyday * 4.5 + full * 9.0)
    wicking = 2 * works.design.course.stations.chainage[-1] * 0.2e-3 * (everyday + full) / 24
    assert held.sheds[2, JULY] == pytest.approx(splash + wicking, rel=0.02)
    assert held.sheds[0, JULY] == 0.0


def test_how_far_that_is_down_by_hand() -> None:
    """Hazel Bank's pit, 2.40 m by 1.60 m, rests 50 mm up in the stones of its cover (0.40), crates (0.95) below.

    50 mm of stones hold 3.84 * 0.40 * 50 = 76.8 L. 100 L: those, then 23.2 L over 3.84 * 0.95 m2 = 6.36 mm: 56.36 mm.
    """
    held = usual("hazel_bank")
    assert held.down(0.0768) == pytest.approx(0.050, abs=1e-6)
    assert held.down(0.100) == pytest.approx(0.050 + 0.0232 / (3.84 * 0.95), abs=1e-6)
    assert held.free == pytest.approx(3.84 * 0.40, rel=1e-4)
    assert held.amplified == pytest.approx(worked("hazel_bank").design.water.wet_area / (3.84 * 0.40), rel=1e-4)


def test_levels_are_told_from_the_lid() -> None:
    """job.toml of Hazel Bank: cover 99.66, overflow 200 mm below it, crates of two layers of 400 mm below 250 mm of
    cover,
    sump 100 mm, the pump's least 180 mm over its floor: 250 + 800 + 100 - 180 = 970 mm below the lid."""
    held = usual("hazel_bank")
    assert held.overflow == pytest.approx(0.200)
    assert held.least == pytest.approx(0.970)


@pytest.mark.parametrize("place", NAMES)
def test_more_evaporation_makes_the_normal_range_wider(place: str) -> None:
    job = worked(place).design.job
    assert job.climate is not None
    dry = replace(job, climate=replace(job.climate, evaporation=job.climate.evaporation * 1.5))
    if job.weather is not None:
        air = replace(job.weather, humidity=job.weather.humidity - 0.3, wind=job.weather.wind * 2)
        dry = replace(job, weather=air)
    _, wide = _of(dry)
    held = usual(place)
    for month in range(12):
        before, after = held.dry_days(month), wide.dry_days(month)
        assert after[2] - after[0] > before[2] - before[0]
        assert judge(wide, month, 0.0, 6, "days").normal > judge(held, month, 0.0, 6, "days").normal


def test_half_the_reservoir_goes_down_twice_as_far() -> None:
    job = worked("larkspur_court").design.job
    small = replace(job, reservoir=replace(job.reservoir, length=job.reservoir.length / 2))
    _, half = _of(small)
    held = usual("larkspur_court")
    # Within one layer: the stones of the cover have other voids than what is below them.
    for litres in (1.0, 5.0, 20.0):
        assert half.down(litres / 1000 / 2) == pytest.approx(held.down(litres / 1000), rel=1e-9)
        assert half.down(litres / 1000) == pytest.approx(2 * held.down(litres / 1000), rel=1e-9)
    assert half.dry_days(JULY) == pytest.approx(held.dry_days(JULY))


def test_forty_millimetres_in_six_days_of_july_and_overnight() -> None:
    """The brief's own example, trade.md wish 21: 40 mm in six days of July is normal, 40 mm overnight is not."""
    held = usual("hazel_bank")
    assert judge(held, JULY, 0.040, 6, "days").verdict == "normal"
    assert judge(held, JULY, 0.040, 1, "nights").verdict == "ring"
    assert judge(held, 0, 0.040, 1, "nights").verdict == "ring"


@pytest.mark.parametrize("place", NAMES)
@pytest.mark.parametrize("over", ["nights", "hours", "days"])
def test_farther_down_is_never_judged_milder(place: str, over: str) -> None:
    order = {"normal": 0, "look closer": 1, "ring": 2}
    held = usual(place)
    for month in (0, JULY):
        for amount in (1, 3, 6):
            told = [order[judge(held, month, down, amount, over).verdict] for down in np.linspace(0, 0.5, 101)]  # type: ignore[arg-type]
            assert told == sorted(told)


@pytest.mark.parametrize("place", NAMES)
def test_a_day_is_twenty_four_hours(place: str) -> None:
    held = usual(place)
    for month in range(12):
        assert lost_over(held, month, 24, "hours") == pytest.approx(held.dry_days(month))
        assert lost_over(held, month, 48, "hours") == pytest.approx(lost_over(held, month, 2, "days"))
        some = [lost_over(held, month, hours, "hours") for hours in (1, 6, 12, 18, 24, 30)]
        assert all((later >= before - 1e-12).all() for before, later in pairwise(some))
        assert all((np.diff(each) >= -1e-12).all() for each in some)


def test_nobody_knows_which_hours_they_were() -> None:
    """Twelve hours may have been all of a day's sun and running, or the dark half: all of it, or nothing.

    Six hours: half of a day's evaporation at the most, and as Larkspur Court runs 9.0 h a day, 6 / 9.0 of its splash.
    """
    held = usual("larkspur_court")
    day = held.evaporates[:, JULY]
    assert lost_over(held, JULY, 12, "hours")[2] == pytest.approx(day[2] + held.sheds[2, JULY])
    assert lost_over(held, JULY, 12, "hours")[0] == 0.0
    # job.toml: 12 h on 183 days and 6 h on 182 days of the year, spread evenly.
    runs = (12 * 183 + 6 * 182) / 365
    assert lost_over(held, JULY, 6, "hours")[2] == pytest.approx(day[2] / 2 + held.sheds[2, JULY] * 6 / runs)


def test_at_the_pace_of_the_drop_the_water_lasts_so_long() -> None:
    """Larkspur Court: 320 mm from rest to the pump's least, one layer. Down 80 mm in a day leaves 240: three days."""
    held = usual("larkspur_court")
    assert held.least - held.rested == pytest.approx(0.320)
    assert judge(held, JULY, 0.080, 1, "days").left == pytest.approx(3 * 86400, rel=1e-6)
    assert judge(held, JULY, 0.200, 1, "days").verdict == "ring"


def test_a_measured_leak_is_normal_here_and_told_in_every_span() -> None:
    job = worked("hazel_bank").design.job
    leaking = replace(job, season=replace(job.season, leak_resting=1e-3 / 3600, leak_running=2e-3 / 3600))
    _, held = _of(leaking)
    dry = usual("hazel_bank")
    assert held.night(JULY) - dry.night(JULY) == pytest.approx(0.012)
    ran = held.a_day[JULY] / 3600
    assert held.dry_days(JULY) - dry.dry_days(JULY) == pytest.approx((24 + ran) / 1000)


def test_without_a_climate_nothing_is_made_up() -> None:
    job = replace(read_job(EXAMPLES / "hazel_bank"), climate=None)
    _, held = _of(job)
    assert not held.known
    assert (held.evaporates == 0).all()
