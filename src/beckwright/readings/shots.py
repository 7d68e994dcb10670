"""Levels shot on the works: a row for each place, as they stand in the notebook."""

from math import isnan
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.job.tables import DEEPEST, HIGHEST
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.stages.course import SetOutCourse

_NOT_SHOT = float("nan")

_SIDES = ("left_m", "middle_m", "right_m", "dig_m")

SHOTS = (
    Column(name="place"),
    *(Column(name=side, low=DEEPEST, high=HIGHEST, other=_NOT_SHOT) for side in _SIDES),
    Column(name="note", other=""),
)

_TWICE: Length = 5e-4
"""Two chainages this near are one place, m."""


@value
class Shot:
    """Levels shot at one place; None where nobody held the staff.

    chainage  of a place on the course
    lip       name of the lip, or empty: then ``left`` and ``right`` are the lining's edges and ``middle`` the bed
    dig       formation, shot before the lining went in
    """

    chainage: Length
    lip: str
    left: Level | None
    middle: Level | None
    right: Level | None
    dig: Level | None
    note: str


def read_shots(path: Path, course: SetOutCourse) -> tuple[Shot, ...]:
    """Read levels shot on the works of a course, in order downstream.

    A place is a chainage such as 3.5, or the name of a lip, such as lip 1 or source. Columns: place, left_m, middle_m,
    right_m, dig_m, note; only the first must be there, and a row has at least one level.
    Raises JobError with every problem of the file.
    """
    problems: list[Problem] = []
    table = read_table(path, SHOTS, problems)
    if table is None:
        raise JobError(problems)
    lips = lip_places(course)
    shots = [_shot(table, row, course, lips, problems) for row in range(len(table.lines))]
    problems.extend(_twice(table, shots))
    if problems:
        raise JobError(problems)
    return tuple(sorted((shot for shot in shots if shot is not None), key=lambda shot: (shot.chainage, shot.lip)))


def lip_places(course: SetOutCourse) -> dict[str, Length]:
    """Chainage of every lip by its name, the source's first."""
    from beckwright.job.model import Step

    return {"source": 0.0} | {stretch.reach.name: stretch.start for stretch in course.of_kind(Step)}


def _shot(
    table: Table, row: int, course: SetOutCourse, lips: dict[str, Length], problems: list[Problem]
) -> Shot | None:
    place = table.texts["place"][row]
    levels = {side: None if isnan(given := table.numbers[side][row]) else given for side in _SIDES}
    where = f"{table.file} line {table.lines[row]}"
    if all(level is None for level in levels.values()):
        problems.append(
            Problem(
                place=where,
                found=f"{shown(place)} has no level",
                rule=f"A row has at least one of {', '.join(_SIDES)}",
                remedy="Write the level, or take the row out",
            )
        )
        return None
    chainage = lips.get(place, _number(place))
    if not 0.0 <= chainage <= course.length:
        nearest = near_miss(place, lips)
        problems.append(
            Problem(
                place=where,
                found=f"place is {shown(place)}",
                rule=f"It is a chainage from 0 to {course.length:g} m, or a lip: {', '.join(lips)}",
                remedy=f'Did you mean "{nearest}"' if nearest else "Write one of these",
            )
        )
        return None
    return Shot(
        chainage=chainage,
        lip=place if place in lips else "",
        left=levels["left_m"],
        middle=levels["middle_m"],
        right=levels["right_m"],
        dig=levels["dig_m"],
        note=table.texts["note"][row],
    )


def _number(text: str) -> float:
    """A chainage as written, or one no course has."""
    try:
        return float(text.removesuffix("m").strip().replace(",", "."))
    except ValueError:
        return -1.0


def _twice(table: Table, shots: list[Shot | None]) -> list[Problem]:
    found, seen = [], dict[tuple[int, str], int]()
    for row, shot in enumerate(shots):
        if shot is None:
            continue
        key = (round(shot.chainage / _TWICE), shot.lip)
        if key in seen:
            place = table.texts["place"][row]
            found.append(
                Problem(
                    place=f"{table.file} line {table.lines[row]}",
                    found=f"{shown(place)} stood on line {table.lines[seen[key]]} before",
                    rule="Each place stands once",
                    remedy="Keep the better of the two",
                )
            )
        seen.setdefault(key, row)
    return found
