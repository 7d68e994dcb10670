"""The programme as a calendar file (RFC 5545): one all-day event a task, for the telephone of everyone concerned."""

from datetime import date, timedelta
from hashlib import sha256

from beckwright.base.words import opening
from beckwright.stages.programme import Dated, Programme

_LONGEST = 75
"""Octets of a line, its break not counted (RFC 5545, 3.1)."""

_SHOWN = 0.05
"""Less float than this, in days, is none."""


def write_calendar(programme: Programme, job: str, written: date) -> bytes:
    """Write every task as an event without times, and the dates the end keeps with nine tries in ten.

    job      name of the job, the calendar's name
    written  date of the drawings: the stamp of every event, so that the same programme gives the same bytes
    """
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//beckwright//programme//EN",
        "CALSCALE:GREGORIAN",
        f"X-WR-CALNAME:{_escaped(job)}",
    ]
    for dated in programme.tasks:
        lines += _event(opening(dated.task.name), dated.starts, dated.ends, _told(dated), job, written)
    lines += _event(
        "Done, by nine tries in ten", programme.p90, programme.p90, "Likely end with its spread", job, written
    )
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line)).encode()


def _told(dated: Dated) -> str:
    waits = f"may wait {dated.total_float:.1f} days" if dated.total_float >= _SHOWN else "may not wait"
    who = "nobody is needed" if dated.task.crew == "nobody" else dated.task.crew
    return f"{who}; {dated.duration:.1f} days; {waits}"


def _event(title: str, starts: date, ends: date, told: str, job: str, written: date) -> list[str]:
    mark = sha256(f"{job}/{title}".encode()).hexdigest()[:24]
    return [
        "BEGIN:VEVENT",
        f"UID:{mark}@beckwright",
        f"DTSTAMP:{written:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{starts:%Y%m%d}",
        f"DTEND;VALUE=DATE:{ends + timedelta(days=1):%Y%m%d}",
        f"SUMMARY:{_escaped(title)}",
        f"DESCRIPTION:{_escaped(told)}",
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
