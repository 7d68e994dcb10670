"""The level story judged: how far each edge stands above the running water once the fill has settled."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Lengths
from beckwright.base.values import value
from beckwright.equations.lining import edge_over_water
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH


@value
class Freeboard:
    """Edge above running water at its high end, n stations, k flows.

    left, right      (k, n) as built
    settled_left, settled_right  (k, n) once the fill has settled; checks are tested against these
    wanted           what the designer asked for
    """

    left: FloatArray
    right: FloatArray
    settled_left: FloatArray
    settled_right: FloatArray
    wanted: Length

    def least(self, flow: int) -> Length:
        """Smallest settled freeboard of either edge at one flow."""
        return float(min(self.settled_left[flow].min(), self.settled_right[flow].min()))


def freeboard(course: SetOutCourse, water: Water, wanted: Length) -> Freeboard:
    """Compare both edges with the high end of the running water."""
    at, level = course.stations, water.level[HIGH]
    return Freeboard(
        left=edge_over_water.over(at.edge_left, level),
        right=edge_over_water.over(at.edge_right, level),
        settled_left=edge_over_water.over(at.settled_left, level),
        settled_right=edge_over_water.over(at.settled_right, level),
        wanted=wanted,
    )


def places(where: BoolArray, chainage: Lengths, join: Length = 0.0) -> tuple[tuple[Length, Length], ...]:
    """Lengths of the course over which ``where`` holds, as (from, to) chainages.

    Stretches no more than ``join`` apart are told as one: nobody mends an edge in half-metres.
    """
    held = chainage[where]
    if not len(held):
        return ()
    breaks = np.flatnonzero(np.diff(np.flatnonzero(where)) > 1)
    apart = breaks[held[breaks + 1] - held[breaks] > join]
    firsts, lasts = np.append(0, apart + 1), np.append(apart, len(held) - 1)
    return tuple((float(held[first]), float(held[last])) for first, last in zip(firsts, lasts, strict=True))
