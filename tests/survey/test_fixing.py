"""Laws of a tape survey: perfect tapes give the truth, turned grids turn it, a wrong tape is named, sides are asked."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from beckwright.base.errors import JobError
from beckwright.survey import FixedPoints, fix_points, tape_findings
from beckwright.survey.observed import Measure, Observation, computed, slopes
from tests.survey.books import Row, offset, side, slope, tape, taped

TRUTH = {"A": (0.0, 0.0), "B": (12.0, 0.0), "C": (11.0, 9.0), "P": (4.0, 6.0), "Q": (7.0, 3.5), "R": (2.5, -4.0)}
TIES = ("AB", "AC", "BC", "AP", "BP", "CP", "AQ", "BQ", "CQ", "PQ", "AR", "BR", "QR")
NOISE = (3, -4, 2, 5, -6, 1, -2, 4, 3, -5, 2, -1, 4)
"""Millimetres a tape is too long."""
angles = st.floats(-math.pi, math.pi)
shifts = st.floats(-1000, 1000)


def apart(one: str, other: str) -> float:
    return math.dist(TRUTH[one], TRUTH[other])


def rows(wrong: dict[str, float] | None = None, noise: float = 1.0) -> list[Row]:
    """All tapes of the figure, with what noise there is and what is wrong."""
    extra = wrong or {}
    return [
        tape(tie[0], tie[1], apart(*tie) + noise * slip / 1000 + extra.get(tie, 0.0))
        for tie, slip in zip(TIES, NOISE, strict=True)
    ]


def marks(turn: float = 0.0, x: float = 0.0, y: float = 0.0, names: str = "AB") -> list[Row]:
    return [(name, *(turned(TRUTH[name], turn) + np.array([x, y]))) for name in names]


def turned(place: tuple[float, float], turn: float) -> np.ndarray:
    cosine, sine = math.cos(turn), math.sin(turn)
    return np.array([[cosine, -sine], [sine, cosine]]) @ place


LEFT = side("A", "B", "C", "left")


def test_perfect_tapes_give_the_truth() -> None:
    fixed = fix_points(taped(*rows(noise=0), LEFT, marks=marks()))
    assert fixed.places == pytest.approx(np.array([TRUTH[name] for name in fixed.names]), abs=1e-9)
    assert fixed.residuals == pytest.approx(np.zeros(len(TIES)), abs=1e-9)
    assert fixed.suspects == ()


def test_without_marks_the_first_tape_is_the_x_axis() -> None:
    fixed = fix_points(taped(*rows(noise=0), LEFT))
    assert fixed.base == ("A", "B")
    assert fixed.places == pytest.approx(np.array([TRUTH[name] for name in fixed.names]), abs=1e-9)
    assert [finding.code for finding in tape_findings(fixed)] == ["own-grid"]


@given(angles, shifts, shifts)
def test_a_turned_grid_turns_every_point_and_no_residual(turn: float, x: float, y: float) -> None:
    one, other = (fix_points(taped(*rows(), LEFT, marks=known)) for known in (marks(), marks(turn, x, y)))
    there = np.array([turned(tuple(place), turn) + np.array([x, y]) for place in one.places])
    assert other.places == pytest.approx(there, abs=1e-6)
    assert other.residuals == pytest.approx(one.residuals, abs=1e-7)
    assert [one.major for one in other.ellipses] == pytest.approx([one.major for one in one.ellipses], abs=1e-7)


def test_the_other_side_is_the_mirror_image() -> None:
    one, other = (fix_points(taped(*rows(), side("A", "B", "C", way), marks=marks())) for way in ("left", "right"))
    assert other.places == pytest.approx(one.places * [1, -1], abs=1e-9)


def test_shares_checked_add_up_to_what_is_to_spare() -> None:
    fixed = fix_points(taped(*rows(), LEFT, marks=marks()))
    assert fixed.redundancies.sum() == pytest.approx(fixed.freedom)
    assert fixed.freedom == len(TIES) - 2 * (len(TRUTH) - 2)


def test_least_squares_of_a_reference_library() -> None:
    """The whole figure with an offset, against scipy with its own derivatives."""
    fixed = fix_points(taped(*rows(), offset("A", "B", "Q", 7.02, 3.48, "left"), LEFT, marks=marks()))
    order = {name: place for place, name in enumerate(fixed.names)}
    weights = np.array([1 / one.sigma for one in fixed.observations])

    def misfit(free: np.ndarray) -> np.ndarray:
        places = np.vstack([fixed.places[:2], free.reshape(-1, 2)])
        found = []
        for one in fixed.observations:
            start, end, *point = (places[order[name]] for name in one.points)
            ahead = (end - start) / math.dist(start, end)
            reach = point[0] - start if point else end - start
            across = ahead[0] * reach[1] - ahead[1] * reach[0]
            amounts = {"tape": math.dist(start, end), "along": reach @ ahead, "offset": across}
            found.append(amounts[one.measure] - one.amount)
        return np.array(found) * weights

    start = np.array([TRUTH[name] for name in fixed.names[2:]]).ravel()
    by_scipy = least_squares(misfit, start, jac="3-point", xtol=1e-14, ftol=1e-14, gtol=1e-14)
    assert fixed.names[:2] == ("A", "B")
    assert fixed.places[2:].ravel() == pytest.approx(by_scipy.x, abs=1e-7)
    assert fixed.residuals == pytest.approx(by_scipy.fun / weights, abs=1e-7)
    scale = max(1.0, math.sqrt(2 * by_scipy.cost / fixed.freedom))
    errors = scale * np.sqrt(np.diag(np.linalg.inv(by_scipy.jac.T @ by_scipy.jac)))
    assert fixed.errors[2:].ravel() == pytest.approx(errors, rel=1e-4)


coordinates = st.floats(-20, 20)
three = st.lists(st.tuples(coordinates, coordinates), min_size=3, max_size=3)


@given(three, st.sampled_from(["tape", "along", "offset"]))
def test_slopes_of_an_observation_by_differences(spots: list[tuple[float, float]], measure: Measure) -> None:
    places = np.array(spots[:2] if measure == "tape" else spots)
    assume(math.dist(*places[:2]) > 1)
    one = Observation(measure=measure, points=("A", "B", "P")[: len(places)], amount=1.0, sigma=1.0, line=2)
    by_differences = np.zeros_like(places)
    for place in np.ndindex(places.shape):
        step = np.zeros_like(places)
        step[place] = 1e-5
        by_differences[place] = (computed(one, places + step) - computed(one, places - step)) / 2e-5
    assert slopes(one, places) == pytest.approx(by_differences, abs=1e-5 * 40)


@given(st.sampled_from(TIES[3:]), st.sampled_from([-1.0, -0.1, 0.1, 1.0]))
def test_a_wrong_tape_is_named(tie: str, slip: float) -> None:
    """Alone, or with those that cannot be told from it; and its size is found."""
    fixed = fix_points(taped(*rows({tie: slip}), LEFT, marks=marks(names="ABC")))
    place = TIES.index(tie)
    assert place in fixed.suspects
    assert fixed.gross[place] == pytest.approx(slip, abs=0.05)
    (finding,) = [one for one in tape_findings(fixed) if one.code == "tape-against-others"]
    assert f"Tape {tie[0]} to {tie[1]}" in finding.says
    assert ("too long" if slip > 0 else "too short") in finding.says


def asked(*given_rows: Row, known: str = "AB") -> str:
    with pytest.raises(JobError) as caught:
        fix_points(taped(*given_rows, marks=marks(names=known)))
    return str(caught.value)


def test_two_tapes_ask_for_the_side_in_one_sentence() -> None:
    told = asked(tape("A", "P", apart("A", "P")), tape("B", "P", apart("B", "P")))
    assert 'Is "P" on the left or on the right as one walks from "A" to "B"?' in told


def test_a_third_tape_in_line_with_the_two_tells_nothing() -> None:
    known = [*marks(), ("D", 6.0, 0.0)]
    ties = [tape("A", "P", 5.0), tape("B", "P", math.dist((3, 4), (12, 0))), tape("D", "P", 5.0)]
    with pytest.raises(JobError, match="on the left or on the right"):
        fix_points(taped(*ties, marks=known))


def test_a_third_tape_off_the_line_decides() -> None:
    fixed = fix_points(taped(*[tape(name, "R", apart(name, "R")) for name in "ABC"], marks=marks(names="ABC")))
    assert fixed.places[3] == pytest.approx(np.array(TRUTH["R"]), abs=1e-9)
    assert tape_findings(fixed) == ()


def test_every_open_side_is_asked_at_once() -> None:
    told = asked(*(tape(mark, name, apart(mark, name)) for name in "PR" for mark in "AB"))
    assert told.count("on the left or on the right") == 2


def test_a_side_the_tapes_speak_against() -> None:
    told = asked(
        *(tape(name, "P", apart(name, "P")) for name in "ABC"), offset("A", "B", "P", 4.0, 6.0, "right"), known="ABC"
    )
    assert "said to lie right" in told


def test_tapes_that_do_not_meet() -> None:
    told = asked(tape("A", "P", 3.0), tape("B", "P", 4.0), side("A", "B", "P", "left"))
    assert 'do not meet in "P"' in told
    assert "12.000 m apart" in told


def test_tapes_that_only_just_meet_hold_nothing_across() -> None:
    told = asked(tape("A", "P", 3.0), tape("B", "P", 9.0), side("A", "B", "P", "left"))
    assert "can still move" in told


def test_a_point_with_one_tape() -> None:
    assert 'tied to "A"' in asked(tape("A", "P", 3.0))


def test_points_nothing_checks_and_flat_ties() -> None:
    """P by two tapes at 12 degrees, Q by an offset: neither is checked, and P lies poorly."""
    fixed = fix_points(
        taped(
            tape("A", "P", 6.0),
            tape("B", "P", 17.8),
            side("A", "B", "P", "left"),
            offset("A", "B", "Q", 3, 2, "right"),
            marks=marks(),
        )
    )
    assert fixed.unchecked == ("P", "Q")
    ((name, angle),) = fixed.weak
    assert name == "P"
    # Law of cosines, by hand.
    assert math.cos(angle) == pytest.approx((36 + 17.8**2 - 144) / (2 * 6 * 17.8))
    assert [finding.code for finding in tape_findings(fixed)] == ["points-unchecked", "tapes-meet-flat"]
    assert fixed.places[3] == pytest.approx(np.array([3, -2]), abs=1e-9)


def test_a_slope_by_the_levels_of_its_ends() -> None:
    """10 m along 1.2 m of fall: 9.9277 m in plan."""
    levels = {"A": 100.0, "P": 101.2}
    ties = (slope("A", "P", 10.0), tape("B", "P", 7.0), side("A", "B", "P", "left"))
    fixed = fix_points(taped(*ties, marks=marks()), levels)
    assert math.dist(fixed.places[0], fixed.places[2]) == pytest.approx(9.9277, abs=5e-5)
    with pytest.raises(JobError, match="level of"):
        fix_points(taped(*ties, marks=marks()))
    with pytest.raises(JobError, match="longer than its fall"):
        fix_points(taped(*ties, marks=marks()), {"A": 100.0, "P": 111.0})


def ellipse_of(fixed: FixedPoints, name: str) -> tuple[float, float, float]:
    one = fixed.ellipses[fixed.names.index(name)]
    return one.major, one.minor, one.turn


def test_ellipse_of_two_tapes_at_a_right_angle_is_a_circle() -> None:
    """3-4-5: tapes from A and B meet squarely, each 10 mm: 10 mm every way."""
    known = [("A", 0, 0), ("B", 5, 0)]
    ties = (tape("A", "P", 3), tape("B", "P", 4), side("A", "B", "P", "left"))
    fixed = fix_points(taped(*ties, marks=known), tape_sigma=0.01)
    assert ellipse_of(fixed, "P")[:2] == (pytest.approx(0.01), pytest.approx(0.01))
    assert fixed.errors[2] == pytest.approx(np.array([0.01, 0.01]))
