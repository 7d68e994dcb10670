"""The works as a DXF model (R2010) in metres at true coordinates and levels: no paper, no views, one layer a kind.

What nobody knows the level of is drawn flat, as CAD programs draw a plan: LWPOLYLINE and CIRCLE at elevation 0.
"""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length
from beckwright.papers.formats.dxf import _document, _told, _without_the_moment
from beckwright.papers.handed_over.values import Code, HandedOver, Kind, Line, Net, Point, Round

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

LETTERING: Length = 0.06
"""Height of the words, m: 3 mm at 1:20."""
_CROSS = 3
"""$PDMODE of a diagonal cross."""
_CROSS_SIZE: Length = 0.05

LINES: dict[Kind, tuple[str, int]] = {
    "contour": ("contours", 31),
    "course": ("course", 5),
    "edge left": ("edge left", 150),
    "edge right": ("edge right", 160),
    "lip": ("lips", 240),
    "pool": ("pools", 140),
    "works outline": ("works outline", 30),
    "reservoir": ("reservoir", 190),
    "pit floor": ("pit floor", 200),
    "pit top": ("pit top", 201),
    "hose trench": ("hose trench", 20),
    "hose": ("hose", 4),
    "service": ("services", 6),
    "boundary": ("boundaries", 41),
    "foundation": ("foundations", 21),
    "runoff": ("runoff", 131),
}
"""Layer and colour number of each kind of line. No two layers share a colour: a picture tells them apart. Only pure and
half colours are used, for programs differ in the darker ones."""
POINTS: dict[Code, tuple[str, int]] = {
    "PEG": ("pegs", 1),
    "DIG": ("dig levels", 2),
    "EDGE": ("edge levels", 151),
    "LIP": ("lip levels", 241),
    "PIT": ("pit corners", 211),
    "MARK": ("marks", 230),
}
NETS = {"existing ground": ("ground", 3), "formation": ("formation", 40)}
TREES, ROOTS, HEAPS = ("trees", 80), ("root circles", 91), ("heaps", 51)


def write_model_dxf(handed: HandedOver) -> bytes:
    """Write the model as the bytes of a DXF file: the same for the same design and the same ezdxf."""
    with _without_the_moment():
        document = _document()
        document.header["$PDMODE"] = _CROSS
        document.header["$PDSIZE"] = _CROSS_SIZE
        for name, colour in (*NETS.values(), *LINES.values(), *POINTS.values(), TREES, ROOTS, HEAPS):
            document.layers.add(name, color=colour)
        space = document.modelspace()
        for net in handed.nets:
            _faces(space, net)
        for line in handed.lines:
            _line(space, line)
        for thing in handed.rounds:
            _round(space, thing)
        for point in handed.points:
            _point(space, point)
        low, high = handed.nets[0].surface.points.min(axis=0), handed.nets[0].surface.points.max(axis=0)
        document.set_modelspace_vport(
            height=float(np.ptp((low, high), axis=0).max()), center=((low + high) / 2).tolist()
        )
        return _told(document)


def _faces(space: "Modelspace", net: Net) -> None:
    corners = np.column_stack((net.surface.points, net.surface.levels))[net.surface.triangles].tolist()
    for triangle in corners:
        space.add_3dface(triangle, dxfattribs={"layer": NETS[net.name][0]})


def _line(space: "Modelspace", line: Line) -> None:
    layer = {"layer": LINES[line.kind][0]}
    if line.levels is None or line.kind == "contour":
        level = 0.0 if line.levels is None else float(line.levels[0])
        space.add_lwpolyline(line.points.tolist(), close=line.closed, dxfattribs={**layer, "elevation": level})
    else:
        corners = np.column_stack((line.points, line.levels)).tolist()
        space.add_polyline3d(corners, close=line.closed, dxfattribs=layer)
    if line.kind in ("service", "boundary", "foundation", "runoff"):
        _words(space, line.name, (*line.points[0].tolist(), 0.0), layer["layer"])


def _round(space: "Modelspace", thing: Round) -> None:
    name, ring = (TREES[0], ROOTS[0]) if thing.kind == "tree" else (HEAPS[0], HEAPS[0])
    space.add_circle(thing.at, thing.radius, dxfattribs={"layer": ring})
    space.add_point(thing.at, dxfattribs={"layer": name})
    _words(space, thing.name, (*thing.at, 0.0), name)


def _point(space: "Modelspace", point: Point) -> None:
    """A mark without a level stands at 0, and its words say so."""
    layer = POINTS[point.code][0]
    place = (*point.at, 0.0 if point.level is None else point.level)
    space.add_point(place, dxfattribs={"layer": layer})
    _words(space, point.number if point.level is not None else f"{point.number} no level", place, layer)


def _words(space: "Modelspace", words: str, place: tuple[float, float, float], layer: str) -> None:
    text = space.add_text(words, height=LETTERING, dxfattribs={"layer": layer})
    text.set_placement((place[0] + _CROSS_SIZE, place[1] + _CROSS_SIZE, place[2]))
