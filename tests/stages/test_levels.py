"""Freeboard by hand, and low places told as stretches."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.compose import Design, design
from beckwright.job.model import Edge, Job
from beckwright.stages.levels import places
from beckwright.stages.water.beds import HIGH


def test_freeboard_is_edge_less_high_water(plain: Job) -> None:
    """Hand calculation: the edge 200 mm over the bed, less the high depth; settled, 30 mm less again."""
    designed = design(plain)
    upright = designed.water.depth[HIGH] * (1 + 0.05**2) ** 0.5
    assert designed.freeboard.left == pytest.approx(0.2 - upright, abs=1e-9)
    assert designed.freeboard.right == pytest.approx(0.2 - upright, abs=1e-9)
    assert designed.freeboard.settled_left == pytest.approx(0.17 - upright, abs=1e-9)
    assert designed.freeboard.wanted == 0.1


def test_each_side_is_judged_by_its_own_edge(plain: Job) -> None:
    low = Edge(start=4.0, end=6.0, side="right", above_bed=0.12)
    board = design(replace(plain, course=replace(plain.course, edges=(low,)))).freeboard
    # 80 mm lower; on 0.22 m of fill instead of 0.30 it settles 8 mm less
    assert board.settled_left.min() - board.settled_right.min() == pytest.approx(0.072, abs=1e-9)
    assert board.least(1) == pytest.approx(board.settled_right[1].min(), abs=1e-12)


def test_more_flow_leaves_less(hazel_design: Design) -> None:
    flows = hazel_design.water.flows
    assert np.all(np.diff(flows) > 0)
    assert np.all(np.diff(hazel_design.freeboard.left, axis=0) <= 1e-12)


def test_places_of_nothing() -> None:
    assert places(np.zeros(3, bool), np.arange(3.0)) == ()


def test_places_are_told_from_first_to_last() -> None:
    where = np.array([True, True, False, False, True, False, True])
    assert places(where, np.arange(7.0)) == ((0.0, 1.0), (4.0, 4.0), (6.0, 6.0))


def test_places_close_together_are_told_as_one() -> None:
    """2.0 m of sound edge between 4 and 6, 3.0 m between 1 and 4."""
    where = np.array([True, True, False, False, True, False, True])
    assert places(where, np.arange(7.0), 2.0) == ((0.0, 1.0), (4.0, 6.0))
    assert places(where, np.arange(7.0), 3.0) == ((0.0, 6.0),)


@given(where=st.lists(st.booleans(), min_size=1, max_size=40), join=st.floats(0, 5))
def test_places_cover_every_low_station_and_begin_and_end_at_one(where: list[bool], join: float) -> None:
    low, at = np.array(where), np.arange(len(where)) / 4
    spans = places(low, at, join)
    covered = np.zeros_like(low)
    for start, end in spans:
        assert low[at == start].all()
        assert low[at == end].all()
        covered |= (at >= start) & (at <= end)
    assert np.all(covered[low])
    assert all(later[0] - earlier[1] > join for earlier, later in pairwise(spans))


def test_a_tolerance_leaves_an_edge_in_doubt(plain: Job) -> None:
    """Hand calculation: 10, 20 and 10 mm are 24.5 mm together; an edge 74 mm over the high water is in doubt of 50."""
    before = design(plain)
    deepest = max(float(water.depth[HIGH].max()) for water in (before.water, before.flat_out) if len(water.flows))
    upright = deepest * (1 + 0.05**2) ** 0.5
    allowed = replace(plain.course, settlement=0.0, freeboard_wanted=0.05, edge_above_bed=upright + 0.074)
    doubted = design(replace(plain, course=allowed))
    assert doubted.budget.survey == 0.010
    fill = doubted.course.stations.fill_left
    settling = 0.05 * fill  # rammed fill may lose 5 % of its depth, and nothing was allowed for
    assert doubted.budget.left == pytest.approx((0.0006 + settling**2) ** 0.5, abs=1e-9)
    found = {finding.place: finding.says for finding in doubted.findings if finding.code == "freeboard-in-doubt"}
    assert len(found) == 2
    assert all("survey 10 mm, dig 20 mm, stone 10 mm" in says for says in found.values())
    sure = design(replace(plain, course=replace(allowed, edge_above_bed=upright + 0.09)))
    assert "freeboard-in-doubt" not in [finding.code for finding in sure.findings]


def test_edges_shot_as_built_keep_only_the_survey_in_doubt(withy: Job) -> None:
    budget = design(withy).budget
    assert (budget.dig, budget.stone) == (0.0, 0.0)
    assert budget.left == pytest.approx(withy.tolerances.survey)
    assert budget.right == pytest.approx(withy.tolerances.survey)
