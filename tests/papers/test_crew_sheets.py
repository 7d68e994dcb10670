"""Lip cards, build sheet and picture sheet of all examples: their numbers are the stages', their drawings are true.

Expected values are the stages' own, read here beside the sheet; that windows are true to scale is plain geometry. The
rule that a level across is read to 2 mm is common practice, no source.
"""

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from beckwright.base.words import METRIC, US, band, ends_outward, grouped, metres, millimetres, number_in, told_in
from beckwright.compose import Design, Works, design
from beckwright.job.read import read_job
from beckwright.papers import fonts
from beckwright.papers.drawing import A3_FLAT, A5_FLAT, Circle, Polyline, Sheet, Stamp, Text, View, laid, plain, seen
from beckwright.papers.labels import text_box
from beckwright.papers.parts import PARTS
from beckwright.papers.readers import CLIENT, CREW
from beckwright.papers.sheets.build.lip_cards import lip_card_count, lip_card_sheets, lip_cards
from beckwright.papers.sheets.build.sheet import build_pages, build_sheets
from beckwright.papers.sheets.ground.setting_out import told_level
from beckwright.papers.sheets.picture.flows import shown_fall, three_flows
from beckwright.papers.sheets.picture.money import in_and_out, year_words
from beckwright.papers.sheets.picture.ribbon import seen_over
from beckwright.papers.sheets.picture.sheet import picture_sheet
from beckwright.papers.sheets.shared import card_frame, frame

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
Drawn = tuple[Design, Works, tuple[Sheet, ...], tuple[Sheet, ...], Sheet]


def drawn(name: str) -> Drawn:
    designed = design(read_job(EXAMPLES / name))
    works = Works(designed)
    cards, build = lip_card_sheets(designed, works, 11, 60), build_sheets(designed, works, 31, 60)
    return designed, works, cards, build, picture_sheet(designed, works, 2, 60)


@pytest.fixture(scope="module", params=NAMES)
def told(request: pytest.FixtureRequest) -> Drawn:
    return drawn(request.param)


