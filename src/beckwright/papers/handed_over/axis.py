"""The course as an alignment."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length, Lengths
from beckwright.papers.handed_over.values import UPRIGHT, Axis, Profile
from beckwright.stages.earthworks.values import Groundwork

if TYPE_CHECKING:
    from beckwright.compose import Design

BEND: Length = 1e-4
"""How far the straight pieces of the axis may cut a bend short, m."""


def axis_of(design: "Design", groundwork: Groundwork) -> Axis:
    """The course in plan as straight pieces, with its profiles and sections."""
    from shapely import LineString

    course, at = design.course, design.course.stations
    points = np.array(LineString(course.alignment.vertices).simplify(BEND).coords)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    stretch = float(along[-1]) / course.length
    designed = {
        "bed": at.bed,
        "lining": at.liner,
        "dig": at.dig,
        "edge left": at.edge_left,
        "edge right": at.edge_right,
    }
    return Axis(
        points=points,
        along=along,
        stretch=stretch,
        stations=rising(at.chainage * stretch),
        profiles=(
            Profile(name="existing ground", levels=at.ground, designed=False),
            *(Profile(name=name, levels=levels, designed=True) for name, levels in designed.items()),
        ),
        sections=groundwork.sections,
    )


def rising(stations: Lengths) -> Lengths:
    """Move stations that do not rise downstream until each stands at least a millimetre past the one before: (n,)."""
    steps = np.arange(len(stations)) * UPRIGHT
    # Taken off and added again, a station may come back a rounding lower.
    risen: Lengths = np.maximum(np.maximum.accumulate(stations - steps) + steps, stations)
    return risen
