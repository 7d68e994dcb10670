"""Drawings, LandXML, scans and grids written by other libraries, or by hand as the standard has it."""

import sys
import tracemalloc
from contextlib import nullcontext
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rasterio.crs import CRS
from rasterio.transform import Affine

from beckwright.base.errors import JobError, Problem
from beckwright.job.tables import read_survey
from beckwright.stages.ground import build_ground, level_at
from beckwright.survey.understood import Understood, understand
from beckwright.survey.written import write_survey
from tests.survey.import_files import (
    IMPERIAL,
    bank,
    drawing,
    from_origin,
    height,
    surface,
    write_landxml,
    write_las,
    write_tiff,
)

SETTINGS = settings(max_examples=60, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
CORNERS = [(0.0, 0.0, 100.0), (20.0, 0.0, 101.0), (20.0, 30.0, 102.0), (0.0, 30.0, 101.5)]


def asked(understood: Understood) -> list[str]:
    return [question.about for question in understood.questions]


def problems_of(path: Path, **answers: object) -> list[str]:
    with pytest.raises(JobError) as caught:
        understand(path, **answers)  # type: ignore[arg-type]
    return [str(problem) for problem in caught.value.problems]


def rows_of(understood: Understood) -> set[tuple[float, ...]]:
    return set(map(tuple, np.column_stack([understood.points, understood.levels]).tolist()))


# Drawings.


def test_a_drawing_gives_points_blocks_faces_and_breaklines(tmp_path: Path) -> None:
    made = drawing()
    made.blocks.new("SPOT")
    space = made.modelspace()
    for corner in CORNERS:
        space.add_point(corner, dxfattribs={"layer": "Ground"})
    block = space.add_blockref("SPOT", (10, 12, 0), dxfattribs={"layer": "Spot"})
    block.add_attrib("NO", "T7")
    block.add_attrib("LEVEL", "101,25")
    block.add_attrib("CODE", "TREE oak 0.62")
    space.add_polyline3d([(2, 5, 100.3), (8, 6, 100.5), (15, 5, 100.8)], dxfattribs={"layer": "Top of bank"})
    space.add_lwpolyline([(2, 20), (9, 21)], dxfattribs={"layer": "contour", "elevation": 101.5})
    space.add_line((12, 20, 101.5), (18, 21, 101.6), dxfattribs={"layer": "Toe"})
    space.add_lwpolyline([(0, 0), (0, 30)], dxfattribs={"layer": "Wall"})
    space.add_3dface([(16, 8, 101), (17, 8, 101), (17, 9, 101.1), (16, 9, 101.1)], dxfattribs={"layer": "net"})
    with space.add_mesh(dxfattribs={"layer": "net"}).edit_data() as mesh:
        mesh.vertices = [(16, 9, 101.1), (17, 10, 101.2), (16, 11, 101.3)]
        mesh.faces = [(0, 1, 2)]
    space.add_text("101.4").set_placement((5, 5))
    made.saveas(tmp_path / "a.dxf")
    understood = understand(tmp_path / "a.dxf")
    assert asked(understood) == []
    assert rows_of(understood) == {
        *CORNERS, (10, 12, 101.25), (2, 5, 100.3), (8, 6, 100.5), (15, 5, 100.8), (2, 20, 101.5), (9, 21, 101.5),
        (12, 20, 101.5), (18, 21, 101.6), (16, 8, 101), (17, 8, 101), (17, 9, 101.1), (16, 9, 101.1), (17, 10, 101.2),
        (16, 11, 101.3),
    }  # fmt: skip
    assert understood.breakline_counts == {"Top of bank 1": 3, "contour 1": 2, "Toe 1": 2}
    assert understood.codes[understood.names.index("T7")] == "TREE oak 0.62"
    assert 'name = "wall 1"\nline_m = [[0.000, 0.000], [0.000, 30.000]]' in understood.offers
    assert any("TEXT 1" in note for note in understood.notes)
    write_survey(understood, tmp_path / "survey.csv")
    survey = read_survey(tmp_path / "survey.csv", [])
    assert survey is not None
    assert len(build_ground(survey).triangles) > 10


@pytest.mark.parametrize(
    ("units", "metre"), [(1, 0.0254), (2, 0.3048), (4, 0.001), (5, 0.01), (6, 1.0), (21, 1200 / 3937)]
)
def test_the_unit_of_a_drawing_is_read(tmp_path: Path, units: int, metre: float) -> None:
    made = drawing(units)
    for x, y, z in CORNERS:
        made.modelspace().add_point((x / metre, y / metre, z / metre))
    made.saveas(tmp_path / "a.dxf")
    understood = understand(tmp_path / "a.dxf")
    assert asked(understood) == []
    assert rows_of(understood) == set(CORNERS)


def test_a_drawing_without_a_unit_is_asked_about(tmp_path: Path) -> None:
    made = drawing(0)
    for x, y, z in CORNERS:
        made.modelspace().add_point((x * 1000, y * 1000, z * 1000))
    made.saveas(tmp_path / "a.dxf")
    assert asked(understand(tmp_path / "a.dxf")) == ["unit"]
    assert rows_of(understand(tmp_path / "a.dxf", unit="mm")) == set(CORNERS)


def test_breaklines_that_meet_and_cross_make_a_ground(tmp_path: Path) -> None:
    """A closed line, one that shares an edge with it, one that ends on it, one across all: a ground can be built."""
    made = drawing()
    space = made.modelspace()
    for x, y in ((-5, -5), (30, -5), (30, 30), (-5, 30)):
        space.add_point((x, y, 100))
    for line in (
        [(0, 0, 100), (10, 0, 100), (10, 10, 101), (0, 10, 101), (0, 0, 100)],
        [(10, 0, 100), (10, 10, 101), (20, 10, 101), (20, 0, 100)],
        [(15, 20, 101.5), (10, 10, 101), (5, 20, 101.5)],
        [(-2, 5, 100.5), (25, 6, 100.5)],
    ):
        space.add_polyline3d(line, dxfattribs={"layer": "edge"})
    made.saveas(tmp_path / "a.dxf")
    understood = understand(tmp_path / "a.dxf")
    assert asked(understood) == []
    write_survey(understood, tmp_path / "survey.csv")
    survey = read_survey(tmp_path / "survey.csv", [])
    assert survey is not None
    ground = build_ground(survey)
    # On each line, well away from where it stops short, the level runs straight between its points.
    np.testing.assert_allclose(level_at(ground, np.array([[5.0, 0.0], [10.0, 5.0], [20.0, 4.0]])), [100, 100.5, 100.4])
    lines = sum(understood.breakline_counts.values())
    assert lines > 16
    assert any("stops 10 mm short" in note for note in understood.notes)


def test_only_the_layers_asked_for_are_read(tmp_path: Path) -> None:
    made = drawing()
    for x, y, z in CORNERS:
        made.modelspace().add_point((x, y, z), dxfattribs={"layer": "Ground"})
        made.modelspace().add_point((x, y + 1, z + 0.1), dxfattribs={"layer": "Roof"})
    made.saveas(tmp_path / "a.dxf")
    assert rows_of(understand(tmp_path / "a.dxf", layers=["Ground"])) == set(CORNERS)
    assert 'Did you mean "Ground"' in problems_of(tmp_path / "a.dxf", layers=["ground"])[0]


def test_a_drawing_without_levels_is_refused(tmp_path: Path) -> None:
    made = drawing()
    made.modelspace().add_line((0, 0), (5, 5))
    made.saveas(tmp_path / "a.dxf")
    assert "nothing with a level" in problems_of(tmp_path / "a.dxf")[0]


# LandXML.

FACES = "<F>1 2 3</F><F>1 3 4</F>"
NUMBERED = {str(number): corner for number, corner in enumerate(CORNERS, 1)}


def test_a_surface_has_northing_first_and_hidden_faces_left_out(tmp_path: Path) -> None:
    points = NUMBERED | {"9": (25.0, 60.0, 3.0)}
    path = write_landxml(tmp_path / "a.xml", surface(points, f'{FACES}<F i="1">2 3 9</F>'))
    understood = understand(path)
    assert asked(understood) == []
    assert rows_of(understood) == set(CORNERS)
    assert any("3 faces, 1 of them hidden: 1 point of hidden ones" in note for note in understood.notes)


@pytest.mark.parametrize(("unit", "metre"), [("foot", 0.3048), ("USSurveyFoot", 1200 / 3937)])
def test_units_of_landxml(tmp_path: Path, unit: str, metre: float) -> None:
    points = {name: (x / metre, y / metre, z / metre) for name, (x, y, z) in NUMBERED.items()}
    path = write_landxml(tmp_path / "a.xml", surface(points, FACES), units=IMPERIAL.format(unit))
    assert rows_of(understand(path)) == set(CORNERS)


def test_breaklines_and_coded_points_of_landxml(tmp_path: Path) -> None:
    line = (
        '<SourceData><Breaklines><Breakline brkType="standard" name="top"><PntList3D>10 2 100.4 11 9 100.8 10 18 101.2'
        "</PntList3D></Breakline></Breaklines></SourceData>"
    )
    tree = '<CgPoint name="K1" code="TREE" desc="oak 0.4">25 6 101.4</CgPoint>'
    coded = f'<CgPoints>{tree}<CgPoint pntRef="K1"/></CgPoints>'
    understood = understand(write_landxml(tmp_path / "a.xml", surface(NUMBERED, FACES, more=line), more=coded))
    assert understood.breakline_counts == {"top": 3}
    assert rows_of(understood) == {*CORNERS, (2, 10, 100.4), (9, 11, 100.8), (18, 10, 101.2), (6, 25, 101.4)}
    assert "x_m = 6.000\ny_m = 25.000\nstem_mm = 400" in understood.offers


def test_several_surfaces_are_asked_about(tmp_path: Path) -> None:
    surfaces = surface(NUMBERED, FACES, name="existing") + surface(NUMBERED, FACES, name="proposed")
    path = write_landxml(tmp_path / "a.xml", surfaces)
    (question,) = understand(path).questions
    assert [option for option, _ in question.choices] == ['--surface "existing"', '--surface "proposed"']
    assert len(understand(path, surface="existing").points) == 4
    assert 'mean "existing"' in problems_of(path, surface="existng")[0]


XML_FAULTS = [
    ("entities", '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]><LandXML>&b;</LandXML>', "document type"),
    ("two-byte entities", '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE LandXML><LandXML/>', "document type"),
    ("cut short", "<LandXML><Units>", "not whole XML"),
    ("no encoding of the kind", '<?xml version="1.0" encoding="klingon"?><LandXML/>', "not whole XML"),
    ("another document", "<html></html>", 'begins with "html"'),
    ("nothing in it", "<LandXML></LandXML>", "no points with levels"),
    ("a unit of another kind", '<LandXML><Units><Imperial linearUnit="mile"/></Units></LandXML>', '"mile"'),
]


@pytest.mark.parametrize(("text", "words"), [fault[1:] for fault in XML_FAULTS], ids=[fault[0] for fault in XML_FAULTS])
def test_landxml_that_cannot_be_read(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "a.xml"
    path.write_bytes(text.encode("utf-16" if "utf-16" in text else "utf-8"))
    (problem,) = problems_of(path)
    assert words in problem


def test_every_fault_of_a_surface_is_named(tmp_path: Path) -> None:
    broken = surface(NUMBERED, "<F>1 2 8</F><F>1 2</F>").replace("0.0 0.0 100.0", "0.0 nan 100.0")
    problems = problems_of(write_landxml(tmp_path / "a.xml", broken))
    assert [word in problem for word, problem in zip(("P 1", "P 1", "face 1", "face 2"), problems, strict=True)] == [
        True
    ] * 4


# Scans.


@pytest.mark.parametrize(("ending", "point_format"), [("las", 3), ("las", 6), ("laz", 1), ("laz", 6)])
def test_a_sorted_scan_keeps_the_ground_within_its_noise(tmp_path: Path, ending: str, point_format: int) -> None:
    """The true surface is known in closed form; noise 20 mm, plants up to 2 m above, strays marked as noise below."""
    places = bank(60_000)
    noise = np.random.default_rng(3).normal(0.0, 0.02, len(places))
    plants = np.random.default_rng(4).uniform(size=len(places)) < 0.4
    lifted = places + np.array([0.0, 0.0, 1.0]) * (noise + plants * 1.5)[:, np.newaxis]
    classes = np.where(plants, 4, 2)
    classes[:50] = 7
    lifted[:50, 2] -= 30.0
    path = write_las(tmp_path / f"scan.{ending}", lifted, classes, point_format=point_format)
    understood = understand(path, points=2000)
    assert asked(understood) == []
    assert 1000 < len(understood.points) <= 2000
    off = understood.levels - height(understood.points)
    # A cell holds some 15 points of ground: the mean of so many lies within 20 mm / sqrt(15); a bank bends in a cell.
    assert abs(off.mean()) < 0.003
    assert np.sqrt(np.mean(off**2)) < 0.03
    write_survey(understood, tmp_path / "survey.csv")
    assert read_survey(tmp_path / "survey.csv", []) is not None


def test_a_scan_not_sorted_gives_the_lowest_of_each_cell(tmp_path: Path) -> None:
    places = bank(40_000)
    plants = np.random.default_rng(4).uniform(size=len(places)) < 0.6
    places[plants, 2] += 2.0
    understood = understand(write_las(tmp_path / "scan.laz", places, 1), points=1500)
    assert any("not sorted" in note for note in understood.notes)
    off = understood.levels - height(understood.points)
    assert (off < 0.002).mean() > 0.99
    assert off.min() > -0.002


def test_spacing_and_window_of_a_scan(tmp_path: Path) -> None:
    path = write_las(tmp_path / "scan.las", bank(20_000))
    understood = understand(path, spacing=2.0, window=(10.0, 10.0, 20.0, 20.0))
    assert len(understood.points) == pytest.approx(25, abs=11)
    assert understood.points.min() >= 10.0
    assert understood.points.max() <= 20.0
    assert "--window" not in str(understood.questions)
    assert "lies in the window" in problems_of(path, window=(100.0, 100.0, 200.0, 200.0))[0]
    assert "cells" in problems_of(path, spacing=0.01)[0]


FEET = 'PROJCS["x",GEOGCS["y",UNIT["degree",0.0174532925199433]],UNIT["US survey foot",0.3048006096012192]]'
DEGREES = 'GEOGCS["x",DATUM["y",SPHEROID["z",6378137,298.257223563]],UNIT["degree",0.0174532925199433]]'


def test_a_scan_in_feet_says_so_in_its_head(tmp_path: Path) -> None:
    places = bank(5000)
    understood = understand(write_las(tmp_path / "scan.las", places * 3937 / 1200, wkt=FEET), points=500)
    assert understood.points.max() == pytest.approx(40.0, abs=1.0)
    assert understood.levels.min() == pytest.approx(100.0, abs=0.2)


def test_a_scan_in_degrees_is_refused(tmp_path: Path) -> None:
    named = write_las(tmp_path / "a.las", bank(100), wkt=DEGREES)
    assert "latitude" in problems_of(named)[0]
    fine = write_las(tmp_path / "b.las", np.column_stack([bank(100)[:, :2] * 1e-5 + 51, bank(100)[:, 2]]), scale=1e-7)
    assert "latitude" in problems_of(fine)[0]


def test_a_wide_scan_is_asked_about(tmp_path: Path) -> None:
    path = write_las(tmp_path / "a.las", bank(20_000) * (300, 300, 1))
    (question,) = understand(path).questions
    assert question.about == "window"
    option = question.choices[0][0].removeprefix("--window ")
    west, south, east, north = map(float, option.split(","))
    assert asked(understand(path, window=(west, south, east, north), shift=(0.0, 0.0))) == []


def test_memory_stays_that_of_the_grid(tmp_path: Path) -> None:
    """A million points are 30 MB in the file and 24 MB more as numbers; what is held at once stays well below."""
    path = write_las(tmp_path / "scan.laz", bank(1_000_000))
    understand(write_las(tmp_path / "small.laz", bank(1000)))  # What is loaded once is not what is measured.
    tracemalloc.start()
    try:
        understood = understand(path, points=5000)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert len(understood.points) <= 5000
    assert peak < 40e6


# Grids.


def levels(rows: int = 60, columns: int = 80) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    down, right = np.mgrid[0:rows, 0:columns]
    return np.asarray(100.0 + right / 20.0 + down / 30.0)


def test_a_grid_of_levels_stands_at_the_middle_of_its_pixels(tmp_path: Path) -> None:
    made = levels()
    made[:5, :5] = -9999.0
    made[7, 7] = np.nan
    understood = understand(write_tiff(tmp_path / "a.tif", made), shift=(451_000.0, 207_000.0))
    assert asked(understood) == []
    assert len(understood.points) == 60 * 80 - 26
    right, down = ((understood.points - (0.25, 29.75)) / (0.5, -0.5)).T
    np.testing.assert_allclose(right, np.round(right), atol=1e-6)
    np.testing.assert_allclose(understood.levels, 100.0 + right / 20.0 + down / 30.0, atol=6e-4)


def test_a_turned_grid(tmp_path: Path) -> None:
    """The affine transform is applied whole: here a grid turned by 30 degrees about its first corner."""
    cosine, sine = np.sqrt(3) / 2, 0.5
    turned = Affine(cosine, sine, 100.0, sine, -cosine, 200.0)
    understood = understand(write_tiff(tmp_path / "a.tif", levels(4, 6), transform=turned))
    # The first pixel's middle, half a metre right and half a metre down, turned by hand.
    expected = (100.0 + 0.5 * cosine + 0.5 * sine, 200.0 + 0.5 * sine - 0.5 * cosine)
    first = understood.points[np.argmin(understood.levels)]
    np.testing.assert_allclose(first, expected, atol=6e-4)


def test_a_large_grid_is_thinned(tmp_path: Path) -> None:
    path = write_tiff(tmp_path / "a.tif", levels(1500, 1200) - 40.0, transform=from_origin(0.0, 750.0, 0.5, 0.5))
    understood = understand(path, points=3000)
    assert 1500 < len(understood.points) <= 3000
    right, down = ((understood.points - (0.25, 749.75)) / (0.5, -0.5)).T
    # The mean of the middles on a plane lies on that plane.
    np.testing.assert_allclose(understood.levels, 60.0 + right / 20.0 + down / 30.0, atol=1e-3)
    part = understand(path, window=(100.0, 100.0, 120.0, 110.0))
    assert len(part.points) == 40 * 20


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"crs": CRS.from_epsg(4326), "transform": from_origin(-1.2, 51.0, 1e-5, 1e-5)}, "latitude and longitude"),
        ({"crs": None, "transform": Affine.identity()}, "without a place on the map"),
    ],
)
def test_a_grid_that_lies_nowhere(tmp_path: Path, more: dict[str, object], words: str) -> None:
    import rasterio

    given: dict[str, object] = {"crs": CRS.from_epsg(27700), "transform": from_origin(0, 0, 1, 1)} | more
    if given["transform"] == Affine.identity():
        given.pop("transform")
    with (
        pytest.warns() if "transform" not in given else nullcontext(),
        rasterio.open(
            tmp_path / "a.tif", "w", driver="GTiff", height=4, width=4, count=1, dtype="float32", **given
        ) as file,
    ):
        file.write(levels(4, 4).astype("float32"), 1)
    assert words in problems_of(tmp_path / "a.tif")[0]


