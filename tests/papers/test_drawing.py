"""Windows, marks, lettering and label places: against hand calculation, geometry and the font as others read it."""

import io
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from shapely import LineString, Point, Polygon, box

from beckwright.papers import fonts, labels, pens
from beckwright.papers.drawing import (
    A4_FLAT,
    Circle,
    Dimension,
    Hatch,
    Leader,
    Pen,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    Window,
    arc,
    laid,
    leader_words,
    plain,
    plan_window,
    scale_to_fit,
    section_window,
    seen,
    turn_to_run_right,
)
from beckwright.papers.formats.pdf import write_pdf

METRES = st.floats(-500.0, 500.0)
ANGLES = st.floats(-np.pi, np.pi)


def test_a_plan_at_one_to_a_hundred_draws_a_metre_ten_millimetres_long() -> None:
    window = plan_window(corner=(20.0, 10.0), size=(200.0, 100.0), scale=100.0, middle=(400_000.0, 280_000.0))
    # By hand: the middle of the paper window is (120, 60); 3 m east is 30 mm right, 2 m north 20 mm up.
    assert window.on_paper(np.array([(400_003.0, 280_002.0)])) == pytest.approx(np.array([(150.0, 80.0)]))


def test_a_quarter_turn_lays_north_to_the_left() -> None:
    window = plan_window(corner=(0.0, 0.0), size=(100.0, 100.0), scale=1000.0, middle=(0.0, 0.0), turn=np.pi / 2)
    assert window.on_paper(np.array([(0.0, 10.0)])) == pytest.approx(np.array([(40.0, 50.0)]))


def test_a_section_may_be_taller_than_long() -> None:
    window = section_window(corner=(20.0, 30.0), size=(200.0, 100.0), scale=50.0, scale_up=20.0, left=2.0, low=100.0)
    # By hand: 1 m along at 1:50 is 20 mm, 1 m up at 1:20 is 50 mm.
    assert window.on_paper(np.array([(3.0, 101.0)])) == pytest.approx(np.array([(40.0, 80.0)]))


@given(east=METRES, north=METRES, turn=ANGLES, scale=st.sampled_from([20.0, 50.0, 100.0, 500.0]))
def test_the_way_back_to_the_site_is_the_way_to_the_paper_reversed(
    east: float, north: float, turn: float, scale: float
) -> None:
    window = plan_window(corner=(20.0, 10.0), size=(200.0, 100.0), scale=scale, middle=(12.0, -7.0), turn=turn)
    there = window.on_paper(np.array([(east, north)]))
    assert window.on_site(there) == pytest.approx(np.array([(east, north)]), abs=1e-9)


@given(turn=ANGLES)
def test_water_runs_from_left_to_right_whatever_way_the_site_lies(turn: float) -> None:
    line = np.array([(0.0, 0.0), (4.0, 1.0), (9.0 * np.cos(turn), 9.0 * np.sin(turn))])
    window = plan_window(
        corner=(0.0, 0.0), size=(100.0, 100.0), scale=100.0, middle=(0.0, 0.0), turn=turn_to_run_right(line)
    )
    on_paper = window.on_paper(line)
    assert on_paper[-1] - on_paper[0] == pytest.approx(np.array((90.0, 0.0)), abs=1e-9)


def test_the_scale_is_the_largest_of_iso_5455_that_fits() -> None:
    # By hand: 18 m in 230 mm needs 1:78.3; ISO 5455 offers 1:50 and 1:100.
    assert scale_to_fit((18.0, 3.0), (230.0, 117.0)) == 100.0
    assert scale_to_fit((2.4, 1.6), (120.0, 80.0)) == 20.0


def test_a_turned_window_with_two_scales_is_refused() -> None:
    with pytest.raises(ValueError, match="one scale"):
        Window(
            corner=(0.0, 0.0),
            size=(9.0, 9.0),
            scale=50.0,
            scale_up=20.0,
            origin=(0.0, 0.0),
            origin_at=(0.0, 0.0),
            turn=0.1,
        )
    with pytest.raises(ValueError, match="more than nothing"):
        plan_window(corner=(0.0, 0.0), size=(9.0, 9.0), scale=0.0, middle=(0.0, 0.0))