def texts_of(sheet: Sheet) -> list[Text]:
    return [part for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def texts_in(view: View) -> list[Text]:
    return [part for part in seen(view) if isinstance(part, Text)]


def said(sheet: Sheet) -> set[str]:
    return {text.words for text in texts_of(sheet)} | {text.words for view in sheet.views for text in texts_in(view)}


def box(text: Text) -> tuple[float, ...]:
    corners = text_box(replace(text, halo=0.0))
    return (*corners.min(axis=0), *corners.max(axis=0))


def rim_of(sheet: Sheet) -> tuple[float, float, float, float]:
    if sheet.paper == A5_FLAT:
        return card_frame.LEFT, card_frame.LOW, card_frame.RIGHT, card_frame.TOP
    assert sheet.paper == A3_FLAT
    return frame.LEFT, frame.LOW, frame.RIGHT, frame.TOP


def check_apart(texts: list[Text], where: str) -> None:
    boxes = np.array([box(text) for text in texts]).reshape(-1, 4)
    wide = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
    tall = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
    clash = np.argwhere(np.triu((wide > 0.3) & (tall > 0.6), 1))
    assert not len(clash), (where, [(texts[i].words, texts[j].words) for i, j in clash[:5]])


def check_sheet(sheet: Sheet) -> None:
    left, low, right, high = rim_of(sheet)
    texts = texts_of(sheet)
    for text in texts:
        a, b, c, d = box(text)
        outside = a < left - 0.3 or b < low - 0.3 or c > right + 0.3 or d > high + 0.3
        assert not outside, (sheet.name, text.words)
    everywhere = texts + [text for view in sheet.views for text in texts_in(view)]
    check_apart(everywhere, sheet.name)
    assert not [text.words for text in everywhere if text.words.endswith("…")], sheet.name
    assert not {letter for text in everywhere for letter in fonts.unprintable(text.words)}
    for view in sheet.views:
        outline = view.window.outline()
        assert (outline[0] >= (left - 0.01, low - 0.01)).all(), view.name
        assert (outline[2] <= (right + 0.01, high + 0.01)).all(), view.name


def test_nothing_outside_nothing_cut_nothing_over_another(told: Drawn) -> None:
    for sheet in (*told[2], *told[3], told[4]):
        check_sheet(sheet)


@pytest.mark.parametrize("name", NAMES)
def test_the_same_in_feet_and_inches(name: str) -> None:
    with told_in(US):
        _, _, cards, build, picture = drawn(name)
        for sheet in (*cards, *build, picture):
            check_sheet(sheet)
            left = [words for words in said(sheet) if re.search(r"\d (?:mm|m|kg|t|L/h)(?=[ ,;:.)]|$)", words)]
            assert not left, (sheet.name, left)
    with told_in(METRIC):
        assert metres(1.0) == "1.00 m"


def test_each_stands_alone(told: Drawn) -> None:
    designed, _, cards, build, picture = told
    for first, sheets in ((11, cards), (31, build), (2, (picture,))):
        for number, sheet in enumerate(sheets, first):
            words = said(sheet)
            assert f"{number}/60" in words
            assert {designed.job.title.date, designed.job.title.revision} <= words
            assert any(designed.job.datum.name in each and metres(designed.job.datum.level) in each for each in words)
            assert any("Invented" in each for each in words)
    names = [sheet.name for sheet in (*cards, *build, picture)]
    assert len(set(names)) == len(names)


def test_as_many_sheets_as_counted(told: Drawn) -> None:
    designed, works, cards, build, _ = told
    assert len(cards) == lip_card_count(designed) == len(designed.water.lips)
    assert len(build) == build_pages(designed, works).count <= 2
    named = {part.name: part for part in PARTS}
    assert CREW in named["build"].readers
    assert CREW in named["lip cards"].readers
    assert CLIENT in named["picture"].readers


def test_a_card_tells_its_own_lip(told: Drawn) -> None:
    designed, works, cards, _, _ = told
    pegs = {peg.number: peg for peg in works.setting_out.pegs}
    for fall, sheet in zip(designed.falls, cards, strict=True):
        words, lip = said(sheet), fall.lip
        row = next(
            row
            for row in works.setting_out.levels
            if row.what in (lip.name, f"{lip.name} lip") and row.where == "middle"
        )
        level, below = told_level(row)
        big = max(texts_of(sheet), key=lambda text: text.height)
        assert (big.words, big.height) == (below, pytest.approx(20.0))
        assert row.peg is not None
        assert row.below == pegs[row.peg].lip_below
        assert row.level == pytest.approx(lip.crest)
        assert level in words
        assert f"± {millimetres(row.tolerance)}: left end, middle, right end" in words
        assert f"{millimetres(lip.width)} clear" in words
        assert any(each.endswith(f"peg {row.peg}") for each in words)


def test_a_card_tells_where_the_water_lands_and_how_it_is_shared(told: Drawn) -> None:
    designed, _, cards, _, _ = told
    for fall, sheet in zip(designed.falls, cards, strict=True):
        ordered = [text.words for text in texts_of(sheet)]
        count = len(fall.flows)

        def row(start: str, ordered: list[str] = ordered, count: int = count) -> list[str]:
            place = next(place for place, words in enumerate(ordered) if words.startswith(start))
            return ordered[place + 1 : place + 1 + count]

        heads = [
            ends_outward(float(low) * 1000, float(high) * 1000, 1.0, "mm") for low, high in fall.lip.head[[0, 2]].T
        ]
        assert row("over it from, ") == [low for low, _ in heads]
        assert row("to, ") == [high for _, high in heads]
        if fall.sheet is not None:
            near = [
                ends_outward(float(each) * 1000, float(each) * 1000, 5.0, "mm")[0] for each in fall.sheet.landed.near
            ]
            far = [ends_outward(float(each) * 1000, float(each) * 1000, 5.0, "mm")[1] for each in fall.sheet.landed.far]
            assert row("lands out from") == near
            lands = next(place for place, words in enumerate(ordered) if words.startswith("lands out from"))
            assert ordered[lands + count + 2 : lands + 2 * count + 2] == far
        for number, tilt in enumerate(fall.tilt.tilts):
            for words, shares in zip(
                row(f"{tilt * 1000:g} mm out of level"), fall.tilt.low_half[:, number].T, strict=True
            ):
                low, high = (float(part) for part in (words.split(" to ") * 2)[:2])
                assert low <= 100 * shares.min() + 1e-6
                assert high >= 100 * shares.max() - 1e-6
                assert high - low <= 100 * (shares.max() - shares.min()) + 2
                assert low >= 50, "the low end takes the larger share"


def test_a_card_says_who_lifts_and_never_only_by_whom(told: Drawn) -> None:
    _, works, cards, _, _ = told
    designed = told[0]
    for card, sheet in zip(lip_cards(designed, works), cards, strict=True):
        words = " | ".join(said(sheet))
        for lift in card.lifts:
            assert f"{number_in(lift.mass, 'kg'):,.0f} kg" in words, lift.what
        slings = any(lift.people is None for lift in card.lifts)
        assert ("slings" in words) == slings
        assert "only steers water" in words
        assert "cured before" in words


def test_windows_are_true_to_the_scale_they_tell(told: Drawn) -> None:
    """One metre on the site is 1000 mm over the scale on the paper, along and upwards."""
    for sheet in (*told[2], *told[3], told[4]):
        told_scales = {float(each) for words in said(sheet) for each in re.findall(r"1:(\d+(?:\.\d+)?)", words)}
        for view in sheet.views:
            assert view.window.scale in told_scales, (sheet.name, view.name)
            ends = view.window.on_paper(np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]))
            for end, scale in zip(ends[1:], (view.window.scale, view.window.scale_up), strict=True):
                assert np.hypot(*(end - ends[0])) == pytest.approx(1000.0 / scale)
            # The course alone is drawn taller than long, and its words say how much.
            assert view.window.scale == view.window.scale_up or view.name.startswith("course by")


