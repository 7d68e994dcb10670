"""Services and boundaries: how close, where nearest, and what crosses what."""

from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Lengths
from beckwright.base.values import value
from beckwright.equations.site import cover_left
from beckwright.job.model import Boundary, Job, Service
from beckwright.stages.course import SetOutCourse
from beckwright.stages.levels import places
from beckwright.stages.surroundings.plane import Span, distances, meetings
from beckwright.stages.surroundings.works import Footprint, hose_line, pit_bottom, pit_outline, source_box

if TYPE_CHECKING:
    from shapely import LineString, Point, Polygon

Dug = Literal["stream", "hose trench", "reservoir pit"]


@value
class Crossing:
    """Where a service runs under a dig.

    along  chainage of the stream, or distance from the pump along the hose; None for the pit
    dug    depth of the dig there: below the ground, for the pit below its finished cover
    left   ground left over the service; below 0 where the dig goes deeper than its top; None where its depth is unknown
    """

    part: Dug
    at: tuple[Length, Length]
    along: Length | None
    dug: Length
    left: Length | None


@value
class Near:
    """How close a service or boundary comes to the works, m; 0 where it touches them.

    course     from the stream's bed at its own width there
    bank       from the foot of its banks
    source     from the outlet box
    hose       None where nobody drew it
    nearest    chainage at which the stream is nearest
    within     chainages at which its bed is nearer than the clearance
    crossings  for a service, in order along it
    """

    thing: Service | Boundary
    pit: Length
    course: Length
    bank: Length
    source: Length
    hose: Length | None
    nearest: Length
    within: tuple[Span, ...]
    crossings: tuple[Crossing, ...]


class _Shapes(NamedTuple):
    """The works as shapes, made once for all that is near them."""

    pit: "Polygon"
    hose: "LineString | None"
    line: "LineString"
    box: "LineString"
    stations: FloatArray
    half: Lengths
    reach: Lengths


def near_things(job: Job, course: SetOutCourse, works: Footprint) -> tuple[tuple[Near, ...], tuple[Near, ...]]:
    """Measure the works against every service, and against every boundary."""
    if not job.site.services and not job.site.boundaries:
        return (), ()
    import shapely

    shapes = _Shapes(
        pit=pit_outline(job.reservoir),
        hose=hose_line(job.route),
        line=shapely.LineString(works.points),
        box=shapely.LineString(source_box(job, course)),
        stations=np.asarray(shapely.points(works.points)),
        half=course.stations.width / 2,
        reach=works.foot.max(axis=0),
    )
    services, boundaries = (
        tuple(_near(job, works, thing, shapes) for thing in things)
        for things in (job.site.services, job.site.boundaries)
    )
    return services, boundaries


def _near(job: Job, works: Footprint, thing: Service | Boundary, shapes: _Shapes) -> Near:
    import shapely

    shape = _shape(thing)
    away = np.asarray(shapely.distance(shapes.stations, shape))
    # Between stations the line may cross what no station stands on.
    touches = bool(shape.intersects(shapes.line))
    beds = np.maximum(away - shapes.half, 0.0)
    return Near(
        thing=thing,
        pit=float(shape.distance(shapes.pit)),
        course=0.0 if touches else float(beds.min()),
        bank=0.0 if touches else float(np.maximum(away - shapes.reach, 0.0).min()),
        source=float(shape.distance(shapes.box)),
        hose=None if shapes.hose is None else float(shape.distance(shapes.hose)),
        nearest=float(works.chainage[np.argmin(beds)]),
        within=places(beds < thing.clearance, works.chainage),
        crossings=_crossings(job, works, thing, shapes.pit, shape) if isinstance(thing, Service) else (),
    )


def _shape(thing: Service | Boundary) -> "LineString | Point":
    from shapely import LineString, Point

    return LineString(thing.line) if len(thing.line) > 1 else Point(thing.line[0])


def _crossings(
    job: Job, works: Footprint, service: Service, pit: "Polygon", shape: "LineString | Point"
) -> tuple[Crossing, ...]:
    found: list[tuple[Dug, tuple[Length, Length], Length | None, Length]] = [
        ("stream", met.at, met.along, max(float(np.interp(met.along, works.chainage, works.dug)), 0.0))
        for met in meetings(works.points, works.chainage, service.line)
    ]
    if len(job.route.line) > 1:
        hose = np.array(job.route.line)
        trench = job.earthworks.trench_depth
        found += [("hose trench", met.at, met.along, trench) for met in meetings(hose, distances(hose), service.line)]
    if shape.intersects(pit):
        middle = shape.intersection(pit).representative_point()
        deep = job.reservoir.cover - pit_bottom(job.reservoir, job.layers)
        found.append(("reservoir pit", (float(middle.x), float(middle.y)), None, deep))
    return tuple(
        Crossing(
            part=part,
            at=at,
            along=along,
            dug=dug,
            left=None if service.depth is None else cover_left(service.depth, dug),
        )
        for part, at, along, dug in found
    )
