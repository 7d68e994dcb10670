"""The cutting plan over any course: all covered, twice only at laps, no sheet wider than its roll, no plan cheaper."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from beckwright.job.model import BedMakeUp, Job, Pool, Reach, Run, Step
from beckwright.stages.lining import Lining
from beckwright.stages.lining.breaks import break_places
from beckwright.stages.lining.flat import trace
from beckwright.stages.lining.plan import Search, best_plan, letters_for, search_of
from beckwright.stages.lining.rectangles import FAN
from tests.stages.lining import lined, with_course, with_rolls, worked_out

HAIR = 1e-6


@st.composite
def courses(draw: st.DrawFn) -> tuple[np.ndarray, list[float], list[str]]:
    """A winding line 2 to 4 m between its points, and what its reaches are."""
    count = draw(st.integers(3, 6))
    turns = draw(st.lists(st.floats(-0.9, 0.9), min_size=count, max_size=count))
    steps = draw(st.lists(st.floats(2.0, 4.0), min_size=count, max_size=count))
    ways = np.cumsum(turns)
    line = np.concatenate(
        [np.zeros((1, 2)), np.cumsum(np.array(steps)[:, None] * np.stack([np.cos(ways), np.sin(ways)], axis=1), axis=0)]
    )
    kinds = draw(st.lists(st.sampled_from(["run", "step", "steep"]), min_size=1, max_size=3))
    return line, steps, kinds


def job_of(plain: Job, bare: BedMakeUp, course: tuple[np.ndarray, list[float], list[str]], **lining: object) -> Job:
    line, steps, kinds = course
    each = sum(steps) / len(kinds)
    reaches: list[Reach] = []
    for number, kind in enumerate(kinds):
        fall, length = (0.3 * each if kind == "steep" else 0.04 * each), each
        if kind == "step" and reaches:
            reaches += [
                Step(name=f"lip {number}", drop=0.35, lip_width=0.5, lip="sharp edge"),
                Pool(name=f"pool {number}", length=1.0, width=1.1, depth=0.15),
            ]
            length -= 1.0
        reaches.append(Run(name=f"run {number}", length=length, fall=fall, width=0.6, bed=bare, sills=()))
    return with_rolls(with_course(plain, line, tuple(reaches), side_slope=0.5), **lining)  # type: ignore[arg-type]


def rectangles(lining: Lining) -> Iterator[Polygon]:
    for piece in lining.pieces:
        yield Polygon(piece.corners())


def parts(lining: Lining) -> Iterator[Polygon]:
    """What each piece has to cover, bit by bit: in a tight bend the strip's outline may cross itself."""
    strip = lining.strip
    for piece in lining.pieces:
        traced = trace(strip, np.array([piece.start, piece.end]))
        here = (traced.along >= piece.start - 1e-9) & (traced.along <= piece.end + 1e-9)
        left, right = traced.left[here], traced.right[here]
        bits = [Polygon([left[k], left[k + 1], right[k + 1], right[k]]) for k in range(len(left) - 1)]
        yield unary_union([bit.buffer(0) for bit in bits if bit.area > 1e-12])


@settings(max_examples=60)
@given(
    course=courses(),
    rolls=st.sampled_from([(2.0,), (3.05, 5.0), (1.4, 4.0)]),
    longest=st.sampled_from([None, 6.0, 12.0]),
    join=st.sampled_from(["bonded", "loose"]),
    gathered=st.sampled_from([0.0, 0.08]),
)
def test_every_part_is_covered_and_twice_only_at_laps(
    plain: Job,
    bare: BedMakeUp,
    course: tuple[np.ndarray, list[float], list[str]],
    rolls: tuple[float, ...],
    longest: float | None,
    join: str,
    gathered: float,
) -> None:
    job = job_of(plain, bare, course)
    job = with_rolls(job, *rolls, roll_length=longest, join=join, gathered=gathered)
    lining = lined(job)
    assert lining.pieces[0].start == 0.0
    assert lining.pieces[-1].end == pytest.approx(lining.strip.length)
    for rectangle, part in zip(rectangles(lining), parts(lining), strict=True):
        assert rectangle.buffer(HAIR).covers(part)
    for number, piece in enumerate(lining.pieces):
        assert piece.roll in rolls
        assert piece.width <= piece.strips * rolls[rolls.index(piece.roll)] + 1e-9
        assert longest is None or piece.length <= longest + 1e-9
        assert piece.length / 0.05 == pytest.approx(round(piece.length / 0.05), abs=1e-6)
        assert piece.area == pytest.approx(piece.strips * piece.roll * piece.length)
        if number:
            above, lap = lining.pieces[number - 1], lining.laps[number - 1]
            assert (above.end, piece.start) == (lap.end, lap.start)
            assert lap.end - lap.start >= job.layers.lap - 1e-9
        if number > 1:
            assert lining.pieces[number - 2].end <= piece.start + 1e-6
    assert lining.strip.length == pytest.approx(
        sum(piece.end - piece.start for piece in lining.pieces) - sum(lap.end - lap.start for lap in lining.laps)
    )
    assert lining.compared.bound <= lining.compared.bought + 1e-9
    assert lining.compared.single is None or lining.compared.counted <= lining.compared.single + 1e-6


