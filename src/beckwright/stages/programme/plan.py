"""From tasks to dates: the plan as it mostly goes, and the spread of its end."""

from datetime import date, timedelta

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.equations.programme import days_with_weather
from beckwright.job.model import Crew, OwnTask, WorkForce
from beckwright.stages.programme.calendar import Calendar, calendar
from beckwright.stages.programme.chance import tries
from beckwright.stages.programme.network import network, passes
from beckwright.stages.programme.values import Clash, Dated, Hire, Network, Passes, Programme, Task

PLACE = "tasks.csv"

_SPARE = 3
"""The calendar is laid out for so many times the work of the slowest try, for rest and holidays."""

_HIRED: dict[Crew, str] = {"digger": "digger with driver"}


def own_tasks(made: tuple[Task, ...], own: tuple[OwnTask, ...]) -> tuple[Task, ...]:
    """Tasks as made, with those the person wrote in place of the ones of their name, and the others after them."""
    written = {
        task.name: Task(
            name=task.name,
            crew=task.crew,
            shortest=task.shortest,
            likely=task.likely,
            longest=task.longest,
            after=task.after,
            weather=task.weather,
            comes=PLACE,
        )
        for task in own
    }
    kept = tuple(written.pop(task.name, task) for task in made)
    return (*kept, *written.values())


def make_programme(tasks: tuple[Task, ...], force: WorkForce) -> Programme | None:
    """Date the tasks; None where nobody gave a first day or there is nothing to do.

    Raises JobError where the tasks do not make a network.
    """
    if force.start is None or not tasks:
        return None
    plan = network(tasks, PLACE)
    drawn = tries(plan, force.lost, force.seed)
    days = _calendar(force.start, force, drawn)
    likely = np.array(
        [days_with_weather(task.likely, force.lost) if task.weather else task.likely for task in plan.tasks]
    )
    once, often = passes(plan, likely, days), passes(plan, drawn, days)
    ends = often.early_finish.max(axis=0)
    dated = _dated(plan, likely, once, often, days)
    p50, p80, p90 = (days.last_date(float(np.quantile(ends, share))) for share in (0.5, 0.8, 0.9))
    return Programme(
        tasks=dated,
        start=force.start,
        finish=max(task.ends for task in dated),
        likely=float(once.early_finish.max()),
        finishes=ends,
        p50=p50,
        p80=p80,
        p90=p90,
        hires=_hires(dated),
        clashes=_clashes(dated),
    )


def _calendar(start: date, force: WorkForce, drawn: FloatArray) -> Calendar:
    most = int(np.ceil(drawn.sum(axis=0).max())) + len(force.holidays)
    weeks = 7.0 / (7 - len(set(force.resting)))
    return calendar(start, int(_SPARE * weeks * most) + 30, frozenset(force.resting), frozenset(force.holidays))


def _dated(plan: Network, durations: FloatArray, once: Passes, often: Passes, days: Calendar) -> tuple[Dated, ...]:
    rows = [
        Dated(
            task=task,
            duration=float(durations[row]),
            starts=days.date_of(float(once.early_start[row])),
            ends=max(days.last_date(float(once.early_finish[row])), days.date_of(float(once.early_start[row]))),
            latest=days.last_date(float(once.late_finish[row])),
            total_float=float(once.total_float[row]),
            free_float=float(once.free_float[row]),
            critical=bool(once.drives[row]),
            criticality=float(np.mean(often.drives[row])),
        )
        for row, task in enumerate(plan.tasks)
    ]
    order = np.lexsort((once.early_finish, once.early_start))
    return tuple(rows[row] for row in order)


def _hires(tasks: tuple[Dated, ...]) -> tuple[Hire, ...]:
    """From the first day something hired is needed to the last."""
    found = []
    for crew, what in _HIRED.items():
        held = [task for task in tasks if task.task.crew == crew]
        if held:
            starts, ends = min(task.starts for task in held), max(task.ends for task in held)
            found.append(Hire(what=what, starts=starts, ends=ends, days=(ends - starts + timedelta(days=1)).days))
    return tuple(found)


def _clashes(tasks: tuple[Dated, ...]) -> tuple[Clash, ...]:
    """Tasks of one crew on the same days. A day that one ends and the next begins on is shared, not a clash."""
    found = []
    for place, one in enumerate(tasks):
        for other in tasks[place + 1 :]:
            together = one.task.crew == other.task.crew != "nobody"
            starts, ends = max(one.starts, other.starts), min(one.ends, other.ends)
            if together and starts < ends:
                found.append(
                    Clash(crew=one.task.crew, one=one.task.name, other=other.task.name, starts=starts, ends=ends)
                )
    return tuple(found)
