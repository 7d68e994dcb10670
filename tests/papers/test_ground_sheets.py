"""Dig sheets, setting-out sheets and sections: complete, true to the values, true to scale, nothing overlapping."""

import re
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from itertools import chain
from pathlib import Path

import numpy as np
import pytest
from ezdxf import recover
from hypothesis import given
from hypothesis import strategies as st

from beckwright import Design, design, read_job
from beckwright.papers import fonts
from beckwright.papers.drawing import Polyline, Sheet, Text, View, laid, plain
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.ground.dig import dig_count, dig_pages, dig_sheets
from beckwright.papers.sheets.ground.plan import heap_letters
from beckwright.papers.sheets.ground.sections import section_count, section_cuts, section_sheets
from beckwright.papers.sheets.ground.setting_out import level_pages, setting_out_count, setting_out_sheets
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.papers.sheets.shared.spread import spread
from beckwright.stages.earthworks import Groundwork, dig
from beckwright.stages.setting_out import SettingOut, set_out
from beckwright.stages.water.beds import HIGH as HIGH_BAND

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
Box = tuple[float, float, float, float]


@pytest.fixture(scope="module", params=NAMES)
def designed(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / request.param))


@pytest.fixture(scope="module")
def works(designed: Design) -> Groundwork:
    return dig(designed.job, designed.course, designed.ground, designed.reservoir.pit, designed.surroundings)


@pytest.fixture(scope="module")
def done(designed: Design, works: Groundwork) -> SettingOut:
    return set_out(designed.job, designed.course, designed.ground, designed.surroundings, works)


@pytest.fixture(scope="module")
def digs(designed: Design, works: Groundwork, done: SettingOut) -> tuple[Sheet, ...]:
    return dig_sheets(designed, works, done, 11, 90)


@pytest.fixture(scope="module")
def pegged(designed: Design, works: Groundwork, done: SettingOut) -> tuple[Sheet, ...]:
    return setting_out_sheets(designed, works, done, 11, 90)


@pytest.fixture(scope="module")
def across(designed: Design, works: Groundwork, done: SettingOut) -> tuple[Sheet, ...]:
    return section_sheets(designed, works, done, 11, 90)