def test_a_grid_without_levels(tmp_path: Path) -> None:
    assert "no level there" in problems_of(write_tiff(tmp_path / "a.tif", np.full((4, 4), -9999.0)))[0]


# Broken files, and parts that are not installed.


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("sound")
    made = drawing()
    for corner in CORNERS:
        made.modelspace().add_point(corner)
    made.modelspace().add_polyline3d([(1, 1, 100), (2, 3, 100.1)])
    made.saveas(folder / "a.dxf")
    write_landxml(folder / "a.xml", surface(NUMBERED, FACES))
    write_las(folder / "a.las", bank(200))
    write_las(folder / "a.laz", bank(200))
    write_tiff(folder / "a.tif", levels(6, 6))
    (folder / "a.csv").write_text("id;x;y;z;code\n1;0,5;0;99,5;GL\n2;9;0;99,7;TREE oak\n3;0;9;100;WALL1\n")
    return {path.name: path.read_bytes() for path in folder.iterdir()}


NAMES = ("a.dxf", "a.xml", "a.las", "a.laz", "a.tif", "a.csv")
SPILT = pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
"""The library of grids stumbles over its own message about some broken bytes, where nobody can catch it."""
JARGON = ("laspy", "ezdxf", "rasterio", "expat", "traceback", "nonetype", "codec")


