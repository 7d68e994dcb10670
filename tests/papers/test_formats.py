"""What is written is read back with other libraries: pypdf, ElementTree, ezdxf; areas and lengths with shapely."""

import io
import re
import struct
from dataclasses import replace
from datetime import UTC, datetime
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing
from ezdxf.math import Vec3
from ezdxf.render.hatching import hatch_entity
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from pypdf.generic import ContentStream
from shapely import LineString, Polygon, box

from beckwright.base.errors import JobError
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    RED,
    WHITE,
    Circle,
    Dimension,
    Hatch,
    Leader,
    Mark,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    plan_window,
    rectangle,
    section_window,
)
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.formats.pdf import write_pdf, write_png
from beckwright.papers.formats.svg import write_svg

SVG = "{http://www.w3.org/2000/svg}"
WRITTEN = datetime(2026, 10, 3, 9, 0, tzinfo=UTC)
POINTS_A_MILLIMETRE = 72.0 / 25.4
EAST, NORTH = 400_120.125, 5_280_310.0625
COURSE = np.array([(EAST, NORTH), (EAST - 3.1, NORTH - 2.7), (EAST - 9.2, NORTH - 6.3)])
TURN = 2.4

PLAN = plan_window(corner=(20.0, 150.0), size=(200.0, 120.0), scale=100.0, middle=(EAST - 4.0, NORTH - 3.0), turn=TURN)
SECTION = section_window(corner=(20.0, 30.0), size=(200.0, 100.0), scale=100.0, scale_up=20.0, left=0.0, low=100.0)
WORDS = (
    "peg 7: 0.34 below the nail",
    'lip 2 <drop> & "splash"',
    "Ø 50 mm, 9 000 L/h",
    "4.10 m",
    "oak",
    "Dig sheet",
    "W",
)


def plan() -> View:
    marks: tuple[Mark, ...] = (
        Polyline(points=COURSE, layer="course", pen=pens.CENTRE),
        *pens.edge_left(COURSE, PLAN),
        *pens.water_main(COURSE + np.array((2.0, 3.0)), PLAN),
        Circle(
            at=(EAST - 6.0, NORTH - 1.0), radius=2.0, layer="root circle", pen=pens.ROOT_CIRCLE, hatch=pens.ROOT_CROSSES
        ),
        Stamp(
            at=(EAST - 3.1, NORTH - 2.7),
            marks=(Circle(at=(0.0, 0.0), radius=1.0, layer="peg", fill=WHITE, pen=pens.THIN),),
        ),
        Text(at=(EAST - 3.1, NORTH - 2.7), words=WORDS[0], height=2.5, offset=(2.0, 0.0), halo=0.5),
        Leader(at=(EAST - 5.0, NORTH - 4.0), offset=(9.0, 9.0), words=WORDS[1], pen=pens.THIN),
        Dimension(start=(EAST, NORTH), end=(EAST - 3.1, NORTH - 2.7), offset=6.0, words=WORDS[3], pen=pens.THIN),
        Text(at=(EAST - 6.0, NORTH - 1.0), words=WORDS[4], height=3.5, weight=600, colour=RED),
    )
    return View(name="plan", window=PLAN, marks=marks, world=True)


def section() -> View:
    bed = np.array([(-3.0, 103.0), (8.0, 102.0), (25.0, 100.5)])
    marks: tuple[Mark, ...] = (
        *pens.bed(bed, SECTION),
        *pens.freeboard(np.concatenate((bed, (bed + np.array((0.0, 0.6)))[::-1]))),
        Circle(at=(20.0, 103.0), radius=1.0, layer="hose", pen=pens.HOSE, fill=RED),
        Text(at=(30.0, 102.0), words="far outside", height=2.5),
    )
    return View(name="section", window=SECTION, marks=marks)


