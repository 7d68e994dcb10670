"""The year at a terminal: real years told and drawn, a typical one as before, and what is asked for in vain."""

import json
import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app

EXAMPLES = Path(__file__).parents[2] / "examples"
SPACES = str.maketrans({"\u202f": " ", "\u2009": " ", "\n": " "})


def ran(*told: str) -> Result:
    return CliRunner().invoke(app, ["season", *told])


def _plain(text: str) -> str:
    return re.sub(" +", " ", text.translate(SPACES))


def test_a_real_year_is_told_with_its_dates() -> None:
    """Dates and sums of HAND.md."""
    told = ran(str(EXAMPLES / "fennymoor_park"))
    assert told.exit_code == 0
    words = _plain(told.output)
    for said in (
        "365 days of weather.csv. Evaporation: open-water Penman on 365 days.",
        "19 days, 2025-06-24 to 2025-07-12, each under 1 mm",
        "Wettest day: 2025-10-22, 41 mm",
        "from 2025-10-02 on, the first frost",
        "before 2025-11-27, the first hard one",
        "The last frost of spring: 2025-05-30",
    ):
        assert said in words, said


def test_the_same_as_data() -> None:
    told = json.loads(ran(str(EXAMPLES / "fennymoor_park"), "--json").output)
    assert told["year"] == "2025"
    year = told["real"]["years"][0]
    assert year["rain"] == pytest.approx(1.1276)
    assert (year["spell"]["days"], year["storm"]["day"], year["frost"]["hard"]) == (19, "2025-10-22", "2025-11-27")
    assert told["frost_days"] == [12, 13, 10, 8, 2, 0, 0, 0, 0, 5, 3, 16]
    typical = json.loads(ran(str(EXAMPLES / "withy_lane"), "--json").output)
    assert (typical["year"], typical["real"]) == (None, None)


@pytest.mark.parametrize(
    ("name", "said"), [("fennymoor_park", "longest dry spell, 19 days"), ("withy_lane", "typical")]
)
def test_the_strip(name: str, said: str) -> None:
    drawn = ran(str(EXAMPLES / name), "--svg").output
    assert drawn.startswith("<svg ")
    assert said in drawn
    assert drawn.count("<path") > 100


def test_years_are_chosen_by_name(tmp_path: Path) -> None:
    """Two years, the second with half the rain: it is the driest, and, of two, the one told."""
    job = tmp_path / "park"
    shutil.copytree(EXAMPLES / "fennymoor_park", job)
    comment, head, *lines = (job / "weather.csv").read_text().splitlines()
    later = []
    for line in lines:
        day, least, greatest, rain, *rest = line.split(",")
        later.append(",".join([day.replace("2025", "2026"), least, greatest, f"{float(rain) / 2:.2f}", *rest]))
    (job / "weather.csv").write_text("\n".join([comment, head, *lines, *later]))
    words = _plain(ran(str(job)).output)
    assert "2026, one of 2 years of weather.csv. By what had to be filled up 2026 is the driest" in words
    assert "2025-07-12" in ran(str(job), "--year", "2025").output
    missed = ran(str(job), "--year", "1999")
    assert missed.exit_code == 2
    assert "it has 2025, 2026" in missed.output
    assert ran(str(EXAMPLES / "withy_lane"), "--year", "2025").exit_code == 2
