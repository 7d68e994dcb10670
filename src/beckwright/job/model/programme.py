"""Who does the work, and when."""

from datetime import date
from typing import Literal

from beckwright.base.quantities import Days, Ratio
from beckwright.base.values import value

Crew = Literal["own crew", "digger", "electrician", "planting", "nobody"]
"""Who does a task; nobody waits: curing, settling and tests go on over week-ends and holidays."""

Machine = Literal["by hand", "1.5 t", "3 t", "8 t"]


@value
class WorkForce:
    """Who does the work, and on which days.

    start     first day on site; None where nobody said: then no programme is made
    people    of the own crew
    hours     worked on a day
    machine   what digs
    resting   days of the week on which nobody works, Monday 0
    holidays  other days off
    lost      share of working days lost to weather by what stands in it
    seed      of the tries
    """

    start: date | None
    people: int
    hours: float
    machine: Machine
    resting: tuple[int, ...]
    holidays: tuple[date, ...]
    lost: Ratio
    seed: int


@value
class OwnTask:
    """A task as the person wrote it, in place of the one of that name or beside the others."""

    name: str
    crew: Crew
    shortest: Days
    likely: Days
    longest: Days
    after: tuple[str, ...]
    weather: bool
