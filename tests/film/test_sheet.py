"""The sheet of start and stop: words inside the frame, none over another, and the figures of the films on it."""

from dataclasses import replace

import numpy as np
import pytest

from beckwright.compose import Design
from beckwright.film import film_band
from beckwright.papers.drawing import Sheet, Text, plain
from beckwright.papers.filmed import filmed, made_of
from beckwright.papers.formats.svg import write_svg
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.overview.film import film_sheet
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE


def _words(sheet: Sheet) -> list[Text]:
    parts = (part for mark in sheet.marks for part in plain(mark))
    return [replace(part, halo=0.0) for part in parts if isinstance(part, Text)]


def _clear(sheet: Sheet) -> None:
    texts = _words(sheet)
    boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts])
    assert boxes[:, 0].min() >= LEFT - 0.3
    assert boxes[:, 1].min() >= LOW - 0.3
    assert boxes[:, 2].max() <= LEFT + WIDE + 0.3
    assert boxes[:, 3].max() <= LOW + HIGH + 0.3
    across = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
    up = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
    clash = np.triu((across > 0.3) & (up > 0.6), 1)
    assert not clash.any(), [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5]


@pytest.mark.parametrize("which", [0, -1])
def test_words_are_clear_of_each_other(example: Design, which: int) -> None:
    flow = example.job.flows[which].name
    sheet = film_sheet(example, filmed(example, flow), 1, 9)
    _clear(sheet)
    said = " ".join(text.words for text in _words(sheet))
    for wanted in ("First fill", "Morning restart", "Stop", "a third of an hour", "1/9"):
        assert wanted in said
    assert write_svg(sheet).startswith("<svg")
    assert write_svg(sheet) == write_svg(sheet)


def test_one_story_alone_fills_the_sheet(hazel: Design) -> None:
    _clear(film_sheet(hazel, made_of(hazel, film_band(hazel, "restart", "full")), 1, 1))
