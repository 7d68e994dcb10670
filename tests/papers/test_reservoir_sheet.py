"""The reservoir sheet of all examples: whole crates at true scale, inside the frame, nothing overlapping, numbers held.

Expected values are those of the design and of the crates' stage, read anew; levels and sizes are laid back from the
paper with the scale that the sheet prints. Hand counts of crates stand beside the checks that use them.
"""

from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from ezdxf import recover

from beckwright import Design, design, read_job
from beckwright.base.words import kilopascals, share
from beckwright.compose import Works
from beckwright.papers.drawing import Polyline, Sheet, Text, View, laid, plain, seen
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.labels import text_box
from beckwright.papers.parts import PARTS
from beckwright.papers.sheets.ground.setting_out import to_5_mm
from beckwright.papers.sheets.reservoir.place import standing
from beckwright.papers.sheets.reservoir.sheet import reservoir_sheet
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
MOST_OUT = 0.3
HAND_COUNT = {"Hazel Bank": (10, 10), "Fennymoor Park": (43, 43)}
"""Crates drawn layer by layer. By hand: 2.40 x 1.60 takes 12 of 0.80 x 0.40, 7.00 x 3.50 takes 49 of 1.00 x 0.50; a
chamber of 0.59 in a corner reaches into 2 of the lower layer, one of 1.04 into 2 along by 3 across."""


@pytest.fixture(scope="module", params=NAMES)
def works(request: pytest.FixtureRequest) -> Works:
    return Works(design(read_job(EXAMPLES / request.param)))


@pytest.fixture(scope="module")
def designed(works: Works) -> Design:
    return works.design


@pytest.fixture(scope="module")
def sheet(works: Works) -> Sheet:
    return reservoir_sheet(works.design, works, 9, 30)