@settings(max_examples=15)
@given(course=courses(), mirrored=st.booleans(), gathered=st.sampled_from([0.0, 0.08]))
def test_a_mirrored_course_gets_the_mirrored_plan(
    plain: Job,
    bare: BedMakeUp,
    course: tuple[np.ndarray, list[float], list[str]],
    mirrored: bool,
    gathered: float,
) -> None:
    line, steps, kinds = course
    job = with_rolls(job_of(plain, bare, course), 3.05, 5.0, gathered=gathered)
    other = with_rolls(job_of(plain, bare, (line * (1.0, -1.0), steps, kinds)), 3.05, 5.0, gathered=gathered)
    one, two = lined(job), lined(other)
    assert two.strip.middle == pytest.approx(one.strip.middle * (1.0, -1.0), abs=1e-6)
    assert two.strip.left == pytest.approx(one.strip.right * (1.0, -1.0), abs=1e-6)
    # A length that falls on a whole cut step to the last digit may be cut to it or to the next: two steps of 3.05 m.
    assert two.compared.counted == pytest.approx(one.compared.counted, abs=0.31)
    assert two.strip.area == pytest.approx(one.strip.area, rel=1e-9)
    assert sum(fold.taken_up for fold in two.folds) == pytest.approx(sum(fold.taken_up for fold in one.folds))
    lefts = sorted(round(fold.taken_up, 6) for fold in one.folds if fold.side == "left")
    assert lefts == sorted(round(fold.taken_up, 6) for fold in two.folds if fold.side == "right")
    if mirrored and len(one.pieces) == len(two.pieces):
        assert {bend.side for bend in two.bends} == {
            {"left": "right", "right": "left"}[bend.side] for bend in one.bends
        }


def fewer_laps(job: Job, every: int) -> Search:
    """The search among a handful of the possible laps."""
    course, _, falls, _ = worked_out(job)
    strip = lined(job).strip
    laps = break_places(job, course, falls, strip)
    assert len(laps) > every
    return search_of(job, strip, laps[::every])


def by_trying_all(search: Search) -> float:
    """The cheapest of all sets of laps, every rectangle scanned turn by turn: written apart from the search."""
    count = len(search.laps)
    least = np.inf
    for many in range(count + 1):
        for chosen in combinations(range(count), many):
            laps = [search.laps[number] for number in chosen]
            starts, ends = [0.0, *(lap.start for lap in laps)], [*(lap.end for lap in laps), search.strip.length]
            if any(ends[k] > starts[k + 2] + 1e-7 for k in range(len(laps) - 1)):
                continue
            seams = sum(search.seam_counts * lap.across for lap in laps if lap.bonded)
            total = seams + 1e-6 * len(laps)
            for start, end in zip(starts, ends, strict=True):
                total += scanned(search, start, end)
            least = min(least, total)
    return least


def scanned(search: Search, start: float, end: float) -> float:
    """The cheapest rectangle of any width at any of the turns, all corners of the part projected."""
    points, turns = search.traced.part(start, end), search.fan.turns
    chord = np.diff(search.strip.at(np.array([start, end])), axis=0)[0]
    ways = np.stack([np.cos(turns), np.sin(turns)])
    lengths, across = np.ptp(points @ ways, axis=0), np.ptp(points @ np.stack([-ways[1], ways[0]]), axis=0)
    lengths = np.ceil(lengths / 0.05 - 1e-7) * 0.05
    along = np.abs(chord @ ways) >= np.hypot(*chord) * np.sqrt(0.5)
    least = np.inf
    for width in search.widths:
        fits = (across <= width.width + 1e-9) & (along | (width.strips == 1))
        if search.longest is not None:
            fits &= lengths <= search.longest + 1e-7
        each = width.strips * width.roll + (width.strips - 1) * search.seam_counts
        least = min(least, float(np.where(fits, lengths * each, np.inf).min()))
    return least


@pytest.mark.parametrize("rolls", [(2.5,), (1.4, 3.05)])
@pytest.mark.parametrize("longest", [None, 7.0])
def test_no_set_of_laps_is_cheaper(hazel: Job, rolls: tuple[float, ...], longest: float | None) -> None:
    """Hazel Bank with eight of its possible laps: all 256 sets of them tried one by one."""
    job = with_rolls(hazel, *rolls, roll_length=longest)
    search = fewer_laps(job, 8)
    assert 5 <= len(search.laps) <= 9
    plan = best_plan(search)
    tried = by_trying_all(search)
    if plan is None:
        assert tried == np.inf
        return
    assert plan.counted == pytest.approx(tried, abs=1e-9)


