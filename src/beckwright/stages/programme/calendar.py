"""Days of the calendar against days of work: week-ends and holidays stand still, curing goes on."""

from datetime import date, timedelta

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value

_ALMOST = 1e-9


@value
class Calendar:
    """The working days of a site.

    worked  (n,) days of work done by the beginning of each day of the calendar, the start's first
    """

    start: date
    worked: FloatArray

    def work_by(self, day: FloatArray) -> FloatArray:
        """Days of work done by days of the calendar."""
        done: FloatArray = np.interp(day, np.arange(len(self.worked)), self.worked)
        return done

    def begins(self, work: FloatArray) -> FloatArray:
        """Day of the calendar on which the work after so many days of it begins: never one that stands still."""
        row = np.searchsorted(self.worked, work + _ALMOST, side="right") - 1
        day: FloatArray = row.astype(np.float64) + np.maximum(work - self.worked[row], 0.0)
        return day

    def ends(self, work: FloatArray) -> FloatArray:
        """Day of the calendar on which so many days of work are done: the earliest, before any rest."""
        row = np.maximum(np.searchsorted(self.worked, work - _ALMOST, side="left"), 1)
        day: FloatArray = row - 1 + np.minimum(work - self.worked[row - 1], 1.0)
        return day

    def date_of(self, day: float) -> date:
        """The date of a day that begins or goes on then."""
        return self.start + timedelta(days=int(day + _ALMOST))

    def last_date(self, day: float) -> date:
        """The date of the last day of what ends then."""
        return self.start + timedelta(days=max(int(np.ceil(day - _ALMOST)) - 1, 0))


def calendar(start: date, days: int, resting: frozenset[int], holidays: frozenset[date]) -> Calendar:
    """Lay out so many days from a start.

    resting  days of the week on which nobody works, Monday 0
    Raises ValueError where every day of the week rests.
    """
    if len(resting) >= 7:
        message = "every day of the week is a day off"
        raise ValueError(message)
    dates = [start + timedelta(days=day) for day in range(days)]
    working = np.array([float(each.weekday() not in resting and each not in holidays) for each in dates])
    return Calendar(start=start, worked=np.concatenate([[0.0], np.cumsum(working)]))
