"""What must hold for any film: water is kept, still water stays still, the grid matters little, stones hide water."""

import json
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.compose import Design, design
from beckwright.film import (
    FLAT_OUT,
    Film,
    Loop,
    Sizes,
    Works,
    film,
    film_band,
    film_dict,
    film_rows,
    film_set,
    reservoir_that_works,
    rules_of_thumb,
)
from beckwright.film.asked import Asked
from beckwright.film.march import Marching
from beckwright.film.nodes import cut
from beckwright.film.pump import pumping_of
from beckwright.film.rates import Rates
from beckwright.film.reel import Scene, Taken
from beckwright.film.starts import rested
from beckwright.film.tell import COLUMNS
from beckwright.film.together import Work, do
from beckwright.film.values import NEVER, STORIES, Story
from beckwright.job.model import Run
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.practice import FLOAT_SWITCH_RISE

from .streams import NAMES, STONES, Films, abreast, designed, one_run, straight_design

EVERY: list[tuple[Story, dict[str, bool | float]]] = [
    ("first fill", {}),
    ("first fill", {"pools_filled": True}),
    ("restart", {}),
    ("restart", {"missing": 0.02}),
    ("stop", {}),
    ("stop", {"topped_up": True}),
]


ENDS = (0, 1, 2)


@pytest.fixture(scope="module")
def films(example: Design) -> Films:
    """Every story of an example at every end of the band, taken together."""
    wanted = (Asked(story=story, end=end, **besides) for (story, besides), end in product(EVERY, ENDS))  # type: ignore[arg-type]
    return abreast(example, ((None, asked) for asked in wanted))


@pytest.mark.parametrize(("story", "besides"), EVERY)
@pytest.mark.parametrize("end", ENDS)
def test_no_water_is_made_or_lost(films: Films, story: Story, besides: dict[str, bool | float], end: int) -> None:
    """Conservation of volume, to a thousand-millionth of what was pumped or came back."""
    taken = films[str((None, Asked(story=story, end=end, **besides)))]  # type: ignore[arg-type]
    moved = max(taken.turnover, abs(taken.returned))
    assert abs(taken.lost) <= 1e-9 * moved
    for series in (taken.film, taken.pools, taken.pores, taken.box, taken.hose, taken.spilt, taken.back, taken.level):
        assert np.isfinite(series).all()
    for water in (taken.film, taken.pools, taken.pores, taken.box, taken.hose, taken.spilt):
        assert water.min() > -1e-6
    assert (np.diff(taken.seconds) >= 0).all()


def test_change_keeps_water_and_ends_where_a_restart_ends(hazel: Design) -> None:
    """Steady flow does not remember where it came from."""
    changed, restarted = film(hazel, "change", "everyday", then="full"), film(hazel, "restart", "full")
    assert abs(changed.lost) <= 1e-9 * changed.turnover
    assert changed.course[-1] == pytest.approx(restarted.course[-1], rel=2e-3)
    assert changed.level[-1] == pytest.approx(restarted.level[-1], abs=1e-3)


def test_still_pools_stay_still(example: Design) -> None:
    """Lake at rest: pools at their rims and box at its lip let nothing go, and stones with level water neither."""
    nodes, pumping = cut(example, 1, 0.25), pumping_of(example, FLAT_OUT, 0.1)
    morning = rested(example, nodes, pumping, missing=0.0)
    flow = Rates(nodes, pumping.overflow).water(morning.held, morning.highest).flow
    still = np.concatenate([nodes.of("pool"), nodes.of("box")])
    assert flow[still].max() <= 1e-12
    assert np.abs(flow).max() <= 1e-3 * pumping.at(pumping.rested)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("story", ["first fill", "restart"])
def test_halving_the_grid_moves_nothing_by_a_hundredth(name: str, story: str) -> None:
    coarse, fine = (film(designed(name), story, endless=True, cell=cell) for cell in (0.25, 0.125))  # type: ignore[arg-type]
    assert coarse.back_half == pytest.approx(fine.back_half, rel=0.01)
    for one, other in zip(coarse.lips, fine.lips, strict=True):
        assert one.half == pytest.approx(other.half, rel=0.01), one.name
    assert coarse.borrowed == pytest.approx(fine.borrowed, rel=0.01)
    pit = designed(name).reservoir.pit
    assert coarse.lowest - pit.rested == pytest.approx(fine.lowest - pit.rested, rel=0.01)
    assert coarse.course[-1] == pytest.approx(fine.course[-1], rel=0.01)