def test_a_lip_is_drawn_as_wide_and_as_high_as_it_is(told: Drawn) -> None:
    designed, _, cards, _, _ = told
    for fall, sheet in zip(designed.falls, cards, strict=True):
        front = sheet.views[0]
        (line,) = [
            mark for mark in front.marks if isinstance(mark, Polyline) and mark.layer == "lip" and not mark.closed
        ]
        assert np.ptp(line.points[:, 0]) == pytest.approx(fall.lip.width)
        if fall.sheet is not None:
            liner = next(mark for mark in sheet.views[1].marks if isinstance(mark, Polyline) and mark.layer == "liner")
            assert liner.points[:, 1].min() == pytest.approx(-fall.sheet.floor_drop)


def test_every_edge_and_lip_stands_on_the_build_sheet(told: Drawn) -> None:
    _, works, _, build, _ = told
    upright = [text.words for sheet in build for text in texts_of(sheet) if abs(text.turn) > 1.0]
    for side in ("left", "right"):
        for row in (row for row in works.setting_out.levels if row.what == f"edge {side}"):
            level, below = told_level(row)
            assert {level, below} <= set(upright), row
    rows = [row for row in works.setting_out.levels if row.what.startswith("edge ")]
    assert sum(1 for words in upright if not words.startswith("match")) >= 2 * len(rows)
    labels = [text.words for sheet in build for view in sheet.views for text in texts_in(view)]
    for row in (row for row in works.setting_out.levels if row.where == "middle"):
        level, below = told_level(row)
        assert any(words.startswith(f"{row.what}: ") and below in words and level in words for words in labels), (
            row.what
        )
    for number in range(1, len(works.lining.laps) + 1):
        assert any(words.startswith(f"lap {number}: ") for words in labels)


