"""The section of job.toml about who does the work, and when."""

import datetime
from typing import Literal

from beckwright.job.model import Machine
from beckwright.job.written.fields import Section, number, told
from beckwright.tables.outputs import LOST_TO_WEATHER

WeekDay = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]


class ProgrammeWritten(Section):
    """Who does the work, and when."""

    start: datetime.date | None = told("first day on site; leave out while nobody knows", default=None)
    people: int = number("people of the own crew", "1", 1, 50, default=2)
    hours_per_day: float = number("hours worked on a day", "h", 1, 16, default=8)
    machine: Machine = told("what digs: by hand, or the weight of the digger", default="by hand")
    days_off: list[WeekDay] = told(
        "days of the week on which nobody works, six at most", default=["saturday", "sunday"], max_length=6
    )
    holidays: list[datetime.date] = told("other days off", default=[], max_length=200)
    lost_to_weather_percent: float = number(
        "share of working days lost to weather by what stands in it", "%", 0, 90, default=LOST_TO_WEATHER.amount * 100
    )
    seed: int = number("number that makes the tries come out the same", "1", 0, 2**31, default=1)
