"""The planting plan: true to scale, nothing overlapping, the list that of the design."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from ezdxf import recover

from beckwright import Design, design, read_job
from beckwright.papers.drawing import Circle, Polyline, Sheet, Text, plain
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.planting.plan import NEAREST, positions
from beckwright.papers.sheets.planting.sheet import planting_pages, planting_sheets
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.stages.planting import Planting, plant

EXAMPLES = Path(__file__).parents[2] / "examples"


def planted(designed: Design) -> Planting:
    return plant(designed.job, designed.course, designed.ground, designed.water)


@pytest.fixture(scope="module", params=["hazel_bank", "fennymoor_park"])
def designed(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param))


@pytest.fixture(scope="module")
def sheets(designed: Design) -> tuple[Sheet, ...]:
    return planting_sheets(designed, planted(designed), 1, planting_pages(designed, planted(designed)))


def words_of(sheet: Sheet) -> list[Text]:
    return [replace(part, halo=0.0) for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def boxes_of(sheet: Sheet) -> list[tuple[str, float, float, float, float]]:
    return [
        (text.words, *text_box(text).min(axis=0).tolist(), *text_box(text).max(axis=0).tolist())
        for text in words_of(sheet)
    ]


def test_words_keep_apart_and_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        boxes = boxes_of(sheet)
        for place, (words, left, low, right, high) in enumerate(boxes):
            assert LEFT - 0.3 <= left < right <= LEFT + WIDE + 0.3, words
            assert LOW - 0.3 <= low < high <= LOW + HIGH + 0.3, words
            for other, left_2, low_2, right_2, high_2 in boxes[place + 1 :]:
                clash = min(right, right_2) - max(left, left_2) > 0.3 and min(high, high_2) - max(low, low_2) > 0.6
                assert not clash, (words, other)


def test_every_plant_and_pocket_stands_on_the_list(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    said = [text.words for sheet in sheets for text in words_of(sheet)]
    planting = planted(designed)
    for placed in planting.pockets:
        assert placed.letter in said
        for each in placed.plants:
            assert any(words.startswith(each.named.name) for words in said), each.named.name
            assert f"{each.number}" in said


def test_flowering_months_are_filled(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    """As many filled boxes as the plants of the list have flowering months."""
    filled = sum(
        isinstance(mark, Polyline) and mark.layer == "list" and mark.fill is not None
        for sheet in sheets
        for mark in sheet.marks
    )
    plants = [each.named.plant for placed in planted(designed).pockets for each in placed.plants]
    assert filled == sum(len(row.months) for row in plants if row)


def test_marsh_marigold_flowers_under_march_to_may(sheets: tuple[Sheet, ...]) -> None:
    sheet = next(sheet for sheet in sheets if any("Caltha" in text.words for text in words_of(sheet)))
    row = next(text for text in words_of(sheet) if "Caltha" in text.words)
    heads = sorted(text.at[0] for text in words_of(sheet) if text.words in set("JFMASOND") and text.narrow)
    filled = [
        mark.points.mean(axis=0)
        for mark in sheet.marks
        if isinstance(mark, Polyline) and mark.layer == "list" and mark.fill is not None
    ]
    here = sorted(float(east) for east, north in filled if abs(north - row.at[1]) < 1.5)
    assert len(heads) == 12
    assert here == pytest.approx(heads[2:5], abs=0.01)


def test_outlines_come_back_from_the_drawing_in_the_sites_coordinates(
    designed: Design, sheets: tuple[Sheet, ...]
) -> None:
    """Each sheet holds the pockets it shows, each once and nothing else; one on a match line is on both."""
    outlines = [np.sort(placed.outline, axis=0) for placed in planted(designed).pockets]
    seen: set[int] = set()
    for sheet in sheets:
        if not sheet.views:
            continue
        document, _ = recover.read(BytesIO(write_dxf(sheet)))
        lines = [
            np.sort([(x, y) for x, y, *_ in entity.get_points()], axis=0)
            for entity in document.modelspace().query("LWPOLYLINE")
            if entity.dxf.layer == "pocket"
        ]
        found = [
            [
                number
                for number, outline in enumerate(outlines)
                if np.array_equal(line.shape, outline.shape) and np.allclose(line, outline)
            ]
            for line in lines
        ]
        assert all(len(each) == 1 for each in found)
        assert len({number for (number,) in found}) == len(found)
        seen |= {number for (number,) in found}
    assert seen == set(range(len(outlines)))


def test_plants_stand_in_their_pocket_and_apart(designed: Design) -> None:
    from shapely import Point, Polygon

    for placed in planted(designed).pockets:
        shape, begun = Polygon(placed.outline).buffer(1e-6), 0.0
        for each in placed.plants:
            spots = positions(designed, placed, each, begun)
            begun += each.share
            assert len(spots)
            assert all(shape.contains(Point(*spot)) for spot in spots)
            for place, spot in enumerate(spots):
                gaps = np.hypot(*(spots[place + 1 :] - spot).T)
                assert (gaps >= NEAREST * (each.spacing or 0.0) - 1e-9).all()


def test_shares_follow_one_another_along_a_pocket(designed: Design) -> None:
    placed = planted(designed).pockets[0]
    begun, steps = 0.0, len(placed.near) - 1
    for each in placed.plants:
        spots = positions(designed, placed, each, begun)
        middle = (placed.near + placed.far) / 2
        along = np.array([np.argmin(np.hypot(*(middle - spot).T)) / steps for spot in spots])
        assert (along >= begun - 0.05).all()
        assert (along <= begun + each.share + 0.05).all()
        begun += each.share


def test_circles_are_the_spread_in_metres(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    drawn = {
        round(mark.radius * 2, 6)
        for view in sheets[0].views
        for mark in view.marks
        if isinstance(mark, Circle) and mark.layer == "plant" and mark.fill is None
    }
    plants = [each for placed in planted(designed).pockets for each in placed.plants]
    wanted = {
        round(min(each.named.plant.spread, each.spacing), 6) for each in plants if each.named.plant and each.spacing
    }
    assert drawn == wanted


def test_a_long_list_goes_on_and_no_pockets_make_no_sheet(designed: Design) -> None:
    job = designed.job
    pocket = replace(job.planting.pockets[0], plants=job.planting.pockets[0].plants * 3)
    many = tuple(replace(pocket, name=f"pocket {number}") for number in range(12))
    full = replace(designed, job=replace(job, planting=replace(job.planting, pockets=many)))
    planting = planted(full)
    sheets = planting_sheets(full, planting, 1, planting_pages(full, planting))
    assert len(sheets) == planting_pages(full, planting) > 1
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        assert all(low >= LOW - 0.3 for _, _, low, _, _ in boxes_of(sheet))
    empty = replace(designed, job=replace(job, planting=replace(job.planting, pockets=())))
    assert planting_pages(empty, planted(empty)) == 0
    assert planting_sheets(empty, planted(empty), 1, 1) == ()