def sheet() -> Sheet:
    marks = (
        Polyline(points=rectangle((20.0, 10.0), (390.0, 277.0)), layer="frame", pen=pens.FRAME, closed=True),
        Polyline(points=np.array([(250.0, 20.0), (350.0, 20.0)]), layer="scale bar", pen=pens.HEAVY),
        Text(at=(240.0, 60.0), words=WORDS[5], height=7.0, weight=700, narrow=True),
        Text(at=(240.0, 50.0), words=WORDS[2], height=2.5, turn=np.pi / 2),
    )
    return Sheet(
        name="dig",
        title="Dig <sheet> & more",
        paper=A3_FLAT,
        views=(plan(), section()),
        marks=marks,
        description="For the cab.",
    )


def pdf(*sheets: Sheet) -> PdfReader:
    return PdfReader(io.BytesIO(write_pdf(sheets, title="Hazel & <Bank> #1", author="nobody", written=WRITTEN)))


def dxf(drawn: Sheet) -> Drawing:
    return ezdxf.read(io.StringIO(write_dxf(drawn).decode("utf-8")))


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)  # noqa: S314 (our own writing, nothing from outside)


def straight_lines(
    stream: ContentStream, resources: dict[str, object], reader: PdfReader, at: np.ndarray
) -> list[np.ndarray]:
    """Ends of all lines of one stroke in a content stream, in points on the page, through every nested form."""
    found: list[np.ndarray] = []
    kept: list[np.ndarray] = []
    pen = np.zeros(2)
    for operands, operator in stream.operations:
        numbers = [float(number) for number in operands] if operator in {b"cm", b"m", b"l"} else []
        if operator == b"q":
            kept.append(at)
        elif operator == b"Q":
            at = kept.pop()
        elif operator == b"cm":
            at = matrix(numbers) @ at
        elif operator == b"m":
            pen = np.array(numbers)
        elif operator == b"l":
            found.append(np.array([(*pen, 1.0), (*numbers, 1.0)]) @ at)
            pen = np.array(numbers)
        elif operator == b"Do":
            form = resources["/XObject"][operands[0]].get_object()
            inner = matrix([float(number) for number in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]) @ at
            found += straight_lines(ContentStream(form, reader), form["/Resources"], reader, inner)
    return found


def matrix(numbers: list[float]) -> np.ndarray:
    a, b, c, d, e, f = numbers
    return np.array([(a, b, 0.0), (c, d, 0.0), (e, f, 1.0)])


def test_a_bar_of_100_mm_is_100_mm_on_the_pdf_page() -> None:
    bar = Polyline(points=np.array([(250.0, 20.0), (350.0, 20.0)]), layer="scale bar", pen=pens.HEAVY)
    reader = pdf(Sheet(name="bar", title="Bar", paper=A3_FLAT, marks=(bar,)))
    page = reader.pages[0]
    assert float(page.mediabox.width) == pytest.approx(420.0 * POINTS_A_MILLIMETRE, abs=0.01)
    assert float(page.mediabox.height) == pytest.approx(297.0 * POINTS_A_MILLIMETRE, abs=0.01)
    lines = straight_lines(page.get_contents(), page["/Resources"], reader, np.eye(3))
    millimetres = [line[:, :2] / POINTS_A_MILLIMETRE for line in lines]
    level = [line for line in millimetres if abs(line[0, 1] - 20.0) < 0.01 and abs(line[1, 1] - 20.0) < 0.01]
    assert len(level) == 1
    assert np.sort(level[0][:, 0]) == pytest.approx((250.0, 350.0), abs=0.01)


