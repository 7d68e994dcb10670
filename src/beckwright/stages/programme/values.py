"""The programme: tasks, when they can and must be done, and how sure the end is."""

from datetime import date

from beckwright.base.quantities import BoolArray, Days, FloatArray, IntArray, Ratio
from beckwright.base.values import value
from beckwright.job.model import Crew


@value
class Task:
    """One task, by its name in the network. What nobody does is a wait: it goes on over week-ends and holidays.

    shortest, likely, longest  days of work in fair weather; of a task nobody does, days of the calendar
    after     names of the tasks that must be done before
    weather   whether bad weather stops it
    comes     what the durations were made from, in words
    """

    name: str
    crew: Crew
    shortest: Days
    likely: Days
    longest: Days
    after: tuple[str, ...]
    weather: bool
    comes: str = ""


@value
class Passes:
    """A network worked forwards and backwards; m tasks, and where there are many tries, n of them: (m,) or (m, n).

    Days of the calendar since the start, parts of a day included. Floats are in the days the task is counted in.

    early_start, early_finish  as soon as can be
    late_start, late_finish    without moving the end
    total_float                how much later it may begin without moving the end
    free_float                 how much later it may begin without moving any other task
    drives                     whether it is on the chain of tasks, each waiting for the one before, that makes the end
    """

    early_start: FloatArray
    early_finish: FloatArray
    late_start: FloatArray
    late_finish: FloatArray
    total_float: FloatArray
    free_float: FloatArray
    drives: BoolArray


@value
class Dated:
    """One task in its place. ``starts`` and ``ends`` are its first and last day, ``latest`` the last day it may end.

    critical     whether it is on the chain that makes the end; where a wait ends at a week-end it has some float yet
    criticality  share of the tries in which it is
    """

    task: Task
    duration: Days
    starts: date
    ends: date
    latest: date
    total_float: Days
    free_float: Days
    critical: bool
    criticality: Ratio


@value
class Hire:
    """Something hired, from the first day it is needed to the last; ``days`` of the calendar, both included."""

    what: str
    starts: date
    ends: date
    days: int


@value
class Clash:
    """Two tasks of one crew on the same days: one of them must wait for the other."""

    crew: Crew
    one: str
    other: str
    starts: date
    ends: date


@value
class Programme:
    """All of it.

    tasks        in the order they begin
    finish       last day of the work as it mostly goes, weather included
    likely       days of work and waiting that makes, of the calendar
    finishes     (n,) days of the calendar to the end, of every try
    p50, p80, p90  last days that half, eight and nine in ten of the tries keep
    """

    tasks: tuple[Dated, ...]
    start: date
    finish: date
    likely: Days
    finishes: FloatArray
    p50: date
    p80: date
    p90: date
    hires: tuple[Hire, ...]
    clashes: tuple[Clash, ...]


@value
class Network:
    """Tasks in an order in which each stands after those it waits for.

    before   for each task the rows of those it waits for
    waiting  rows of the tasks that nobody does
    """

    tasks: tuple[Task, ...]
    before: tuple[IntArray, ...]
    waiting: tuple[bool, ...]
