"""The restart after a dry spell: the week it comes from, by hand off ``weather.csv`` where the job has one."""

import csv
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.care import drops
from beckwright.compose import Design, Works
from beckwright.film import lost_in_a_dry_spell

from .streams import designed

PARK = Path(__file__).parents[2] / "examples" / "fennymoor_park"
JULY = 6


@pytest.fixture(scope="module")
def park() -> Design:
    return design(read_job(PARK))


def _measured(folder: Path, park: Design) -> Design:
    """The park with its evaporation measured and no running: 6 mm a day without rain from 10 to 16 July.

    The first six days of August take 7 mm each; on the seventh 40 mm fall. On all others 1 mm goes and 5 mm come.
    """
    there = Path(shutil.copytree(PARK, folder / "park"))
    with (there / "weather.csv").open(encoding="utf-8") as file:
        days = [row["date"] for row in csv.DictReader(line for line in file if not line.startswith("#"))]
    told = dict.fromkeys(days, (1.0, 5.0))
    told |= {f"2025-07-{day}": (6.0, 0.0) for day in range(10, 17)}
    told |= {f"2025-08-0{day}": (7.0, 40.0 if day == 7 else 0.0) for day in range(1, 8)}
    rows = [f"{day},8,18,{rain},{gone}" for day, (gone, rain) in told.items()]
    (there / "weather.csv").write_text("\n".join(["date,least_c,greatest_c,rain_mm,evaporation_mm", *rows]) + "\n")
    return replace(park, job=replace(read_job(there), running=()))


def test_the_dry_week_is_that_of_the_days(tmp_path: Path, park: Design) -> None:
    """By hand: 7 x 6 mm off what stays wet at rest, halfway from the pools to all of it, times 1.10 for a cascade.

    August's six days at 7 mm and a day beside them take 43 mm or more, but that day's rain fills up again.
    """
    resting = sum(float(np.max(pool.plan)) for pool in park.water.pools)
    by_hand = 1.10 * (resting + park.water.wet_area) / 2 * 7 * 6e-3
    assert lost_in_a_dry_spell(_measured(tmp_path, park)) == pytest.approx(by_hand, rel=1e-9)


def test_it_is_the_year_whose_dry_weeks_the_owner_is_told(park: Design) -> None:
    """HAND.md: the long spell of 2025 lies in June and July, and its driest week within what July is told to take."""
    low, _, high = drops(park, Works(park)).dry_days(JULY, 7)
    assert low < lost_in_a_dry_spell(park) < high
    season = Works(park).season
    assert season is not None
    assert lost_in_a_dry_spell(park) == season.driest_week[1]
    # A dull July is no answer: the driest seven days take more than seven of its mean ones.
    assert lost_in_a_dry_spell(park) > 7 * season.daily[1, JULY]


def test_without_days_it_is_the_driest_month(park: Design) -> None:
    """By hand from climate.csv, as before: seven of the thirty-one parts of July off all that is wet."""
    months = replace(park, job=replace(park.job, weather=None))
    assert months.job.climate is not None
    july = float(months.job.climate.evaporation[JULY])
    assert july == months.job.climate.evaporation.max()
    assert lost_in_a_dry_spell(months) == pytest.approx(7 * july / 31 * park.water.wet_area)
    hazel = designed("hazel_bank")
    assert lost_in_a_dry_spell(replace(hazel, reservoir=replace(hazel.reservoir, loss_rate=None))) == 0.0
