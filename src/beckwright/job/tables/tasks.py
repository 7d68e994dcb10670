"""tasks.csv: tasks as the person plans them, in place of those the tool makes, or beside them."""

from pathlib import Path
from typing import cast, get_args

from beckwright.base.errors import Problem
from beckwright.job.model import OwnTask
from beckwright.job.model.programme import Crew
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.wording.sentences import near_miss, shown

LONGEST = 1000.0
"""A task of more days than this is a slip."""

TASKS = (
    Column(name="task"),
    Column(name="crew", other="own crew"),
    Column(name="days_low", low=0, high=LONGEST, other=-1.0),
    Column(name="days", low=0, high=LONGEST),
    Column(name="days_high", low=0, high=LONGEST, other=-1.0),
    Column(name="after", other=""),
    Column(name="weather", other="no"),
)


def read_tasks(path: Path, problems: list[Problem]) -> tuple[OwnTask, ...]:
    """Read tasks.csv; what could not be read is noted.

    ``after`` holds names with a plus between them; ``days_low`` and ``days_high`` may be left out where one is sure.
    """
    table = read_table(path, TASKS, problems)
    if table is None:
        return ()
    read = [_task(table, row, problems) for row in range(len(table.lines))]
    return tuple(task for task in read if task is not None)


def _task(table: Table, row: int, problems: list[Problem]) -> OwnTask | None:
    crew, weather = table.texts["crew"][row], table.texts["weather"][row]
    days = table.numbers["days"][row]
    low, high = (
        given if given >= 0 else days for given in (table.numbers[f"days_{end}"][row] for end in ("low", "high"))
    )
    found = [*_choice("crew", crew, get_args(Crew)), *_choice("weather", weather, ("yes", "no"))]
    if not low <= days <= high:
        found.append(
            (
                f"days_low, days and days_high are {low:g}, {days:g} and {high:g}",
                "They rise, or are one",
                "Look whether two are the wrong way round",
            )
        )
    where = f"{table.file} line {table.lines[row]}"
    problems.extend(Problem(place=where, found=what, rule=rule, remedy=remedy) for what, rule, remedy in found)
    if found:
        return None
    return OwnTask(
        name=table.texts["task"][row],
        crew=cast("Crew", crew),
        shortest=low,
        likely=days,
        longest=high,
        after=tuple(name.strip() for name in table.texts["after"][row].split("+") if name.strip()),
        weather=weather == "yes",
    )


def _choice(column: str, given: str, known: tuple[str, ...]) -> list[tuple[str, str, str]]:
    if given in known:
        return []
    nearest = near_miss(given, known)
    remedy = f'Did you mean "{nearest}"' if nearest else "Write one of these"
    return [(f"{column} is {shown(given)}", f"It must be one of {', '.join(known)}", remedy)]