def understood_or_told(path: Path) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        understood = understand(path)
    except JobError as error:
        problems = error.problems
    for problem in problems:
        assert all((problem.place, problem.found, problem.rule, problem.remedy))
        assert not any(word in str(problem).lower() for word in JARGON), problem
        assert len(str(problem)) < 1200
    if not problems:
        assert np.isfinite(understood.points).all()
        assert np.isfinite(understood.levels).all()
        assert len(set(understood.names)) == len(understood.names)


@SPILT
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("share", [0.02, 0.3, 0.6, 0.97])
def test_a_file_cut_short(tmp_path: Path, sound: dict[str, bytes], name: str, share: float) -> None:
    raw = sound[name]
    (tmp_path / name).write_bytes(raw[: int(len(raw) * share)])
    understood_or_told(tmp_path / name)


@pytest.mark.parametrize("name", NAMES[:5])
def test_bytes_that_are_nothing_of_the_kind(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"\x93\x00\x01nothing of the kind")
    (problem,) = problems_of(tmp_path / name)
    assert "sense" in problem or "XML" in problem


@SPILT
@SETTINGS
@given(
    name=st.sampled_from(NAMES),
    changes=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 9), st.binary(max_size=9)), min_size=1, max_size=5),
)
def test_a_sound_file_with_bytes_changed(
    tmp_path: Path, sound: dict[str, bytes], name: str, changes: list[tuple[float, int, bytes]]
) -> None:
    raw = sound[name]
    for where, length, put in changes:
        start = int(where * len(raw))
        raw = raw[:start] + put + raw[start + length :]
    (tmp_path / name).write_bytes(raw)
    understood_or_told(tmp_path / name)