@pytest.fixture(scope="module")
def sheets(digs: tuple[Sheet, ...], pegged: tuple[Sheet, ...], across: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    return (*digs, *pegged, *across)


def words_of(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Text):
                yield replace(part, halo=0.0)


def words_in(view: View) -> Iterator[Text]:
    """Words whose place lies inside the window; the rest are cut off at its rim."""
    (left, low), (wide, high) = view.window.corner, view.window.size
    for mark in view.marks:
        for part in plain(laid(mark, view.window)):
            if isinstance(part, Text) and left <= part.at[0] <= left + wide and low <= part.at[1] <= low + high:
                yield replace(part, halo=0.0)


def box_of(text: Text) -> Box:
    box = text_box(text)
    left, low = box.min(axis=0).tolist()
    right, high = box.max(axis=0).tolist()
    return left, low, right, high


def said_on(sheet: Sheet) -> set[str]:
    return {text.words for text in chain(words_of(sheet), *map(words_in, sheet.views))}


def to_5_mm(length: float) -> set[str]:
    """A length as a tape shows it: either neighbour where it lies halfway between two."""
    return {f"{round((length + nudge) * 200) / 200:.3f}".replace("-", "\u2212") for nudge in (-1e-9, 1e-9)}


def test_there_are_as_many_as_were_counted(
    designed: Design,
    works: Groundwork,
    done: SettingOut,
    digs: tuple[Sheet, ...],
    pegged: tuple[Sheet, ...],
    across: tuple[Sheet, ...],
) -> None:
    assert len(digs) == dig_count(done)
    assert len(pegged) == setting_out_count(done)
    assert len(across) == section_count(designed, works, done)


def test_each_stands_alone(designed: Design, sheets: tuple[Sheet, ...]) -> None:
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        said = said_on(sheet)
        assert any(words.endswith("/90") for words in said)
        assert designed.job.title.date in said
        assert any(designed.job.datum.name in words for words in said)
        assert designed.job.title.name in sheet.description + sheet.title


def test_sheets_are_numbered_on(digs: tuple[Sheet, ...], pegged: tuple[Sheet, ...], across: tuple[Sheet, ...]) -> None:
    for group in (digs, pegged, across):
        for number, sheet in enumerate(group, 11):
            assert f"{number}/90" in said_on(sheet)


def test_words_stay_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        for text in words_of(sheet):
            left, low, right, high = box_of(text)
            inside = left >= LEFT - 0.3 and right <= LEFT + WIDE + 0.3 and low >= LOW - 0.3 and high <= LOW + HIGH + 0.3
            assert inside, (sheet.name, text.words)


def test_words_do_not_lie_on_each_other(sheets: tuple[Sheet, ...]) -> None:
    """In the drawings too. A touch is allowed: boxes hold the letters that reach highest and lowest."""
    for sheet in sheets:
        texts = [*words_of(sheet), *chain(*map(words_in, sheet.views))]
        boxes = np.array([box_of(text) for text in texts])
        shared_x = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        shared_y = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.triu((shared_x > 0.3) & (shared_y > 0.6), 1)
        assert not clash.any(), (sheet.name, [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5])


def test_every_word_can_be_printed(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert not fonts.unprintable("".join(said_on(sheet))), sheet.name


class TestDig:
    def test_depths_are_the_values_in_digits_of_12_mm(self, digs: tuple[Sheet, ...], done: SettingOut) -> None:
        huge = [text for sheet in digs[2:] for text in words_of(sheet) if text.height >= 12.0]
        wanted = [f"{cut.below:.2f}" for peg in done.pegs for cut in peg.dug]
        assert [text.words for text in huge] == wanted
        assert all(text.weight == 700 for text in huge)

    def test_a_row_says_what_its_peg_says(self, digs: tuple[Sheet, ...], done: SettingOut) -> None:
        rows = [row for page in dig_pages(done) for row in page]
        assert [(row.peg.number, row.dug.station) for row in rows] == [
            (peg.number, cut.station) for peg in done.pegs for cut in peg.dug
        ]
        for sheet, page in zip(digs[2:], dig_pages(done), strict=True):
            said = [text.words for text in words_of(sheet)]
            for row in page:
                assert f"{row.peg.chainage:.2f} m" in said
                for each in (row.dug.floor[0], -row.dug.floor[1], *row.dug.edges_below, abs(row.dug.lift)):
                    assert f"{each:.2f}" in said
            assert said.count("by hand") == sum(bool(row.peg.by_hand) for row in page)
            assert said.count("dig") == sum(row.dug.lift >= 0 for row in page)
            assert said.count("fill") == sum(row.dug.lift < 0 for row in page)

    def test_both_rows_of_a_peg_stand_on_one_sheet(self, done: SettingOut) -> None:
        pages = [{row.peg.number for row in page} for page in dig_pages(done)]
        assert sum(map(len, pages)) == len(done.pegs)

    def test_every_peg_of_a_sheet_is_numbered_on_its_plan(self, digs: tuple[Sheet, ...], done: SettingOut) -> None:
        for sheet, page in zip(digs[2:], dig_pages(done), strict=True):
            drawn = {text.words for text in words_in(sheet.views[0])}
            for row in page:
                assert f"{row.peg.number}" in drawn, (sheet.name, row.peg.number)

    def test_the_site_names_what_must_be_kept_from(
        self, designed: Design, works: Groundwork, digs: tuple[Sheet, ...]
    ) -> None:
        site = digs[0]
        (view,) = site.views
        (left, low), (wide, high) = view.window.corner, view.window.size
        drawn = [text.words for text in words_in(view)]

        def seen(at: tuple[float, float]) -> bool:
            x, y = view.window.on_paper(np.array([at]))[0]
            return bool(left < x < left + wide and low < y < low + high)

        for tree in designed.job.site.trees:
            assert not seen(tree.at) or any(tree.name in words and "keep out" in words for words in drawn), tree.name
        for letter, heap in zip(heap_letters(works.heaps), works.heaps, strict=True):
            assert letter in drawn
            assert seen(heap.at)
        assert all(seen(tuple(corner)) for corner in works.pit.floor)

    def test_every_service_on_the_site_says_dig_by_hand(self, designed: Design, digs: tuple[Sheet, ...]) -> None:
        """All of the examples' services have a part on the plan of their site."""
        drawn = " ".join(text.words.lower() for text in words_in(digs[0].views[0]))
        for service in designed.job.site.services:
            assert f"{service.name.lower()}, " in drawn
        assert drawn.count("dig by hand") == len(designed.job.site.services)

    def test_soil_and_loads_are_the_ground_works(self, works: Groundwork, digs: tuple[Sheet, ...]) -> None:
        said = " ".join(text.words for text in words_of(digs[0]))
        for row in works.balances:
            assert ("Away" if row.left >= 0 else "Bring") in said
            if row.loads:
                assert f"{row.loads} load" in said
        for heap in works.heaps:
            assert f"{heap.loose:.1f} m³" in said

    def test_cautions_are_on_the_sheet(self, digs: tuple[Sheet, ...]) -> None:
        said = " ".join(text.words for text in words_of(digs[0])).lower()
        for wanted in (
            "traced",
            "not supported",
            "competent person",
            "before each shift",
            "roots by hand",
            "local rules",
        ):
            assert wanted in said

    def test_the_pit_is_told_as_it_is_set_out(self, digs: tuple[Sheet, ...], done: SettingOut) -> None:
        said = " ".join(said_on(digs[1]))
        pit = done.pit
        assert f"{pit.below:.2f}" in said
        assert f"{pit.sides[0]:.2f} by {pit.sides[1]:.2f}" in said
        assert any(f"diagonals {length}" in said for length in to_5_mm(pit.diagonals[0]))
        for line in pit.pegs:
            assert f"{line.name}: {line.beyond:.2f} beyond {line.corner}" in said


class TestSettingOut:
    def test_every_peg_says_its_own(self, pegged: tuple[Sheet, ...], done: SettingOut) -> None:
        said = {text.words for sheet in pegged for text in words_of(sheet)}
        shown = (words.replace("\u2212", "-") for words in said)
        numbers = [float(words) for words in shown if re.fullmatch(r"-?\d+\.\d\d", words)]
        assert "\u22120.00" not in said
        for peg in done.pegs:
            assert to_5_mm(peg.nail) & said
            assert to_5_mm(peg.across) & said
            for spot in (peg.spot, peg.left.spot, peg.right.spot):
                for each in spot.at:
                    assert any(abs(number - each) <= 0.005 + 1e-9 for number in numbers)
                assert spot.tapes is not None
                for tape in (spot.tapes.first, spot.tapes.second):
                    assert {f"{tape.mark} {length}" for length in to_5_mm(tape.length)} & said
            for cut in peg.dug:
                assert f"{cut.below:.2f} dig" in said
                assert all({f"{length} edge" for length in to_5_mm(below)} & said for below in cut.edges_below)
            if peg.lip_below is not None:
                assert f"{peg.lip_below:.3f}" in said

    def test_three_rows_to_a_peg(self, pegged: tuple[Sheet, ...], done: SettingOut) -> None:
        said = [text.words for sheet in pegged for text in words_of(sheet)]
        for word in ("L", "line", "R"):
            assert said.count(word) == len(done.pegs)

    def test_marks_and_pit_are_there(self, pegged: tuple[Sheet, ...], done: SettingOut) -> None:
        said = [text.words for text in words_of(pegged[0])]
        for mark in done.marks:
            assert mark.name in said
        for corner in done.pit.corners:
            assert {f"{corner.name} floor", f"{corner.name} top"} <= set(said)

    def test_findings_of_setting_out_are_on_it(self, pegged: tuple[Sheet, ...], done: SettingOut) -> None:
        said = " ".join(text.words for text in words_of(pegged[0]))
        for finding in done.findings:
            assert finding.cure in said, finding.code

    def test_every_level_is_told_with_its_tolerance(self, pegged: tuple[Sheet, ...], done: SettingOut) -> None:
        pages = level_pages(done)
        assert [row for page in pages for row in page] == list(done.levels)
        for sheet, page in zip(pegged[-len(pages) :], pages, strict=True):
            said = {text.words for text in words_of(sheet)}
            for row in page:
                fine = row.tolerance < 0.005
                assert ({f"{row.level:.3f}"} if fine else to_5_mm(row.level)) & said
                assert f"{row.tolerance * 1000:.0f}" in said


class TestSections:
    def test_every_change_has_one(self, done: SettingOut) -> None:
        drawn = {cut.dug.station for cut in section_cuts(done)}
        for peg in done.pegs:
            if peg.places:
                assert {cut.station for cut in peg.dug} <= drawn

    def test_natural_scale_of_a_rule(self, across: tuple[Sheet, ...]) -> None:
        scales = {view.window.scale for sheet in across for view in sheet.views}
        assert scales == {view.window.scale_up for sheet in across for view in sheet.views}
        assert len(scales) == 1
        assert scales <= {10.0, 20.0, 25.0, 50.0}

    def test_levels_are_those_of_the_design(
        self, designed: Design, across: tuple[Sheet, ...], done: SettingOut
    ) -> None:
        at, water = designed.course.stations, designed.water
        said = {text.words for sheet in across for text in words_of(sheet)}
        for cut in section_cuts(done):
            row = cut.dug.station
            wet = float(water.level[HIGH_BAND][:, row].max())
            for level in (at.ground[row], at.dig[row], at.liner[row], at.bed[row], at.edge_left[row], wet):
                assert to_5_mm(float(level)) & said
            for offset in (*cut.dug.edges, *cut.dug.floor, *cut.dug.works):
                assert f"{abs(offset):.2f}" in said

    def test_lining_is_drawn_where_it_lies(self, designed: Design, across: tuple[Sheet, ...], done: SettingOut) -> None:
        at = designed.course.stations
        views = [view for sheet in across for view in sheet.views]
        for view, cut in zip(views, section_cuts(done), strict=True):
            (line,) = [mark for mark in view.marks if isinstance(mark, Polyline) and mark.layer == "liner"]
            row = cut.dug.station
            left, right = line.points[0], line.points[-1]
            # Left stands on the left: offsets to the left are below 0 on the paper.
            assert left == pytest.approx((-cut.dug.edges[0], at.edge_left[row]), abs=1e-9)
            assert right == pytest.approx((-cut.dug.edges[1], at.edge_right[row]), abs=1e-9)
            assert line.points[:, 1].min() == pytest.approx(at.liner[row], abs=1e-6)

    def test_nothing_drawn_is_cut_off_between_the_toes(self, across: tuple[Sheet, ...]) -> None:
        for sheet in across:
            for view in sheet.views:
                (left, low), (wide, high) = view.window.corner, view.window.size
                for mark in view.marks:
                    if isinstance(mark, Polyline) and mark.layer in ("liner", "dig level"):
                        paper = view.window.on_paper(mark.points)
                        assert (paper >= np.array((left, low)) - 1e-6).all()
                        assert (paper <= np.array((left + wide, low + high)) + 1e-6).all()


def test_plans_open_as_dxf_with_the_sites_own_coordinates(digs: tuple[Sheet, ...], done: SettingOut) -> None:
    document, _ = recover.read(BytesIO(write_dxf(digs[2])))
    assert not document.audit().errors
    assert document.header["$INSUNITS"] == 6
    strings = [
        np.array([(x, y) for x, y, *_ in entity.get_points()])
        for entity in document.modelspace().query("LWPOLYLINE")
        if entity.dxf.layer == "string"
    ]
    ends = np.array([side.spot.at for peg in done.pegs for side in (peg.left, peg.right)])
    drawn = np.vstack(strings)
    gap = np.abs(drawn[:, None, :] - ends[None, :, :]).max(axis=2)
    # Strings that leave the sheet are cut at its rim; those of its own pegs are whole.
    own = [row.peg for row in dig_pages(done)[0]]
    for peg in own:
        for side in (peg.left, peg.right):
            assert np.abs(drawn - side.spot.at).max(axis=1).min() < 1e-9
    assert (gap.min(axis=1) < 1e-9).sum() >= 2 * len({peg.number for peg in own})


@given(
    wanted=st.lists(st.floats(-100, 100), min_size=1, max_size=12),
    gap=st.floats(0.1, 10.0),
)
def test_spread_keeps_order_and_distance_and_moves_nothing_that_has_room(wanted: list[float], gap: float) -> None:
    places = spread(wanted, gap)
    order = np.argsort(wanted, kind="stable")
    assert np.all(np.diff(places[order]) >= gap - 1e-9)
    # The mean of what is pushed apart stays: nothing drifts.
    assert places.mean() == pytest.approx(np.mean(wanted), abs=1e-9)
    if np.all(np.diff(np.sort(wanted)) >= gap):
        assert places == pytest.approx(np.array(wanted), abs=1e-9)
