"""Files for other programs, read back by the rules of their formats with readers that are not ours.

DXF with ezdxf, GeoJSON with json and shapely, tables with csv; and a CAD program and a spreadsheet of Debian open them
as their users would. Every coordinate must come back to a millimetre. LandXML has a file of its own.
"""

import csv
import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from ezdxf.colors import aci2rgb
from ezdxf.entities import DXFEntity
from ezdxf.math import Vec3
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import KDTree
from shapely import Polygon
from shapely.geometry import shape

from beckwright.base.errors import Problem
from beckwright.compose import design
from beckwright.job.model import Mark
from beckwright.job.read import read_job
from beckwright.job.tables import SURVEY
from beckwright.job.tables.columns import read_table
from beckwright.papers.handed_over import exchange_files, hand_over, write_exchange
from beckwright.papers.handed_over.axis import rising
from beckwright.papers.handed_over.points import numbered
from beckwright.papers.handed_over.values import Point
from beckwright.survey.files import read_file
from beckwright.survey.gathered import Answers
from tests.papers.exchanged import (
    EXAMPLES,
    FILES,
    MILLIMETRE,
    WORLD,
    Exchange,
    dxf_net,
    exchanged,
    level_in,
)
from tests.papers.opened import DOT, Colour, drawn_by_cad, through_calc


