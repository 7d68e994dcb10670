"""The sheets of all four examples: complete, true to scale, nothing overlapping, nothing off the paper."""

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
from beckwright.papers import draw_sheets
from beckwright.papers.drawing import A3_FLAT, Sheet, Text, laid, plain
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.frame import HIGH, LEFT, LOW, WIDE

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


@pytest.fixture(scope="module", params=NAMES)
def designed(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param))


@pytest.fixture(scope="module")
def sheets(designed: Design) -> tuple[Sheet, ...]:
    return draw_sheets(designed)


def _words(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Text):
                yield replace(part, halo=0.0)


def _corners(text: Text) -> tuple[float, float, float, float]:
    box = text_box(text)
    return (*box.min(axis=0), *box.max(axis=0))


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
    for sheet in sheets:
        for text in _words(sheet):
            left, low, right, high = _corners(text)
            rim = (LEFT, LOW, LEFT + WIDE, LOW + HIGH) if sheet.paper == A3_FLAT else (5, 5, *np.array(sheet.paper) - 5)
            inside = left >= rim[0] - 0.3 and right <= rim[2] + 0.3 and low >= rim[1] - 0.3 and high <= rim[3] + 0.3
            assert inside, (sheet.name, text.words)


def test_words_do_not_lie_on_each_other(sheets: tuple[Sheet, ...]) -> None:
    """A touch of 0.6 mm is allowed: boxes hold the letters that reach highest and lowest, most words do not."""
    for sheet in sheets:
        texts = list(_words(sheet))
        boxes = np.array([_corners(text) for text in texts])
        shared_x = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        shared_y = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.triu((shared_x > 0.3) & (shared_y > 0.6), 1)
        assert not clash.any(), (sheet.name, [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5])


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


def test_the_set_is_one_searchable_pdf_and_comes_out_the_same_twice(designed: Design, tmp_path: Path) -> None:
    first, second = (write_papers(designed, tmp_path / each) for each in ("one", "two"))
    assert [path.name for path in first] == [path.name for path in second]
    for one, other in zip(first, second, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name
    reader = PdfReader(tmp_path / "one" / "papers.pdf")
    for page, sheet in zip(reader.pages, draw_sheets(designed), strict=True):
        assert float(page.mediabox.width) == pytest.approx(sheet.paper[0] / 25.4 * 72, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(sheet.paper[1] / 25.4 * 72, abs=0.1)
    first_page = reader.pages[0].extract_text()
    assert "Index" in first_page
    assert "Plan" in reader.pages[1].extract_text()
    assert designed.job.title.name in first_page


def test_progress_is_told(designed: Design, tmp_path: Path) -> None:
    told: list[str] = []
    write_papers(designed, tmp_path, progress=told.append)
    assert any("papers.pdf" in words for words in told)