def words_of(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        yield from (replace(part, halo=0.0) for part in plain(mark) if isinstance(part, Text))


def words_in_views(sheet: Sheet) -> Iterator[Text]:
    for view in sheet.views:
        yield from (replace(part, halo=0.0) for part in seen(view) if isinstance(part, Text))


def corners(text: Text) -> tuple[float, float, float, float]:
    box = text_box(text)
    return (*box.min(axis=0), *box.max(axis=0))


def on_layer(view: View, layer: str) -> list[np.ndarray]:
    """Lines of a layer in metres, laid back from where they lie on the paper."""
    lines = [mark for mark in view.marks if isinstance(mark, Polyline) and mark.layer == layer]
    return [view.window.on_site(laid(line, view.window).points) for line in lines]  # type: ignore[union-attr]


def plans_of(sheet: Sheet) -> list[View]:
    return [view for view in sheet.views if view.name.startswith("plan")]


def section_of(sheet: Sheet) -> View:
    return next(view for view in sheet.views if view.name == "section")


def test_inside_the_frame(sheet: Sheet) -> None:
    for text in (*words_of(sheet), *words_in_views(sheet)):
        left, low, right, high = corners(text)
        assert left >= LEFT - MOST_OUT, text.words
        assert right <= LEFT + WIDE + MOST_OUT, text.words
        assert low >= LOW - MOST_OUT, text.words
        assert high <= LOW + HIGH + MOST_OUT, text.words


def test_words_do_not_lie_on_each_other(sheet: Sheet) -> None:
    texts = [*words_of(sheet), *words_in_views(sheet)]
    boxes = np.array([corners(text) for text in texts])
    shared_x = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
    shared_y = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
    clash = np.triu((shared_x > 0.3) & (shared_y > 0.6), 1)
    assert not clash.any(), [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5]


def test_words_on_the_drawings_are_not_cut_off_at_the_rim(sheet: Sheet) -> None:
    for view in sheet.views:
        (left, low), (wide, high) = view.window.corner, view.window.size
        for text in (replace(part, halo=0.0) for part in seen(view) if isinstance(part, Text)):
            box = corners(text)
            assert box[0] >= left - MOST_OUT, text.words
            assert box[1] >= low - MOST_OUT, text.words
            assert box[2] <= left + wide + MOST_OUT, text.words
            assert box[3] <= low + high + MOST_OUT, text.words


def test_whole_crates_are_drawn_inside_the_pit_and_none_over_another(designed: Design, sheet: Sheet) -> None:
    pit = designed.job.reservoir
    for view in plans_of(sheet):
        crates = on_layer(view, "crates")
        for crate in crates:
            assert sorted(np.ptp(crate, axis=0)) == pytest.approx(sorted((pit.crate or ())[:2]), abs=1e-6)
            assert crate.min() > -1e-6
            assert (crate.max(axis=0) < np.array([pit.length, pit.width]) + 1e-6).all()
        taken = [*crates, *on_layer(view, "chamber")[:1]]
        for number, one in enumerate(taken):
            for other in taken[number + 1 :]:
                shared = np.minimum(one.max(axis=0), other.max(axis=0)) - np.maximum(one.min(axis=0), other.min(axis=0))
                assert shared.min() < 1e-6


def test_as_many_crates_are_drawn_as_are_bought(works: Works, sheet: Sheet) -> None:
    drawn = [len(on_layer(view, "crates")) for view in plans_of(sheet)]
    if works.crates is None:
        assert drawn == [0]
        return
    assert tuple(drawn) == HAND_COUNT[works.design.job.title.name]
    assert sum(drawn) == works.crates.count
    assert f"{works.crates.count}" in {text.words for text in words_of(sheet)}


def test_the_bond_is_shown_over_the_joints_beneath(works: Works, sheet: Sheet) -> None:
    plans = plans_of(sheet)
    if works.crates is None:
        assert len(plans) == 1
        return
    lower, upper = plans
    assert not on_layer(lower, "layer under")
    beneath, drawn = on_layer(upper, "layer under"), on_layer(lower, "crates")
    assert np.array(beneath) == pytest.approx(np.array(drawn), abs=1e-6)
    assert any(share(works.crates.stacked) in text.words for text in words_of(sheet))


def test_the_section_stands_at_its_levels(designed: Design, sheet: Sheet) -> None:
    pit, view = designed.reservoir.pit, section_of(sheet)
    liner = on_layer(view, "liner")[0]
    assert (liner[:, 1].min(), liner[:, 1].max()) == pytest.approx((pit.sump_floor, pit.cover), abs=1e-6)
    assert np.ptp(liner[:, 0]) == pytest.approx(designed.job.reservoir.length, abs=1e-6)
    assert on_layer(view, "pump least")[0][:, 1] == pytest.approx(pit.pump_minimum, abs=1e-6)
    assert on_layer(view, "overflow")[0][:, 1].min() == pytest.approx(pit.overflow, abs=1e-6)
    assert view.window.scale == view.window.scale_up
    for drawn in (view, *plans_of(sheet)):
        assert any(f"1:{drawn.window.scale:g}" in text.words for text in words_of(sheet))


def test_every_level_is_named(designed: Design, sheet: Sheet) -> None:
    pit = designed.reservoir.pit
    said = {text.words.split(" ")[0]: text.words for text in words_in_views(sheet) if text.layer == "levels"}
    for level, words in (
        (pit.cover, "cover and lid"),
        (pit.overflow, "overflow"),
        (pit.rested, "rest, pump off"),
        (pit.pump_minimum, "pump stops"),
        (pit.sump_floor, "pump stands"),
    ):
        assert words in said[to_5_mm(level)]
    winter, ground = designed.job.site.groundwater_winter, designed.reservoir.ground_level
    told = [words for words in said.values() if "winter water" in words]
    if winter is None or ground is None:
        assert not told
    else:
        assert told[0].startswith(to_5_mm(ground - winter))


def test_running_levels_are_lines_where_water_is_not_missing(designed: Design, sheet: Sheet) -> None:
    """Everyday and largest flow, high and low end; a level below the floor is said, not drawn."""
    lines = {round(float(line[0, 1]), 6) for line in on_layer(section_of(sheet), "running water")}
    running, names = designed.reservoir.running, designed.water.names
    largest = running[:, int(np.argmax(designed.water.flows))]
    drawn = {round(float(level), 6) for level in (largest.min(), largest.max()) if level > designed.reservoir.pit.floor}
    assert drawn <= lines
    assert all(any(abs(line - level) < 1e-6 for level in running.ravel()) for line in lines)
    short = largest.max() <= designed.reservoir.pit.floor
    said = {text.words for text in words_of(sheet)}
    assert ("below the floor: water is missing" in said) == short
    assert f"level while {names[int(np.argmax(designed.water.flows))]} runs" in said


def test_loads_are_screened_as_worked_out(works: Works, sheet: Sheet) -> None:
    said = [text.words for text in words_of(sheet)]
    layout = works.crates
    asked = any("ask the supplier's engineer" in words for words in said)
    assert asked == (layout is not None)
    if layout is None:
        return
    for load in layout.loads:
        assert any(words.startswith(load.name) for words in said)
        assert kilopascals(load.design) in said
        assert kilopascals(load.wanted) in said
        assert ("not told" if load.strength is None else kilopascals(load.strength)) in said
        assert load.use is None or share(load.use) in said


def test_three_states_of_uplift_or_that_nobody_told(designed: Design, sheet: Sheet) -> None:
    said = {text.words for text in words_of(sheet)}
    for uplift in designed.reservoir.uplifts:
        assert {uplift.state, kilopascals(uplift.uplift), kilopascals(uplift.weight)} <= said
        assert ("floats" if np.isinf(uplift.use) else share(uplift.use)) in said
    assert ("winter water not told: dig a trial hole" in said) == (not designed.reservoir.uplifts)


def test_a_chamber_off_the_sump_as_dug_is_said(works: Works, sheet: Sheet) -> None:
    """The sump of the dig sheets is 0.60 square about the hose's start; the chamber stands in a corner."""
    stands = standing(works.design, works.crates)
    said = " ".join(text.words for text in words_of(sheet))
    assert ("Settle one place before digging" in said) == (stands.sump_elsewhere or stands.hose_elsewhere)
    assert stands.sump_elsewhere == (works.design.job.title.name in HAND_COUNT)


def test_a_drawing_that_differs_from_the_count_says_so() -> None:
    """By hand: 2.60 x 1.50 takes 9 of 0.80 x 0.40; the chamber reaches into 2 of one layer and 1 of the other."""
    job = read_job(EXAMPLES / "hazel_bank")
    works = Works(design(replace(job, reservoir=replace(job.reservoir, turned=0.6, length=2.6, width=1.5))))
    sheet = reservoir_sheet(works.design, works, 1, 1)
    drawn = sum(len(on_layer(view, "crates")) for view in plans_of(sheet))
    assert works.crates is not None
    said = any(text.words.startswith(f"{drawn} crates are drawn") for text in words_of(sheet))
    assert said == (drawn != works.crates.count)


@pytest.mark.parametrize("words", ["Children:", "Nobody climbs into the chamber", "one piece at a time"])
def test_cautions_stand_on_it(sheet: Sheet, words: str) -> None:
    assert any(words in text.words for text in words_of(sheet))


def test_named_on_the_plan(works: Works, sheet: Sheet) -> None:
    said = [text.words for text in words_in_views(sheet)]
    assert {"a", "b", "c", "d", "lining"} <= set(said)
    assert any(words.startswith("overflow ") for words in said)
    assert any(words.startswith("hose,") for words in said) == bool(works.design.job.route.line)
    if works.crates is not None:
        assert said.count("washed stone, no crate") == len(plans_of(sheet))
        assert sum(words.startswith("chamber") for words in said) == len(plans_of(sheet))
        assert "geotextile round the block" in said


def test_opens_as_dxf(sheet: Sheet) -> None:
    document, _ = recover.read(BytesIO(write_dxf(sheet)))
    assert not document.audit().errors


def test_bound_before_the_lining(works: Works) -> None:
    names = [part.name for part in PARTS]
    assert names.index("reservoir") + 1 == names.index("lining")
