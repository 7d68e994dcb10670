"""A table of days as people bring it: what is wrong is told with its line, all of it; nothing is filled in silence."""

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from beckwright.base.errors import JobError, Problem
from beckwright.job.model import Weather
from beckwright.job.new import write_new
from beckwright.job.read import read_job
from beckwright.job.tables.weather import read_weather

HEAD = "date,least_c,greatest_c,rain_mm"


def rows(first: date = date(2023, 1, 1), count: int = 365) -> list[str]:
    """Days alike; line 2 of the file is the first."""
    return [f"{first + timedelta(day)},4.0,12.0,1.5" for day in range(count)]


def read(folder: Path, lines: list[str], gap: int = 0, head: str = HEAD) -> tuple[Weather | None, list[str]]:
    path, problems = folder / "weather.csv", list[Problem]()
    path.write_text("\n".join([head, *lines]) + "\n", encoding="utf-8")
    return read_weather(path, str(gap), problems), [str(each) for each in problems]


def test_a_sound_year_is_read_in_si(tmp_path: Path) -> None:
    lines = [f"{line},82,9.0,3.1,4.5,18.0" for line in rows(date(2024, 7, 1))]
    head = f"{HEAD},humidity_percent,dew_point_c,wind_m_s,sunshine_hours,solar_mj_m2"
    weather, problems = read(tmp_path, lines, head=head)
    assert problems == []
    assert weather is not None
    assert (len(weather.days), weather.filled) == (365, ())
    assert weather.rain[0] == pytest.approx(0.0015)
    assert weather.sunshine[0] == pytest.approx(16200)
    # 18 MJ/m2 a day are 208.3 W/m2.
    assert weather.solar[0] == pytest.approx(208.33, abs=0.01)
    assert weather.humidity[0] == pytest.approx(0.82)
    assert np.isnan(weather.pan).all()


def _changed(place: int, line: str) -> list[str]:
    changed = rows()
    changed[place] = line
    return changed


def _without(*places: int) -> list[str]:
    return [line for place, line in enumerate(rows()) if place not in places]


def _swapped(one: int, other: int) -> list[str]:
    changed = rows()
    changed[one], changed[other] = changed[other], changed[one]
    return changed


FAULTS = [
    # what is wrong, rows, place, words
    ("day missing", _without(40), "line 42", ["2023-02-10 is missing", "season.fill_gaps_days = 1"]),
    ("days missing", _without(40, 41, 42), "line 42", ["2023-02-10 to 2023-02-12 is missing", "= 3"]),
    ("month missing", _without(*range(31, 59)), "line 33", ["2023-02-01 to 2023-02-28", "station near by"]),
    ("cell empty", _changed(9, "2023-01-10,4,12,"), "line 11", ["rain_mm of 2023-01-10 is empty"]),
    ("doubled", [*rows()[:5], rows()[4], *rows()[5:]], "line 7", ["2023-01-05 stood on line 6"]),
    ("backwards", _swapped(7, 8), "line 10", ["2023-01-08 stands after 2023-01-09"]),
    ("no leap year", _changed(58, "2023-02-29,4,12,1"), "line 60", ["2023 is no leap year"]),
    ("leap day missing", [r for r in rows(date(2024, 1, 1), 366) if "02-29" not in r], "line 61", ["2024 is a leap"]),
    ("day first", _changed(3, "04/01/2023,4,12,1"), "line 5", ['"04/01/2023"', "year-month-day"]),
    ("no month", _changed(3, "2023-13-04,4,12,1"), "line 5", ["2023-13-04"]),
    ("swapped", _changed(3, "2023-01-04,12,4,1"), "line 5", ["least_c is 12 °C", "swapped"]),
    ("negative rain", _changed(3, "2023-01-04,4,12,-1"), "line 5", ["rain_mm is -1 mm", "0 to 2000 mm"]),
    ("Fahrenheit", _changed(200, "2023-07-20,59,77,0"), "line 202", ["greatest_c is 77 °C", "of the unit"]),
    ("words", _changed(3, "2023-01-04,4,12,trace"), "line 5", ['"trace"', "a number"]),
    ("half a year", rows()[:180], "weather.csv", ["2023-01-01 to 2023-06-29", "Go on to 2023-12-31"]),
    ("a year and a half", rows(count=540), "weather.csv", ["whole years", "2024-12-31"]),
    ("begins within", rows(date(2023, 1, 15)), "weather.csv", ["begins on 2023-01-15", "2023-01-01"]),
    ("far away", _changed(0, "0001-01-01,4,12,1"), "line 2", ["0001-01-01"]),
]


