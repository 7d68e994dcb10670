"""Day by day through the year: losses out, rain in, the rest filled up from the tank and then from elsewhere."""

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Lengths, Volume
from beckwright.base.values import value
from beckwright.tables.season import YEARS_RUN_IN


@value
class Passed:
    """What a year did; (3, 365): least, middle and most lost. ``stored`` is how full the reservoir ends it, (3,)."""

    over: FloatArray
    from_tank: FloatArray
    topped: FloatArray
    begun: FloatArray
    stored: FloatArray


def go_through(lost: FloatArray, rain: Lengths, catch: Area, room: Volume, roof: FloatArray, tank: Volume) -> Passed:
    """Go through the year until its end is its beginning.

    lost  (3, 365) each day; rain (365,) depth
    room  between rested and overflow
    roof  (3,) of roof that yields
    Water over ``rested`` is kept as far as the overflow; what is missing below it is filled up the same day.
    """
    above, held = np.zeros(3), np.zeros(3)
    for _ in range(YEARS_RUN_IN):
        over, from_tank, topped = np.zeros((3, *lost.shape))
        begun = above
        for day, fallen in enumerate(rain):
            above = above + fallen * catch - lost[:, day]
            over[:, day] = np.maximum(above - room, 0.0)
            above = np.minimum(above, room)
            held = np.minimum(held + fallen * roof, tank)
            missing = np.maximum(-above, 0.0)
            from_tank[:, day] = np.minimum(missing, held)
            held = held - from_tank[:, day]
            topped[:, day] = missing - from_tank[:, day]
            above = np.maximum(above, 0.0)
    return Passed(over=over, from_tank=from_tank, topped=topped, begun=begun, stored=above)


def tank_wanted(missing: FloatArray, yielded: FloatArray) -> FloatArray:
    """Size of a tank that is never empty: the deepest fall of what it is owed, over two years (mass curve of Rippl).

    missing, yielded  (3, 365) each day
    Gives (3,); infinite where a year yields less than it takes.
    """
    owed = np.cumsum(np.tile(missing - yielded, 2), axis=1)
    # What was owed at the least before each day is where the tank was full.
    fullest = np.minimum.accumulate(np.concatenate([np.zeros((3, 1)), owed], axis=1), axis=1)[:, :-1]
    wanted = np.maximum((owed - fullest).max(axis=1), 0.0)
    return np.where(missing.sum(axis=1) > yielded.sum(axis=1), np.inf, wanted)
