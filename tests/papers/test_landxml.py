"""LandXML read back by the rules of its schema: every element, number and net."""

import io
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing
from shapely import LineString, MultiPoint

from beckwright.compose import design
from beckwright.job.read import read_job
from beckwright.papers.formats.landxml import write_landxml
from beckwright.papers.formats.model_dxf import write_model_dxf
from beckwright.papers.handed_over.values import HandedOver, Net
from beckwright.stages.earthworks import Surface
from tests.papers.exchanged import (
    EXAMPLES,
    MILLIMETRE,
    WORLD,
    Exchange,
    dxf_net,
    exchanged,
    landxml_net,
    level_in,
    numbers,
    plan_and_volume,
    plans,
)


@pytest.fixture(scope="module", params=["hazel_bank", "larkspur_court"])
def exchange(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Exchange:
    """Hazel Bank has pools, trees and marks; Larkspur Court has breaklines and steps without pools."""
    return exchanged(design(read_job(EXAMPLES / request.param)), tmp_path_factory.mktemp(request.param))


@pytest.fixture(scope="module")
def hazel(tmp_path_factory: pytest.TempPathFactory) -> Exchange:
    return exchanged(design(read_job(EXAMPLES / "hazel_bank")), tmp_path_factory.mktemp("hazel"))


# Read off the published schema, LandXML-1.2.xsd of 2008, for the elements we write: attributes that must be there,
# attributes that may, and children in an order it allows.
NAMED = {"name", "desc", "state"}
PLACE = {"name", "desc", "code", "pntRef"}
RULES: dict[str, tuple[set[str], set[str], tuple[str, ...]]] = {
    "LandXML": (
        {"version", "date", "time"},
        {"language", "readOnly", "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"},
        ("Units", "CoordinateSystem", "Project", "Application", "CgPoints", "Alignments", "Surfaces"),
    ),
    "Units": (set(), set(), ("Metric",)),
    "Metric": (
        {"areaUnit", "linearUnit", "volumeUnit", "temperatureUnit", "pressureUnit"},
        {"angularUnit", "directionUnit", "elevationUnit"},
        (),
    ),
    "CoordinateSystem": (set(), {"name", "desc", "verticalDatum"}, ()),
    "Project": ({"name"}, {"desc", "state"}, ()),
    "Application": ({"name"}, {"desc", "version"}, ()),
    "CgPoints": (set(), NAMED, ("CgPoint",)),
    "CgPoint": (set(), PLACE, ()),
    "Alignments": (set(), NAMED, ("Alignment",)),
    "Alignment": ({"name", "length", "staStart"}, {"desc", "state"}, ("CoordGeom", "Profile", "CrossSects")),
    "CoordGeom": (set(), NAMED, ("Line",)),
    "Line": (set(), NAMED | {"dir", "length", "staStart"}, ("Start", "End")),
    "Start": (set(), PLACE, ()),
    "End": (set(), PLACE, ()),
    "Profile": (set(), NAMED | {"staStart"}, ("ProfSurf", "ProfAlign")),
    "ProfSurf": ({"name"}, {"desc", "state"}, ("PntList2D",)),
    "ProfAlign": ({"name"}, {"desc", "state"}, ("PVI",)),
    "PVI": (set(), {"desc"}, ()),
    "CrossSects": (set(), NAMED, ("CrossSect",)),
    "CrossSect": ({"sta"}, {"name", "desc"}, ("CrossSectSurf",)),
    "CrossSectSurf": ({"name"}, {"desc", "state"}, ("PntList2D",)),
    "Surfaces": (set(), NAMED, ("Surface",)),
    "Surface": ({"name"}, {"desc", "state"}, ("SourceData", "Definition")),
    "SourceData": (set(), set(), ("Breaklines",)),
    "Breaklines": (set(), set(), ("Breakline",)),
    "Breakline": (set(), NAMED | {"brkType"}, ("PntList3D",)),
    "PntList2D": (set(), set(), ()),
    "PntList3D": (set(), set(), ()),
    "Definition": ({"surfType"}, {"area2DSurf", "area3DSurf", "elevMax", "elevMin"}, ("Pnts", "Faces")),
    "Pnts": (set(), set(), ("P",)),
    "P": ({"id"}, PLACE, ()),
    "Faces": (set(), NAMED, ("F",)),
    "F": (set(), {"i", "n", "b"}, ()),
}
# How many numbers each kind of list holds: a multiple of the first, from the second to the third.
LISTS = {
    "CgPoint": (1, 2, 3),
    "Start": (1, 2, 3),
    "End": (1, 2, 3),
    "PVI": (2, 2, 2),
    "PntList2D": (2, 4, None),
    "PntList3D": (3, 6, None),
    "P": (3, 3, 3),
    "F": (3, 3, 3),
}
# Enumerations of the schema; units are from its documentation and from memory.
WORDS = {
    "linearUnit": {"millimeter", "centimeter", "meter", "kilometer"},
    "areaUnit": {"hectare", "squareMeter", "squareMillimeter", "squareCentimeter"},
    "volumeUnit": {"cubicMeter", "liter", "hectareMeter"},
    "temperatureUnit": {"celsius", "kelvin"},
    "pressureUnit": {"HPA", "milliBars", "mmHG", "millimeterHG"},
    "surfType": {"TIN", "grid"},
    "brkType": {"standard", "wall", "proximity", "nondestructive"},
}


def test_landxml_keeps_the_rules_of_its_schema(exchange: Exchange) -> None:
    for element in exchange.landxml().iter():
        must, may, children = RULES[_tag(element)]
        assert must <= set(element.keys()) <= must | may
        order = [children.index(_tag(child)) for child in element]
        assert order == sorted(order)
        assert all(element.get(word) in known for word, known in WORDS.items() if element.get(word) is not None)
        if _tag(element) in LISTS:
            step, least, most = LISTS[_tag(element)]
            count = len((element.text or "").split())
            assert count % step == 0
            assert least <= count <= (most or count)


def test_names_and_numbers_stand_once_in_landxml(exchange: Exchange) -> None:
    root = exchange.landxml()
    groups = [
        [point.get("name") for point in root.iterfind(".//lx:CgPoint", WORLD)],
        [section.get("sta") for section in root.iterfind(".//lx:CrossSect", WORLD)],
        [surface.get("name") for surface in root.iterfind(".//lx:Surface", WORLD)],
        *([p.get("id") for p in points] for points in root.iterfind(".//lx:Pnts", WORLD)),
    ]
    for group in groups:
        assert len(group) == len(set(group)) > 0


def _tag(element: ET.Element) -> str:
    world, tag = element.tag[1:].split("}")
    assert world == WORLD["lx"]
    return tag


@pytest.mark.parametrize(("name", "layer"), [("existing ground", "ground"), ("formation", "formation")])
def test_nets_come_back_with_their_plan_and_volume(exchange: Exchange, name: str, layer: str) -> None:
    surface = next(net.surface for net in exchange.handed.nets if net.name == name)
    all_faces = np.column_stack((surface.points, surface.levels))[surface.triangles]
    plan, volume = plan_and_volume(all_faces)
    lying = all_faces[np.abs(plans(all_faces)) > 1e-6]
    for read, meant in ((landxml_net(exchange.landxml(), name), lying), (dxf_net(exchange.dxf(), layer), all_faces)):
        assert len(read) == len(meant)
        np.testing.assert_allclose(read, meant, atol=MILLIMETRE / 10)
        read_plan, read_volume = plan_and_volume(read)
        # Every level within 0.1 mm: so is the volume, for each square metre.
        assert read_plan == pytest.approx(plan, abs=MILLIMETRE * np.sqrt(plan))
        assert read_volume / read_plan == pytest.approx(volume / plan, abs=MILLIMETRE)


def test_existing_ground_covers_the_survey_once(exchange: Exchange) -> None:
    plan, _ = plan_and_volume(landxml_net(exchange.landxml(), "existing ground"))
    assert plan == pytest.approx(MultiPoint(exchange.design.job.survey.points).convex_hull.area, abs=0.01)


def test_a_plane_holds_the_volume_of_a_plane(hazel: Exchange) -> None:
    """40 m by 30 m, level 100 + 0.02 x + 0.01 y about (5, 5): 1200 m2 times 100.15 m is 120 180 m3 (by hand)."""
    corners = np.array([(-15.0, -10.0), (25.0, -10.0), (25.0, 20.0), (-15.0, 20.0)])
    plane = Surface(points=corners, levels=100.0 + corners @ (0.02, 0.01), triangles=np.array([(0, 1, 2), (0, 2, 3)]))
    handed = replace(hazel.handed, nets=(Net(name="existing ground", surface=plane),))
    for read in (landxml_net(_written(handed), "existing ground"), dxf_net(_modelled(handed), "ground")):
        assert plan_and_volume(read) == (pytest.approx(1200.0), pytest.approx(120_180.0))


def test_upright_faces_stay_out_of_landxml_and_in_the_model(hazel: Exchange) -> None:
    """A net seen from above has no upright faces; a model in space has."""
    ground, formation = hazel.handed.nets
    foot, end, _ = formation.surface.triangles[0]
    wall = replace(
        formation.surface,
        points=np.vstack((formation.surface.points, formation.surface.points[foot])),
        levels=np.append(formation.surface.levels, formation.surface.levels[foot] + 1.0),
        triangles=np.vstack((formation.surface.triangles, [(foot, end, len(formation.surface.points))])),
    )
    handed = replace(hazel.handed, nets=(ground, replace(formation, surface=wall)))
    whole = len(formation.surface.triangles)
    assert len(landxml_net(_written(handed), "formation")) == whole
    assert len(dxf_net(_modelled(handed), "formation")) == whole + 1


def test_far_from_nought_nothing_is_lost(hazel: Exchange) -> None:
    """A national grid's eastings and northings have six or seven figures before the point."""
    away = np.array((400_120.125, 5_280_310.0625))
    net = hazel.handed.nets[0]
    moved = replace(net, surface=replace(net.surface, points=net.surface.points + away))
    handed = replace(hazel.handed, nets=(moved,))
    meant = (net.surface.points + away)[net.surface.triangles]
    for read in (landxml_net(_written(handed), "existing ground"), dxf_net(_modelled(handed), "ground")):
        np.testing.assert_allclose(read[..., :2], meant, rtol=0.0, atol=MILLIMETRE)


def _written(handed: HandedOver) -> ET.Element:
    return ET.fromstring(write_landxml(handed))  # noqa: S314 (our own writing)


def _modelled(handed: HandedOver) -> Drawing:
    return ezdxf.read(io.StringIO(write_model_dxf(handed).decode()))


def test_breaklines_come_back(exchange: Exchange) -> None:
    survey = exchange.design.job.survey
    read = [numbers(line, 3)[:, [1, 0, 2]] for line in exchange.landxml().iterfind(".//lx:PntList3D", WORLD)]
    assert len(read) == len(survey.breaklines)
    for line, rows in zip(read, survey.breaklines, strict=True):
        np.testing.assert_allclose(line[:, :2], survey.points[list(rows)], atol=MILLIMETRE / 10)
        np.testing.assert_allclose(line[:, 2], survey.levels[list(rows)], atol=MILLIMETRE / 10)


def _alignment(root: ET.Element) -> tuple[LineString, float]:
    ends = [(numbers(line[0], 2)[0], numbers(line[1], 2)[0]) for line in root.iterfind(".//lx:Line", WORLD)]
    for (_, end), (start, _) in pairwise(ends):
        np.testing.assert_array_equal(end, start)
    path = LineString([ends[0][0][::-1], *(end[::-1] for _, end in ends)])
    alignment = root.find(".//lx:Alignment", WORLD)
    assert alignment is not None
    assert float(alignment.get("length", "nan")) == pytest.approx(path.length, abs=MILLIMETRE)
    return path, path.length / float(alignment.get("desc", "").split()[-1])


def test_the_alignment_is_the_course(exchange: Exchange) -> None:
    course = exchange.design.course
    path, length = _alignment(exchange.landxml())
    assert length == pytest.approx(course.length, abs=MILLIMETRE)
    along = course.stations.chainage * path.length / course.length
    read = np.array([path.interpolate(station).coords[0] for station in along])
    np.testing.assert_allclose(read, course.stations.points, atol=MILLIMETRE)


def test_pieces_of_the_alignment_follow_one_another(exchange: Exchange) -> None:
    station = 0.0
    for line in exchange.landxml().iterfind(".//lx:Line", WORLD):
        assert float(line.get("staStart", "nan")) == pytest.approx(station, abs=MILLIMETRE / 2)
        start, end = (numbers(each, 2)[0] for each in line)
        station += float(np.hypot(*(end - start)))


@pytest.mark.parametrize("name", ["existing ground", "bed", "lining", "dig", "edge left", "edge right"])
def test_profiles_hold_every_level(exchange: Exchange, name: str) -> None:
    at, root = exchange.design.course.stations, exchange.landxml()
    meant = {
        "existing ground": at.ground,
        "bed": at.bed,
        "lining": at.liner,
        "dig": at.dig,
        "edge left": at.edge_left,
        "edge right": at.edge_right,
    }[name]
    kind = "ProfSurf" if name == "existing ground" else "ProfAlign"
    lists = root.iterfind(f".//lx:{kind}[@name='{name}']/*", WORLD)
    stations, levels = np.concatenate([numbers(each, 2) for each in lists]).T
    assert (np.diff(stations) > 0.0).all()
    path, _ = _alignment(root)
    wanted = at.chainage * path.length / exchange.design.course.length
    # The second of two levels at one station stands a millimetre on, and everything is written to a tenth of one: each
    # level is looked for on its own side of the step.
    second = np.concatenate(([False], np.diff(at.chainage) == 0.0))
    read = np.interp(wanted + np.where(second, 1.1, -0.1) * MILLIMETRE, stations, levels)
    np.testing.assert_allclose(read, meant, atol=MILLIMETRE)


def test_a_straight_run_needs_no_points_within(hazel: Exchange) -> None:
    """Hazel Bank's first run is straight in section from 101.45 to 101.15 over 4.5 m (its job file)."""
    bed = hazel.landxml().find(".//lx:ProfAlign[@name='bed']", WORLD)
    assert bed is not None
    read = np.array([numbers(each, 2)[0] for each in bed])
    stretch = hazel.handed.axis.stretch
    np.testing.assert_allclose(read[:2], [(0.0, 101.45), (4.5 * stretch, 101.15)], atol=MILLIMETRE / 10)


def test_cross_sections_are_positive_to_the_right(exchange: Exchange) -> None:
    """Right is found here from the alignment as read: a quarter turn clockwise from the way downstream."""
    root, course = exchange.landxml(), exchange.design.course
    path, _ = _alignment(root)
    ground = landxml_net(root, "existing ground")
    sections = root.findall(".//lx:CrossSect", WORLD)
    assert len(sections) == len(course.stations.chainage)
    for section in sections[3:-3:7]:
        station = float(section.get("sta", "nan"))
        before, after = (np.array(path.interpolate(station + step).coords[0]) for step in (-0.02, 0.02))
        downstream = (after - before) / np.hypot(*(after - before))
        right = np.array((downstream[1], -downstream[0]))
        pairs = numbers(section[0][0], 2)
        assert section[0].get("name") == "existing ground"
        assert (np.diff(pairs[:, 0]) > 0.0).all()
        formation = numbers(section[1][0], 2)
        # The sides of what is dug may stand upright.
        assert (np.diff(formation[:, 0]) >= 0.0).all()
        assert (np.abs(np.diff(formation, axis=0)).max(axis=1) > 0.0).all()
        for offset, level in pairs[np.abs(pairs[:, 0]) < 1.0]:
            place = (before + after) / 2 + offset * right
            # The smooth line's own direction differs a little from a chord's.
            assert level_in(ground, place) == pytest.approx(level, abs=3 * MILLIMETRE)
