"""The level story judged: how far each edge stands above the running water once the fill has settled."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Lengths, Ratio
from beckwright.base.values import value
from beckwright.equations.lining import edge_over_water
from beckwright.equations.tolerance import combined_tolerance, settling_doubt
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import SETTLEMENT_RAMMED, SETTLEMENT_TIPPED

_SHOWN: Length = 0.005


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


@value
class Budget:
    """The tolerance budget of the edges: how far each may stand lower than drawn, n stations.

    survey, dig, stone             what one standard of work leaves; dig and stone 0 where edges were shot as built
    settling_left, settling_right  (n,) what the fill may sink beyond the share allowed for
    left, right                    (n,) all of it together
    """

    survey: Length
    dig: Length
    stone: Length
    settling_left: Lengths
    settling_right: Lengths
    left: Lengths
    right: Lengths


def tolerance_budget(job: Job, course: SetOutCourse) -> Budget:
    """What may lie between the edge as drawn and as it stands after its first winters."""
    at, built = course.stations, job.course.measured_edges is not None
    survey = job.tolerances.survey
    dig, stone = (0.0, 0.0) if built else (job.tolerances.dig, job.tolerances.stone)
    fill = SETTLEMENT_TIPPED if job.earthworks.fill == "tipped" else SETTLEMENT_RAMMED
    # What an edge shot as built has sunk, it has sunk: what is still to come is the share allowed for.
    most = course.settlement if built else fill.high
    left, right = (settling_doubt.over(depth, most, course.settlement) for depth in (at.fill_left, at.fill_right))
    return Budget(
        survey=survey,
        dig=dig,
        stone=stone,
        settling_left=left,
        settling_right=right,
        left=combined_tolerance.over(survey, dig, stone, left),
        right=combined_tolerance.over(survey, dig, stone, right),
    )


def raise_wanted(short: Length, settlement: Ratio) -> Length:
    """How far to raise an edge that is ``short`` of what is wanted, up to the next 5 mm; 0 where it is not.

    What is added settles with the fill it stands on.
    """
    return float(np.ceil(max(short, 0.0) / (1 - settlement) / _SHOWN - 1e-6)) * _SHOWN


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
