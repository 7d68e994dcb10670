"""Ground, cut and water as nets of triangles and lines in space, for a page that can turn them. Metres, levels as z."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Level
from beckwright.compose import Design
from beckwright.stages.ground import Ground, extent, inside, level_at
from beckwright.stages.surroundings import pit_corners
from beckwright.stages.surroundings.works import Footprint, footprint
from beckwright.web.desk.state import Told, ground_told, rounded

if TYPE_CHECKING:
    from shapely import MultiPolygon, Polygon

MOST_TRIANGLES = 12_000
"""Of the ground: a denser survey is shown by a net of levels read off it."""
STEM_SHOWN: Length = 1.5
"""Stems are drawn up to where their girth is measured: how tall a tree is, nobody has said."""
ROUND = 12
"""Sides of what is drawn round."""


def relief_told(design: Design, *, revision: Any) -> Told:
    """Everything the page draws: ``solids`` of triangles and ``lines``, each of a kind; water by flow."""
    laid = footprint(design.job, design.course)
    east, north, _, _ = extent(design.ground)
    return {
        "revision": revision,
        "title": design.job.title.name,
        "flows": [each.name for each in design.job.flows],
        # Subtracted from every point, so that a national grid keeps its millimetres on a graphics card.
        "origin": [rounded(east), rounded(north), rounded(float(design.ground.levels.min()))],
        "solids": [*_solids(design, laid)],
        "lines": [*_lines(design, laid)],
        "water": {name: _water(design, laid, row) for row, name in enumerate(design.water.names)},
    }


def _solids(design: Design, laid: Footprint) -> Iterator[Told]:
    points, triangles = _open_ground(design, laid)
    yield _solid("ground", points, triangles)
    across = _across(design, laid)
    for kind, one, other in (("bank", 0, 1), ("lining", 1, 2), ("bed", 2, 3), ("lining", 3, 4), ("bank", 4, 5)):
        yield _band(kind, across[:, one], across[:, other])
    for end in (across[0], across[-1]):
        # The stream has no end of its own on paper: a bank closes it across.
        share = np.linalg.norm(end[:, :2] - end[0, :2], axis=1) / np.linalg.norm(end[5, :2] - end[0, :2])
        yield _band("bank", end, end[0] + share[:, np.newaxis] * (end[5] - end[0]))
    pit = design.reservoir.pit
    corners = np.array(pit_corners(design.job.reservoir))
    yield _walls("pit", corners, _levels(design.ground, corners, pit.cover), pit.sump_floor)
    yield _flat("pit", corners, pit.sump_floor)
    yield _walls("crates", corners, np.full(4, pit.fill_top), pit.floor)
    yield _flat("held", corners, pit.rested)
    for circle in design.surroundings.circles:
        ring = _ring(circle.tree.at, circle.stem / 2)
        foot = _levels(design.ground, ring, float(design.ground.levels.min()))
        yield _walls("stem", ring, foot + STEM_SHOWN, float(foot.min()))


def _open_ground(design: Design, laid: Footprint) -> tuple[FloatArray, IntArray]:
    """The ground without what is dug: triangles cut exactly along the feet of the banks and the sides of the pit."""
    import shapely

    ground = design.ground
    points, levels, triangles = _net(ground)
    left, right = laid.feet
    dug = shapely.union_all(
        [shapely.make_valid(shapely.Polygon([*left, *right[::-1]])), shapely.Polygon(pit_corners(design.job.reservoir))]
    )
    sides: Any = shapely.polygons(points[triangles])
    touched = shapely.intersects(sides, dug)
    spots, nets = [np.column_stack([points, levels])], [triangles[~touched]]
    count = len(points)
    for place in np.flatnonzero(touched):
        plane = np.linalg.lstsq(
            np.column_stack([points[triangles[place]], np.ones(3)]), levels[triangles[place]], rcond=None
        )[0]
        for corners in _pieces(sides[place].difference(dug)):
            spots.append(np.column_stack([corners, corners @ plane[:2] + plane[2]]))
            nets.append(np.array([[count, count + 1, count + 2]]))
            count += 3
    return np.concatenate(spots), np.concatenate(nets)


def _pieces(rest: "Polygon | MultiPolygon") -> Iterator[FloatArray]:
    """What is left of a triangle, in triangles: (3, 2) each."""
    import shapely

    for piece in shapely.get_parts(shapely.constrained_delaunay_triangles(rest)):
        if piece.geom_type == "Polygon" and piece.area > 0.0:
            yield np.array(piece.exterior.coords)[:3]


def _net(ground: Ground) -> tuple[FloatArray, FloatArray, IntArray]:
    if len(ground.triangles) <= MOST_TRIANGLES:
        return ground.points, ground.levels, ground.triangles
    east, north, far_east, far_north = extent(ground)
    apart = float(np.sqrt((far_east - east) * (far_north - north) * 2.0 / MOST_TRIANGLES))
    columns, rows = np.arange(east, far_east, apart), np.arange(north, far_north, apart)
    points = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2)
    held = inside(ground, points)
    levels = np.zeros(len(points))
    levels[held] = level_at(ground, points[held])
    first = (np.arange(len(rows) - 1)[:, np.newaxis] * len(columns) + np.arange(len(columns) - 1)).ravel()
    wide = len(columns)
    net = np.concatenate(
        [
            np.stack([first, first + 1, first + wide], axis=1),
            np.stack([first + 1, first + wide + 1, first + wide], axis=1),
        ]
    )
    return points, levels, net[held[net].all(axis=1)]


def _across(design: Design, laid: Footprint) -> FloatArray:
    """Six points of every station, left to right: foot, edge, side of the bed twice, edge, foot: (n, 6, 3)."""
    at = design.course.stations
    (left, right), (edge_left, edge_right) = laid.feet, laid.edge
    half = at.width / 2

    def beside(off: FloatArray, level: FloatArray) -> FloatArray:
        return np.column_stack([at.points + off[:, np.newaxis] * laid.sideways, level])

    return np.stack(
        [
            np.column_stack([left, _levels(design.ground, left, at.ground_left)]),
            beside(edge_left, at.edge_left),
            beside(half, at.bed),
            beside(-half, at.bed),
            beside(-edge_right, at.edge_right),
            np.column_stack([right, _levels(design.ground, right, at.ground_right)]),
        ],
        axis=1,
    )


def _water(design: Design, laid: Footprint, flow: int) -> Told:
    """The surface by the middle of the band, as wide as it stands between the sides."""
    at, level = design.course.stations, design.water.level[1, flow]
    half = at.width / 2 + design.course.side_slope * np.maximum(level - at.bed, 0.0)
    off = half[:, np.newaxis] * laid.sideways
    return _band("water", np.column_stack([at.points + off, level]), np.column_stack([at.points - off, level]))


def _lines(design: Design, laid: Footprint) -> Iterator[Told]:
    job, ground = design.job, design.ground
    for contour in ground_told(ground)["contours"]:
        line = np.array(contour["line"])
        yield _line("contour", np.column_stack([line, np.full(len(line), contour["level"])]))
    across = _across(design, laid)
    yield _line("edge", across[:, 1])
    yield _line("edge", across[:, 4])
    yield from _draped("hose", ground, job.route.line)
    for boundary in job.site.boundaries:
        yield from _draped("boundary", ground, boundary.line)
    for service in job.site.services:
        yield from _draped("service", ground, service.line)
    for circle in design.surroundings.circles:
        yield from _draped("roots", ground, _ring(circle.tree.at, circle.radius, sides=48, closed=True))


def _draped(kind: str, ground: Ground, line: Sequence[Any] | FloatArray) -> Iterator[Told]:
    """A line laid on the ground, in pieces where it leaves the survey."""
    import shapely

    if len(line) < 2:
        return
    points = np.array(shapely.segmentize(shapely.LineString(line), 0.5).coords)
    held = inside(ground, points)
    for run in np.split(np.arange(len(points)), np.flatnonzero(np.diff(held)) + 1):
        if held[run[0]] and len(run) > 1:
            yield _line(kind, np.column_stack([points[run], level_at(ground, points[run])]))


def _levels(ground: Ground, points: FloatArray, otherwise: FloatArray | Level) -> FloatArray:
    """Ground levels; ``otherwise`` where nobody has surveyed."""
    held = inside(ground, points)
    levels = np.broadcast_to(otherwise, len(points)).astype(float)
    levels[held] = level_at(ground, points[held])
    return levels


def _ring(at: tuple[Length, Length], radius: Length, *, sides: int = ROUND, closed: bool = False) -> FloatArray:
    turns = np.linspace(0.0, 2.0 * np.pi, sides, endpoint=False)
    if closed:
        turns = np.append(turns, 0.0)
    return np.array(at) + radius * np.column_stack([np.cos(turns), np.sin(turns)])


def _band(kind: str, one: FloatArray, other: FloatArray) -> Told:
    """The band between two lines of as many points."""
    count = len(one)
    first = np.arange(count - 1)
    triangles = np.concatenate(
        [
            np.stack([first, first + count, first + 1], axis=1),
            np.stack([first + 1, first + count, first + count + 1], axis=1),
        ]
    )
    return _solid(kind, np.concatenate([one, other]), triangles)


def _walls(kind: str, ring: FloatArray, tops: FloatArray, foot: Level) -> Told:
    """Upright walls round a closed ring."""
    around = np.concatenate([ring, ring[:1]])
    upper = np.column_stack([around, np.append(tops, tops[0])])
    return _band(kind, upper, np.column_stack([around, np.full(len(around), foot)]))


def _flat(kind: str, corners: FloatArray, level: Level) -> Told:
    return _solid(kind, np.column_stack([corners, np.full(4, level)]), np.array([[0, 1, 2], [0, 2, 3]]))


def _solid(kind: str, points: FloatArray, triangles: IntArray) -> Told:
    return {"kind": kind, "points": np.round(points, 3).tolist(), "triangles": triangles.tolist()}


def _line(kind: str, points: FloatArray) -> Told:
    return {"kind": kind, "points": np.round(points, 3).tolist()}
