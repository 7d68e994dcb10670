"""What is due when, by hand from the job's own tables, and the calendar file by the rules of RFC 5545."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from dateutil.rrule import rrulestr

from beckwright import design
from beckwright.care import CareTask, care_tasks, frost_span, normal
from beckwright.compose import Works
from beckwright.papers.formats.ics import write_care_calendar

from .conftest import NAMES, usual, worked

WRITTEN = date(2026, 9, 1)


def _tasks(name: str) -> dict[str, CareTask]:
    works = worked(name)
    return {task.key: task for task in care_tasks(works.design, works, usual(name))}


def test_winter_follows_the_frost_days() -> None:
    """climate.csv, air_frost_days: dry_east 7, 11, 12, 12, 9, 4 from November to April, five make a winter month
    (common
    practice): November to March. soft_south_west 4, 7, 8, 9, 5, 2: December to March. Fennymoor Park goes
    by its weather.csv, counted in its HAND.md: October 5, December 16 ... March 10, April 8: October to April."""
    assert frost_span(usual("hazel_bank")) == (10, 2)
    assert frost_span(usual("withy_lane")) == (11, 2)
    assert frost_span(usual("fennymoor_park")) == (9, 3)
    tasks = _tasks("hazel_bank")
    assert tasks["drain"].months == (9,)
    assert tasks["start"].months == (3,)


def test_without_frost_days_no_winter_is_made_up() -> None:
    job = worked("hazel_bank").design.job
    assert job.climate is not None
    designed = design(replace(job, climate=replace(job.climate, frost_days=None)))
    works = Works(designed)
    keys = {task.key for task in care_tasks(designed, works, normal(designed, works))}
    assert not {"drain", "start"} & keys


def test_leaves_follow_the_trees() -> None:
    assert "oak T1" in _tasks("hazel_bank")["leaves"].why
    assert "leaves" not in _tasks("larkspur_court")


def test_the_pump_is_cleaned_by_its_hours() -> None:
    """Larkspur Court runs 3288 h a year: 500 h come round six times. Withy Lane, 1830 h: three times."""
    assert len(_tasks("larkspur_court")["pump"].months) == 6
    assert len(_tasks("withy_lane")["pump"].months) == 3
    hours = usual("withy_lane").season
    assert hours is not None
    assert hours.running.sum() / 3600 == pytest.approx(1830)


def test_edges_are_watched_for_two_years_where_fill_settles() -> None:
    assert _tasks("hazel_bank")["edges"].years == 2
    assert "edges" not in _tasks("withy_lane")


def test_two_people_lift_a_heavy_lid() -> None:
    job = worked("hazel_bank").design.job
    heavy = design(replace(job, chamber=replace(job.chamber, lid_pieces=1)))
    works = Works(heavy)
    told = {task.key: task.does for task in care_tasks(heavy, works, normal(heavy, works))}
    assert "two people" in told["pump"]
    assert "two people" not in _tasks("hazel_bank")["pump"].does


def _unfolded(raw: bytes) -> list[str]:
    assert raw.endswith(b"\r\n")
    lines = raw.decode().split("\r\n")[:-1]
    assert all(len(line.encode()) <= 75 for line in lines)
    assert not any("\n" in line or "\r" in line for line in lines)
    held: list[str] = []
    for line in lines:
        if line.startswith(" "):
            held[-1] += line[1:]
        else:
            held.append(line)
    return held


def _events(raw: bytes) -> Iterator[dict[str, str]]:
    lines = _unfolded(raw)
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-1] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in lines) == 1
    event: dict[str, str] | None = None
    for line in lines[1:-1]:
        if line == "BEGIN:VEVENT":
            assert event is None
            event = {}
        elif line == "END:VEVENT":
            assert event is not None
            yield event
            event = None
        elif event is not None:
            name, _, told = line.partition(":")
            assert re.fullmatch(r"[A-Z-]+(;[A-Z-]+=[A-Z-]+)*", name)
            assert name not in event, f"{name} may stand once"
            event[name] = told
    assert event is None


@pytest.mark.parametrize("place", NAMES)
def test_the_calendar_keeps_the_rules(place: str) -> None:
    """RFC 5545: lines of 75 octets, CRLF (3.1); UID and DTSTAMP once (3.6.1); DTEND after DTSTART and of its kind
    (3.8.2.2);
    DTSTART one of the days its rule gives (3.8.5.3); UNTIL of the kind of DTSTART, a date (3.3.10)."""
    tasks = _tasks(place)
    events = list(_events(write_care_calendar(tuple(tasks.values()), "Hazel, Bank; the job", WRITTEN)))
    assert len(events) == len(tasks)
    assert len({event["UID"] for event in events}) == len(events)
    for event, task in zip(events, tasks.values(), strict=True):
        starts, ends = (date.fromisoformat(event[f"{name};VALUE=DATE"]) for name in ("DTSTART", "DTEND"))
        assert ends - starts == timedelta(days=1)
        assert starts > WRITTEN
        rule = dict(part.split("=") for part in event["RRULE"].split(";"))
        assert set(rule) <= {"FREQ", "BYMONTH", "BYMONTHDAY", "BYDAY", "UNTIL"}
        if "UNTIL" in rule:
            assert re.fullmatch(r"\d{8}", rule["UNTIL"])
        days = _days(event["RRULE"], starts, 6)
        assert days[0] == starts
        assert {day.month - 1 for day in days} == set(task.months)


def _days(rule: str, starts: date, years: int) -> list[date]:
    """Days a rule gives by dateutil, a general-purpose library that reads RFC 5545."""
    from datetime import datetime

    first = datetime.combine(starts, datetime.min.time())
    last = first + timedelta(days=365 * years)
    return [day.date() for day in rrulestr(f"RRULE:{rule}", dtstart=first).between(first, last, inc=True)]


def test_a_task_comes_round_as_often_as_it_should() -> None:
    events = {
        event["SUMMARY"]: event
        for event in _events(write_care_calendar(tuple(_tasks("hazel_bank").values()), "x", WRITTEN))
    }
    edges = events["Shoot the edges and lips again"]
    found = _days(edges["RRULE"], date(2027, 3, 1), 6)
    assert found == [date(2027, 3, 1), date(2027, 9, 1), date(2028, 3, 1), date(2028, 9, 1)]
    leaves = events["Leaves off lips and slots"]
    days = _days(leaves["RRULE"], date(2026, 10, 3), 1)
    """October and November 2026 have Saturdays on the 3rd, 10th, 17th, 24th, 31st; 7th, 14th, 21st, 28th."""
    assert [(day.month, day.day) for day in days if day.year == 2026] == [
        *((10, day) for day in (3, 10, 17, 24, 31)),
        *((11, day) for day in (7, 14, 21, 28)),
    ]


def test_text_is_marked_and_comes_back() -> None:
    """RFC 5545, 3.3.11: comma, semicolon and backslash are marked, a new line is \\n."""
    odd = CareTask(key="odd", title="a, b; c\\d\ne", months=(0,), does="x" * 200, by="you", why="é" * 60)
    (event,) = _events(write_care_calendar((odd,), "x", WRITTEN))
    assert event["SUMMARY"] == "a\\, b\\; c\\\\d\\ne"
    assert "é" * 59 in event["DESCRIPTION"]


def test_months_are_months(name: str) -> None:
    for task in _tasks(name).values():
        assert task.months == tuple(sorted(set(task.months)))
        assert np.all((np.array(task.months) >= 0) & (np.array(task.months) < 12))