def test_a_finer_tolerance_moves_nothing_by_three_thousandths(example: Design) -> None:
    usual, fine = (film(example, "restart", endless=True, tolerance=tolerance) for tolerance in (2e-3, 1e-5))
    assert usual.back_half == pytest.approx(fine.back_half, rel=3e-3)
    assert usual.borrowed == pytest.approx(fine.borrowed, rel=3e-3)
    assert usual.steady == pytest.approx(fine.steady, rel=0.01)


@pytest.mark.parametrize("name", NAMES)
def test_a_stop_returns_what_the_start_lent(name: str) -> None:
    """What is still in the stones when the film ends trickles on: a hundredth."""
    start, stop = (film(designed(name), story, endless=True) for story in ("restart", "stop"))  # type: ignore[arg-type]
    assert stop.returned == pytest.approx(start.borrowed, rel=0.012)


def test_more_stone_shows_no_more_water_and_brings_none_of_it_sooner() -> None:
    films = [
        film(straight_design(one_run(replace(STONES, depth=depth))), "first fill", endless=True)
        for depth in (0.02, 0.05, 0.1, 0.2)
    ]
    shown = [each.film[-1] for each in films]
    times = [each.back_half for each in films]
    assert all(later < earlier for earlier, later in pairwise(shown))
    assert all(later > earlier for earlier, later in pairwise(times))


def test_left_and_right_change_nothing(hazel: Design) -> None:
    """The whole site seen in a mirror."""
    job = hazel.job
    mirror = np.array([1.0, -1.0])
    mirrored = replace(
        job,
        survey=replace(job.survey, points=job.survey.points * mirror),
        course=replace(
            job.course,
            line=job.course.line * mirror,
            edges=tuple(
                replace(edge, side={"left": "right", "right": "left", "both": "both"}[edge.side])  # type: ignore[arg-type]
                for edge in job.course.edges
            ),
        ),
        reservoir=replace(job.reservoir, centre=(job.reservoir.centre[0], -job.reservoir.centre[1])),
        route=replace(job.route, line=tuple((x, -y) for x, y in job.route.line)),
        site=replace(job.site, trees=(), services=(), boundaries=()),
    )
    one, other = film(hazel, "restart"), film(design(mirrored), "restart")
    assert one.back_half == pytest.approx(other.back_half, rel=1e-9)
    assert one.lowest == pytest.approx(other.lowest, abs=1e-9)


def test_bands_run_from_least_to_most_water(example: Design) -> None:
    low, middle, high = film_band(example, "restart", endless=True)
    assert low.borrowed < middle.borrowed < high.borrowed
    assert low.back_half <= middle.back_half <= high.back_half


def test_the_steady_end_is_the_steady_water(example: Design) -> None:
    """Where water shows on every run, film, pools and stones agree with the steady stage; its lips throw none back.

    Where all of it hides the stage takes the depth that carries the flow without what lips and sills take from it.
    """
    given_flows = [each for each in example.supply.chosen.flows if each.duty is not None]
    largest = max(given_flows, key=lambda each: each.wanted)
    number, stored = example.water.number(largest.name), example.water.stored
    taken = film(example, "restart", largest.name, endless=True)
    assert taken.pumped[-1] == pytest.approx(largest.wanted, rel=0.01)
    assert taken.film[-1] == pytest.approx(stored.film[1, number], rel=0.03)
    among = stored.pores[1, number] + stored.kept_pores[1, number]
    assert taken.pores[-1] == pytest.approx(among, rel=0.01)
    pools = stored.pools[1, number] + stored.kept_pools[1, number]
    assert taken.pools[-1] == pytest.approx(pools, rel=0.01)
    hose = 0.0 if taken.hose[0] > 0 else example.reservoir.hose
    assert taken.borrowed - hose == pytest.approx(stored.in_motion[1, number], rel=0.03)


@pytest.mark.parametrize(("name", "flow"), [("hazel_bank", "everyday"), ("withy_lane", "full")])
@pytest.mark.parametrize(("story", "besides"), EVERY[:3])
def test_the_reservoir_that_works_just_works(name: str, flow: str, story: str, besides: dict[str, object]) -> None:
    """Designed anew with a pit so large, the pump runs on; with two hundredths less it cuts out."""
    base = designed(name)
    works = reservoir_that_works(base, story, flow, **besides).middle / base.reservoir.useful  # type: ignore[arg-type]
    for share, dry in ((1.02, False), (0.98, True)):
        reservoir = replace(base.job.reservoir, length=base.job.reservoir.length * works * share)
        fitted = design(replace(base.job, reservoir=reservoir), base.ground)
        assert film(fitted, story, flow, **besides).runs_dry is dry  # type: ignore[arg-type]


