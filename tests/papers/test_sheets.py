"""The sheets of all four examples: complete, true to scale, nothing overlapping, nothing off the paper."""

import re
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from ezdxf import recover
from ezdxf.document import Drawing
from pypdf import PdfReader

from beckwright import Design, design, read_job, write_papers
from beckwright.compose import Works
from beckwright.papers import USUAL_FORMS, Form, indexed, write_set
from beckwright.papers.drawing import Polyline, Sheet, Text, laid, plain
from beckwright.papers.formats.dxf import write_dxf
from tests.drawn import EXAMPLES, NAMES, Drawn

from .walked import (
    NEAR,
    apart,
    bars,
    drawn_length,
    north_of,
    norths,
    off_the_frame,
    over_each_other,
    rules,
    said_on,
)


@pytest.fixture(scope="module", params=NAMES)
def example(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def designed(example: str) -> Design:
    return design(read_job(EXAMPLES / example))


@pytest.fixture(scope="module")
def sheets(example: str, drawn_sets: Drawn) -> tuple[Sheet, ...]:
    return drawn_sets.sheets(example)


def _words(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Text):
                yield replace(part, halo=0.0)


def test_every_reader_of_the_set_finds_it(sheets: tuple[Sheet, ...]) -> None:
    titles = " ".join(sheet.title for sheet in sheets)
    for wanted in ("plan", "level story", "order list", "calculation"):
        assert wanted in titles
    assert len({sheet.name for sheet in sheets}) == len(sheets)


def test_each_sheet_stands_alone(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    for number, sheet in enumerate(sheets, 1):
        said = {text.words for text in _words(sheet)}
        assert f"{number}/{len(sheets)}" in said
        assert designed.job.title.date in said
        revision = designed.job.title.revision
        assert revision in said or any(words.startswith(f"Revision {revision}.") for words in said), sheet.name
        assert any(designed.job.datum.name in words for words in said)
        assert any("Invented" in words for words in said)


def test_words_stay_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    assert {sheet.name: off for sheet in sheets if (off := off_the_frame(sheet))} == {}


def test_words_do_not_lie_on_each_other(sheets: tuple[Sheet, ...]) -> None:
    assert {sheet.name: met for sheet in sheets if (met := over_each_other(sheet))} == {}


HURT = {
    r"dig-site": ("competent person", "supported"),
    r"dig-pit": ("competent person", "No depth", "drown"),
    r"dig-\d": ("supported or battered", "look first"),
    r"sections": ("supported or battered", "look first"),
    r"setting-out": ("services have been traced",),
    r"trees": ("arboriculturist", "tree officer"),
    r"method": ("competent person",),
    r"reservoir": ("Children", "climb"),
    r"build": ("before each shift", "slings", "children", "licensed electrician", "germs"),
    r"lip-card": ("children",),
    r"supply$": ("licensed electrician", "isolate"),
    r"supply-route": ("electrician",),
    r"planting": ("gloves",),
    r"picture": ("Children", "drown", "licensed electrician"),
    r"plan(-|$)": ("buried services", "No depth of pit"),
    r"care-card": ("danger to children", "licensed electricians"),
    r"fault-tree-1": ("isolator",),
    r"as-built$": ("locked off", "nobody climbs"),
}
"""What a sheet must say where the work it is read for can hurt: words of the cautions, common practice."""

TOGETHER = ("build", "lip-card")
"""These are read as one: a long build sheet has its cautions on one of its parts, a card those of its own lip."""


def in_scale(sheets: tuple[Sheet, ...]) -> list[Sheet]:
    """Sheets that are measured off; the picture sheet is for looking at, and has its own tests."""
    return [sheet for sheet in sheets if sheet.name != "picture"]


def test_every_page_carries_a_rule_to_tell_its_size_by(sheets: tuple[Sheet, ...]) -> None:
    assert {sheet.name: rules(sheet) for sheet in sheets if rules(sheet) != pytest.approx([100.0])} == {}


def test_every_plan_of_the_ground_has_a_north_point_that_points_north(sheets: tuple[Sheet, ...]) -> None:
    views = [(sheet, view) for sheet in sheets for view in sheet.views if view.world]
    assert len(views) > 6
    for sheet, view in views:
        assert min((apart(north, north_of(view)) for north in norths(sheet)), default=9.0) < 1e-6, sheet.name
    flat = [(sheet, view) for sheet in sheets for view in sheet.views if view.name.startswith("plan of layer")]
    assert all(norths(sheet) for sheet, _ in flat)


def test_every_drawing_in_scale_has_a_bar_as_long_as_its_words_say(sheets: tuple[Sheet, ...]) -> None:
    """Arithmetic: so many metres at 1 to so much are so many millimetres. Sections have one for their length."""
    for sheet in in_scale(sheets):
        at = {1000.0 / view.window.scale for view in sheet.views}
        found = bars(sheet)
        assert not any(np.isnan(bar.told) for bar in found), sheet.name
        for each in at:
            fits = [bar for bar in found if abs(bar.told * each / 1000.0 - bar.drawn) < NEAR]
            assert fits, (sheet.name, 1000.0 / each, found)
        for bar in found if at else ():
            assert min(abs(bar.told * each / 1000.0 - bar.drawn) for each in at) < NEAR, (sheet.name, bar)


def test_every_scale_a_drawing_has_is_said_on_its_sheet(sheets: tuple[Sheet, ...]) -> None:
    for sheet in in_scale(sheets):
        for view in sheet.views:
            for scale in {view.window.scale, view.window.scale_up}:
                if scale == round(scale):
                    assert re.search(rf"1:{scale:g}\b", said_on(sheet)), (sheet.name, view.name, scale)


def test_the_course_is_drawn_as_long_as_it_is(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    """Its length along the ground's plan, from the survey's own coordinates, over the scale."""
    points = designed.course.stations.points
    length = float(np.hypot(*np.diff(points, axis=0).T).sum())
    views = [view for sheet in sheets for view in sheet.views if view.world]
    drawn = [(view.window.scale, drawn_length(view, "course line")) for view in views]
    whole = [(scale, millimetres) for scale, millimetres in drawn if millimetres > 0]
    assert len(whole) >= 4
    for scale, millimetres in whole:
        assert millimetres * scale / 1000.0 == pytest.approx(length, rel=1e-6)


def test_sheets_that_can_hurt_say_so(sheets: tuple[Sheet, ...]) -> None:
    met = set()
    for pattern, wanted in HURT.items():
        said = {sheet.name: said_on(sheet) for sheet in sheets if re.match(pattern, sheet.name)}
        for each in [" ".join(said.values())] if pattern in TOGETHER else said.values():
            met.add(pattern)
            assert [words for words in wanted if words not in each] == [], (pattern, list(said))
    assert len(met) >= 13
    lifted = [said_on(sheet) for sheet in sheets if sheet.name.startswith("lip-card")]
    assert [said for said in lifted if "by machine" in said and "slings" not in said] == []


def test_a_served_set_has_its_address_as_a_code_that_reads(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    address = "http://192.0.2.7:8000/"
    first = indexed(designed, sheets, address=address)[0]
    assert address in said_on(first)
    code = [mark for mark in first.marks if isinstance(mark, Polyline) and mark.layer == "code"]
    assert not [mark for mark in sheets[0].marks if isinstance(mark, Polyline) and mark.layer == "code"]
    size = np.ptp(np.vstack([mark.points for mark in code]), axis=0)
    assert size == pytest.approx([size[0], size[0]])
    assert size[0] >= 20.0


def test_no_lip_tree_or_service_goes_unnamed_on_the_plan(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    plans = [sheet for sheet in sheets if sheet.name.startswith("plan")]
    said = [
        part.words
        for sheet in plans
        for view in sheet.views
        for mark in view.marks
        for part in plain(laid(mark, view.window))
        if isinstance(part, Text)
    ]
    for lip in designed.water.lips:
        assert any(words.startswith(f"{lip.name} ") for words in said), lip.name
    for tree in designed.job.site.trees:
        assert any(f"{tree.species} {tree.name}" in words for words in said), tree.name


def test_drawings_open_as_dxf_with_the_sites_own_coordinates(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    plan = next(sheet for sheet in sheets if sheet.name.startswith("plan"))
    document = _read(plan)
    auditor = document.audit()
    assert not auditor.errors
    assert document.header["$INSUNITS"] == 6
    lines = [
        np.array([(x, y) for x, y, *_ in entity.get_points()])
        for entity in document.modelspace().query("LWPOLYLINE")
        if entity.dxf.layer == "course line"
    ]
    wanted = designed.course.stations.points
    drawn = np.vstack(lines)
    gap = np.abs(drawn[:, None, :] - wanted[None, :, :]).max(axis=2).min(axis=1)
    assert gap.max() < 1e-9


def _read(sheet: Sheet) -> Drawing:
    document, _ = recover.read(BytesIO(write_dxf(sheet)))
    return document


WRITTEN_TWICE = ("hazel_bank", "withy_lane")
"""Written in every form twice. Of the other two all that is drawn is held as SVG, from which a PDF is made."""


def test_the_set_is_one_searchable_pdf_and_comes_out_the_same_twice(
    example: str, designed: Design, sheets: tuple[Sheet, ...], tmp_path: Path
) -> None:
    """Drawn twice and written twice: once with the second process, once all in one."""
    told: list[str] = []
    first = write_papers(designed, tmp_path / "one", progress=told.append)
    (tmp_path / "two").mkdir()
    once = () if example in WRITTEN_TWICE else ("papers.pdf", *(f"{sheet.name}.dxf" for sheet in sheets))
    forms = {*USUAL_FORMS} - ({Form.PDF, Form.DXF} if once else set())
    second = write_set(Works(designed), sheets, tmp_path / "two", forms=forms)
    again = [path for path in first if path.name not in once]
    assert [path.name for path in again] == [path.name for path in second]
    for one, other in zip(again, second, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name
    assert any("papers.pdf" in words for words in told)
    reader = PdfReader(tmp_path / "one" / "papers.pdf")
    for page, sheet in zip(reader.pages, sheets, strict=True):
        assert float(page.mediabox.width) == pytest.approx(sheet.paper[0] / 25.4 * 72, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(sheet.paper[1] / 25.4 * 72, abs=0.1)
    first_page = reader.pages[0].extract_text()
    assert "Index" in first_page
    assert "Plan" in reader.pages[1].extract_text()
    assert designed.job.title.name in first_page