@pytest.mark.parametrize(
    "points",
    [np.array([(0.0, np.nan), (1.0, 1.0)]), np.array([(0.0, 0.0)]), np.zeros((3, 3))],
    ids=["nan", "one", "3d"],
)
def test_a_line_that_cannot_be_drawn_is_refused(points: np.ndarray) -> None:
    with pytest.raises(ValueError, match="layer liner"):
        Polyline(points=points, layer="liner", pen=pens.LINER)


def test_an_open_line_cannot_be_hatched_and_a_dash_needs_its_gap() -> None:
    with pytest.raises(ValueError, match="closed"):
        Polyline(points=np.eye(2), layer="short", hatch=pens.SHORT_HATCH)
    with pytest.raises(ValueError, match="pairs"):
        Pen(width=0.5, dash=(2.0, 1.0, 0.5))


def test_a_circle_in_a_stretched_section_becomes_an_ellipse() -> None:
    window = section_window(corner=(0.0, 0.0), size=(90.0, 90.0), scale=100.0, scale_up=20.0, left=0.0, low=0.0)
    ring = laid(Circle(at=(2.0, 1.0), radius=0.5, layer="hose", pen=pens.HOSE), window)
    assert isinstance(ring, Polyline)
    # By hand: half a metre is 5 mm along and 25 mm up.
    width, height = np.ptp(ring.points, axis=0)
    assert (width, height) == pytest.approx((10.0, 50.0), rel=1e-3)
    assert Polygon(ring.points).area == pytest.approx(np.pi * 5.0 * 25.0, rel=0.005)


def test_a_stamp_keeps_its_size_at_every_scale_and_turns_with_its_own_angle() -> None:
    peg = Stamp(
        at=(1.0, 0.0),
        marks=(Polyline(points=np.array([(0.0, 0.0), (3.0, 0.0)]), layer="peg", pen=pens.THIN),),
        turn=np.pi / 2,
    )
    for scale in (20.0, 200.0):
        window = plan_window(corner=(0.0, 0.0), size=(100.0, 100.0), scale=scale, middle=(1.0, 0.0), turn=1.0)
        (line,) = seen(View(name="plan", window=window, marks=(peg,)))
        assert isinstance(line, Polyline)
        assert line.points == pytest.approx(np.array([(50.0, 50.0), (50.0, 53.0)]))


def test_a_dimension_stands_off_by_its_offset_and_reads_from_below_or_from_the_right() -> None:
    for start, end in (
        ((0.0, 0.0), (40.0, 0.0)),
        ((40.0, 0.0), (0.0, 0.0)),
        ((0.0, 0.0), (0.0, 40.0)),
        ((9.0, 40.0), (0.0, 0.0)),
    ):
        parts = plain(Dimension(start=start, end=end, offset=8.0, words="4.00 m", pen=pens.THIN))
        line = parts[2]
        assert isinstance(line, Polyline)
        assert LineString(line.points).length == pytest.approx(np.hypot(end[0] - start[0], end[1] - start[1]))
        assert LineString(line.points).distance(Point(start)) == pytest.approx(8.0)
        (words,) = [part for part in parts if isinstance(part, Text)]
        assert -np.pi / 2 < words.turn <= np.pi / 2 + 1e-9


def test_barbs_tell_left_from_right() -> None:
    window = section_window(corner=(0.0, 0.0), size=(100.0, 50.0), scale=100.0, left=0.0, low=0.0)
    line = np.array([(0.0, 2.0), (9.0, 2.0)])
    for marks, side in ((pens.edge_left(line, window), 1.0), (pens.edge_right(line, window), -1.0)):
        barbs = [part for part in seen(View(name="edge", window=window, marks=marks)) if len(part.points) == 2][1:]
        assert len(barbs) == 6  # every 16 mm from 8 mm, on 90 mm
        tips = np.array([barb.points[1] for barb in barbs])
        assert np.all(side * (tips[:, 1] - 20.0) > 1.0)


def test_stones_hang_below_the_bed_and_never_on_the_face_of_a_step() -> None:
    window = section_window(corner=(0.0, 0.0), size=(100.0, 80.0), scale=100.0, left=0.0, low=0.0)
    line = np.array([(0.0, 6.0), (4.0, 6.0), (4.0, 2.0), (9.0, 2.0)])
    _, *stones = seen(View(name="bed", window=window, marks=pens.bed(line, window)))
    assert len(stones) > 20
    for stone in stones:
        assert stone.points[:, 1].max() <= max(stone.points[0, 1], stone.points[-1, 1]) + 1e-9


