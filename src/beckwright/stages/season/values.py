"""A year of water, month by month."""

from beckwright.base.quantities import Area, FloatArray, Length
from beckwright.base.values import value

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@value
class Season:
    """A year as the climate table tells it. Volumes are (3, 12): least, middle and most lost; months January first.

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

    @property
    def lost(self) -> FloatArray:
        """Everything that leaves but for the overflow, (3, 12)."""
        lost: FloatArray = self.evaporation + self.splash + self.wicking + self.leak
        return lost

    @property
    def topped_in_a_year(self) -> FloatArray:
        """Filled up from elsewhere, (3,)."""
        year: FloatArray = self.topped.sum(axis=1)
        return year