@SPILT
@SETTINGS
@given(name=st.sampled_from(NAMES), raw=st.binary(max_size=400))
def test_any_bytes(tmp_path: Path, name: str, raw: bytes) -> None:
    (tmp_path / name).write_bytes(raw)
    understood_or_told(tmp_path / name)


def test_a_head_that_counts_endless_records(tmp_path: Path, sound: dict[str, bytes]) -> None:
    raw = bytearray(sound["a.las"])
    raw[100:104] = b"\xff\xff\xff\xff"
    (tmp_path / "a.las").write_bytes(raw)
    assert "counts more parts than it has room for" in problems_of(tmp_path / "a.las")[0]


def test_a_packed_scan_that_counts_endless_pieces(tmp_path: Path, sound: dict[str, bytes]) -> None:
    """The table of pieces: its place stands where the points begin, its count 4 bytes on (LAZ, chunk table)."""
    raw = bytearray(sound["a.laz"])
    points = int.from_bytes(raw[96:100], "little")
    table = int.from_bytes(raw[points : points + 8], "little")
    raw[table + 4 : table + 8] = b"\xff\xff\xff\x8a"
    (tmp_path / "a.laz").write_bytes(raw)
    assert "counts more parts than it has room for" in problems_of(tmp_path / "a.laz")[0]


