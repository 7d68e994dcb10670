"""The network of tasks, worked forwards for the earliest days and backwards for the latest: the critical path.

Tasks of a crew are counted in days of work, waits in days of the calendar; both passes go through the calendar, so a
wait that ends on a Saturday costs what it costs. Many tries of the durations are worked side by side.
"""

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import BoolArray, FloatArray
from beckwright.stages.programme.calendar import Calendar
from beckwright.stages.programme.values import Network, Passes, Task

_ALMOST = 1e-9


def network(tasks: tuple[Task, ...], place: str) -> Network:
    """Put tasks in an order in which each comes after those it waits for.

    place  where the tasks were written, for complaints
    Raises JobError for a name that stands twice, one that is not known, and tasks that wait for each other in a ring.
    """
    problems = [*_twice(tasks, place), *_unknown(tasks, place)]
    if problems:
        raise JobError(problems)
    ordered = _ordered(tasks, place)
    rows = {task.name: row for row, task in enumerate(ordered)}
    return Network(
        tasks=ordered,
        before=tuple(np.array([rows[name] for name in task.after], dtype=np.int64) for task in ordered),
        waiting=tuple(task.crew == "nobody" for task in ordered),
    )


def _twice(tasks: tuple[Task, ...], place: str) -> list[Problem]:
    names = [task.name for task in tasks]
    return [
        Problem(
            place=place,
            found=f'the task "{name}" stands twice',
            rule="Each task has a name of its own",
            remedy="Rename one",
        )
        for name in sorted({name for name in names if names.count(name) > 1})
    ]


def _unknown(tasks: tuple[Task, ...], place: str) -> list[Problem]:
    known = {task.name for task in tasks}
    return [
        Problem(
            place=place,
            found=f'"{task.name}" waits for "{name}", which is no task',
            rule="A task waits for tasks of the programme",
            remedy="Write its name as it stands, or take it out",
        )
        for task in tasks
        for name in task.after
        if name not in known
    ]


def _ordered(tasks: tuple[Task, ...], place: str) -> tuple[Task, ...]:
    ordered: list[Task] = []
    done: set[str] = set()
    left = list(tasks)
    while left:
        ready = [task for task in left if done.issuperset(task.after)]
        if not ready:
            ring = ", ".join(f'"{task.name}"' for task in left)
            found = f"the tasks {ring} wait for each other in a ring"
            raise JobError([Problem(place=place, found=found, rule="Something comes first", remedy="Free one of them")])
        ordered += ready
        done.update(task.name for task in ready)
        left = [task for task in left if task.name not in done]
    return tuple(ordered)


def passes(plan: Network, durations: FloatArray, calendar: Calendar) -> Passes:
    """Work the network both ways for durations (m,) or, many tries side by side, (m, n)."""
    starts, finishes = _forwards(plan, durations, calendar)
    late_starts, late_finishes = _backwards(plan, durations, calendar, finishes.max(axis=0))
    total = np.array([_apart(plan, row, starts[row], late_starts[row], calendar) for row in range(len(plan.tasks))])
    return Passes(
        early_start=starts,
        early_finish=finishes,
        late_start=late_starts,
        late_finish=late_finishes,
        total_float=total,
        free_float=_free(plan, starts, finishes, calendar),
        drives=_drives(plan, finishes),
    )


def _drives(plan: Network, finishes: FloatArray) -> BoolArray:
    """Back from what ends last to what each of the chain waited for longest."""
    drives: BoolArray = finishes >= finishes.max(axis=0) - _ALMOST
    for row in range(len(finishes) - 1, -1, -1):
        before = plan.before[row]
        if len(before):
            last = finishes[before] >= finishes[before].max(axis=0) - _ALMOST
            drives[before] |= last & drives[row]
    return drives


def _forwards(plan: Network, durations: FloatArray, calendar: Calendar) -> tuple[FloatArray, FloatArray]:
    starts, finishes = np.zeros_like(durations), np.zeros_like(durations)
    for row, duration in enumerate(durations):
        ready = finishes[plan.before[row]].max(axis=0, initial=0.0)
        if plan.waiting[row]:
            starts[row], finishes[row] = ready, ready + duration
            continue
        work = calendar.work_by(ready)
        starts[row] = calendar.begins(work)
        finishes[row] = np.maximum(calendar.ends(work + duration), starts[row])
    return starts, finishes


def _backwards(
    plan: Network, durations: FloatArray, calendar: Calendar, end: FloatArray
) -> tuple[FloatArray, FloatArray]:
    finishes = np.broadcast_to(end, durations.shape).copy()
    starts = np.zeros_like(durations)
    for row in range(len(durations) - 1, -1, -1):
        if plan.waiting[row]:
            starts[row] = finishes[row] - durations[row]
        else:
            work = calendar.work_by(finishes[row])
            starts[row] = calendar.begins(np.maximum(work - durations[row], 0.0))
        for before in plan.before[row]:
            finishes[before] = np.minimum(finishes[before], starts[row])
    return starts, finishes


def _apart(plan: Network, row: int, early: FloatArray, late: FloatArray, calendar: Calendar) -> FloatArray:
    """How much later, in the days the task is counted in."""
    if plan.waiting[row]:
        return late - early
    return calendar.work_by(late) - calendar.work_by(early)


def _free(plan: Network, starts: FloatArray, finishes: FloatArray, calendar: Calendar) -> FloatArray:
    """Up to the first of those that wait for it, or the end."""
    next_start = np.broadcast_to(finishes.max(axis=0), finishes.shape).copy()
    for row, before in enumerate(plan.before):
        next_start[before] = np.minimum(next_start[before], starts[row])
    return np.array([_apart(plan, row, finishes[row], next_start[row], calendar) for row in range(len(plan.tasks))])
