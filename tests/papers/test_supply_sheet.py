"""The supply sheet: its words keep apart and inside, tell the drops, and name protective devices as questions only."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright import Design, design, read_job
from beckwright.papers.drawing import Sheet, Text, laid, plain
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.papers.sheets.supply.sheet import electrics_count, electrics_sheets
from beckwright.stages.electrics import Electrics, wire

EXAMPLES = Path(__file__).parents[2] / "examples"


def drawn(name: str, lamps: int = 0) -> tuple[Design, Electrics, tuple[Sheet, ...]]:
    designed = design(read_job(EXAMPLES / name))
    job = designed.job
    assert job.electrics is not None
    if lamps:
        first = job.electrics.lights[0]
        lights = tuple(
            replace(first, name=f"lamp {n} at the old wall", voltage=12.0 * (1 + n % 2)) for n in range(lamps)
        )
        job = replace(job, electrics=replace(job.electrics, lights=lights))
        designed = replace(designed, job=job)
    electrics = wire(job, designed.course, designed.ground, designed.supply)
    assert electrics is not None
    return designed, electrics, electrics_sheets(designed, electrics, 1, 2)


@pytest.fixture(
    scope="module", params=[("hazel_bank", 0), ("larkspur_court", 0), ("fennymoor_park", 0), ("hazel_bank", 45)]
)
def sheets(request: pytest.FixtureRequest) -> tuple[Sheet, ...]:
    name, lamps = request.param
    return drawn(name, lamps)[2]


def words(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Text):
                yield replace(part, halo=0.0)


def test_words_stay_inside_and_apart(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        texts = list(words(sheet))
        boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts])
        out = (boxes[:, :2] < np.array([LEFT, LOW]) - 0.3) | (boxes[:, 2:] > np.array([LEFT + WIDE, LOW + HIGH]) + 0.3)
        assert not out.any(), [texts[place].words for place in np.flatnonzero(out.any(axis=1))]
        wide = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        high = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.triu((wide > 0.3) & (high > 0.6), 1)
        assert not clash.any(), [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5]


def test_the_pages_are_counted() -> None:
    _, electrics, sheets = drawn("hazel_bank")
    assert electrics_count(electrics) == len(sheets) == 2
    assert electrics_count(None) == 0
    designed = design(read_job(EXAMPLES / "withy_lane"))
    assert electrics_sheets(designed, None, 1, 2) == ()


def test_every_lamp_stands_with_its_drop() -> None:
    _, electrics, (supply, route) = drawn("hazel_bank")
    said = [text.words for text in words(supply)]
    for span in electrics.strings[0].spans:
        assert span.light in said
        assert f"{100 * span.lost:.1f} %" in said
    seen = [
        part.words
        for view in route.views
        for mark in view.marks
        for part in plain(laid(mark, view.window))
        if isinstance(part, Text)
    ]
    for light in electrics.lamps:
        assert light.light.name in seen
    assert "chair on the terrace" in seen
    assert any(each.startswith("neighbour's bedroom, ") for each in seen)


def test_devices_carry_a_question_mark() -> None:
    _, _, (supply, _) = drawn("hazel_bank")
    for text in words(supply):
        if "residual current" in text.words or text.words.startswith(("protection", "isolator")):
            assert text.words.endswith("?"), text.words


def test_the_plan_is_true_to_scale_and_opens_as_dxf() -> None:
    from io import BytesIO

    from ezdxf import recover

    designed, _, (_, route) = drawn("hazel_bank")
    document, auditor = recover.read(BytesIO(write_dxf(route)))
    assert not auditor.errors
    lines = [
        np.array([(x, y) for x, y, *_ in each.get_points()])
        for each in document.modelspace().query("LWPOLYLINE")
        if each.dxf.layer == "supply cable"
    ]
    assert designed.job.electrics is not None
    wanted = np.array(designed.job.electrics.line)
    assert any(line.shape == wanted.shape and np.allclose(line, wanted) for line in lines)
