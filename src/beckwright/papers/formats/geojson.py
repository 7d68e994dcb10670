"""The plan as GeoJSON (RFC 7946), with one deviation that the file declares: coordinates are the site's own metres.

The standard wants longitude and latitude, and allows other systems between parties that have agreed on them (clause 4).
Rings run anticlockwise (3.1.6); a third number is the level, where it is known.
"""

import json
from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np

from beckwright.base.quantities import Levels, Points
from beckwright.papers.handed_over.values import Fact, HandedOver, Line, Round
from beckwright.papers.handed_over.values import Point as SetOutPoint

SYSTEM = {
    "name": "local grid of the site",
    "unit": "metre",
    "axes": ["easting", "northing", "level above the job's zero"],
    "note": "Not WGS 84 as RFC 7946 wants it: coordinates are metres on the site's own grid. Give the layer a local "
    "or no reference system before it is shown with other maps.",
}


def write_geojson(handed: HandedOver) -> bytes:
    """Write the plan as UTF-8, one feature a line."""
    head = {
        "type": "FeatureCollection",
        "name": handed.title.name,
        "revision": handed.title.revision,
        "date": handed.title.date,
        "invented": handed.title.invented,
        "datum": {"name": handed.datum.name, "level_m": handed.datum.level},
        "coordinateReferenceSystem": SYSTEM,
    }
    features = ",\n".join(map(_json, _features(handed)))
    return f'{_json(head)[:-1]}, "features": [\n{features}\n]}}\n'.encode()


def _features(handed: HandedOver) -> Iterator[dict[str, Any]]:
    yield from map(_line, handed.lines)
    yield from map(_round, handed.rounds)
    yield from map(_point, handed.points)


def _line(line: Line) -> dict[str, Any]:
    if not line.closed:
        # A thing drawn with a single point, such as a gatepost, is a point here.
        places = _positions(line.points, line.levels)
        shape = {"type": "LineString", "coordinates": places} if len(places) > 1 else _spot(places[0])
        return _feature(line.kind, line.name, line.facts, shape)
    order = slice(None) if _anticlockwise(line.points) else slice(None, None, -1)
    ring = _positions(line.points[order], None if line.levels is None else line.levels[order])
    return _feature(line.kind, line.name, line.facts, {"type": "Polygon", "coordinates": [[*ring, ring[0]]]})


def _round(thing: Round) -> dict[str, Any]:
    radius = "root_radius_m" if thing.kind == "tree" else "radius_m"
    facts = ((radius, thing.radius), *thing.facts)
    return _feature(thing.kind, thing.name, facts, _spot(_positions(np.array([thing.at]), None)[0]))


def _point(point: SetOutPoint) -> dict[str, Any]:
    levels = None if point.level is None else np.array([point.level])
    facts = (("number", point.number), ("code", point.code), ("level_m", point.level))
    return _feature("point", point.name, facts, _spot(_positions(np.array([point.at]), levels)[0]))


def _feature(kind: str, name: str, facts: Iterable[Fact], shape: dict[str, Any]) -> dict[str, Any]:
    told = {key: round(fact, 4) if isinstance(fact, float) else fact for key, fact in facts}
    return {"type": "Feature", "properties": {"kind": kind, "name": name, **told}, "geometry": shape}


def _spot(place: list[float]) -> dict[str, Any]:
    return {"type": "Point", "coordinates": place}


def _positions(points: Points, levels: Levels | None) -> list[list[float]]:
    columns = points if levels is None else np.column_stack((points, levels))
    # Adding nothing turns a minus nought into a nought.
    positions: list[list[float]] = (np.round(columns, 4) + 0.0).tolist()
    return positions


def _anticlockwise(ring: Points) -> bool:
    east, north = (ring - ring[0]).T
    return float(np.sum(east * np.roll(north, -1) - np.roll(east, -1) * north)) > 0.0


def _json(thing: dict[str, Any]) -> str:
    return json.dumps(thing, ensure_ascii=False, allow_nan=False)