@pytest.fixture(scope="module", params=["hazel_bank", "larkspur_court"])
def exchange(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Exchange:
    """Hazel Bank has pools, trees and marks; Larkspur Court has breaklines and steps without pools."""
    return exchanged(design(read_job(EXAMPLES / request.param)), tmp_path_factory.mktemp(request.param))


@pytest.fixture(scope="module")
def hazel(tmp_path_factory: pytest.TempPathFactory) -> Exchange:
    return exchanged(design(read_job(EXAMPLES / "hazel_bank")), tmp_path_factory.mktemp("hazel"))


def test_points_are_the_same_in_every_file(exchange: Exchange) -> None:
    columns = exchange.columns()
    with (exchange.folder / "points_p_n_e_z_d.csv").open(newline="") as file:
        bare = {row[0]: tuple(map(float, row[1:4])) for row in csv.reader(file)}
    assert bare == {number: (north, east, level) for number, (east, north, level, _) in columns.items()}
    for element in exchange.landxml().iterfind(".//lx:CgPoint", WORLD):
        numbers = [float(word) for word in (element.text or "").split()]
        if len(numbers) == 3:
            east, north, level, code = columns.pop(element.get("name", ""))
            assert code == element.get("code")
            np.testing.assert_allclose(numbers, (north, east, level), atol=MILLIMETRE)
    assert columns == {}


def test_points_are_those_set_out(exchange: Exchange) -> None:
    columns, out, water = exchange.columns(), exchange.setting_out, exchange.design.water
    for peg in out.pegs:
        for side, name in ((peg.left, "left"), (peg.right, "right")):
            _near(columns[f"peg-{peg.number}-{name}"][:3], (*side.spot.at, peg.nail))
        _near(columns[f"dig-{peg.number}"][:3], (*peg.spot.at, peg.dug[0].dig))
        left, right = (np.array(columns[f"edge-{peg.number}-{name}"][:2]) for name in ("left", "right"))
        wide = peg.dug[0].edges[0] - peg.dug[0].edges[1]
        assert float(np.hypot(*(left - right))) == pytest.approx(wide, abs=1.5 * MILLIMETRE)
    for lip in water.lips:
        name = lip.name.replace(" ", "-")
        ends = [np.array(columns[f"{name}-{place}"][:3]) for place in ("left", "middle", "right")]
        assert float(np.hypot(*(ends[0] - ends[2])[:2])) == pytest.approx(lip.width, abs=1.5 * MILLIMETRE)
        _near((ends[0] + ends[2])[:2] / 2, ends[1][:2])
        assert [end[2] for end in ends] == pytest.approx([lip.crest] * 3, abs=MILLIMETRE / 2)
    for corner in out.pit.corners:
        _near(columns[f"pit-floor-{corner.name}"][:3], (*corner.floor.at, out.pit.floor_level))


def test_hazel_bank_marks_and_lips(hazel: Exchange) -> None:
    """Numbers of the job file: P1 is shot, two marks are not; the source's lip is 550 mm wide at 101.45."""
    columns = hazel.columns()
    assert columns["P1"] == (13.0, 11.6, 101.95, "MARK")
    assert columns["source-middle"] == (13.1, 9.0, 101.45, "LIP")
    assert not any(name.startswith(("H1", "F1")) for name in columns)
    assert "# Left out, for nobody shot a level: H1, house corner, F1, fence post." in (
        hazel.folder / "points.csv"
    ).read_text(encoding="utf-8")
    unshot = hazel.landxml().find(".//lx:CgPoint[@name='F1-fence-post']", WORLD)
    assert unshot is not None
    assert unshot.text == "2.0000 16.0000"


def test_our_own_reader_takes_the_table(exchange: Exchange) -> None:
    problems: list[Problem] = []
    table = read_table(exchange.folder / "points.csv", SURVEY, problems)
    assert problems == []
    assert table is not None
    meant = exchange.columns()
    assert table.texts["id"] == list(meant)
    assert table.numbers["z_m"] == [level for _, _, level, _ in meant.values()]


def test_our_own_reader_takes_the_ground_back(exchange: Exchange) -> None:
    survey = exchange.design.job.survey
    for name, answers in (
        ("ground_and_course.xml", Answers(surface="existing ground")),
        ("model.dxf", Answers(layers=("ground",))),
    ):
        read = KDTree(read_file(exchange.folder / name, answers, lambda _: None).places)
        away, _ = read.query(np.column_stack((survey.points, survey.levels)))
        assert away.max() < MILLIMETRE


@given(st.lists(st.text(min_size=1, max_size=12), min_size=1, max_size=12))
def test_every_point_has_a_number_of_its_own(names: list[str]) -> None:
    points = [Point(number="", name=name, code="MARK", at=(0.0, 0.0), level=None) for name in names]
    numbers = [point.number for point in numbered(points)]
    assert len(set(numbers)) == len(names)
    assert all(re.fullmatch(r"[A-Za-z0-9]+(-[A-Za-z0-9]+)*", number) for number in numbers)


@given(st.lists(st.floats(0.0, 2000.0), min_size=2, max_size=30))
def test_stations_rise_and_move_no_more_than_they_must(stations: list[float]) -> None:
    before = np.sort(np.array(stations))
    after = rising(before)
    # Half a millimetre: what rounding leaves of one at 2 km.
    assert (np.diff(after) > MILLIMETRE / 2).all()
    assert (after >= before).all()
    assert after[0] == before[0]
    assert (after - before <= MILLIMETRE * np.arange(len(before)) + 1e-9).all()
    if (np.diff(before) > 2 * MILLIMETRE).all():
        np.testing.assert_allclose(after, before, atol=1e-9)


def test_geojson_declares_its_metres(exchange: Exchange) -> None:
    read = exchange.geojson()
    assert read["type"] == "FeatureCollection"
    assert read["coordinateReferenceSystem"]["unit"] == "metre"
    assert "Not WGS 84" in read["coordinateReferenceSystem"]["note"]
    # RFC 7946, 4: the old member is not to be used.
    assert "crs" not in read


def test_geojson_shapes_are_sound(exchange: Exchange) -> None:
    """RFC 7946: rings are closed (3.1.6), run anticlockwise, and have four positions or more."""
    for feature in exchange.geojson()["features"]:
        assert set(feature) == {"type", "properties", "geometry"}
        geometry = shape(feature["geometry"])
        if feature["properties"]["kind"] not in ("runoff", "service"):
            assert geometry.is_valid
        if isinstance(geometry, Polygon):
            assert geometry.exterior.is_ccw
            (ring,) = feature["geometry"]["coordinates"]
            assert ring[0] == ring[-1]
            assert len(ring) > 3


def test_geojson_lines_are_those_of_the_design(exchange: Exchange) -> None:
    design_, at = exchange.design, exchange.design.course.stations
    course = shape(exchange.features("course")[0]["geometry"])
    np.testing.assert_allclose(np.array(course.coords), np.column_stack((at.points, at.bed)), atol=MILLIMETRE)
    for side, levels in (("edge left", at.edge_left), ("edge right", at.edge_right)):
        edge = np.array(shape(exchange.features(side)[0]["geometry"]).coords)
        np.testing.assert_allclose(edge[:, 2], levels, atol=MILLIMETRE)
    pit = shape(exchange.features("pit floor")[0]["geometry"])
    assert pit.equals_exact(Polygon(exchange.groundwork.pit.floor), MILLIMETRE, normalize=True)
    reservoir = shape(exchange.features("reservoir")[0]["geometry"])
    assert reservoir.area == pytest.approx(design_.job.reservoir.length * design_.job.reservoir.width, abs=MILLIMETRE)
    for kind, things in (("service", design_.job.site.services), ("boundary", design_.job.site.boundaries)):
        for feature, thing in zip(exchange.features(kind), things, strict=True):
            assert feature["properties"]["name"] == thing.name
            np.testing.assert_allclose(shape(feature["geometry"]).coords, thing.line, atol=MILLIMETRE)


def test_hazel_bank_oak_keeps_its_roots(hazel: Exchange) -> None:
    """BS 5837: twelve times a stem of 620 mm is 7.44 m."""
    oak = hazel.features("tree")[0]
    assert oak["geometry"] == {"type": "Point", "coordinates": [5.6, 11.4]}
    assert oak["properties"]["root_radius_m"] == pytest.approx(7.44)
    assert oak["properties"]["protected"] is True


def test_model_is_sound_and_in_metres(exchange: Exchange) -> None:
    document = exchange.dxf()
    assert document.audit().errors == []
    assert document.header["$INSUNITS"] == 6
    assert document.dxfversion == "AC1024"


def test_no_two_layers_share_a_colour(hazel: Exchange) -> None:
    layers = [layer for layer in hazel.dxf().layers if layer.dxf.name not in ("0", "Defpoints")]
    assert len({aci2rgb(layer.color) for layer in layers}) == len(layers) > 20


def test_contours_lie_on_the_ground(exchange: Exchange) -> None:
    document = exchange.dxf()
    ground = dxf_net(document, "ground")
    lines = document.modelspace().query('LWPOLYLINE[layer=="contours"]')
    assert len(lines) > 0
    for line in lines:
        for place in line.get_points("xy")[::3]:
            assert level_in(ground, np.array(place)) == pytest.approx(line.dxf.elevation, abs=MILLIMETRE)


def test_model_lines_and_points_come_back(exchange: Exchange) -> None:
    space, at = exchange.dxf().modelspace(), exchange.design.course.stations
    course = np.array([vertex.dxf.location for vertex in space.query('POLYLINE[layer=="course"]')[0].vertices])
    np.testing.assert_allclose(course, np.column_stack((at.points, at.bed)), atol=1e-6)
    floor = space.query('POLYLINE[layer=="pit floor"]')[0]
    assert floor.is_closed
    pit = exchange.groundwork.pit
    read = np.array([vertex.dxf.location for vertex in floor.vertices])
    np.testing.assert_allclose(read, np.column_stack((pit.floor, np.full(4, pit.floor_level))), atol=1e-6)
    words = {text.dxf.text for text in space.query("TEXT")}
    points = np.array([point.dxf.location for point in space.query("POINT")])
    for number, (east, north, level, _) in exchange.columns().items():
        assert number in words
        assert np.abs(points - (east, north, level)).max(axis=1).min() < MILLIMETRE


def test_the_same_design_gives_the_same_bytes(hazel: Exchange, tmp_path: Path) -> None:
    again = write_exchange(exchange_files(hand_over(hazel.design, hazel.groundwork, hazel.setting_out)), tmp_path)
    assert tuple(path.name for path in again) == FILES
    for path in again:
        assert path.read_bytes() == (hazel.folder / path.name).read_bytes()


def test_odd_names_do_no_harm(tmp_path: Path) -> None:
    job = read_job(EXAMPLES / "hazel_bank")
    marks = tuple(
        Mark(name=name, at=(12.0 + row, 11.0), level=100.0 + row)
        for row, name in enumerate(('nail "A" <north>', "nail A & north", "Nagel, Süd; Ost", "東"))
    )
    gatepost = replace(job.site.boundaries[0], name="gatepost", line=((15.0, 13.0),))
    site = replace(job.site, marks=marks, boundaries=(gatepost,))
    odd = replace(job, title=replace(job.title, name='Bank & "Brook" <1>'), site=site)
    exchange = exchanged(design(odd), tmp_path)
    names = [point.get("desc") for point in exchange.landxml().iterfind(".//lx:CgPoint[@code='MARK']", WORLD)]
    assert names == [mark.name for mark in marks]
    assert exchange.features("boundary")[0]["geometry"] == {"type": "Point", "coordinates": [15.0, 13.0]}
    assert exchange.geojson()["name"] == 'Bank & "Brook" <1>'
    assert {"nail-A-north", "nail-A-north-2", "Nagel-Sud-Ost", "point"} <= set(exchange.columns())
    assert exchange.dxf().audit().errors == []


@pytest.mark.programs
def test_a_cad_program_draws_every_layer_where_it_lies(hazel: Exchange, tmp_path: Path) -> None:
    """LibreCAD draws each layer in its own colour; its picture is laid over the model by the corners of the ground."""
    drawn = drawn_by_cad(hazel.folder / "model.dxf", tmp_path)
    document = hazel.dxf()
    space = document.modelspace()
    colours = {layer.dxf.name: tuple(aci2rgb(layer.color)) for layer in document.layers}
    ground = dxf_net(document, "ground")[..., :2].reshape(-1, 2)
    shift = ground.min(axis=0) - _coloured(drawn, colours["ground"]).reshape(-1, 2).min(axis=0)
    for layer in sorted({entity.dxf.layer for entity in space}):
        ends = KDTree(_coloured(drawn, colours[layer]).reshape(-1, 2) + shift)
        away, _ = ends.query(_corners(space.query(f'*[layer=="{layer}"]')))
        assert away.max() < MILLIMETRE + DOT, layer


def _coloured(drawn: dict[Colour, np.ndarray], colour: Colour) -> np.ndarray:
    """Strokes of one colour number: programs differ by a few shades in what they make of it."""
    nearest = min(drawn, key=lambda each: np.abs(np.subtract(each, colour)).max())
    assert np.abs(np.subtract(nearest, colour)).max() <= 4, colour
    return drawn[nearest]


def _corners(entities: Iterable[DXFEntity]) -> np.ndarray:
    """Places in plan (n, 2) that a drawing of these entities must pass through; words have none."""
    corners: list[Vec3 | tuple[float, ...]] = []
    for entity in entities:
        match entity.dxftype():
            case "3DFACE":
                corners += [entity.dxf.vtx0, entity.dxf.vtx1, entity.dxf.vtx2]
            case "POLYLINE":
                corners += [vertex.dxf.location for vertex in entity.vertices]
            case "LWPOLYLINE":
                corners += entity.get_points("xy")
            case "POINT":
                corners.append(entity.dxf.location)
            case "CIRCLE":
                corners.append(entity.dxf.center + Vec3(entity.dxf.radius, 0.0))
    return np.array([tuple(corner)[:2] for corner in corners])


@pytest.mark.programs
@pytest.mark.parametrize("name", ["points.csv", "points_p_n_e_z_d.csv"])
def test_a_spreadsheet_gives_the_same_numbers_back(hazel: Exchange, tmp_path: Path, name: str) -> None:
    """Numbers come back bare, so Calc took them as numbers; words come back in quotation marks."""
    columns = hazel.columns()
    rows = through_calc(hazel.folder / name, tmp_path)
    heading = name == "points.csv"
    assert not heading or rows[0] == [f'"{word}"' for word in ("id", "x_m", "y_m", "z_m", "code")]
    read = {row[0].strip('"'): tuple(map(float, row[1:4])) for row in rows[heading:] if not row[0].startswith('"#')}
    assert read == {
        number: (east, north, level) if heading else (north, east, level)
        for number, (east, north, level, _) in columns.items()
    }


def _near(one: Iterable[float], two: Iterable[float]) -> None:
    assert list(one) == pytest.approx(list(two), abs=MILLIMETRE)
