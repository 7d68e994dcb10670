"""The tree sheets: every circle is there, its numbers are the stages' own, and it asks rather than answers."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TypeGuard

import numpy as np
import pytest

from beckwright import Design, design, read_job
from beckwright.base.words import US, metres, millimetres, told_in, with_unit
from beckwright.compose import Works
from beckwright.papers.drawing import Circle, Polyline, Sheet, Text, laid, plain, seen
from beckwright.papers.labels import text_box
from beckwright.papers.pens import RED, ROOT_CIRCLE
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.papers.sheets.trees.sheet import tree_pages, tree_sheets
from beckwright.stages.earthworks.roots import root_work

EXAMPLES = Path(__file__).parents[2] / "examples"
SHEETS = {"hazel_bank": 2, "larkspur_court": 0, "fennymoor_park": 3, "withy_lane": 1}
VERDICTS = (" safe", " ok ", " good", "acceptable", "approved", "permitted", "compliant", "harmless")


@pytest.fixture(scope="module", params=SHEETS)
def works(request: pytest.FixtureRequest) -> Works:
    return Works(design(read_job(EXAMPLES / request.param)))


@pytest.fixture(scope="module")
def sheets(works: Works) -> tuple[Sheet, ...]:
    return tree_sheets(works.design, works, 1, len(tree_pages(works.design)))


def words_of(sheet: Sheet) -> list[Text]:
    return [replace(part, halo=0.0) for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def said_on(sheet: Sheet) -> str:
    return " ".join(text.words for text in words_of(sheet))


def clashes(texts: list[Text]) -> Iterator[tuple[str, str]]:
    """Words that lie on each other; a touch of 0.6 mm is allowed, as on every sheet."""
    boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts])
    wide = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
    high = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
    for one, other in np.argwhere(np.triu((wide > 0.3) & (high > 0.6), 1)):
        yield texts[one].words, texts[other].words


def outside(texts: list[Text]) -> list[str]:
    found = []
    for text in texts:
        (left, low), (right, high) = text_box(text).min(axis=0), text_box(text).max(axis=0)
        inside = left >= LEFT - 0.3 and right <= LEFT + WIDE + 0.3 and low >= LOW - 0.3 and high <= LOW + HIGH + 0.3
        found += [] if inside else [text.words]
    return found


def test_neighbouring_trees_share_a_sheet_and_each_has_one(works: Works, sheets: tuple[Sheet, ...]) -> None:
    wanted = next(count for name, count in SHEETS.items() if read_job(EXAMPLES / name).title == works.design.job.title)
    assert len(sheets) == wanted
    heads = [text.words for sheet in sheets for text in words_of(sheet)]
    for circle in works.design.surroundings.circles:
        assert heads.count(f"{circle.tree.species} {circle.tree.name}") == 1


def test_words_keep_apart_and_inside_the_frame(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert not list(clashes(words_of(sheet)))
        assert not outside(words_of(sheet))


def test_labels_of_the_plan_keep_apart(sheets: tuple[Sheet, ...]) -> None:
    """Red labels must be read: none under another. Letters of heaps and numbers of pegs stand in the ground."""
    for sheet in sheets:
        for view in sheet.views:
            texts = [part for part in seen(view) if isinstance(part, Text) and part.colour == RED and part.words != "W"]
            assert not list(clashes(texts))


def test_each_circle_is_drawn_twelve_stems_wide(works: Works, sheets: tuple[Sheet, ...]) -> None:
    """BS 5837:2012 4.6.1: twelve times the stem; on paper, at the sheet's own scale."""
    for sheet in sheets:
        for view in sheet.views:
            rings = [
                laid(mark, view.window) for mark in view.marks if isinstance(mark, Circle) and mark.pen == ROOT_CIRCLE
            ]
            radii = {round(ring.radius, 6) for ring in rings if isinstance(ring, Circle)}
            for tree in works.design.job.site.trees:
                if len(tree.stems) == 1 and tree.stems[0] < 1.25:
                    assert round(12 * tree.stems[0] * 1000 / view.window.scale, 6) in radii


def test_numbers_are_those_of_the_stages(works: Works, sheets: tuple[Sheet, ...]) -> None:
    said = " ".join(map(said_on, sheets))
    for circle in works.design.surroundings.circles:
        row = root_work(circle, works.groundwork, works.design.course)
        assert metres(circle.radius) in said
        assert millimetres(circle.stem) in said
        if row.digs:
            assert f"{with_unit(row.cut, 'm³'):,.2f}, up to {millimetres(circle.deepest)} deep" in said
        if row.fills:
            assert f"{with_unit(row.filled, 'm³'):,.2f}, up to {millimetres(circle.highest)} high" in said
        if circle.works:
            assert metres(circle.closest) in said


