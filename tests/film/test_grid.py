"""Half the cell moves no answer of a film by more than a hundredth, at any named flow of the example jobs."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from beckwright.film import Film
from beckwright.film.asked import Asked
from beckwright.film.nodes import cut
from beckwright.film.values import Story

from .streams import NAMES, Films, Wanted, abreast, designed

STORIES: tuple[tuple[Story, dict[str, bool | float]], ...] = (
    ("first fill", {}),
    ("first fill", {"pools_filled": True}),
    ("restart", {}),
    ("stop", {}),
    ("stop", {"topped_up": True}),
)
ENDED: tuple[Story, ...] = ("first fill", "restart", "stop")
ENDS = (0, 2)
CELLS = (0.25, 0.125)
FLOWS = [(name, flow.name) for name in NAMES for flow in designed(name).job.flows]
SECONDS = 0.5
"""Nobody tells times apart by less with a stopwatch."""

VOLUME, LEVEL = 2e-4, 5e-4
"""A fifth of a litre, half a millimetre: a tenth of what papers are rounded to."""

CREEPS = {("hazel_bank", "trickle", "first fill", True): 0.0135}
"""The back flow falls by 1 % in 12 s where it comes to be steady, after 18 minutes."""


def _times(taken: Film) -> dict[str, float]:
    lips = {lip.name: lip.half for lip in taken.lips}
    return lips | {"back": taken.back_half, "lowest": taken.lowest_at} | {"out": next(iter(taken.cut_outs), 0.0)}


def _volumes(taken: Film) -> dict[str, float]:
    return {
        "borrowed": taken.borrowed,
        "returned": taken.returned,
        "spilt": float(taken.spilt[-1]),
        "added": taken.added,
    }


def _wanted(name: str) -> Iterator[Wanted]:
    """Every film that is looked at below, at the usual cell."""
    flows = [flow.name for flow in designed(name).job.flows]
    for flow in flows:
        yield from ((flow, Asked(story=story, **besides)) for story, besides in STORIES)  # type: ignore[arg-type]
        yield from ((flow, Asked(story=story, end=end)) for story, end in product(ENDED, ENDS))
    for flow in flows[:-1]:
        yield flows[-1], Asked(story="change", then=flow)
        yield flow, Asked(story="change", then=flows[-1])


@cache
def _films(name: str) -> Films:
    """All films of an example at both cells, taken together."""
    both = ((flow, replace(asked, cell=cell)) for flow, asked in _wanted(name) for cell in CELLS)
    return abreast(designed(name), both)


def _both(name: str, flow: str, story: Story, **besides: object) -> tuple[Film, Film]:
    asked = (Asked(story=story, cell=cell, **besides) for cell in CELLS)  # type: ignore[arg-type]
    coarse, fine = (_films(name)[str((flow, each))] for each in asked)
    return coarse, fine


def _agree(coarse: Film, fine: Film, share: float, steady: float) -> None:
    assert (coarse.ended == fine.ended) or coarse.story == "stop", "the last trickle of a stop may outlast it"
    assert coarse.steady == pytest.approx(fine.steady, rel=steady, abs=SECONDS)
    assert _times(coarse) == pytest.approx(_times(fine), rel=share, abs=SECONDS)
    assert _volumes(coarse) == pytest.approx(_volumes(fine), rel=share, abs=VOLUME)
    for now, then in ((coarse.lowest, fine.lowest), (coarse.highest, fine.highest)):
        assert now - coarse.level[0] == pytest.approx(then - fine.level[0], rel=share, abs=LEVEL)


@pytest.mark.parametrize(("name", "flow"), FLOWS)
@pytest.mark.parametrize(("story", "besides"), STORIES)
def test_half_the_cell_moves_no_answer_by_a_hundredth(
    name: str, flow: str, story: Story, besides: dict[str, bool | float]
) -> None:
    steady = CREEPS.get((name, flow, story, bool(besides)), 0.01)
    _agree(*_both(name, flow, story, **besides), share=0.01, steady=steady)


@pytest.mark.parametrize(("name", "end"), list(product(NAMES, ENDS)))
@pytest.mark.parametrize("story", ENDED)
def test_nor_any_at_the_ends_of_the_band_by_two(name: str, end: int, story: Story) -> None:
    for flow in designed(name).job.flows:
        _agree(*_both(name, flow.name, story, end=end), share=0.02, steady=0.02)


@pytest.mark.parametrize(("name", "flow"), FLOWS)
def test_nor_any_of_a_change_by_two(name: str, flow: str) -> None:
    largest = designed(name).job.flows[-1].name
    if flow != largest:
        _agree(*_both(name, largest, "change", then=flow), share=0.02, steady=0.02)
        _agree(*_both(name, flow, "change", then=largest), share=0.02, steady=0.02)


@pytest.mark.parametrize("name", NAMES)
def test_nodes_stand_where_runs_begin_and_end_and_hold_what_runs_hold(name: str) -> None:
    """Whatever the cell: their lengths add up to the run's, and the first and last stand at its ends exactly."""
    for run in designed(name).water.runs:
        for cell in (0.25, 0.1, 5.0):
            nodes = cut(designed(name), 1, cell)
            here = nodes.run == run.number
            assert nodes.chainage[here][0] == run.stretch.start
            assert nodes.chainage[here][-1] == run.stretch.end
            assert nodes.length[here].sum() == pytest.approx(run.stretch.end - run.stretch.start, rel=1e-12)