@dataclass
class Priced:
    """Pieces with prices of their own: three short ones would be cheapest, but the first and last would meet."""

    starts: np.ndarray
    ends: np.ndarray

    def joined(self) -> np.ndarray:
        return np.zeros(3)

    def counted(self, first: int) -> np.ndarray:
        prices = np.array([[1.0, 10.0, 30.0], [np.inf, 1.0, 10.0], [np.inf, np.inf, 1.0]])
        return prices[first, first:]


@pytest.mark.parametrize(("lap_end", "used", "counted"), [(1.5, 1, 11.0), (1.1, 2, 3.0)])
def test_never_three_sheets_on_each_other(lap_end: float, used: int, counted: float) -> None:
    """Laps from 1.0 to ``lap_end`` and from 1.2 to 1.7 m: both only where the first ends before the second begins."""
    plan = best_plan(Priced(np.array([0.0, 1.0, 1.2]), np.array([lap_end, 1.7, 3.0])))  # type: ignore[arg-type]
    assert plan is not None
    assert (len(plan.used), plan.counted) == (used, counted)


def test_more_places_for_laps_never_make_it_dearer(hazel: Job) -> None:
    job = with_rolls(hazel, 3.05, 4.0, roll_length=8.0)
    plans = [best_plan(fewer_laps(job, every)) for every in (1, 2, 4)]
    counted = [np.inf if plan is None else plan.counted for plan in plans]
    assert counted == sorted(counted)


def test_more_rolls_on_offer_never_make_it_dearer(hazel: Job) -> None:
    counted = [lined(with_rolls(hazel, *rolls)).compared.counted for rolls in ((3.05, 4.0, 5.0), (3.05, 4.0), (4.0,))]
    assert counted == sorted(counted)


def test_a_dearer_seam_makes_fewer_of_them(hazel: Job) -> None:
    seams = [lined(with_rolls(hazel, 3.05, 4.0, seam_counts=dear)).seam for dear in (0.0, 2.0, 10.0)]
    assert seams == sorted(seams, reverse=True)
    assert seams[0] > seams[-1]


def test_twice_the_fan_hardly_saves_anything(hazel: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a degree of turn between tries costs less than one cut step a piece."""
    job = with_rolls(hazel, 3.05, 4.0, gathered=0.0)
    coarse = lined(job)
    monkeypatch.setattr("beckwright.stages.lining.rectangles.FAN", 4 * FAN)
    fine = lined(job)
    assert fine.compared.counted <= coarse.compared.counted + 1e-9
    assert coarse.compared.counted - fine.compared.counted < 0.02 * fine.compared.counted


def test_the_lowest_piece_is_laid_first(hazel: Job) -> None:
    lining = lined(with_rolls(hazel, 3.05, roll_length=7.0))
    letters = [piece.letter for piece in lining.pieces]
    assert letters == sorted(letters, reverse=True)
    assert letters[-1] == "A"
    assert not {"I", "O", "R"} & set(letters_for(60))
    assert len(set(letters_for(200))) == 200


def test_every_piece_comes_off_a_roll(hazel: Job) -> None:
    lining = lined(with_rolls(hazel, 1.5, roll_length=9.0))
    assert max(piece.strips for piece in lining.pieces) > 1
    cut = [letter for roll in lining.rolls for each in roll.cuts for letter in each.letters]
    assert len(cut) == len(set(cut)) == sum(piece.strips for piece in lining.pieces) + lining.pit.strips
    for roll in lining.rolls:
        for each in roll.cuts:
            assert sum(each.lengths) + each.left == pytest.approx(9.0)
            assert each.left >= -1e-9
    area = sum(roll.width * roll.length for roll in lining.rolls)
    assert area == pytest.approx(sum(piece.area for piece in lining.pieces) + lining.pit.area)


def test_rolls_too_short_for_any_plan_are_told(plain: Job, bare: BedMakeUp) -> None:
    """A pool of 6 m takes no lap, and a roll of 5 m does not reach over it."""
    reaches: tuple[Reach, ...] = (
        Run(name="run 1", length=3.0, fall=0.1, width=0.6, bed=bare, sills=()),
        Step(name="lip 1", drop=0.3, lip_width=0.5, lip="sharp edge"),
        Pool(name="pool 1", length=6.0, width=3.0, depth=0.3),
        Run(name="run 2", length=3.0, fall=0.1, width=0.6, bed=bare, sills=()),
    )
    job = with_rolls(with_course(plain, np.array([[0.0, 0.0], [12.0, 0.0]]), reaches), 3.0, roll_length=3.0)
    lining = lined(job)
    assert lining.pieces[0].roll is None
    assert lining.laps == ()
    longer = lined(replace(job, lining=replace(job.lining, roll_length=12.0)))
    assert longer.pieces[0].roll == 3.0
