"""The as-built sheets: as shot beside as drawn, what lies hidden; where nothing was shot they say so."""

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.base.words import US, metres, millimetres, told_in
from beckwright.compose import Works
from beckwright.papers.drawing import Circle, Polyline, Sheet, Text, plain, seen
from beckwright.papers.pens import RED
from beckwright.papers.seen import Seen, held_against, of_job, seen_in
from beckwright.papers.sheets.as_built.plan import edge_line
from beckwright.papers.sheets.as_built.rows import level_rows
from beckwright.papers.sheets.as_built.sheet import ROWS, as_built_pages, as_built_sheets
from beckwright.readings import as_built, read_shots
from beckwright.site.values import Photograph

from .test_trees_sheet import clashes, outside

EXAMPLES = Path(__file__).parents[2] / "examples"
SHEETS = {"hazel_bank": 2, "larkspur_court": 2, "fennymoor_park": 3, "withy_lane": 2}


@pytest.fixture(scope="module", params=SHEETS)
def case(request: pytest.FixtureRequest) -> tuple[str, Works, Seen]:
    works = Works(design(read_job(EXAMPLES / request.param)))
    return request.param, works, seen_in(EXAMPLES / request.param, works.design)


@pytest.fixture(scope="module")
def sheets(case: tuple[str, Works, Seen]) -> tuple[Sheet, ...]:
    _, works, found = case
    return drawn(works, found)


def drawn(works: Works, found: Seen) -> tuple[Sheet, ...]:
    pages = as_built_pages(works, found)
    sheets = as_built_sheets(works.design, works, pages, 1, pages.count)
    assert len(sheets) == pages.count
    return sheets


def words_of(sheet: Sheet) -> list[Text]:
    return [replace(part, halo=0.0) for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def said_on(sheets: tuple[Sheet, ...]) -> str:
    return " ".join(text.words for sheet in sheets for text in words_of(sheet))


def test_how_many_sheets(case: tuple[str, Works, Seen], sheets: tuple[Sheet, ...]) -> None:
    assert len(sheets) == SHEETS[case[0]]
    assert len({sheet.name for sheet in sheets}) == len(sheets)


def test_words_keep_apart_and_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert not list(clashes(words_of(sheet)))
        assert not outside(words_of(sheet))


def test_labels_of_the_plan_keep_apart(sheets: tuple[Sheet, ...]) -> None:
    """But for chainages on the line, which stand where they are, and letters in the water main."""
    for view in sheets[0].views:
        texts = [part for part in seen(view) if isinstance(part, Text) and part.layer != "chainage"]
        assert not [pair for pair in clashes(texts) if "W" not in pair]


def test_what_was_not_shot_is_not_told_as_shot(case: tuple[str, Works, Seen], sheets: tuple[Sheet, ...]) -> None:
    said = said_on(sheets)
    assert ("nothing shot yet" in said) == (not case[2].shots)
    assert case[2].shots or "as shot" not in " ".join(part.words for part in _plan_words(sheets[0]))


def _plan_words(sheet: Sheet) -> list[Text]:
    return [part for view in sheet.views for part in seen(view) if isinstance(part, Text)]


def test_levels_as_drawn_stand_where_nothing_was_shot(case: tuple[str, Works, Seen]) -> None:
    _, works, found = case
    if found.shots:
        return
    rows = level_rows(works.design, works, found, None)
    at = works.design.course.stations
    for row, peg in zip(rows, works.setting_out.pegs, strict=True):
        assert row.left.shot is row.right.shot is row.middle.shot is None
        station = peg.dug[0].station
        assert row.left.drawn == pytest.approx(float(at.edge_left[station]), abs=1e-9)
        assert row.right.drawn == pytest.approx(float(at.edge_right[station]), abs=1e-9)


def test_shots_stand_as_they_were_read() -> None:
    """Every level of as_built.csv, to the millimetre it was written with, is on the sheet."""
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    sheets = drawn(works, seen_in(EXAMPLES / "hazel_bank", works.design))
    said = {text.words for text in words_of(sheets[1])}
    lines = (EXAMPLES / "hazel_bank" / "as_built.csv").read_text().splitlines()[2:]
    for line in lines:
        place, left, middle, right, _, note = line.split(",")
        # Along a lip the middle column has the mean of what was shot.
        ends = (left, right) if place.startswith(("lip", "source")) else (left, middle, right)
        for level in ends:
            assert not level or level in said, (place, level)
        assert not note or any(note in words for words in said), note


def test_freeboard_is_that_of_the_readings() -> None:
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    found = seen_in(EXAMPLES / "hazel_bank", works.design)
    other = as_built(works.design, read_shots(EXAMPLES / "hazel_bank" / "as_built.csv", works.design.course))
    rows = level_rows(works.design, works, found, held_against(works.design, found)[0])
    boards = sorted(each for row in rows for each in row.freeboard if each is not None)
    assert np.allclose(boards, sorted(float(off.freeboard[-1]) for off in other.edges))
    assert max(row.raised for row in rows) == max(off.raised for off in other.edges)
    low = next(row for row in rows if row.chainage == 8.0)
    # By hand: shot 100.842 under 100.948 as drawn.
    assert low.right.off == pytest.approx(100.842 - 100.948, abs=1e-3)


def test_edges_of_the_job_itself_are_held_against_what_was_drawn() -> None:
    """edges.csv of Withy Lane: drawn is the job's own height of the edge over its bed."""
    each = design(read_job(EXAMPLES / "withy_lane"))
    found = of_job(each)
    built, trouble = held_against(each, found)
    assert not trouble
    assert built is not None
    first = next(off for off in built.edges if off.what == "left edge" and off.chainage == 0.0)
    assert first.shot == 49.103
    assert first.drawn == pytest.approx(float(each.course.stations.rim[0]) + each.job.course.edge_above_bed, abs=1e-6)


def test_low_edges_are_red_on_the_plan_where_they_lie() -> None:
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    sheets = drawn(works, seen_in(EXAMPLES / "hazel_bank", works.design))
    view = sheets[0].views[0]
    spots = [
        part.at for part in seen(view) if isinstance(part, Circle) and part.fill == RED and part.layer == "low edge"
    ]
    line = edge_line(works.design, -1.0)
    chain = works.design.course.stations.chainage
    at = np.array([[np.interp(8.0, chain, line[:, axis]) for axis in (0, 1)]])
    wanted = view.window.on_paper(at)[0]
    assert min(float(np.hypot(*(np.array(spot) - wanted))) for spot in spots) < 1e-6


def test_what_lies_hidden_is_told(case: tuple[str, Works, Seen], sheets: tuple[Sheet, ...]) -> None:
    _, works, _ = case
    said, job = said_on(sheets[:1]), works.design.job
    assert metres(job.route.length) in said
    for service in job.site.services:
        assert service.name in said
        assert service.depth is None or f"{millimetres(service.depth)} down as told" in said
    for lap in works.lining.laps:
        assert f"lap in {lap.place}" in said
    if len(job.route.line) > 1:
        hoses = [mark for mark in sheets[0].views[0].marks if isinstance(mark, Polyline) and mark.layer == "hose"]
        assert hoses
    for given in works.design.supply.chosen.flows:
        assert given.name in said


def test_a_file_that_cannot_be_read_is_told_and_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "as_built.csv").write_text("place,left_m\nlip 9,100.0\n")
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    found = seen_in(tmp_path, works.design)
    assert not found.shots
    said = said_on(drawn(works, found)[:1])
    assert "as_built.csv line 2" in said
    assert "nothing shot yet" in said


