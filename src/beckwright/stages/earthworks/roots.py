"""What the ground work moves inside a root circle: volumes by mean end areas, the pit's sides, the trench, heaps."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Length, Volume
from beckwright.base.values import value
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import CrossSection, Groundwork, Heap
from beckwright.stages.surroundings import RootCircle

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

FINE: Length = 0.01
"""Sections are read across at points this far apart, m."""

TOLD: Volume = 0.005
"""Volumes are told to a hundredth of a cubic metre; what is less than half of that is not told, m3."""

QUARTER = 64
"""Sides to a quarter of a circle where areas are cut: the area comes out 0.01 % small."""


@value
class PitInside:
    """The pit with its sides, where they come out of the ground: its plan in a circle, and how far it reaches in.

    floor  whether its floor, dug upright, would reach in too
    """

    plan: Area
    into: Length
    floor: bool


@value
class HeapInside:
    """A heap whose foot lies ``into`` a circle."""

    heap: Heap
    into: Length


@value
class RootWork:
    """The ground work inside one root circle, volumes in place: between the ground as it is and as dug or banked.

    cut, filled      by the stream with its banks; the ground behind the outlet box is not in it
    cut_plan, filled_plan  of these
    pit_plan         of the pit with its sides, where they come out of the ground
    pit_own          of that, outside the course with its banks
    trench           length of the hose's trench outside pit and banks, its plan, and what is dug for it
    heaps            names of heaps whose foot comes into the circle
    """

    circle: RootCircle
    cut: Volume
    filled: Volume
    cut_plan: Area
    filled_plan: Area
    pit_plan: Area
    pit_own: Area
    trench: Length
    trench_plan: Area
    trench_cut: Volume
    heaps: tuple[str, ...]

    @property
    def dug_plan(self) -> Area:
        """All that is dug inside, once: there topsoil is lifted with the dig."""
        return self.cut_plan + self.pit_own + self.trench_plan

    @property
    def strip_plan(self) -> Area:
        """What the quantities count as stripped inside: all that is dug or banked."""
        return self.dug_plan + self.filled_plan

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
    chainage = np.array([section.chainage for section in groundwork.sections])
    middles, downs = course.alignment.at(chainage), course.alignment.direction(chainage)
    across = np.array([_across(circle, *row) for row in zip(groundwork.sections, middles, downs, strict=True)])
    cut, filled, cut_plan, filled_plan = (
        float(np.trapezoid(column, chainage)) * course.alignment.stretch for column in across.T
    )
    length, dug = _trench(_ring(circle), groundwork)
    return RootWork(
        circle=circle,
        cut=cut,
        filled=filled,
        cut_plan=cut_plan,
        filled_plan=filled_plan,
        pit_plan=pit_inside(circle.tree.at, circle.radius, groundwork).plan,
        pit_own=_pit_own(_ring(circle), groundwork),
        trench=length,
        trench_plan=0.0 if groundwork.trench is None else length * groundwork.trench.width,
        trench_cut=dug,
        heaps=tuple(each.heap.name for each in heaps_inside(circle.tree.at, circle.radius, groundwork)),
    )


def pit_inside(at: tuple[Length, Length], radius: Length, groundwork: Groundwork) -> PitInside:
    """How much of the pit with its sides lies in the circle of ``radius`` about ``at``."""
    from shapely import Point, Polygon

    if len(groundwork.pit.rim) < 3:
        return PitInside(plan=0.0, into=0.0, floor=False)
    stem, rim = Point(at), Polygon(groundwork.pit.rim)
    return PitInside(
        plan=float(stem.buffer(radius, quad_segs=QUARTER).intersection(rim).area),
        into=max(radius - float(stem.distance(rim)), 0.0),
        floor=float(stem.distance(Polygon(groundwork.pit.floor))) < radius,
    )


def heaps_inside(at: tuple[Length, Length], radius: Length, groundwork: Groundwork) -> tuple[HeapInside, ...]:
    """Heaps whose foot comes into the circle of ``radius`` about ``at``."""
    apart = [float(np.hypot(*np.subtract(heap.at, at))) for heap in groundwork.heaps]
    return tuple(
        HeapInside(heap=heap, into=heap.radius + radius - away)
        for heap, away in zip(groundwork.heaps, apart, strict=True)
        if away < heap.radius + radius
    )


@value
class Stripped:
    """What the quantities count as stripped inside root circles, ground that lies in two of them once.

    dug     where topsoil is lifted with the dig
    banked  where it could stay under the banks
    """

    dug: Area
    banked: Area


def stripped_inside(circles: Sequence[RootCircle], groundwork: Groundwork, course: SetOutCourse) -> Stripped:
    """Measure it as ``root_work`` does, square to the course, over all circles at once."""
    from shapely import union_all

    ring = union_all([_ring(circle) for circle in circles])
    chainage = np.array([section.chainage for section in groundwork.sections])
    middles, downs = course.alignment.at(chainage), course.alignment.direction(chainage)
    wide = np.array([_wide(circles, *row) for row in zip(groundwork.sections, middles, downs, strict=True)])
    dug, banked = (float(np.trapezoid(column, chainage)) * course.alignment.stretch for column in wide.T)
    length, _ = _trench(ring, groundwork)
    trench = 0.0 if groundwork.trench is None else length * groundwork.trench.width
    return Stripped(dug=dug + _pit_own(ring, groundwork) + trench, banked=banked)


def _wide(
    circles: Sequence[RootCircle], section: CrossSection, middle: FloatArray, down: FloatArray
) -> tuple[Length, Length]:
    """Width dug and width banked in one section, as far as they lie in any circle."""
    low, high = float(section.offsets.min()), float(section.offsets.max())
    spots = np.linspace(low, high, max(int((high - low) / FINE), 1) + 1)
    points = middle + spots[:, None] * np.array([-down[1], down[0]])
    inside = np.zeros(len(spots), dtype=bool)
    for circle in circles:
        inside |= np.hypot(*(points - circle.tree.at).T) < circle.radius
    over = _read(section, section.formation, spots) - _read(section, section.ground, spots)
    dug, banked = (float(np.trapezoid(np.where(where & inside, 1.0, 0.0), spots)) for where in (over < 0, over > 0))
    return dug, banked


def _across(
    circle: RootCircle, section: CrossSection, middle: FloatArray, down: FloatArray
) -> tuple[float, float, float, float]:
    """Area cut and filled in one section, and the width of each, as far as they lie in the circle."""
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


def _ring(circle: RootCircle) -> "BaseGeometry":
    from shapely import Point

    return Point(circle.tree.at).buffer(circle.radius, quad_segs=QUARTER)


def _pit_own(ring: "BaseGeometry", groundwork: Groundwork) -> Area:
    """Plan of the pit's part that no section across the course counts."""
    from shapely import Polygon, intersects, polygons, prepare, union_all

    if len(groundwork.pit.rim) < 3:
        return 0.0
    inside = ring.intersection(Polygon(groundwork.pit.rim))
    if inside.is_empty:
        return 0.0
    course = groundwork.formation
    pieces = np.asarray(polygons(course.points[course.triangles]))
    prepare(inside)
    return float(inside.difference(union_all(pieces[intersects(inside, pieces)])).area)


def _trench(ring: "BaseGeometry", groundwork: Groundwork) -> tuple[Length, Volume]:
    """Length of trench inside, and what is dug for it: its width times the depth under the ground."""
    from shapely import LineString

    trench = groundwork.trench
    if trench is None:
        return 0.0, 0.0
    length = dug = 0.0
    for one in range(len(trench.line) - 1):
        if trench.piece[one] != trench.piece[one + 1]:
            continue
        inside = float(LineString(trench.line[one : one + 2]).intersection(ring).length)
        length += inside
        dug += inside * trench.width * float(np.mean((trench.ground - trench.bottom)[one : one + 2]))
    return length, dug
