"""What is dug up, and how far out a peg must stand to live through it."""

import math
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length, Level, Points
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import CrossSection, Groundwork, Trench
from beckwright.stages.setting_out.values import Pair

if TYPE_CHECKING:
    from shapely import MultiPolygon, Polygon

CLEAR: Length = 0.30
"""Between the works and a peg, m (common practice: a bucket's width)."""

STEP: Length = 0.05
"""Offsets are whole steps of this: a tape is read without thought."""

FARTHEST: Length = 4.0
"""How far beyond its own works a peg may be pushed by others, m (assumed: a string longer than that sags)."""

NAIL_OVER: Length = 0.10
"""Nail over everything between its two pegs, so that the string hangs free (assumed)."""

_SAME: Length = 1e-3


def works_limits(section: CrossSection) -> Pair:
    """Offsets beyond which the ground stays as it is, left and right."""
    changed = np.flatnonzero(np.abs(section.formation - section.ground) > _SAME)
    if not len(changed):
        return section.edges
    last = len(section.offsets) - 1
    left = float(section.offsets[max(changed[0] - 1, 0)])
    right = float(section.offsets[min(changed[-1] + 1, last)])
    return max(left, section.edges[0]), min(right, section.edges[1])


def course_works(course: SetOutCourse, sections: tuple[CrossSection, ...]) -> "Polygon | MultiPolygon":
    """Plan of all that is dug and banked along the course."""
    from shapely import MultiPoint, union_all

    chainage = np.array([section.chainage for section in sections])
    limits = np.array([works_limits(section) for section in sections])
    left, right = (course.alignment.beside(chainage, side) for side in limits.T)
    pieces = np.stack([left[:-1], right[:-1], right[1:], left[1:]], axis=1)
    return union_all([MultiPoint(piece).convex_hull for piece in pieces])  # type: ignore[return-value]


def all_works(course_plan: "Polygon | MultiPolygon", groundwork: Groundwork) -> "Polygon | MultiPolygon":
    """Plan of all that is dug: course, pit and hose trench."""
    from shapely import LineString, Polygon, union_all

    parts = [course_plan, Polygon(groundwork.pit.rim), Polygon(groundwork.pit.floor)]
    if groundwork.trench is not None:
        half = groundwork.trench.width / 2
        parts += [LineString(line).buffer(half, cap_style="flat") for line in pieces(groundwork.trench)]
    return union_all(parts)  # type: ignore[return-value]


def pieces(trench: Trench) -> list[Points]:
    """The stretches of a trench, each (n, 2) with n at least 2."""
    stretches = (trench.line[trench.piece == number] for number in np.unique(trench.piece))
    return [line for line in stretches if len(line) > 1]


def clear_of(works: "Polygon | MultiPolygon", start: Points, way: Points, least: Length) -> tuple[Length, bool]:
    """Whole steps along the unit vector ``way`` from ``start``, both (2,), to the first spot clear of the works.

    At least ``least``. Where nothing is clear within reach, the nearest whole step, and False.
    """
    from shapely import distance, points

    first = whole_steps(least)
    tries = first + STEP * np.arange(round(FARTHEST / STEP))
    away = distance(points(start + tries[:, None] * way), works)
    free = np.flatnonzero(away >= CLEAR - _SAME)
    return (whole_steps(float(tries[free[0]])), True) if len(free) else (first, False)


def whole_steps(length: Length) -> Length:
    """``length`` rounded up to a whole step."""
    return round(math.ceil(length / STEP - 1e-9) * STEP, 9)


def nail_over(highest: Level, dig: Level) -> Level:
    """A nail that hangs free over ``highest`` and a whole number of steps over the dig level."""
    return dig + whole_steps(highest + NAIL_OVER - dig)