@pytest.mark.parametrize(("name", "part", "extra"), [("a.las", "laspy", "lidar"), ("a.tif", "rasterio", "raster")])
def test_a_part_that_is_missing(
    tmp_path: Path, sound: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, name: str, part: str, extra: str
) -> None:
    (tmp_path / name).write_bytes(sound[name])
    monkeypatch.setitem(sys.modules, part, None)
    (problem,) = problems_of(tmp_path / name)
    assert f'pip install "beckwright[{extra}]"' in problem


@pytest.mark.parametrize(
    ("name", "answers", "words"),
    [
        ("a.csv", {"layers": ["x"], "spacing": 1.0}, ["--layers: a.csv is a list of points", "--spacing-m"]),
        (
            "a.las",
            {"columns": ["x", "y", "z"]},
            ["--columns: a.las is a laser scan. The option is for a list of points"],
        ),
        ("a.dxf", {"window": (0.0, 0.0, 1.0, 1.0)}, ["The option is for a laser scan and a grid of levels"]),
    ],
)
def test_options_of_no_use_to_a_file(
    tmp_path: Path, sound: dict[str, bytes], name: str, answers: dict[str, object], words: list[str]
) -> None:
    (tmp_path / name).write_bytes(sound[name])
    for word, problem in zip(words, problems_of(tmp_path / name, **answers), strict=True):
        assert word in problem


def test_folders_and_files_that_are_not_there(tmp_path: Path) -> None:
    assert "it is a folder" in problems_of(tmp_path)[0]
    assert "cannot be opened" in problems_of(tmp_path / "nothing.csv")[0]
