"""The programme on paper and in a calendar file: read back by the rules of RFC 5545."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from beckwright import design, read_job
from beckwright.compose import Design
from beckwright.papers.drawing import Text, plain
from beckwright.papers.formats.ics import write_calendar
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.overview.programme import programme_sheet
from beckwright.stages.programme import Programme, Task, make_programme

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


@pytest.fixture(scope="module")
def programme(hazel: Design) -> Programme:
    """Names with everything a calendar file must mark as text; one so long that its line is folded; letters of many."""
    names = ("dig; ram, and look", "wait \\ see", "größe " * 20 + "end")
    tasks = [
        Task(name=name, crew=crew, shortest=2.0, likely=3.0, longest=6.0, after=after, weather=True)
        for name, crew, after in zip(names, ("digger", "nobody", "own crew"), ((), names[:1], names[1:2]), strict=True)
    ]
    made = make_programme(tuple(tasks), replace(hazel.job.force, start=date(2026, 9, 28)))
    assert made is not None
    return made


def read_calendar(raw: bytes) -> list[dict[str, str]]:
    """Events of a calendar file, folded lines joined and marks taken off (RFC 5545, 3.1 and 3.3.11)."""
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    lines = raw.decode().replace("\r\n ", "").split("\r\n")
    assert (lines[0], lines[-2], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR", "")
    events: list[dict[str, str]] = []
    for line in lines:
        if line == "BEGIN:VEVENT":
            events.append({})
        elif events and ":" in line:
            key, _, said = line.partition(":")
            said = said.replace("\\\\", "\0").replace("\\;", ";").replace("\\,", ",").replace("\0", "\\")
            events[-1][key.partition(";")[0]] = said
    return events


def test_every_task_is_an_event_on_its_days(programme: Programme) -> None:
    events = read_calendar(write_calendar(programme, "Hazel, Bank", date(2026, 9, 1)))
    assert len(events) == len(programme.tasks) + 1
    for dated, event in zip(programme.tasks, events, strict=False):
        assert event["SUMMARY"].lower() == dated.task.name
        assert event["DTSTART"] == f"{dated.starts:%Y%m%d}"
        assert event["DTEND"] == f"{dated.ends + timedelta(days=1):%Y%m%d}"
    assert len({event["UID"] for event in events}) == len(events)


def test_the_same_programme_gives_the_same_bytes(programme: Programme) -> None:
    one, other = (write_calendar(programme, "Hazel Bank", date(2026, 9, 1)) for _ in range(2))
    assert one == other


def test_words_on_the_sheet_keep_apart(hazel: Design, programme: Programme) -> None:
    texts = [
        part for mark in programme_sheet(hazel, programme, 1, 1).marks for part in plain(mark) if isinstance(part, Text)
    ]
    boxes = [(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts]
    for place, (left, low, right, high) in enumerate(boxes):
        for other, (left_2, low_2, right_2, high_2) in enumerate(boxes[place + 1 :], place + 1):
            apart = left >= right_2 - 0.3 or left_2 >= right - 0.3 or low >= high_2 - 0.3 or low_2 >= high - 0.3
            assert apart, (texts[place].words, texts[other].words)


def test_the_sheet_tells_the_dates_of_the_programme(hazel: Design, programme: Programme) -> None:
    words = {
        part.words
        for mark in programme_sheet(hazel, programme, 1, 1).marks
        for part in plain(mark)
        if isinstance(part, Text)
    }
    first = programme.tasks[0]
    assert f"{first.starts.day} {first.starts:%b}" in words
    assert f"9 tries in 10 end by {programme.p90.day} {programme.p90:%b}" in words