def test_what_was_lent_does_not_go_over(hazel: Design) -> None:
    """It rests at its overflow, and gets back no more than it gave: not a litre spills, at any flow and end."""
    for flow in hazel.job.flows:
        for taken in film_band(hazel, "stop", flow.name):
            assert taken.spilt[-1] < 1e-3


def test_rules_of_thumb_are_multiples(hazel: Design) -> None:
    """1, 2, 2.5 and 3 times the water in motion, and a third of 9 000 L/h: 3 000 L (the trade's own figures)."""
    rules = rules_of_thumb(hazel, "full")
    moving = rules[0].volume
    assert [rule.volume / moving for rule in rules[:4]] == pytest.approx([1.0, 2.0, 2.5, 3.0])
    assert rules[-1].volume == pytest.approx(3.0)


def test_a_film_goes_into_a_file(example: Design) -> None:
    for taken in film_set(example):
        told = json.loads(json.dumps(film_dict(taken), allow_nan=False))
        assert told["columns"] == list(COLUMNS)
        rows = film_rows(taken)
        assert len(rows) == len(taken.seconds)
        assert all(len(row) == len(COLUMNS) for row in rows)


@settings(max_examples=25)
@given(
    depth=st.one_of(st.just(0.0), st.floats(0.01, 0.3)),
    fall=st.floats(0.02, 6.0),
    length=st.floats(0.3, 25.0),
    flow_end=st.integers(0, 2),
    sill=st.floats(0.1, 0.9),
    story=st.sampled_from(["first fill", "restart", "stop"]),
)
def test_any_run_gives_a_film(depth: float, fall: float, length: float, flow_end: int, sill: float, story: str) -> None:
    """Flat or steep, bare or deep in stones: no step too many, no water lost, nothing that is not a number."""
    run = one_run(replace(STONES, depth=depth), length=length, fall=fall, sills=(sill * length,))
    taken: Film = film(straight_design(run), story, end=flow_end, endless=True)  # type: ignore[arg-type]
    assert abs(taken.lost) <= 1e-9
    assert len(taken.seconds) < 6000
    assert taken.ended in {"steady", "drained", "time is up"}
    assert np.isfinite(taken.level).all()


def test_nothing_happens_before_it_can(hazel: Design) -> None:
    taken = film(hazel, "first fill")
    lips = [lip.half for lip in taken.lips]
    assert lips == sorted(lips)
    assert all(lip.first <= lip.half for lip in taken.lips)
    assert taken.back_half < taken.steady < NEVER
    assert isinstance(hazel.course.stretches[0].reach, Run)
    assert pumping_of(hazel, "full", FLOAT_SWITCH_RISE.amount).hose / taken.pumped.max() < taken.lips[0].first


@pytest.mark.parametrize("story", ["first fill", "restart"])
def test_the_reservoir_that_works_asks_for_itself(example: Design, story: str) -> None:
    """What is borrowed from a reservoir of that size is that size, at every end of the band."""
    useful = example.reservoir.useful
    works = reservoir_that_works(example, story)  # type: ignore[arg-type]
    for end, size in enumerate(works.ends):
        taken = film(example, story, end=end, endless=True, larger=size / useful)  # type: ignore[arg-type]
        assert taken.borrowed == pytest.approx(size, rel=3e-3)


def test_a_film_is_the_same_whatever_is_taken_beside_it(hazel: Design) -> None:
    """To the bit: among a dozen and more, and alone."""
    every = film_set(hazel)
    for story in STORIES[:3]:
        alone = film(hazel, story)
        assert alone == next(each for each in every if each.story == story and each.end == MIDDLE)


def test_a_size_that_several_ask_for_at_once_is_worked_once(example: Design, monkeypatch: pytest.MonkeyPatch) -> None:
    """By the number of films taken: as many for two who ask while it is under way as for one."""
    taken: list[Scene] = []
    join = Marching.join

    def counted(marching: Marching, scene: Scene, told: Callable[[Taken], None]) -> None:
        taken.append(scene)
        join(marching, scene, told)

    monkeypatch.setattr(Marching, "join", counted)
    alone = Sizes(Loop(example)).of("restart")
    films, sizes = len(taken), Sizes(Loop(example))

    def asked_twice() -> Work[tuple[Works, ...]]:
        both: tuple[Works, ...] = yield (sizes.finding("restart"), sizes.finding("restart"))
        return both

    assert do(asked_twice()) == (alone, alone)
    assert len(taken) == 2 * films > 2