@pytest.mark.parametrize(("lines", "place", "words"), [row[1:] for row in FAULTS], ids=[row[0] for row in FAULTS])
def test_a_fault_in_the_days(tmp_path: Path, lines: list[str], place: str, words: list[str]) -> None:
    weather, problems = read(tmp_path, lines)
    assert weather is None
    here = [each for each in problems if place in each.split(": ")[0]]
    assert any(all(word in each for word in words) for each in here), problems


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    lines = _without(100, 101)
    lines[3], lines[7] = "2023-01-04,12,4,1", "2023-01-08,,12,1"
    problems = read(tmp_path, lines)[1]
    assert [each.split(": ")[0] for each in problems] == [f"weather.csv line {line}" for line in (5, 9, 102)]
    many = [line.replace("4.0,12.0", "12.0,4.0") for line in rows()]
    assert "345 more problems" in read(tmp_path, many)[1][-1]


@pytest.mark.parametrize("unit", ["rain_in", "least_f"])
def test_another_unit_in_a_heading_is_not_renamed_away(tmp_path: Path, unit: str) -> None:
    name = {"rain_in": "rain_mm", "least_f": "least_c"}[unit]
    problems = read(tmp_path, rows(), head=HEAD.replace(name, unit))[1]
    assert any(f"{name} is missing" in each and "Rename" in each and "convert" in each.lower() for each in problems)


def test_a_short_gap_is_filled_where_the_job_says_so_and_told(tmp_path: Path) -> None:
    """By hand: 4 and 7 degrees with two days between are 5 and 6; 1.5 and 3.0 mm are 2.0 and 2.5."""
    lines = _without(40, 41)
    lines[40] = "2023-02-12,7.0,12.0,3.0"
    weather, problems = read(tmp_path, lines, gap=2)
    assert problems == []
    assert weather is not None
    assert [date.fromordinal(each).isoformat() for each in weather.filled] == ["2023-02-10", "2023-02-11"]
    assert weather.coldest[39:43] == pytest.approx([4.0, 5.0, 6.0, 7.0])
    assert weather.rain[39:43] * 1e3 == pytest.approx([1.5, 2.0, 2.5, 3.0])
    assert np.diff(weather.days).tolist() == [1] * 364
    assert read(tmp_path, lines, gap=1)[0] is None


def test_an_end_has_no_neighbour_to_be_filled_from(tmp_path: Path) -> None:
    weather, problems = read(tmp_path, _changed(0, "2023-01-01,,12,1"), gap=3)
    assert weather is None
    assert "no neighbour" in problems[0]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A new job that names a table of days, and that table with wind and sun."""
    write_new(tmp_path)
    text = (tmp_path / "job.toml").read_text()
    text = text.replace("topsoil_mm = 200\n", "topsoil_mm = 200\nlatitude_deg = 52\naltitude_m = 40\n")
    text = text.replace("[source] ", '[season]\ndays = "weather.csv"\nwind_height_m = 10\n\n[source] ', 1)
    (tmp_path / "job.toml").write_text(text)
    lines = [f"{line},3.0,5.0" for line in rows()]
    (tmp_path / "weather.csv").write_text("\n".join([f"{HEAD},wind_m_s,sunshine_hours", *lines]))
    return tmp_path


def _problems(folder: Path) -> list[str]:
    with pytest.raises(JobError) as caught:
        read_job(folder)
    return [str(each) for each in caught.value.problems]


def _swap(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))


def test_the_days_come_with_the_job(job: Path) -> None:
    read = read_job(job)
    assert read.weather is not None
    assert read.season.wind_height == 10
    assert read.site.latitude == pytest.approx(np.radians(52))


def test_place_and_gauge_must_be_told(job: Path) -> None:
    for key in ("latitude_deg = 52\n", "altitude_m = 40\n", "wind_height_m = 10\n"):
        _swap(job / "job.toml", key, "")
    told = _problems(job)
    assert len(told) == 3
    for key in ("site.latitude_deg", "site.altitude_m", "season.wind_height_m"):
        assert any(each.split(": ")[0].endswith(key) and "is missing" in each for each in told), told


def test_measured_evaporation_needs_no_place(job: Path) -> None:
    for key in ("latitude_deg = 52\n", "altitude_m = 40\n", "wind_height_m = 10\n"):
        _swap(job / "job.toml", key, "")
    (job / "weather.csv").write_text("\n".join([f"{HEAD},evaporation_mm", *(f"{line},1.2" for line in rows())]))
    assert read_job(job).weather is not None


def test_no_more_sun_than_the_day_has(job: Path) -> None:
    """52 degrees north on 21 June: 16.5 h from rise to set (almanac, from memory 16 h 34 min with half discs)."""
    _swap(job / "weather.csv", "2023-06-21,4.0,12.0,1.5,3.0,5.0", "2023-06-21,4.0,12.0,1.5,3.0,18.2")
    told = _problems(job)
    assert len(told) == 1
    assert all(word in told[0] for word in ("season.days", "18.2 h on 2023-06-21", "at most"))


def test_the_table_must_be_there_and_lie_in_the_folder(job: Path) -> None:
    (job / "weather.csv").unlink()
    assert any(each.startswith("weather.csv: there is no such file") for each in _problems(job))
    _swap(job / "job.toml", '"weather.csv"', '"../weather.csv"')
    told = _problems(job)
    assert len(told) == 1
    assert all(word in told[0] for word in ("season.days", '"../weather.csv"', "own folder"))