def test_the_upper_sheet_lies_over_the_lower(told: Drawn) -> None:
    """A is the lowest piece and is laid first; at each lap the upstream piece is the upper one."""
    _, works, _, build, _ = told
    words = {each for sheet in build for each in said(sheet)}
    pieces = works.lining.pieces
    for upper, lower in pairwise(pieces):
        assert upper.chainage[0] < lower.chainage[0]
        assert f"{upper.letter} over {lower.letter}" in words
    for piece in pieces:
        size = f"{number_in(piece.length, 'm'):.2f} x {number_in(piece.width, 'm'):.2f}"
        assert size in words


def test_stone_lifts_joints_and_crates_are_the_stages(told: Drawn) -> None:
    _, works, _, build, _ = told
    ordered = [text.words for sheet in build for text in texts_of(sheet)]
    words = set(ordered)
    total = works.stonework.total
    place = ordered.index("All")
    step = 0.1 if total.high < 5000 else 1.0
    assert ordered[place + 2 : place + 4] == list(ends_outward(total.low / 1000, total.high / 1000, step, "t"))
    for lift in works.stonework.lifts:
        heads = (lift.what.lower(), f"{lift.count}", f"{number_in(lift.mass, 'kg'):,.0f}")
        rows = zip((each.lower() for each in ordered), ordered[1:], ordered[2:], strict=False)
        assert heads in rows, lift.what
    joints = works.stonework.joints
    for joint in (*joints.at_lips, *joints.at_sills):
        assert f"{number_in(joint.length, 'm'):.2f}" in words
        assert any(f"{number_in(at, 'm'):.2f}" in each for at in joint.at for each in words)
    assert band(joints.containers[0], joints.containers[2], 1.0, "cans" if joints.kind == "foam" else "bags") in words
    if works.crates is not None:
        place = ordered.index("crates")
        assert ordered[place + 1] == f"{works.crates.count}"


def test_water_on_the_bare_lining_comes_before_stone_and_trimming_last(told: Drawn) -> None:
    """Trade order (common practice, no source): bottom up, tested before it is hidden, trimmed after it has settled."""
    _, _, _, build, _ = told
    ordered = [text.words for sheet in build for text in texts_of(sheet)]
    wanted = ("Dig the pit", "Line the course", "Water on the bare lining", "Bed the lips", "Trim the edges")
    places = [ordered.index(each) for each in wanted]
    assert places == sorted(places)


def test_long_courses_meet_at_match_lines_and_have_a_key_plan() -> None:
    designed, works, _, build, _ = drawn("fennymoor_park")
    pages = build_pages(designed, works)
    shown = [strip for page in pages.strips for strip in page]
    assert len(shown) > 1
    for before, after in pairwise(shown):
        assert after.start < before.end
    assert shown[0].start <= 0.0
    assert shown[-1].end >= designed.course.length
    assert any(view.name == "key plan" and view.world for view in build[0].views)
    assert "match line, strip 2" in said(build[0])


def course_of(picture: Sheet, when: str) -> list[View]:
    return [view for view in picture.views if view.name.startswith(f"course by {when}")]


def test_the_picture_shows_the_least_the_longest_and_the_most(told: Drawn) -> None:
    designed, works, _, _, picture = told
    numbers = three_flows(designed)
    flows = designed.water.flows[list(numbers)]
    assert flows[0] == designed.water.flows.min()
    assert flows[-1] == designed.water.flows.max()
    assert list(flows) == sorted(flows)
    words = said(picture)
    for number in numbers:
        heads = np.concatenate([lip.head[:, number] for lip in designed.water.lips])
        assert f"{band(float(heads.min()), float(heads.max()), 1.0, 'mm', scale=1000.0)} over the lips" in words
    lamps = works.electrics is not None and bool(works.electrics.lamps)
    assert len(course_of(picture, "day")) == len(numbers)
    assert len(course_of(picture, "night")) == (len(numbers) if lamps else 0)
    assert any("sketch, rocks are placed by eye" in each for each in words)


