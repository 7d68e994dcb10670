"""LandXML 1.2: ground and formation as nets of triangles, the course as an alignment, and the points.

Points are northing, easting, level. Faces name points by their number, from 1. Offsets of cross-sections are positive
to the right. A profile's stations rise, so the two levels of a step stand a millimetre apart.
"""

from importlib.metadata import version
from itertools import pairwise
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Lengths, Levels
from beckwright.papers.handed_over.values import UPRIGHT, Axis, HandedOver, Net, Point, Profile
from beckwright.stages.earthworks.values import CrossSection, Surface

NAMESPACE = "http://www.landxml.org/schema/LandXML-1.2"
PLACES = 4
"""Decimals of every number, in metres."""
_FLAT = 1e-6
"""A triangle with less plan than this, m², stands upright: a net read from above has no such faces."""
_BENT = 1e-6
"""Least change of slope at which a profile bends."""


def write_landxml(handed: HandedOver) -> bytes:
    """Write the file as UTF-8: the same bytes for the same design."""
    title = handed.title
    root = Element(
        "LandXML",
        {
            "xmlns": NAMESPACE,
            "xmlns:xsi": "http://www.w3.org/2001/XMLSchema-instance",
            "xsi:schemaLocation": f"{NAMESPACE} {NAMESPACE}/LandXML-1.2.xsd",
            "version": "1.2",
            "date": title.date,
            # A job has a day and no hour.
            "time": "00:00:00",
            "language": "English",
            "readOnly": "false",
        },
    )
    units = {"areaUnit": "squareMeter", "linearUnit": "meter", "volumeUnit": "cubicMeter"}
    SubElement(
        SubElement(root, "Units"), "Metric", {**units, "temperatureUnit": "celsius", "pressureUnit": "milliBars"}
    )
    SubElement(
        root,
        "CoordinateSystem",
        {"name": "local", "desc": "the site's own grid, metres", "verticalDatum": _words(handed.datum.name)},
    )
    invented = "; invented data: no real place, firm or person" if title.invented else ""
    SubElement(root, "Project", {"name": _words(title.name), "desc": f"revision {_words(title.revision)}{invented}"})
    SubElement(root, "Application", {"name": "beckwright", "version": version("beckwright")})
    _points(root, handed.points)
    _alignment(SubElement(root, "Alignments"), handed.axis, _words(title.name))
    surfaces = SubElement(root, "Surfaces")
    for net in handed.nets:
        _surface(surfaces, net)
    ElementTree.indent(root, " ")
    written: bytes = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True) + b"\n"
    return written


def _points(root: Element, points: tuple[Point, ...]) -> None:
    group = SubElement(root, "CgPoints", {"name": "points to set out"})
    for point in points:
        told = {"name": point.number, "code": point.code, "desc": _words(point.name)}
        east, north = point.at
        height = () if point.level is None else (point.level,)
        SubElement(group, "CgPoint", told).text = _numbers(np.array([north, east, *height]))


def _alignment(root: Element, axis: Axis, name: str) -> None:
    attributes = {
        "name": name,
        "length": _number(axis.along[-1]),
        "staStart": _number(0.0),
        "desc": f"station = chainage of the course x {axis.stretch:.6f}",
    }
    alignment = SubElement(root, "Alignment", attributes)
    geometry = SubElement(alignment, "CoordGeom")
    for row, (start, end) in enumerate(pairwise(axis.points[:, ::-1])):
        piece = {"staStart": _number(axis.along[row]), "length": _number(axis.along[row + 1] - axis.along[row])}
        line = SubElement(geometry, "Line", piece)
        SubElement(line, "Start").text = _numbers(start)
        SubElement(line, "End").text = _numbers(end)
    told = f"the two levels of a step stand {UPRIGHT * 1000:.0f} mm apart"
    profile = SubElement(alignment, "Profile", {"name": name, "staStart": _number(0.0), "desc": told})
    for levels in axis.profiles:
        _profile(profile, axis.stations, levels)
    sections = SubElement(alignment, "CrossSects", {"name": name})
    for station, section in zip(axis.stations, axis.sections, strict=True):
        _section(sections, station, section)


def _profile(root: Element, stations: Lengths, line: Profile) -> None:
    pairs = np.column_stack((stations, line.levels))
    if not line.designed:
        SubElement(SubElement(root, "ProfSurf", {"name": line.name}), "PntList2D").text = _numbers(pairs)
        return
    aligned = SubElement(root, "ProfAlign", {"name": line.name})
    for pair in pairs[_bends(stations, line.levels)]:
        SubElement(aligned, "PVI").text = _numbers(pair)


def _bends(stations: Lengths, levels: Levels) -> BoolArray:
    """Mark both ends and every point where the slope changes: (n,)."""
    slopes = np.diff(levels) / np.diff(stations)
    bends: BoolArray = np.concatenate(([True], np.abs(np.diff(slopes)) > _BENT, [True]))
    return bends


def _section(root: Element, station: float, section: CrossSection) -> None:
    cut = SubElement(root, "CrossSect", {"sta": _number(station)})
    for name, levels in (("existing ground", section.ground), ("formation", section.formation)):
        pairs = np.column_stack((-section.offsets, levels)).round(PLACES)
        new = np.concatenate(([True], (np.diff(pairs, axis=0) != 0.0).any(axis=1)))
        SubElement(SubElement(cut, "CrossSectSurf", {"name": name}), "PntList2D").text = _numbers(pairs[new])


def _surface(root: Element, net: Net) -> None:
    surface = SubElement(root, "Surface", {"name": net.name})
    if net.breaklines:
        lines = SubElement(SubElement(surface, "SourceData"), "Breaklines")
        for line in net.breaklines:
            SubElement(SubElement(lines, "Breakline", {"brkType": "standard"}), "PntList3D").text = _numbers(
                line[:, [1, 0, 2]]
            )
    definition = SubElement(surface, "Definition", {"surfType": "TIN"})
    points = SubElement(definition, "Pnts")
    table = np.column_stack((net.surface.points[:, ::-1], net.surface.levels))
    for number, row in enumerate(table, 1):
        SubElement(points, "P", {"id": str(number)}).text = _numbers(row)
    faces = SubElement(definition, "Faces")
    for triangle in (net.surface.triangles[_plans(net.surface) > _FLAT] + 1).tolist():
        SubElement(faces, "F").text = " ".join(map(str, triangle))


def _plans(surface: Surface) -> FloatArray:
    """Area of every triangle seen from above, (k,) m²."""
    one, two, three = (surface.points[surface.triangles[:, corner]] for corner in range(3))
    (east1, north1), (east2, north2) = (two - one).T, (three - one).T
    plans: FloatArray = np.abs(east1 * north2 - north1 * east2) / 2
    return plans


def _numbers(amounts: FloatArray) -> str:
    return " ".join(map(_number, np.ravel(amounts).tolist()))


def _number(amount: float) -> str:
    # Adding nothing turns a minus nought into a nought.
    return f"{round(float(amount), PLACES) + 0.0:.{PLACES}f}"


def _words(text: str) -> str:
    """Words without the control signs that XML cannot hold."""
    return "".join(mark for mark in text if mark.isprintable())
