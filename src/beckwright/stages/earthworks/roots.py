"""What the ground work moves inside a root circle: volumes by mean end areas, the hose's trench, heaps."""

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Length, Volume
from beckwright.base.values import value
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import CrossSection, Groundwork
from beckwright.stages.surroundings import RootCircle

FINE: Length = 0.01
"""Sections are read across at points this far apart, m."""

TOLD: Volume = 0.005
"""Volumes are told to a hundredth of a cubic metre; what is less than half of that is not told, m3."""

QUARTER = 64
"""Sides to a quarter of a circle where areas are cut: the area comes out 0.01 % small."""


@value
class RootWork:
    """The ground work inside one root circle, volumes in place: between the ground as it is and as dug or banked.

    cut, filled      by the stream with its banks; the ground behind the outlet box is not in it
    cut_plan, filled_plan  of these
    pit_plan         of the pit with its sides, where they come out of the ground
    trench           length of the hose's trench outside pit and banks, and what is dug for it
    heaps            names of heaps whose foot comes into the circle
    """

    circle: RootCircle
    cut: Volume
    filled: Volume
    cut_plan: Area
    filled_plan: Area
    pit_plan: Area
    trench: Length
    trench_cut: Volume
    heaps: tuple[str, ...]

    @property
    def digs(self) -> bool:
        """Whether the stream is dug into the circle."""
        return self.cut >= TOLD

    @property
    def fills(self) -> bool:
        """Whether the stream's banks are laid in it."""
        return self.filled >= TOLD

    @property
    def nothing(self) -> bool:
        """Whether no ground is moved inside."""
        return not (self.digs or self.fills or self.pit_plan or self.trench or self.circle.hose or self.heaps)


def root_work(circle: RootCircle, groundwork: Groundwork, course: SetOutCourse) -> RootWork:
    """Measure the ground work inside a circle, on sections square to the course; bends are not corrected for."""
    across = np.array([_across(circle, section, course) for section in groundwork.sections])
    chainage = np.array([section.chainage for section in groundwork.sections])
    cut, filled, cut_plan, filled_plan = (
        float(np.trapezoid(column, chainage)) * course.alignment.stretch for column in across.T
    )
    length, dug = _trench(circle, groundwork)
    return RootWork(
        circle=circle,
        cut=cut,
        filled=filled,
        cut_plan=cut_plan,
        filled_plan=filled_plan,
        pit_plan=_pit(circle, groundwork),
        trench=length,
        trench_cut=dug,
        heaps=tuple(
            heap.name
            for heap in groundwork.heaps
            if np.hypot(*np.subtract(heap.at, circle.tree.at)) < heap.radius + circle.radius
        ),
    )


def _across(circle: RootCircle, section: CrossSection, course: SetOutCourse) -> tuple[float, float, float, float]:
    """Area cut and filled in one section, and the width of each, as far as they lie in the circle."""
    middle, (down,) = (
        course.alignment.at(np.array([section.chainage]))[0],
        course.alignment.direction(np.array([section.chainage])),
    )
    east, north = np.subtract(circle.tree.at, middle)
    left, away = -down[1] * east + down[0] * north, down[0] * east + down[1] * north
    if abs(away) >= circle.radius:
        return 0.0, 0.0, 0.0, 0.0
    half = float(np.sqrt(circle.radius**2 - away**2))
    low, high = max(float(section.offsets.min()), left - half), min(float(section.offsets.max()), left + half)
    if high <= low:
        return 0.0, 0.0, 0.0, 0.0
    spots = np.linspace(low, high, max(int((high - low) / FINE), 1) + 1)
    over = _read(section, section.formation, spots) - _read(section, section.ground, spots)
    return (
        float(np.trapezoid(np.maximum(-over, 0.0), spots)),
        float(np.trapezoid(np.maximum(over, 0.0), spots)),
        float(np.trapezoid(np.where(over < 0.0, 1.0, 0.0), spots)),
        float(np.trapezoid(np.where(over > 0.0, 1.0, 0.0), spots)),
    )


def _read(section: CrossSection, levels: FloatArray, spots: FloatArray) -> FloatArray:
    """Levels at offsets; the section's own run from left to right."""
    read: FloatArray = np.interp(spots, section.offsets[::-1], levels[::-1])
    return read


def _pit(circle: RootCircle, groundwork: Groundwork) -> Area:
    from shapely import Point, Polygon

    if len(groundwork.pit.rim) < 3:
        return 0.0
    ring = Point(circle.tree.at).buffer(circle.radius, quad_segs=QUARTER)
    return float(ring.intersection(Polygon(groundwork.pit.rim)).area)


def _trench(circle: RootCircle, groundwork: Groundwork) -> tuple[Length, Volume]:
    """Length of trench inside, and what is dug for it: its width times the depth under the ground."""
    from shapely import LineString, Point

    trench = groundwork.trench
    if trench is None:
        return 0.0, 0.0
    ring = Point(circle.tree.at).buffer(circle.radius, quad_segs=QUARTER)
    length = dug = 0.0
    for one in range(len(trench.line) - 1):
        if trench.piece[one] != trench.piece[one + 1]:
            continue
        inside = float(LineString(trench.line[one : one + 2]).intersection(ring).length)
        length += inside
        dug += inside * trench.width * float(np.mean((trench.ground - trench.bottom)[one : one + 2]))
    return length, dug
