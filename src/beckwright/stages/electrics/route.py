"""Where the supply cable runs: its duct, what it crosses, how far its ends are from water; and the zones round it."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

import numpy as np

from beckwright.base.quantities import Length, Points
from beckwright.equations.electrics import cable_section, duct_bore
from beckwright.job.model import ElectricsWork, Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.electrics.values import CrossedRoots, CrossedService, Duct, LightString, Route, Spot, Zones
from beckwright.stages.surroundings.plane import distances, meetings, spans_inside, total
from beckwright.stages.surroundings.roots import radius_of
from beckwright.stages.surroundings.works import pit_outline, source_box
from beckwright.tables.electrics import CABLE_DIAMETERS, DUCT_FILL, DUCTS, ZONE_1_OUT, ZONE_2_OUT

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def lay_route(
    job: Job, work: ElectricsWork, strings: tuple[LightString, ...], transformer: Spot | None, water: "BaseGeometry"
) -> Route:
    """Measure the cable's line against water, services and roots."""
    line = np.array(work.line) if len(work.line) > 1 else None
    at = connection_of(work)
    return Route(
        line=line,
        duct=size_duct(work.cable),
        connection=at,
        connection_water=_away(at, water),
        transformer=transformer if strings else None,
        transformer_water=_away(transformer, water) if strings else None,
        services=() if line is None else tuple(_services(job, work, line)),
        roots=tuple(_roots(job, line, strings)),
    )


def connection_of(work: ElectricsWork) -> Spot | None:
    """Where pump and cable meet: as told, else the end of the line."""
    return work.connection or (work.line[-1] if work.line else None)


def size_duct(size: float) -> Duct:
    """A duct for one cable of a nominal size, the next larger in the table where it has none of that size."""
    over = next(row.amount for each, row in CABLE_DIAMETERS.items() if each >= size)
    bore = duct_bore(cable_section(over), DUCT_FILL.amount)
    return Duct(cable=over, bore=bore, taken=next((row.amount for row in DUCTS.values() if row.amount >= bore), None))


def open_water(job: Job, course: SetOutCourse) -> "BaseGeometry":
    """Everything that holds water, on plan: the bed at its width, the outlet box, and the reservoir."""
    import shapely

    at = course.stations
    left = course.alignment.beside(at.chainage, at.width / 2)
    right = course.alignment.beside(at.chainage, -at.width / 2)
    pieces = shapely.convex_hull(shapely.multipoints(np.stack([left[:-1], left[1:], right[1:], right[:-1]], axis=1)))
    box = shapely.LineString(source_box(job, course)).buffer(job.source.lip_width / 2, cap_style="flat")
    return shapely.union_all([shapely.union_all(pieces), box, pit_outline(job.reservoir)])


def zones_round(water: "BaseGeometry") -> Zones:
    """Rings of the zones."""
    first = water.buffer(ZONE_1_OUT.amount)
    return Zones(water=_rings(water), first=_rings(first), second=_rings(first.buffer(ZONE_2_OUT.amount)))


def _rings(shape: "BaseGeometry") -> tuple[Points, ...]:
    from shapely import get_coordinates, get_parts

    return tuple(get_coordinates(part.exterior)[:-1] for part in get_parts(shape) if part.geom_type == "Polygon")


def _away(spot: Spot | None, water: "BaseGeometry") -> Length | None:
    from shapely import Point

    return None if spot is None else float(water.distance(Point(spot)))


def _services(job: Job, work: ElectricsWork, line: Points) -> Iterator[CrossedService]:
    along = distances(line)
    for service in job.site.services:
        for met in meetings(line, along, service.line):
            left = None if service.depth is None else service.depth - work.cover
            yield CrossedService(name=service.name, at=met.at, along=met.along, left=left)


def _roots(job: Job, line: Points | None, strings: tuple[LightString, ...]) -> Iterator[CrossedRoots]:
    lines: list[tuple[Literal["supply cable", "light cable"], Points]] = (
        [] if line is None else [("supply cable", line)]
    )
    lines += [("light cable", string.line) for string in strings]
    for tree in job.site.trees:
        for name, points in lines:
            inside = total(spans_inside(points, distances(points), tree.at, radius_of(tree)))
            if inside > 0.0:
                yield CrossedRoots(
                    tree=tree.name, species=tree.species, protected=tree.protected, line=name, length=inside
                )