def test_the_two_rails_of_a_hose_are_a_millimetre_apart() -> None:
    window = plan_window(corner=(0.0, 0.0), size=(100.0, 100.0), scale=100.0, middle=(0.0, 0.0))
    line = arc((0.0, 0.0), 3.0, 0.0, np.pi)
    left, right = (
        LineString(part.points) for part in seen(View(name="hose", window=window, marks=pens.hose(line, window)))[:2]
    )
    assert left.hausdorff_distance(right) == pytest.approx(1.0, abs=0.05)


def test_no_letter_of_the_water_main_stands_on_its_head() -> None:
    window = plan_window(corner=(0.0, 0.0), size=(200.0, 100.0), scale=100.0, middle=(0.0, 0.0))
    backwards = np.array([(9.0, 1.0), (-9.0, -1.0)])
    letters = [
        part
        for part in seen(View(name="main", window=window, marks=pens.water_main(backwards, window)))
        if isinstance(part, Text)
    ]
    assert len(letters) == 5
    assert all(letter.turn == 0.0 for letter in letters)


@pytest.mark.parametrize("weight", [400, 600, 700])
@pytest.mark.parametrize("narrow", [False, True])
def test_a_width_is_what_the_page_setter_puts_into_the_pdf(weight: int, narrow: bool) -> None:
    """typst reads the variable font with another library than ours; PDF widths are whole thousandths."""
    text = Text(at=(10.0, 10.0), words="MMMM", height=5.0, weight=weight, narrow=narrow)
    sheet = Sheet(name="w", title="Widths", paper=A4_FLAT, marks=(text,))
    document = write_pdf([sheet], title="Widths", author="nobody", written=datetime(2026, 1, 1, tzinfo=UTC))
    page = PdfReader(io.BytesIO(document)).pages[0]
    forms = (
        [form.get_object() for form in page["/Resources"]["/XObject"].values()]
        if "/XObject" in page["/Resources"]
        else []
    )
    (font,) = [
        font.get_object() for holder in (page, *forms) for font in holder["/Resources"].get("/Font", {}).values()
    ]
    advance = float(font["/DescendantFonts"][0].get_object()["/W"][-1])
    assert fonts.width("M", 0.698, weight=weight, narrow=narrow) * 1000.0 == pytest.approx(advance, abs=1.0)


def test_capitals_stand_as_high_as_asked() -> None:
    # IBM Plex Sans: capital height 698 of 1000 units, read from the font with a font editor's listing (OS/2 table).
    assert fonts.size(3.5) == pytest.approx(3.5 / 0.698)


def test_the_typeface_lacks_the_diameter_sign_but_has_the_letter_that_stands_for_it() -> None:
    assert fonts.unprintable("Ø 50 mm ± 2, 1 in 40, 0.5 m²") == set()
    assert fonts.unprintable("⌀ 50") == {"⌀"}


@given(
    st.lists(st.sampled_from(["a", "pump", "chamber", "overflow", "9 400"]), min_size=1, max_size=30),
    st.floats(20.0, 90.0),
)
def test_wrapping_loses_no_word_and_keeps_to_its_room(words: list[str], room: float) -> None:
    said = " ".join(words)
    lines = fonts.wrap(said, room, 2.5)
    assert " ".join(lines) == said
    assert all(fonts.width(line, 2.5) <= room for line in lines)


WINDOW = plan_window(corner=(20.0, 20.0), size=(120.0, 80.0), scale=100.0, middle=(0.0, 0.0), turn=0.7)
LABELS = st.builds(
    lambda east, north, words, height, priority: labels.Label(
        at=(east, north), words=words, height=height, priority=priority
    ),
    st.floats(-7.0, 7.0),
    st.floats(-7.0, 7.0),
    st.sampled_from(["peg 7", "lip 2: drop 220", "field maple", "OAK: keep out"]),
    st.sampled_from([1.8, 2.5, 3.5]),
    st.integers(0, 3),
)


def footprints(placing: labels.Placing) -> list[tuple[Polygon, LineString | None]]:
    found = []
    for mark in placing.marks:
        parts = plain(laid(mark, WINDOW))
        (words,) = [Polygon(labels.text_box(part)) for part in parts if isinstance(part, Text)]
        lines = [LineString(part.points) for part in parts if isinstance(part, Polyline)]
        assert bool(lines) == isinstance(mark, Leader)
        found.append((words, lines[0] if lines else None))
    return found


