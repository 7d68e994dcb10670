"""When the stream runs, where its water comes from, and the days of real years."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, Flow, IntArray, Length, Lengths, Ratio, Volume
from beckwright.base.values import value


@value
class SeasonWork:
    """What the person says about the year.

    first, last   months it runs from and to, January 1; over the turn of the year where first is after last
    splash        share of the flow lost at each fall; None where nobody measured it
    roof          plan of the roof whose rain is led to the tank
    tank          what the rain tank holds
    leak_resting  loss measured with the pump off; None where nobody measured it
    leak_running  loss measured while it runs, beside evaporation; None where nobody measured it
    wind_height   over the ground, of the gauge that measured the wind of ``Job.weather``; None where nobody said
    """

    first: int
    last: int
    splash: Ratio | None
    roof: Area
    tank: Volume
    leak_resting: Flow | None
    leak_running: Flow | None
    wind_height: Length | None = None

    @property
    def months(self) -> tuple[int, ...]:
        """Months it runs, January 0."""
        count = (self.last - self.first) % 12 + 1
        return tuple((self.first - 1 + turn) % 12 for turn in range(count))


@value
class Weather:
    """Days of real years, one after another, none missing. Arrays are (n,); nan where a day has no such number.

    file       the table they stood in
    days       day numbers of the calendar, 1 is 1 January of the year 1
    coldest, warmest  least and greatest of the air
    rain       depth
    humidity   mean of the day; dew_point the same told otherwise
    wind       mean of the day, at ``SeasonWork.wind_height``
    sunshine   how long the sun shone; solar its radiation on the ground, mean of the day
    water      depth that evaporated from open water as somebody measured; pan from a pan
    filled     day numbers of those filled from their neighbours, for the job allowed it
    """

    file: str
    days: IntArray
    coldest: FloatArray
    warmest: FloatArray
    rain: Lengths
    humidity: FloatArray
    dew_point: FloatArray
    wind: FloatArray
    sunshine: FloatArray
    solar: FloatArray
    water: Lengths
    pan: Lengths
    filled: tuple[int, ...]

    @property
    def measured(self) -> BoolArray:
        """Days whose evaporation somebody measured: nothing has to be worked out for them, (n,)."""
        told: BoolArray = np.isfinite(self.water) | np.isfinite(self.pan)
        return told
