"""The lining sheets of all examples: complete, inside the frame, nothing overlapping, every piece at its true size."""

from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from ezdxf import recover

from beckwright import Design, design, read_job
from beckwright.papers.drawing import Sheet, Text, laid, plain, seen
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.lining.sheet import lining_count, lining_sheets, people_words
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.stages.lining import Lining, line

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
MOST_OUT = 0.3


@pytest.fixture(scope="module", params=NAMES)
def designed(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param))


@pytest.fixture(scope="module")
def lining(designed: Design) -> Lining:
    return line(designed.job, designed.course, designed.water, designed.falls, designed.reservoir.pit)


@pytest.fixture(scope="module")
def sheets(designed: Design, lining: Lining) -> tuple[Sheet, ...]:
    return lining_sheets(designed, lining, 4, 12)


def words_of(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        yield from (replace(part, halo=0.0) for part in plain(mark) if isinstance(part, Text))


def words_in_views(sheet: Sheet) -> Iterator[Text]:
    for view in sheet.views:
        yield from (replace(part, halo=0.0) for part in seen(view) if isinstance(part, Text))


def corners(text: Text) -> tuple[float, float, float, float]:
    box = text_box(text)
    return (*box.min(axis=0), *box.max(axis=0))


def test_as_many_as_counted_and_numbered(lining: Lining, sheets: tuple[Sheet, ...], designed: Design) -> None:
    assert len(sheets) == lining_count(lining)
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for number, sheet in enumerate(sheets, 4):
        said = {text.words for text in words_of(sheet)}
        assert f"{number}/12" in said
        assert designed.job.title.date in said


def test_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        for text in (*words_of(sheet), *words_in_views(sheet)):
            left, low, right, high = corners(text)
            assert left >= LEFT - MOST_OUT, (sheet.name, text.words)
            assert right <= LEFT + WIDE + MOST_OUT, (sheet.name, text.words)
            assert low >= LOW - MOST_OUT, (sheet.name, text.words)
            assert high <= LOW + HIGH + MOST_OUT, (sheet.name, text.words)


def test_words_do_not_lie_on_each_other(sheets: tuple[Sheet, ...]) -> None:
    """Also those on the drawings; numbers along the middle line, which are turned with it, are left out."""
    for sheet in sheets:
        texts = [text for text in (*words_of(sheet), *words_in_views(sheet)) if not text.words.isdigit()]
        boxes = np.array([corners(text) for text in texts])
        shared_x = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        shared_y = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.triu((shared_x > 0.3) & (shared_y > 0.6), 1)
        assert not clash.any(), (sheet.name, [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5])


def test_every_piece_is_drawn_once_at_its_size(lining: Lining, sheets: tuple[Sheet, ...]) -> None:
    drawn = {}
    for sheet in sheets[1:]:
        for view in sheet.views:
            outlines = [mark for mark in view.marks if getattr(mark, "layer", "") == "pieces"]
            assert len(outlines) == 1
            points = laid(outlines[0], view.window).points  # type: ignore[union-attr]
            drawn[view.name] = np.ptp(points, axis=0) * view.window.scale / 1000.0
    assert drawn.keys() == {f"piece {piece.letter}" for piece in lining.pieces}
    for piece in lining.pieces:
        assert drawn[f"piece {piece.letter}"] == pytest.approx(piece.size, abs=1e-6)


def test_every_lap_is_named_where_the_course_lies_flat(lining: Lining, sheets: tuple[Sheet, ...]) -> None:
    said = [text.words for text in words_in_views(sheets[0])]
    for number in range(1, len(lining.laps) + 1):
        assert any(words.startswith(f"lap {number}:") for words in said)
    for slack in lining.slacks:
        assert any(words.startswith(f"{slack.place}:") for words in said)
    for piece in lining.pieces:
        assert piece.letter in said


def test_the_table_says_what_is_cut(lining: Lining, sheets: tuple[Sheet, ...]) -> None:
    said = [text.words for text in words_of(sheets[0])]
    for piece in lining.pieces:
        assert f"{piece.length:.2f} x {piece.width:.2f}" in said
        assert f"{int(np.ceil(piece.mass))}" in said


def test_opens_as_dxf(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        document, _ = recover.read(BytesIO(write_dxf(sheet)))
        assert not document.audit().errors


@pytest.mark.parametrize(
    ("people", "words"),
    [((1, 1), "1"), ((1, 2), "1 to 2"), ((2, None), "2, or trolley"), ((None, None), "trolley")],
)
def test_people_in_words(people: tuple[int | None, int | None], words: str) -> None:
    assert people_words(people) == words
