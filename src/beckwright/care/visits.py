"""Visits to a built stream: levels shot on several dates, from files and from what was typed on the slope."""

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings import Shot, read_shots
from beckwright.readings.against import against
from beckwright.readings.staff import Staff, shots_of
from beckwright.tables.care import VISIT_APART

_DATED = re.compile(r"(\d{4})-(\d{2})-(\d{2})")


@value
class Visit:
    """Levels of one visit. ``comes`` the name of their file, or that they were typed on the slope."""

    day: date
    shots: tuple[Shot, ...]
    comes: str


def visits_of_files(paths: Iterable[Path], design: Design) -> tuple[Visit, ...]:
    """Levels shot on several dates; each file has its date in its name. Raises JobError with every problem."""
    problems: list[Problem] = []
    found = []
    for path in paths:
        day = day_in(path.name)
        if day is None:
            rule, remedy = "The name of each file has the date it was shot", "Call it as_built_2027-03-20.csv"
            problems.append(Problem(place=path.name, found="it has no date in its name", rule=rule, remedy=remedy))
            continue
        try:
            found.append(Visit(day=day, shots=read_shots(path, design.course), comes=path.name))
        except JobError as error:
            problems += error.problems
    if problems:
        raise JobError(problems)
    return tuple(found)


def day_in(name: str) -> date | None:
    """The date in the name of a file; None where there is none."""
    match = _DATED.search(name)
    try:
        return date(*map(int, match.groups())) if match else None
    except ValueError:
        return None


def visits_typed(staffs: Sequence[Staff], design: Design) -> tuple[Visit, ...]:
    """Shots typed on the slope, those near together in time as one visit of its last day; of a spot its last shot."""
    found = []
    for group in _near(sorted((each for each in staffs if each.usable), key=lambda each: each.row.seen)):
        shots = shots_of(each.staff for each in against(design, group).held if each.counted)
        if shots:
            day = group[-1].row.seen.astimezone().date()
            found.append(Visit(day=day, shots=shots, comes="typed on the slope"))
    return tuple(found)


def _near(staffs: Sequence[Staff]) -> Iterator[list[Staff]]:
    group: list[Staff] = []
    for each in staffs:
        if group and (each.row.seen - group[-1].row.seen).total_seconds() > VISIT_APART.amount:
            yield group
            group = []
        group.append(each)
    if group:
        yield group
