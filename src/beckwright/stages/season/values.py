"""A year of water, month by month."""

from calendar import monthrange
from datetime import date

import numpy as np

from beckwright.base.quantities import Area, FloatArray, IntArray, Length, Lengths
from beckwright.base.values import value

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
LENGTHS = tuple(monthrange(2001, month)[1] for month in range(1, 13))
"""Days of each month of a year that is no leap year."""
WEEK = 7


@value
class Spell:
    """Days in a row without rain.

    first, last  day numbers of the calendar
    out   day on which a reservoir full at its beginning and not filled up runs out for the running stream; None
          where it outlasts the spell; least, middle and most lost
    left  (3,) of the reserve at its end
    """

    first: int
    last: int
    out: tuple[int | None, ...]
    left: FloatArray

    @property
    def days(self) -> int:
        """How many."""
        return self.last - self.first + 1


@value
class Storm:
    """The wettest day of a year: its number, its rain, and what goes over the overflow on it, (3,)."""

    day: int
    rain: Length
    over: FloatArray


@value
class Frost:
    """Frost in the air: days of each month, (12,); day numbers of the first in autumn, of the first hard one after
    summer and of the last in spring; None where there is none.
    """

    days: FloatArray
    first: int | None
    hard: int | None
    last: int | None

    @property
    def told(self) -> tuple[str, str]:
        """First and last as year-month-day; empty where there is none."""
        first, last = ("" if each is None else date.fromordinal(each).isoformat() for each in (self.first, self.last))
        return first, last


@value
class RealYear:
    """What one real year held. Bands (3,) are least, middle and most lost.

    rain, evaporation  depths; evaporation of still open water
    topped             filled up from elsewhere
    spell              the longest without rain while it runs; None where it rained every day
    """

    name: str
    rain: Length
    evaporation: FloatArray
    topped: FloatArray
    spell: Spell | None
    storm: Storm
    frost: Frost


@value
class RealYears:
    """Real years in the order of time.

    file    table they stood in
    driest  place of the one in which most had to be filled up; middle of the one in the middle, of an even number the
            drier of the two
    ways    how evaporation was found, and on how many days
    """

    file: str
    years: tuple[RealYear, ...]
    driest: int
    middle: int
    ways: tuple[tuple[str, int], ...]

    def at(self, name: str) -> RealYear:
        """A year by its name."""
        return next(each for each in self.years if each.name == name)


@value
class DayByDay:
    """The year's days, (n,); bands (3, n) are least, middle and most lost.

    numbers  of the calendar; those of a typical year begin at 1
    rain     depth
    lost     everything that leaves but for the overflow
    kept     over (or, as a negative, below) the rest level at the end of each day, filled up to it where it falls below
    alone    the same where nobody fills up: from full on the first day, down to where the pump draws air
    spare    (3,) from the rest level down to there
    over, from_tank, topped  as in ``Season``
    begun    (3,) over the rest level before the first day
    """

    numbers: IntArray
    rain: Lengths
    lost: FloatArray
    kept: FloatArray
    alone: FloatArray
    spare: FloatArray
    over: FloatArray
    from_tank: FloatArray
    topped: FloatArray
    begun: FloatArray


@value
class Season:
    """A year as the climate table tells it, or the middle one of real years.

    Volumes are (3, 12): least, middle and most lost; months January first.

    flow         it runs at, the one that runs longest; empty where nobody said how long any runs
    running      (12,) time it runs in each month
    energy       (12,) at all flows together; None where a flow that is to run cannot be given
    catch        plan inside the edges of the lining, with the pit: what rain falls into
    evaporation  from water and wet stones
    splash       landed off the lining
    wicking      drawn over the edges
    leak         as measured; nothing where nobody measured one
    rain         onto the catch
    over         through the overflow
    from_tank    filled up from the rain tank
    topped       filled up from elsewhere
    daily        (3, 12) lost on a day of each month without rain
    reserve      (3, 12) time from rested and full to the pump's least with no rain and no filling up, longest first;
                 infinite in months it does not run
    storm        rain in one go that fills the resting reservoir to its overflow
    tank_wanted  (3,) rain tank that would leave nothing to be filled up from elsewhere; infinite where the roof is too
                 small for any tank; None where there is no roof
    frost_days   (12,) None where the climate table does not say
    name         of the year; empty for a typical one
    by_day       the same day by day
    real         all the real years; None for a typical one
    """

    flow: str
    running: FloatArray
    energy: FloatArray | None
    catch: Area
    evaporation: FloatArray
    splash: FloatArray
    wicking: FloatArray
    leak: FloatArray
    rain: FloatArray
    over: FloatArray
    from_tank: FloatArray
    topped: FloatArray
    daily: FloatArray
    reserve: FloatArray
    storm: Length
    tank_wanted: FloatArray | None
    frost_days: FloatArray | None
    name: str
    by_day: DayByDay
    real: RealYears | None

    @property
    def lost(self) -> FloatArray:
        """Everything that leaves but for the overflow, (3, 12)."""
        lost: FloatArray = self.evaporation + self.splash + self.wicking + self.leak
        return lost

    @property
    def days(self) -> FloatArray:
        """Days of each month of the year these are sums of, (12,): a February has 29 where a real year's has."""
        if self.real is None:
            return np.array(LENGTHS, dtype=float)
        months = [date.fromordinal(number).month - 1 for number in self.by_day.numbers.tolist()]
        return np.bincount(months, minlength=12).astype(float)

    @property
    def driest_week(self) -> FloatArray:
        """Taken by the seven days in a row that take most once their rain is given back, (3,) volumes, never below 0.

        Which seven is told by the middle of the band: all three are of the same days.
        """
        taken = self.by_day.lost - self.by_day.rain * self.catch
        weeks = np.lib.stride_tricks.sliding_window_view(taken, WEEK, axis=1).sum(axis=2)
        week: FloatArray = np.maximum(weeks[:, int(np.argmax(weeks[1]))], 0.0)
        return week

    @property
    def topped_in_a_year(self) -> FloatArray:
        """Filled up from elsewhere, (3,)."""
        year: FloatArray = self.topped.sum(axis=1)
        return year
