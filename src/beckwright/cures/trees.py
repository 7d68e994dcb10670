"""Cures of works among roots and beside things: the line shifted, the hose led round, the pit moved off."""

from collections.abc import Iterator
from math import cos, pi, sin
from typing import Any

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import Length, Points
from beckwright.base.words import chainages, metres, opening
from beckwright.cures.bench import Bench
from beckwright.cures.finding import order, put
from beckwright.cures.look import Look
from beckwright.cures.values import Order
from beckwright.job.edit import Edit, MovePoint, MoveReservoir
from beckwright.stages.earthworks.roots import heaps_inside, pit_inside
from beckwright.stages.surroundings import RootCircle, Shift
from beckwright.stages.surroundings.plane import total

_OFF: Length = 0.05
"""What is moved off something goes this far past it."""
_ROUND: Length = 0.25
"""A hose is led this far outside a root circle."""
_CORNERS = 8
"""Points on the arc of a hose led round a circle."""
_PIT_COUNTS = 5.0
"""A metre of the pit's depth into a circle weighs as so many metres of line."""


def spare_roots(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Shift the line, move the pit and lead the hose, each where there is room: together, as they are wanted."""
    circle = _circle(bench.base, finding)
    if circle is None:
        return
    told: list[str] = []
    edits: list[Edit] = []
    if circle.shift is not None:
        told.append(_shifted(circle.shift))
        edits += _moved(bench, circle.shift)
    if circle.pit:
        told.append(f"move the pit {metres(circle.pit_into + _OFF)} away from the tree")
        edits.append(_pit_off(bench, np.array(circle.tree.at), circle.pit_into + _OFF))
    if circle.hose and (led := _round_it(bench, circle)) is not None:
        told.append("lead the hose round the circle")
        edits += led
    if edits:
        ask = "Ask the tree officer first. " if circle.tree.protected else ""
        yield order(f"{ask}{opening(' and '.join(told))}.", *edits)


def works_inside(look: Look, finding: Finding) -> float:
    """How much of the works lies inside the circle a finding tells of."""
    circle = _circle(look, finding)
    if circle is None:
        return 0.0
    return total(circle.works) + total(circle.hose_spans) + _PIT_COUNTS * circle.pit_into


def pit_sides_out(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Move the pit off, sides and all."""
    into, circle = sides_inside(bench.base, finding), _circle(bench.base, finding)
    if circle is not None and into > 0.0:
        ask = "Ask the tree officer first. " if circle.tree.protected else ""
        edit = _pit_off(bench, np.array(circle.tree.at), into + _OFF)
        yield order(f"{ask}Move the pit {metres(into + _OFF)} away from the tree.", edit)


def sides_inside(look: Look, finding: Finding) -> float:
    """How far the pit's sides reach into the circle a finding tells of."""
    circle = _circle(look, finding)
    return 0.0 if circle is None else pit_inside(circle.tree.at, circle.radius, look.works.dug).into


def heaps_out(bench: Bench, _: Finding) -> Iterator[Order]:
    """Let clear places be found for heaps that were wished over roots."""
    each = bench.base
    over = {name for circle in each.design.surroundings.circles for name in _heaps_in(each, circle)}
    rows = each.given.get("heaps", [])
    wished = [number for number, row in enumerate(rows, 1) if row["name"] in over]
    if wished:
        names = " and ".join(rows[number - 1]["name"] for number in wished)
        # From the last on: a heap taken out moves the numbers after it.
        yield order(
            f"Let a clear place be found for {names}.",
            *(put(f"heaps.{number}", None) for number in reversed(wished)),
        )


def heaped_over(look: Look, _: Finding) -> float:
    """Metres by which heaps reach into root circles."""
    circles = look.design.surroundings.circles
    return sum(sum(_heaps_in(look, circle).values()) for circle in circles)


def _heaps_in(look: Look, circle: RootCircle) -> dict[str, Length]:
    return {each.heap.name: each.into for each in heaps_inside(circle.tree.at, circle.radius, look.works.dug)}


def boundary(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Move what comes nearer than asked off the boundary: the pit, or the points of the line."""
    from shapely import LineString

    for near in bench.base.design.surroundings.boundaries:
        thing = near.thing
        if opening(thing.name) != finding.place:
            continue
        line, kept = LineString(thing.line), thing.clearance
        if near.pit < kept:
            yield _pit_from(bench, line, kept - near.pit + _OFF)
        elif near.course < kept:
            by = kept - near.course + _OFF
            points = bench.base.design.job.course.line
            close = {at: line.distance(_point(point)) for at, point in enumerate(points)}
            limit = min(close.values()) + by
            edits = [_point_from(at, points[at], line, limit - away) for at, away in close.items() if away < limit]
            yield order(f"Move the line {metres(by)} off {thing.name}.", *edits)


def footing(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Move the pit so far from a footing that it is undermined no more; an engineer looks at it all the same."""
    from shapely import LineString

    for each in bench.base.works.closer.footings:
        for part in each.parts:
            if part.part == "reservoir pit" and finding.place.startswith(f"Footing of {each.foundation.name},"):
                made = _pit_from(bench, LineString(each.foundation.line), part.below + _OFF)
                yield order(f"{made.words} Have an engineer look at it before digging.", *made.edits)


def _circle(look: Look, finding: Finding) -> RootCircle | None:
    name = f"({_tree(finding)},"
    return next((each for each in look.design.surroundings.circles if f"({each.tree.name}," == name), None)


def _tree(finding: Finding) -> str:
    """Name of the tree a finding of root circles tells of."""
    return finding.place.split("root circle (", 1)[-1].split(",", 1)[0]


def _shifted(shift: Shift) -> str:
    side = "left" if shift.offset > 0 else "right"
    return f"shift the line {metres(abs(shift.offset))} to the {side}, {chainages(shift.start, shift.end)}"


def _moved(bench: Bench, shift: Shift) -> list[Edit]:
    """The designer's points where the shifted line lies beside them."""
    each = bench.base.design
    at = each.course.stations
    keep = np.append(True, np.diff(at.chainage) > 1e-9)
    before: Points = at.points[keep]
    edits: list[Edit] = []
    for number, point in enumerate(each.job.course.line):
        station = int(np.argmin(np.hypot(*(before - point).T)))
        by = shift.line[station] - before[station]
        if float(np.hypot(*by)) > 0.005:
            x, y = (round(float(part), 3) for part in point + by)
            edits.append(MovePoint(point=number, x_m=x, y_m=y))
    return edits


def _pit_off(bench: Bench, thing: Points, by: Length) -> MoveReservoir:
    centre = np.array(bench.base.design.job.reservoir.centre)
    away = (centre - thing) / max(float(np.hypot(*(centre - thing))), 1e-9)
    x, y = (round(float(part), 3) for part in centre + by * away)
    return MoveReservoir(x_m=x, y_m=y)


def _pit_from(bench: Bench, line: Any, by: Length) -> Order:
    from shapely import Point

    centre = Point(bench.base.design.job.reservoir.centre)
    foot = line.interpolate(line.project(centre))
    return order(f"Move the pit {metres(by)} away from it.", _pit_off(bench, np.array([foot.x, foot.y]), by))


def _point(point: Points) -> Any:
    from shapely import Point

    return Point(point)


def _point_from(number: int, point: Points, line: Any, by: Length) -> MovePoint:
    foot = line.interpolate(line.project(_point(point)))
    off = point - np.array([foot.x, foot.y])
    x, y = (round(float(part), 3) for part in point + by * off / max(float(np.hypot(*off)), 1e-9))
    return MovePoint(point=number, x_m=x, y_m=y)


def _has_room(bench: Bench, led: Any, line: Any) -> bool:
    """Whether a hose led otherwise stays on the survey, crosses the stream no more often, and no other root circle."""
    from shapely import LineString, MultiPoint, Point

    each = bench.base.design
    course, survey = LineString(each.course.stations.points), MultiPoint(each.job.survey.points).convex_hull
    rings = [Point(*circle.tree.at).buffer(circle.radius) for circle in each.surroundings.circles]
    crossings = [len(getattr(other.intersection(course), "geoms", [0])) for other in (led, line)]
    inside = [sum(float(other.intersection(ring).length) for ring in rings) for other in (led, line)]
    return bool(survey.covers(led)) and crossings[0] <= crossings[1] and inside[0] < inside[1]


def _round_it(bench: Bench, circle: RootCircle) -> list[Edit] | None:
    """The hose's line with an arc in place of what lies in the circle; None where an end of it lies inside."""
    from shapely import LineString, Point

    route, middle = bench.base.design.job.route, np.array(circle.tree.at)
    radius = circle.radius + _ROUND
    line, ring = LineString(route.line), Point(*circle.tree.at).buffer(radius, quad_segs=64)
    if ring.contains(Point(route.line[0])) or ring.contains(Point(route.line[-1])):
        return None
    inside = line.intersection(ring)
    parts = [part for part in getattr(inside, "geoms", [inside]) if part.length > 0]
    if len(parts) != 1:
        return None
    first, last = (np.array(parts[0].coords[end]) for end in (0, -1))
    begins, ends = line.project(Point(first)), line.project(Point(last))
    angles = [float(np.arctan2(*(at - middle)[::-1])) for at in (first, last)]
    turn = (angles[1] - angles[0] + pi) % (2 * pi) - pi
    # Corners on the circle would let the chords between them cut into it.
    out = radius / cos(turn / _CORNERS / 2)
    arc = [
        (circle.tree.at[0] + out * cos(at), circle.tree.at[1] + out * sin(at))
        for at in (angles[0] + turn * (step + 0.5) / _CORNERS for step in range(_CORNERS))
    ]
    places = [line.project(Point(point)) for point in route.line]
    before = [point for point, at in zip(route.line, places, strict=True) if at < begins]
    after = [point for point, at in zip(route.line, places, strict=True) if at > ends]
    led = [*before, *arc, *after]
    longer = LineString(led).length - line.length
    if not _has_room(bench, LineString(led), line):
        return None
    return [
        put("hose.line_m", [[round(x, 3), round(y, 3)] for x, y in led]),
        put("hose.length_m", round(route.length + longer, 2)),
    ]