def test_the_whole_course_is_in_every_section(told: Drawn) -> None:
    """Both ends inside the box; every fall of the stage drawn, landing as far out as the stage says."""
    designed, _, _, _, picture = told
    for view, number in zip(course_of(picture, "day"), three_flows(designed), strict=True):
        (left, low), (right, high) = view.window.corner, np.add(view.window.corner, view.window.size)
        at = designed.course.stations
        paper = view.window.on_paper(np.column_stack([at.chainage, at.bed - at.stone]))
        assert left < paper[:, 0].min()
        assert paper[:, 0].max() < right
        assert low < paper[:, 1].min()
        assert paper[:, 1].max() < high
        sheets = [mark for mark in view.marks if isinstance(mark, Polyline) and mark.layer == "falling water"]
        falls = [fall for fall in designed.falls if fall.sheet is not None and fall.sheet.fall[1, number] > 0]
        for sheet, fall in zip(sheets, falls, strict=True):
            far = fall.sheet.landed.by_fall[1, number]
            assert sheet.points[len(sheet.points) // 2 - 1][0] == pytest.approx(fall.lip.chainage + 0.04 + far)


def test_water_is_drawn_as_deep_as_the_sheet_says(told: Drawn) -> None:
    """Its line measured off the paper over the bed, by the words on the sheet: the depth of the water stage again."""
    designed, _, _, _, picture = told
    times = next(
        float(found[1]) for each in said(picture) if (found := re.search(r"drawn ([\d.]+) times as deep", each))
    )
    for view, number in zip(course_of(picture, "day"), three_flows(designed), strict=True):
        at, level = designed.course.stations, designed.water.level[1, number]
        lines = [
            mark.points for mark in view.marks if isinstance(mark, Polyline) and mark.layer in ("shine", "threads")
        ]
        assert lines
        for line in lines:
            for x, drawn in line:
                # Where two reaches meet two stations lie at one place: these are left out.
                place, *more = np.flatnonzero(at.chainage == x).tolist()
                if more or level[place] < at.rim[place]:
                    continue
                over, paper = level[place] - at.rim[place], (drawn - at.rim[place]) * 1000 / view.window.scale_up
                assert paper == pytest.approx(over * times * 1000 / view.window.scale, abs=1e-6)


def test_unseen_water_is_dotted_where_none_shows(told: Drawn) -> None:
    designed, _, _, _, picture = told
    for view, number in zip(course_of(picture, "day"), three_flows(designed), strict=True):
        runs = np.concatenate([designed.water.shown[1, number, run.stations] for run in designed.water.runs])
        dotted = [mark for mark in view.marks if isinstance(mark, Polyline) and mark.layer == "hidden water"]
        assert bool(dotted) == bool((runs == 0).any())
        low, _, high = seen_over(designed, number)
        assert 0 <= low <= high <= designed.course.length + 1e-9


def test_every_lamp_stands_where_the_electrics_put_it(told: Drawn) -> None:
    designed, works, _, _, picture = told
    lamps = () if works.electrics is None else works.electrics.lamps
    plan = next(view for view in picture.views if view.name == "sketch plan")
    spots = {mark.at for mark in plan.marks if isinstance(mark, Stamp)}
    assert {lamp.at for lamp in lamps} <= spots
    hung = {(lamp.light.lip, lamp.level) for lamp in lamps if lamp.light.lip is not None}
    for view in course_of(picture, "night"):
        stamps = [mark.at for mark in view.marks if isinstance(mark, Stamp)]
        for lip, level in hung:
            chainage = next(each.chainage for each in designed.water.lips if each.name == lip)
            assert any(abs(x - chainage) < 0.2 and y == level for x, y in stamps)
        away = [lamp.light.name for lamp in lamps if not any(y == lamp.level for _, y in stamps)]
        assert all(any(name in words for words in said(picture)) for name in away)


def test_the_larger_fall_is_true_to_scale(told: Drawn) -> None:
    designed, works, _, _, picture = told
    shown = shown_fall(designed, works)
    assert shown is not None
    for view in (view for view in picture.views if view.name.startswith("day")):
        number = int(view.name.split()[1]) - 1
        assert view.window.scale == view.window.scale_up
        (water,) = [mark for mark in view.marks if isinstance(mark, Polyline) and mark.layer == "falling water"]
        under = water.points[len(water.points) // 2 - 1]
        assert under[0] == pytest.approx(shown.sheet.landed.by_fall[1, number])
        assert under[1] == pytest.approx(-shown.sheet.fall[1, number])


def lightness(colour: str) -> float:
    """Relative luminance of WCAG 2.2 (definition of relative luminance)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


def test_night_is_read_in_grey() -> None:
    """Contrast of WCAG 2.2, 3:1 for what is drawn (success criterion 1.4.11)."""
    _, _, _, _, picture = drawn("hazel_bank")
    night = course_of(picture, "night")[0]
    lines = [mark for mark in night.marks if isinstance(mark, Polyline)]
    sky, air = (next(mark.fill for mark in lines if mark.layer == layer) for layer in ("sky", "lights"))
    lit = next(mark.pen.colour for mark in lines if mark.layer == "lit water" and mark.pen is not None)
    bed = next(mark.pen.colour for mark in lines if mark.layer == "bed" and mark.pen is not None)
    for one, other in ((air, sky), (lit, air), (lit, sky), (bed, sky)):
        assert one is not None
        assert other is not None
        assert (lightness(one) + 0.05) / (lightness(other) + 0.05) >= 3.0


def test_money_of_the_picture_is_the_estimates(told: Drawn) -> None:
    designed, works, _, _, picture = told
    words, estimate = said(picture), works.estimate
    if works.running is not None:
        for each in works.running.hoses:
            assert {each.hose.name, year_words(designed, each)} <= words
    outs = dict(in_and_out(estimate))
    if estimate.works[2] > 0:
        low, high = ends_outward(estimate.chance.p50, estimate.chance.p90, 1000.0, "")
        assert f"{estimate.currency} {low} to {high}" in words
        assert float(low.replace("\u2009", "")) <= estimate.chance.p50 <= estimate.chance.p90
        assert estimate.chance.p90 <= float(high.replace("\u2009", ""))
        assert any(grouped(estimate.total) in each for each in words)
        for item in estimate.missing:
            assert item.name in outs["Not in it, for nobody gave a price:"]
    else:
        assert "No prices were given yet: what it costs is not told." in words
        assert not any(f"{estimate.currency} 0" in each for each in words)


def test_no_verdict_and_no_office_words_for_the_client(told: Drawn) -> None:
    words = " ".join(said(told[4])).lower()
    assert not re.search(r"\b(safe|safely|ok|okay|good|perfect|guaranteed?)\b", words)
    assert not re.search(r"\b(nappe|froude|weir|tailwater|invert|chainage|freeboard)\b", words)
    assert "drown" in words
    crew = " ".join(each for sheet in (*told[2], *told[3]) for each in said(sheet)).lower()
    assert not re.search(r"\b(safe|safely|ok|okay|good|perfect)\b", crew)


def test_black_and_red_only_for_the_crew(told: Drawn) -> None:
    """LOOK.md: print is black, plus mark red only."""
    allowed = {"#000000", "#FFFFFF", "#BE2A12", "none"}
    for sheet in (*told[2], *told[3]):
        parts = [part for mark in sheet.marks for part in plain(mark)]
        parts += [part for view in sheet.views for mark in view.marks for part in plain(laid(mark, view.window))]
        used = {part.colour for part in parts if isinstance(part, Text)}
        for part in parts:
            if isinstance(part, (Polyline, Circle)):
                used |= {part.fill or "none", part.pen.colour if part.pen else "none"}
        assert used <= allowed, (sheet.name, used - allowed)
