"""When the stream runs, and where its water comes from."""

from beckwright.base.quantities import Area, Flow, Ratio, Volume
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
    """

    first: int
    last: int
    splash: Ratio | None
    roof: Area
    tank: Volume
    leak_resting: Flow | None
    leak_running: Flow | None

    @property
    def months(self) -> tuple[int, ...]:
        """Months it runs, January 0."""
        count = (self.last - self.first) % 12 + 1
        return tuple((self.first - 1 + turn) % 12 for turn in range(count))
