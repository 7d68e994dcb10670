"""Day by day through the year: losses out, rain in, the rest filled up from the tank and then from elsewhere."""

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Lengths, Volume
from beckwright.base.values import value
from beckwright.tables.season import YEARS_RUN_IN


@value
class Passed:
    """What the days did; (3, n): least, middle and most lost.

    above   over the rest level at the end of each day; held in the rain tank then
    begun   over it before the first day, (3,); stored after the last one
    """

    over: FloatArray
    from_tank: FloatArray
    topped: FloatArray
    begun: FloatArray
    stored: FloatArray
    above: FloatArray
    held: FloatArray


def go_through(lost: FloatArray, rain: Lengths, catch: Area, room: Volume, roof: FloatArray, tank: Volume) -> Passed:
    """Go through the days until their end is their beginning.

    lost  (3, n) each day; rain (n,) depth
    room  between rested and overflow
    roof  (3,) of roof that yields
    Water over ``rested`` is kept as far as the overflow; what is missing below it is filled up the same day.
    """
    above, held = np.zeros(3), np.zeros(3)
    for _ in range(YEARS_RUN_IN):
        over, from_tank, topped, stood, kept = np.zeros((5, *lost.shape))
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
            stood[:, day], kept[:, day] = above, held
    return Passed(over=over, from_tank=from_tank, topped=topped, begun=begun, stored=above, above=stood, held=kept)


def left_alone(lost: FloatArray, rain: Lengths, catch: Area, room: Volume, spare: FloatArray) -> FloatArray:
    """Over the rest level at the end of each day where nobody fills up, (3, n); below it negative.

    Begins full to the rest level; never over the overflow, never below ``spare`` (3,) under the rest level, where the
    pump draws air and is switched off.
    """
    left, stood = np.zeros(3), np.zeros(lost.shape)
    for day, fallen in enumerate(rain):
        left = np.clip(left + fallen * catch - lost[:, day], -spare, room)
        stood[:, day] = left
    return stood


def tank_wanted(missing: FloatArray, yielded: FloatArray) -> FloatArray:
    """Size of a tank that is never empty: the deepest fall of what it is owed, over two years (mass curve of Rippl).

    missing, yielded  (3, n) each day
    Gives (3,); infinite where a year yields less than it takes.
    """
    owed = np.cumsum(np.tile(missing - yielded, 2), axis=1)
    # What was owed at the least before each day is where the tank was full.
    fullest = np.minimum.accumulate(np.concatenate([np.zeros((3, 1)), owed], axis=1), axis=1)[:, :-1]
    wanted = np.maximum((owed - fullest).max(axis=1), 0.0)
    return np.where(missing.sum(axis=1) > yielded.sum(axis=1), np.inf, wanted)
