"""Calendar files (RFC 5545): the programme, one all-day event a task, and what comes round again every year of care."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from hashlib import sha256

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.care import CareTask
from beckwright.stages.programme import Dated, Programme

_LONGEST = 75
"""Octets of a line, its break not counted (RFC 5545, 3.1)."""

_SHOWN = 0.05
"""Less float than this, in days, is none."""

_SATURDAY = 5


@value
class Event:
    """One event without times, from the first to the last day, both kept.

    again  recurrence rule (RFC 5545, 3.3.10); empty where it happens once
    """

    title: str
    starts: date
    ends: date
    told: str
    again: str = ""


def write_calendar(programme: Programme, job: str, written: date) -> bytes:
    """Write every task as an event without times, and the dates the end keeps with nine tries in ten.

    job      name of the job, the calendar's name
    written  date of the drawings: the stamp of every event, so that the same programme gives the same bytes
    """
    events = [
        Event(title=opening(dated.task.name), starts=dated.starts, ends=dated.ends, told=_told(dated))
        for dated in programme.tasks
    ]
    done = Event(
        title="Done, by nine tries in ten",
        starts=programme.p90,
        ends=programme.p90,
        told="Likely end with its spread",
    )
    return _calendar([*events, done], "programme", job, written)


def write_care_calendar(tasks: Sequence[CareTask], job: str, written: date) -> bytes:
    """Write every task of care as an event that comes round again, the first time after ``written``."""
    return _calendar([_again(task, written) for task in tasks], "care", job, written)


def _calendar(events: Iterable[Event], kind: str, job: str, written: date) -> bytes:
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//beckwright//{kind}//EN",
        "CALSCALE:GREGORIAN",
        f"X-WR-CALNAME:{_escaped(job)}",
    ]
    for event in events:
        lines += _event(event, job, written)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line)).encode()


def _told(dated: Dated) -> str:
    waits = f"may wait {dated.total_float:.1f} days" if dated.total_float >= _SHOWN else "may not wait"
    who = "nobody is needed" if dated.task.crew == "nobody" else dated.task.crew
    return f"{who}; {dated.duration:.1f} days; {waits}"


def _again(task: CareTask, written: date) -> Event:
    """The first day is one of those the rule gives (3.8.2.4); its end has the kind of its start, a date (3.3.10)."""
    months = ",".join(str(month + 1) for month in task.months)
    first = _first(task, written)
    often = "FREQ=WEEKLY;BYDAY=SA" if task.weekly else "FREQ=YEARLY;BYMONTHDAY=1"
    rule = f"{often};BYMONTH={months}"
    if task.years is not None:
        # The day before the same day so many years on: neither more rounds nor fewer.
        until = first.replace(year=first.year + task.years, day=1) - timedelta(days=1)
        rule += f";UNTIL={until:%Y%m%d}"
    told = f"{task.does} By: {task.by}. {opening(task.why)}."
    return Event(title=task.title, starts=first, ends=first, told=told, again=rule)


def _first(task: CareTask, written: date) -> date:
    """The first day after ``written`` on which the task falls: the first of a month, or a Saturday."""
    day = written + timedelta(days=1)
    while day.month - 1 not in task.months or (day.weekday() != _SATURDAY if task.weekly else day.day != 1):
        day += timedelta(days=1)
    return day


def _event(event: Event, job: str, written: date) -> list[str]:
    mark = sha256(f"{job}/{event.title}".encode()).hexdigest()[:24]
    return [
        "BEGIN:VEVENT",
        f"UID:{mark}@beckwright",
        f"DTSTAMP:{written:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{event.starts:%Y%m%d}",
        f"DTEND;VALUE=DATE:{event.ends + timedelta(days=1):%Y%m%d}",
        *([f"RRULE:{event.again}"] if event.again else []),
        f"SUMMARY:{_escaped(event.title)}",
        f"DESCRIPTION:{_escaped(event.told)}",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _escaped(words: str) -> str:
    """What separates values is marked as text (RFC 5545, 3.3.11)."""
    return words.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line: str) -> list[str]:
    """A long line goes on after a space on the next (RFC 5545, 3.1); no letter is cut in two."""
    parts, held = [], ""
    for letter in line:
        if len(f"{held}{letter}".encode()) > _LONGEST:
            parts.append(held)
            held = " "
        held += letter
    return [*parts, held]