def test_protected_trees_are_asked_about_and_nothing_is_judged(works: Works, sheets: tuple[Sheet, ...]) -> None:
    said = " ".join(map(said_on, sheets))
    for circle in works.design.surroundings.circles:
        name = f"{circle.tree.species[0].upper()}{circle.tree.species[1:]} {circle.tree.name}"
        assert f"{name}, {'protected: may this be done' if circle.tree.protected else 'told as not protected'}" in said
    assert not [word for word in VERDICTS if word in f" {said.lower()} "]


def test_the_fence_stands_clear_of_everything_that_is_dug_or_banked(works: Works, sheets: tuple[Sheet, ...]) -> None:
    """Whoever digs inside a circle must get there: no fence across a dig, by the outlines that are set out."""
    from shapely import LineString, Polygon, make_valid

    digs = [make_valid(Polygon(line)) for line in works.setting_out.outlines]
    for sheet in sheets:
        fences = [mark.points for view in sheet.views for mark in view.marks if _is_fence(mark)]
        assert fences
        assert min(LineString(fence).distance(dug) for fence in fences for dug in digs) > 0.9


def _is_fence(mark: object) -> TypeGuard[Polyline]:
    return isinstance(mark, Polyline) and mark.layer == "fence"


def test_told_in_us_no_metre_is_left() -> None:
    with told_in(US):
        works = Works(design(read_job(EXAMPLES / "hazel_bank")))
        sheets = tree_sheets(works.design, works, 1, 2)
        said = " ".join(map(said_on, sheets))
        radius = next(each.radius for each in works.design.surroundings.circles if each.tree.name == "T1")
        # 7.44 m over 0.3048 m to the foot (NIST SP 811): 24.41 ft.
        assert f"{radius / 0.3048:.2f} ft" in said
        assert "24.41 ft" in said
        assert not [text.words for sheet in sheets for text in words_of(sheet) if " mm" in text.words]
        for sheet in sheets:
            assert not list(clashes(words_of(sheet)))
            assert not outside(words_of(sheet))


def test_what_comes_to_nothing_is_not_told(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        assert not [text.words for text in words_of(sheet) if "0.00 m³" in text.words or " 0 mm" in text.words]


def flat(designed: Design) -> Works:
    """The same job without topsoil: what is cut is then counted from the ground itself."""
    job = replace(designed.job, site=replace(designed.job.site, topsoil=0.0))
    return Works(design(job, designed.ground))


def test_a_circle_round_everything_holds_all_that_is_moved() -> None:
    """Conservation: a circle as wide as the site has the whole of the stream's own cut and fill inside it.

    The parts count triangle by triangle, the circle by mean end areas: 2 % apart at most where the pit lies clear of
    the course, as it does here.
    """
    works = flat(design(read_job(EXAMPLES / "fennymoor_park")))
    each = works.design
    wide = replace(each.surroundings.circles[0], radius=500.0)
    row = root_work(wide, works.groundwork, each.course)
    pit = {"pit", "trench", "strip"}
    parts = [part for part in works.groundwork.parts if part.kind not in pit and part.kind != "source"]
    assert row.cut == pytest.approx(sum(part.cut for part in parts), rel=0.02)
    assert row.filled == pytest.approx(sum(part.fill for part in parts), rel=0.02)
    trench = next(part for part in works.groundwork.parts if part.kind == "trench")
    assert row.trench_cut == pytest.approx(trench.cut, rel=0.02)
    assert set(row.heaps) == {heap.name for heap in works.groundwork.heaps}


def test_two_half_circles_of_nothing_hold_nothing() -> None:
    """A circle far from the works holds nothing of them."""
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    circle = works.design.surroundings.circles[0]
    away = replace(circle, tree=replace(circle.tree, at=(500.0, 500.0)), hose_spans=())
    row = root_work(away, works.groundwork, works.design.course)
    assert row.nothing
    assert (row.cut, row.filled, row.cut_plan, row.filled_plan, row.pit_plan, row.trench) == (0.0,) * 6


def test_the_pit_with_its_sides_is_a_circle_cut_from_a_square() -> None:
    """Geometry: a small circle in the middle of the pit lies in it whole, pi r squared of it."""
    works = Works(design(read_job(EXAMPLES / "hazel_bank")))
    circle = works.design.surroundings.circles[0]
    middle = tuple(works.design.job.reservoir.centre)
    small = replace(circle, tree=replace(circle.tree, at=middle), radius=0.5)
    row = root_work(small, works.groundwork, works.design.course)
    assert row.pit_plan == pytest.approx(np.pi * 0.25, rel=1e-3)
