"""Laws of the answers: what more of one thing can only do to another, whatever else is not known."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.visit import PRICE_NAMES, VisitAnswers, estimate, visit_of
from beckwright.visit.ask import LIMITS
from beckwright.visit.designed import Made
from beckwright.visit.estimate import DRAWN, squares
from beckwright.visit.sketch import pit_for, sketch_at

ROUNDED = 1e-3
"""Sizes are written to a millimetre, flows to a litre: a law may be missed by so much."""


def answers(look: str | None = "everyday", **given: Any) -> VisitAnswers:
    return estimate(visit_of(given, look=look))


def ends(told: VisitAnswers, key: str) -> tuple[float, float, float]:
    found = told.of(key)
    assert found is not None
    return found.low, found.middle, found.high


@pytest.mark.parametrize(
    ("less", "more", "keys"),
    [
        ({"fall": 1.0, "length": 15.0}, {"fall": 1.5, "length": 15.0}, ("head", "power")),
        ({"length": 12.0, "fall": 1.2}, {"length": 20.0, "fall": 1.2}, ("fill", "holds", "moves", "lining", "stone")),
        ({"width": 0.5}, {"width": 0.8}, ("flow", "fill", "holds", "lining")),
        ({"flow": 4000.0}, {"flow": 7000.0}, ("flow", "moves", "holds")),
    ],
)  # fmt: skip
def test_more_of_one_is_more_of_the_other_at_both_ends(
    less: dict[str, float], more: dict[str, float], keys: tuple[str, ...]
) -> None:
    one, other = answers(**less), answers(**more)
    for key in keys:
        for small, large in zip(ends(one, key), ends(other, key), strict=True):
            assert small <= large * (1 + ROUNDED), key
        assert ends(one, key) != ends(other, key), key


def test_a_livelier_look_is_more_water() -> None:
    flows = [ends(answers(look), "flow") for look in ("trickle", "everyday", "full")]
    assert all(one[at] < other[at] for one, other in pairwise(flows) for at in range(3))


def test_a_wider_way_in_is_fewer_days() -> None:
    by_hand, by_digger = answers(access=0.8), answers(access=2.0)
    assert by_hand.machines == ("by hand",)
    assert all(one > other for one, other in zip(ends(by_hand, "days"), ends(by_digger, "days"), strict=True))


def test_measuring_narrows_and_never_widens() -> None:
    seen = {"length": 18.0, "fall": 1.6, "width": 0.6, "access": 1.2}
    by_eye = estimate(visit_of(seen, look="everyday"))
    measured = estimate(visit_of(seen, look="everyday", measured=frozenset(seen)))
    # Head and power may jump with the bore, which is chosen anew for each flow.
    for key in ("flow", "fill", "lining"):
        (low, _, high), (lower, _, higher) = ends(measured, key), ends(by_eye, key)
        assert lower <= low * (1 + ROUNDED), key
        assert high <= higher * (1 + ROUNDED), key
        assert high - low < higher - lower, key


def test_nobody_knows_is_the_widest() -> None:
    """An answer by eye lies within what is taken for one that nobody gave."""
    nothing, something = answers(None), answers(length=12.0, fall=1.0, width=0.6)
    for key in ("flow", "head"):
        assert ends(nothing, key)[0] <= ends(something, key)[0]
        assert ends(something, key)[2] <= ends(nothing, key)[2]


def test_a_flow_that_is_known_is_one_number() -> None:
    low, middle, high = ends(answers(None, flow=6000.0), "flow")
    assert low == middle == high == pytest.approx(6000 / 3.6e6)


def test_every_range_holds_its_middle_and_all_that_moves_it() -> None:
    told = answers(None)
    assert len(told.ranges) >= 10
    for each in told.ranges:
        assert each.low <= each.middle <= each.high
        assert [move.swing for move in each.moves] == sorted((move.swing for move in each.moves), reverse=True)
        for move in each.moves:
            assert each.low <= move.low <= move.high <= each.high
    assert told.next in {move.key for each in told.ranges for move in each.moves}


def test_money_is_told_only_at_prices_given_and_follows_them() -> None:
    seen = {"length": 18.0, "fall": 1.6, "width": 0.6}
    bare = estimate(visit_of(seen))
    assert bare.of("build") is bare.of("running") is None
    assert "day" in bare.unpriced
    prices = dict.fromkeys(PRICE_NAMES, 10.0)
    once, twice = (
        estimate(visit_of(seen, prices={name: times * price for name, price in prices.items()})) for times in (1, 2)
    )
    assert once.unpriced == ()
    for key in ("build", "running"):
        assert [2 * end for end in ends(once, key)] == pytest.approx(ends(twice, key))
    assert ends(bare, "stone") == ends(once, "stone")


def test_a_price_counts_what_it_is_for() -> None:
    """Stone at 100 a tonne and nothing else: a tenth of the kilograms."""
    told = estimate(visit_of({"length": 18.0}, prices={"stone": 100.0}))
    assert ends(told, "build") == pytest.approx([kilograms / 10 for kilograms in ends(told, "stone")])


def test_two_people_are_paid_for_each_day() -> None:
    """At 100 a person's day and nothing else: 200 for each day told."""
    told = estimate(visit_of({"length": 18.0}, prices={"day": 100.0}))
    assert ends(told, "build") == pytest.approx([200 * days for days in ends(told, "days")])


def test_the_squares_are_latin() -> None:
    """McKay, Beckman and Conover 1979 (from memory): one in each of as many equal parts of every band."""
    drawn = squares(visit_of({}))
    assert len(drawn) == DRAWN
    for key in drawn[0]:
        assert sorted(int(places[key] * DRAWN) for places in drawn) == list(range(DRAWN))


@given(st.lists(st.floats(0.01, 15), min_size=2, max_size=2).map(sorted))
def test_more_water_wants_no_smaller_pit(wanted: list[float]) -> None:
    small, large = (pit_for(volume) for volume in wanted)
    assert small[0] * small[1] <= large[0] * large[1] + 1e-9


answer_of = {name: st.none() | st.floats(*LIMITS[name]) for name in LIMITS}


@settings(max_examples=25)
@given(st.fixed_dictionaries(answer_of), st.sampled_from([None, "trickle", "everyday", "full"]), st.data())
def test_any_answers_within_their_limits_make_a_stream(
    given_: dict[str, float | None], look: str | None, data: Any
) -> None:
    """Whatever can be answered can be designed, anywhere in its bands."""
    length, fall = given_["length"], given_["fall"]
    if length is not None and fall is not None:
        given_["fall"] = min(max(fall, 0.005 * length), 0.4 * length)
    visit = visit_of(given_, look=look)
    places = {each.key: data.draw(st.floats(0, 1)) for each in visit.unknowns}
    made = Made(sketch_at(visit, places), visit)
    told = made.told(made.sketch)
    assert all(amount >= 0 for amount in told.values())
    assert told["holds"] > told["moves"]
    assert made.design.reservoir.lowest >= made.design.reservoir.pit.pump_minimum
