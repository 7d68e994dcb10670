"""The programme, from as written to SI."""

from typing import get_args

from beckwright.job.model import WorkForce
from beckwright.job.units import PERCENT
from beckwright.job.written import Written
from beckwright.job.written.programme import WeekDay

_WEEK = get_args(WeekDay)


def force_from(written: Written) -> WorkForce:
    """Who does the work."""
    given = written.programme
    return WorkForce(
        start=given.start,
        people=given.people,
        hours=given.hours_per_day,
        machine=given.machine,
        resting=tuple(sorted({_WEEK.index(day) for day in given.days_off})),
        holidays=tuple(given.holidays),
        lost=given.lost_to_weather_percent * PERCENT,
        seed=given.seed,
    )
