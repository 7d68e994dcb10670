"""What the works come close to: roots, pipes and cables, boundaries."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.equations.trees import combined_stem, combined_stem_many, root_radius
from beckwright.job.model import Boundary, HoseRoute, Job, Reservoir, Service, Tree
from beckwright.stages.course import SetOutCourse
from beckwright.stages.levels import places
from beckwright.tables.trees import MANY_STEMS, ROOT_RADIUS_CAP

if TYPE_CHECKING:
    from shapely import LineString, Polygon

Span = tuple[Length, Length]


@value
class RootCircle:
    """A tree's root protection circle.

    stem      one diameter that stands for all its stems
    inside    chainages of the course inside the circle
    raised    chainages inside the circle where the ground is to be raised
    nearest   distance from the tree to the course line
    pit, hose whether they enter the circle
    """

    tree: Tree
    stem: Length
    radius: Length
    inside: tuple[Span, ...]
    raised: tuple[Span, ...]
    nearest: Length
    pit: bool
    hose: bool


@value
class Near:
    """How close a service or boundary comes to the pit, the widest of the stream's beds and the hose; m."""

    thing: Service | Boundary
    pit: Length
    course: Length
    hose: Length | None


@value
class Surroundings:
    """Everything the works come close to."""

    circles: tuple[RootCircle, ...]
    services: tuple[Near, ...]
    boundaries: tuple[Near, ...]


def look_around(job: Job, course: SetOutCourse) -> Surroundings:
    """Measure the works against trees, services and boundaries."""
    from shapely import LineString

    pit, hose, line = pit_outline(job.reservoir), hose_line(job.route), LineString(course.stations.points)
    half = float(course.stations.width.max()) / 2
    return Surroundings(
        circles=tuple(_circle(tree, course, pit, hose) for tree in job.site.trees),
        services=tuple(_near(service, pit, line, half, hose) for service in job.site.services),
        boundaries=tuple(_near(boundary, pit, line, half, hose) for boundary in job.site.boundaries),
    )


def pit_corners(reservoir: Reservoir) -> tuple[tuple[Length, Length], ...]:
    """Corners of the pit on plan, anticlockwise, the first at the low end of both sides."""
    cosine, sine = np.cos(reservoir.turned), np.sin(reservoir.turned)
    half = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    corners = []
    for along, across in half:
        x, y = along * reservoir.length / 2, across * reservoir.width / 2
        corners.append(
            (
                float(reservoir.centre[0] + x * cosine - y * sine),
                float(reservoir.centre[1] + x * sine + y * cosine),
            )
        )
    return tuple(corners)


def pit_outline(reservoir: Reservoir) -> "Polygon":
    """The pit on plan."""
    from shapely import Polygon

    return Polygon(pit_corners(reservoir))


def hose_line(route: HoseRoute) -> "LineString | None":
    """The hose on plan, or None where nobody drew it."""
    from shapely import LineString

    return LineString(route.line) if len(route.line) > 1 else None


def stem_of(tree: Tree) -> Length:
    """One stem diameter that stands for all of a tree's stems."""
    if len(tree.stems) == 1:
        return tree.stems[0]
    if len(tree.stems) < MANY_STEMS.amount:
        return combined_stem(sum(stem**2 for stem in tree.stems))
    return combined_stem_many(sum(tree.stems) / len(tree.stems), len(tree.stems))


def _circle(tree: Tree, course: SetOutCourse, pit: "Polygon", hose: "LineString | None") -> RootCircle:
    from shapely import Point

    stem = stem_of(tree)
    radius = min(root_radius(stem), ROOT_RADIUS_CAP.amount)
    at = course.stations
    away = np.hypot(*(at.points - np.array(tree.at)).T)
    within = away < radius
    raised = (at.edge_left > at.ground_left) | (at.edge_right > at.ground_right) | (at.dig > at.ground)
    trunk = Point(tree.at)
    return RootCircle(
        tree=tree,
        stem=stem,
        radius=radius,
        inside=places(within, at.chainage),
        raised=places(within & raised, at.chainage),
        nearest=float(away.min()),
        pit=bool(trunk.distance(pit) < radius),
        hose=hose is not None and bool(trunk.distance(hose) < radius),
    )


def _near(
    thing: Service | Boundary, pit: "Polygon", line: "LineString", half: Length, hose: "LineString | None"
) -> Near:
    from shapely import LineString, Point

    shape = LineString(thing.line) if len(thing.line) > 1 else Point(thing.line[0])
    return Near(
        thing=thing,
        pit=float(shape.distance(pit)),
        course=max(float(shape.distance(line)) - half, 0.0),
        hose=None if hose is None else float(shape.distance(hose)),
    )