@settings(max_examples=60)
@given(st.lists(LABELS, max_size=25))
def test_no_label_meets_another_or_its_leader_or_the_rim_or_what_it_must_keep_off(wanted: list[labels.Label]) -> None:
    keep_off = (60.0, 40.0, 90.0, 70.0)
    placing = labels.place(wanted, WINDOW, pens.THIN, keep_off=[keep_off])
    assert len(placing.marks) + len(placing.left_out) == len(wanted)
    found = footprints(placing)
    rim = Polygon(WINDOW.outline()).buffer(1e-9)
    for row, (words, leader) in enumerate(found):
        assert rim.contains(words)
        assert words.intersection(box(*keep_off)).area < 1e-9
        for other, other_leader in found[:row]:
            assert words.intersection(other).area < 1e-9
            assert leader is None or leader.intersection(other).length < 1e-9
            assert other_leader is None or other_leader.intersection(words).length < 1e-9


@settings(max_examples=20)
@given(st.lists(LABELS, min_size=1, max_size=12))
def test_the_same_labels_always_go_to_the_same_places_the_weightiest_first(wanted: list[labels.Label]) -> None:
    assert labels.place(wanted, WINDOW, pens.THIN) == labels.place(wanted, WINDOW, pens.THIN)
    weightiest = max(wanted, key=lambda label: label.priority)
    alone = labels.place([weightiest], WINDOW, pens.THIN)
    assume(alone.marks)
    assert labels.place(wanted, WINDOW, pens.THIN).marks[0] == alone.marks[0]


def test_a_lonely_label_stands_to_the_right_of_its_point_without_a_leader() -> None:
    placing = labels.place([labels.Label(at=(0.0, 0.0), words="peg 7", gap=2.0)], WINDOW, pens.THIN)
    (mark,) = placing.marks
    assert isinstance(mark, Text)
    assert labels.text_box(laid(mark, WINDOW))[0, 0] == pytest.approx(80.0 + 2.0 - 0.3)


def test_a_crowded_label_goes_further_off_at_a_leader() -> None:
    # The point lies at (80, 60) on the paper; a small thing stands in each of the eight places beside it.
    beside = [(85, 60), (85, 62.5), (85, 57.5), (75, 60), (75, 62.5), (75, 57.5), (80, 63), (80, 57)]
    keep_off = [(x - 0.2, y - 0.2, x + 0.2, y + 0.2) for x, y in beside]
    placing = labels.place([labels.Label(at=(0.0, 0.0), words="peg 7")], WINDOW, pens.THIN, keep_off=keep_off)
    (mark,) = placing.marks
    assert isinstance(mark, Leader)


def test_a_label_of_a_point_outside_the_window_is_told_as_left_out() -> None:
    outside = labels.Label(at=(50.0, 0.0), words="peg 99")
    assert labels.place([outside], WINDOW, pens.THIN) == labels.Placing(marks=(), boxes=(), left_out=(outside,))


def test_every_hatch_of_the_house_is_ink_on_less_than_half_the_paper() -> None:
    """A hatch must let lettering be read over it; share of ink is pen over distance, times the share of the dash."""
    hatches = [hatch for hatch in vars(pens).values() if isinstance(hatch, Hatch)]
    assert len(hatches) >= 7
    for hatch in hatches:
        ink = sum(
            hatch.pen.width / line.apart * (sum(line.dash[::2]) / sum(line.dash) if line.dash else 1.0)
            for line in hatch.lines
        )
        assert ink < 0.5, hatch.name


@pytest.mark.parametrize(("away", "across"), [(8.0, "left"), (-8.0, "right")])
def test_a_leaders_words_stand_beyond_its_end_and_run_away_from_it(away: float, across: str) -> None:
    """A millimetre of paper between line and letters, level with the line's end: a rule of this house."""
    words = leader_words(Leader(at=(10.0, 20.0), offset=(away, 5.0), words="lip 1", pen=pens.THIN))
    assert words.at[0] + words.offset[0] - (10.0 + away) == np.copysign(1.0, away)
    assert words.at[1] + words.offset[1] == 25.0
    assert (words.across, words.up) == (across, "middle")