def test_a_bar_of_100_mm_is_100_units_of_a_millimetre_in_the_svg() -> None:
    root = parsed(write_svg(sheet()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")
    (bar,) = root.iterfind(f".//{SVG}g[@data-layer='scale bar']/{SVG}path")
    # By hand: 20 mm above the lower rim of 297 is 277 below the upper one.
    assert bar.get("d") == "M250 277L350 277"


def test_the_svg_is_plain_and_rounded_to_a_thousandth() -> None:
    text = write_svg(sheet())
    for word in ("var(", "calc(", "<script", "nan", "inf", "href"):
        assert word not in text
    assert not re.search(r"\d\.\d{4}|\de-\d", text)


def test_every_word_is_text_in_the_svg_with_its_signs_escaped() -> None:
    root = parsed(write_svg(sheet()))
    assert {text.text for text in root.iter(f"{SVG}text")} == set(WORDS)
    assert root.findtext(f"{SVG}title") == "Dig <sheet> & more"


def test_every_word_can_be_searched_in_the_pdf_and_read_aloud() -> None:
    reader = pdf(sheet(), sheet())
    assert len(reader.pages) == 2
    for page in reader.pages:
        said = page.extract_text()
        for words in WORDS:
            assert words in said
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Hazel & <Bank> #1", "nobody")
    assert reader.metadata.creation_date == WRITTEN
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    declared = root["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance>" in declared
    assert "<pdfuaid:part>1</pdfuaid:part>" in declared


def test_the_pdf_embeds_the_one_typeface_and_describes_each_page() -> None:
    reader = pdf(sheet())
    objects = [
        reader.get_object(number) for number in range(1, len(reader.xref_objStm) + sum(map(len, reader.xref.values())))
    ]
    kept = [each for each in objects if isinstance(each, dict)]
    names = {str(each["/FontName"]) for each in kept if each.get("/Type") == "/FontDescriptor"}
    assert names
    assert all(re.fullmatch(r"/[A-Z]{6}\+IBMPlexSans.*", name) for name in names)
    assert all("/FontFile2" in each or "/FontFile3" in each for each in kept if each.get("/Type") == "/FontDescriptor")
    assert "For the cab." in {each.get("/Alt") for each in kept}


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert write_svg(sheet()) == write_svg(sheet())
    one, other = (write_pdf([sheet()], title="a", author="b", written=WRITTEN) for _ in range(2))
    assert one == other
    assert write_dxf(sheet()) == write_dxf(sheet())


def test_a_picture_has_the_dots_asked_for() -> None:
    picture = write_png(sheet(), dots_per_inch=50.8)
    # By hand: 2 dots a millimetre; the PNG header tells width and height after 16 bytes.
    assert struct.unpack(">II", picture[16:24]) == (840, 594)


@pytest.mark.parametrize("write", [write_svg, lambda drawn: write_png(drawn, dots_per_inch=20.0), pdf])
def test_words_the_typeface_cannot_draw_are_refused_all_at_once(write) -> None:  # type: ignore[no-untyped-def]
    marks = tuple(Text(at=(9.0, 9.0), words=words, height=2.5) for words in ("⌀ 50", "fine", "a\nb"))
    with pytest.raises(JobError) as refused:
        write(Sheet(name="dig", title="Dig", paper=A3_FLAT, marks=marks))
    assert [problem.found for problem in refused.value.problems] == [
        "the words “⌀ 50” hold U+2300",
        "the words “a\nb” hold U+000A",
    ]


def test_what_lies_outside_a_window_is_not_written_and_the_rest_is_clipped_to_it() -> None:
    text = write_svg(sheet())
    assert "far outside" not in text
    root = parsed(text)
    (group,) = root.iterfind(f".//{SVG}g[@data-view='section']")
    name = re.fullmatch(r"url\(#(.+)\)", group.get("clip-path") or "")
    assert name is not None
    # By hand: the window's corners (20, 30) and (220, 130) on a sheet 297 high.
    assert root.find(f".//{SVG}clipPath[@id='{name[1]}']/{SVG}path").get("d") == "M20 267L220 267L220 167L20 167Z"


def test_an_area_is_hatched_inside_the_window_only() -> None:
    root = parsed(write_svg(sheet()))
    strokes = hatch_strokes(root, "freeboard")
    assert len(strokes) > 100
    # Half a thousandth of rounding.
    assert all(box(20.0, 167.0, 220.0, 267.0).buffer(0.001).contains(LineString(stroke).centroid) for stroke in strokes)


def hatch_strokes(root: ElementTree.Element, layer: str) -> list[np.ndarray]:
    """Ends of every stroke of the last path on a layer."""
    *_, path = root.iterfind(f".//{SVG}g[@data-layer='{layer}']/{SVG}path")
    return [
        np.array(stroke, dtype=float).reshape(2, 2)
        for stroke in re.findall(r"M(\S+) (\S+?)L(\S+?) ([^M]+)", path.get("d") or "")
    ]


HATCHES = sorted((hatch for hatch in vars(pens).values() if isinstance(hatch, Hatch)), key=lambda hatch: hatch.name)


@settings(max_examples=40)
@given(
    hatch=st.sampled_from(HATCHES),
    radii=st.lists(st.floats(15.0, 60.0), min_size=5, max_size=12),
)
def test_a_hatch_stays_inside_its_area_and_covers_it_evenly(hatch: Hatch, radii: list[float]) -> None:
    """Lines ``apart`` from each other have area / apart of length in an area, of which dashes take their share."""
    angles = np.linspace(0.0, 2.0 * np.pi, len(radii), endpoint=False)
    ring = np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None] + (150.0, 100.0)
    mark = Polyline(points=ring, layer="area", closed=True, hatch=hatch)
    strokes = hatch_strokes(parsed(write_svg(Sheet(name="h", title="h", paper=A3_FLAT, marks=(mark,)))), "area")
    area = Polygon(ring * (1.0, -1.0) + (0.0, 297.0))
    assert all(area.buffer(0.002).covers(LineString(stroke)) for stroke in strokes)
    if all(line.dash[:1] != (0.0,) for line in hatch.lines):
        drawn = sum(LineString(stroke).length for stroke in strokes)
        wanted = sum(area.area / line.apart * _share(line.dash) for line in hatch.lines)
    else:
        drawn, wanted = len(strokes), sum(area.area / line.apart / sum(line.dash) for line in hatch.lines)
    # The rim blurs the count by about its length times one step.
    assert drawn == pytest.approx(wanted, abs=0.08 * wanted + 3.0)


def _share(dash: tuple[float, ...]) -> float:
    return sum(dash[::2]) / sum(dash) if dash else 1.0


def test_the_site_lies_in_the_dxf_at_its_own_coordinates() -> None:
    model = dxf(sheet()).modelspace()
    (course,) = model.query("LWPOLYLINE[layer=='course']")
    assert np.array(course.get_points("xy")) == pytest.approx(COURSE, abs=1e-9, rel=0.0)
    (circle,) = model.query("CIRCLE[layer=='root circle']")
    assert (circle.dxf.center.x, circle.dxf.center.y) == pytest.approx((EAST - 6.0, NORTH - 1.0), abs=1e-9, rel=0.0)
    assert circle.dxf.radius == pytest.approx(2.0)


def test_the_dxf_is_sound_in_metres_with_a_decimal_point() -> None:
    document = dxf(sheet())
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 6  # metres
    assert document.header["$DIMDSEP"] == ord(".")
    assert document.dimstyles.get("Standard").dxf.dimdsep == ord(".")


def test_layers_are_the_marks_words_and_lines_have_their_weights_and_dashes() -> None:
    document = dxf(sheet())
    drawn = {entity.dxf.layer for layout in (document.modelspace(), document.paperspace()) for entity in layout}
    assert {"course", "edge left", "root circle", "peg", "text", "bed", "freeboard", "frame", "scale bar"} <= drawn
    assert all(layer in document.layers for layer in drawn - {"VIEWPORTS"})
    assert document.layers.get("scale bar").dxf.lineweight == 70
    (ring,) = document.modelspace().query("CIRCLE[layer=='root circle']")
    assert (ring.dxf.lineweight, ring.dxf.true_color) == (70, 0xBE2A12)
    tags = document.linetypes.get(ring.dxf.linetype).pattern_tags.tags
    assert [tag.value for tag in tags if tag.code == 49] == [5.0, -2.0]
    # A stroke of 5 mm at 1:100 is half a metre of model.
    assert ring.dxf.ltscale * 5.0 == pytest.approx(0.5)


def test_lettering_of_the_dxf_is_true_to_the_scale_and_level_through_the_viewport() -> None:
    document = dxf(sheet())
    (words,) = [text for text in document.modelspace().query("TEXT") if text.dxf.text == WORDS[0]]
    assert words.dxf.height == pytest.approx(0.25)
    assert words.dxf.rotation == pytest.approx(-np.degrees(TURN))
    (title,) = [text for text in document.paperspace().query("TEXT") if text.dxf.text == WORDS[5]]
    assert title.dxf.height == pytest.approx(7.0)
    assert document.styles.get(words.dxf.style).get_extended_font_data()[0] == "IBM Plex Sans"


def test_the_viewport_shows_each_point_of_the_site_where_the_sheet_has_it() -> None:
    """ezdxf's own way from model space to the paper against ours."""
    (viewport,) = [port for port in dxf(sheet()).paperspace().query("VIEWPORT") if port.dxf.id > 1]
    assert viewport.get_scale() == pytest.approx(1000.0 / 100.0)
    through = viewport.get_transformation_matrix()
    for point, expected in zip(COURSE, PLAN.on_paper(COURSE), strict=True):
        seen = through.transform(Vec3(*point))
        assert (seen.x, seen.y) == pytest.approx(tuple(expected), abs=1e-6)


def test_a_section_is_cut_off_at_its_window_on_the_dxf_layout() -> None:
    layout = dxf(sheet()).paperspace()
    window = box(20.0, 30.0, 220.0, 130.0).buffer(1e-9)
    lines = layout.query("LWPOLYLINE[layer=='bed']")
    assert len(lines) > 10
    assert all(window.covers(LineString(line.get_points("xy"))) for line in lines)
    (dots,) = layout.query("HATCH[layer=='freeboard']")
    assert window.covers(Polygon([vertex[:2] for vertex in dots.paths[0].vertices]))
    assert not [text for text in layout.query("TEXT") if text.dxf.text == "far outside"]


@pytest.mark.parametrize("hatch", [pens.ROOT_CROSSES, pens.RAMMED_FILL, pens.SHORT_HATCH], ids=lambda hatch: hatch.name)
def test_a_hatch_of_the_dxf_seen_through_the_viewport_is_the_hatch_of_the_svg(hatch: Hatch) -> None:
    """ezdxf draws the pattern from its definition; the SVG has the strokes themselves."""
    ring = PLAN.on_site(np.array([(60.0, 180.0), (110.0, 190.0), (100.0, 230.0), (70.0, 220.0)]))
    view = View(
        name="plan", window=PLAN, marks=(Polyline(points=ring, layer="area", closed=True, hatch=hatch),), world=True
    )
    drawn = Sheet(name="h", title="h", paper=A3_FLAT, views=(view,))
    (pattern,) = dxf(drawn).modelspace().query("HATCH")
    lines = [np.array([start.vec2, end.vec2]) for start, end in hatch_entity(pattern)]
    seen = np.sort(middles([PLAN.on_paper(line) for line in lines]), axis=0)
    strokes = hatch_strokes(parsed(write_svg(drawn)), "area")
    expected = np.sort(middles([stroke * (1.0, -1.0) + (0.0, 297.0) for stroke in strokes]), axis=0)
    assert seen == pytest.approx(expected, abs=0.01)


def middles(strokes: list[np.ndarray]) -> np.ndarray:
    kept = [stroke.mean(axis=0) for stroke in strokes if np.hypot(*(stroke[1] - stroke[0])) > 0.01]
    return np.array(kept)


def test_words_on_the_paper_are_set_by_the_page_setter_unless_something_filled_lies_over_them() -> None:
    """The ruler in the frame is filled, and lies over no words: they must not stay in the picture for its sake."""
    from beckwright.papers.formats.words import taken_out

    words = Text(at=(20.0, 20.0), words="2  lips", height=2.2, layer="text")
    beside, over = (rectangle((x, 19.0), (6.0, 4.0)) for x in (60.0, 24.0))
    for fill, taken in ((beside, ["2 lips"]), (over, [])):
        marks = (words, Polyline(points=fill, layer="frame", closed=True, fill="#FFFFFF"))
        rest, out = taken_out(write_svg(replace(sheet(), views=(), marks=marks)))
        assert [each.words for each in out] == taken
        assert rest.count("<text ") == 1 - len(taken)