def test_lips_that_cannot_be_are_told_and_their_levels_kept(tmp_path: Path) -> None:
    """A lip shot over the one before it: water does not climb. What was read stands in the table all the same."""
    (tmp_path / "as_built.csv").write_text("place,left_m,middle_m,right_m\nlip 2,103.111,,103.113\n")
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    sheets = drawn(works, seen_in(tmp_path, works.design))
    assert "103.111" in said_on(sheets[1:])
    assert "rebuilt there" in said_on(sheets[:1])
    assert not list(clashes(words_of(sheets[0])))


def test_photographs_are_listed_by_chainage() -> None:
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    moment = datetime(2026, 10, 5, 9, 30, tzinfo=UTC)
    pictures = tuple(
        Photograph(
            number=number,
            digest=f"{number:064x}",
            form="image/jpeg",
            size=1000,
            chainage=None if number == 3 else 12.5 - number / 10,
            seen=moment,
            kept=moment,
            note=f"hose in its trench {number}",
        )
        for number in range(1, ROWS + 5)
    )
    sheets = drawn(works, Seen(photographs=pictures))
    listed = [sheet for sheet in sheets if "photographs" in sheet.name]
    assert len(listed) == 2
    said = [text.words for sheet in listed for text in words_of(sheet)]
    shown = [float(words[:-2]) for words in said if re.fullmatch(r"[\d.]+ m", words)]
    assert shown == sorted(shown)
    assert all(f"Hose in its trench {number}" in said for number in range(1, ROWS + 5))
    for sheet in listed:
        assert not list(clashes(words_of(sheet)))
        assert not outside(words_of(sheet))


def test_told_in_us() -> None:
    with told_in(US):
        works = Works(design(read_job(EXAMPLES / "hazel_bank")))
        sheets = drawn(works, seen_in(EXAMPLES / "hazel_bank", works.design))
        said = said_on(sheets)
        # 101.645 m over 0.3048 m to the foot (NIST SP 811): 333.481 ft.
        assert "333.481" in said
        assert not [text.words for text in words_of(sheets[1]) if re.search(r"\d (mm|m)\b", text.words)]
        for sheet in sheets:
            assert not list(clashes(words_of(sheet)))
            assert not outside(words_of(sheet))
