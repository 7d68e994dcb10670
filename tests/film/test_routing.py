"""A stream without stones beside the US EPA drainage-routing engine, run through ``pyswmm``: arrival and depth."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright.compose import design
from beckwright.film.march import march
from beckwright.film.nodes import cut
from beckwright.film.pump import pumping_of
from beckwright.film.reel import Rules
from beckwright.film.starts import dry
from beckwright.job.read import read_job

from .drainage import conduit, network, watch, without_stones
from .streams import EXAMPLES

FLOW, MANNING, ABOVE = 2.5e-3, 0.06, 4
"""Looked at four conduits above the foot: the engine's own outfall bends the last ones."""


@pytest.mark.parametrize("name", ["hazel_bank", "withy_lane"])
def test_arrival_and_depth_of_a_bare_stream(name: str, tmp_path: Path) -> None:
    """The engine keeps inertia, we do not: arrival at the foot of a dry course with dry pools within 2 %."""
    bare = design(without_stones(read_job(EXAMPLES / name), MANNING))
    text = network(bare, FLOW, 0.25, 600, 0.05)
    seconds, flows, depths = watch(text, tmp_path, conduit(text, ABOVE), 1)
    number = int(np.argmax(np.array(flows) > FLOW / 2))
    arrival = np.interp(FLOW / 2, flows[number - 1 : number + 1], seconds[number - 1 : number + 1])

    nodes, pumping = cut(bare, 1, 0.25), pumping_of(bare, bare.job.flows[0].name, 0.1)
    pumping = replace(pumping, flow=np.full_like(pumping.flow, FLOW), hose=0.0)
    start = dry(nodes, pumping, pools_filled=False, missing=0.0)
    held = start.held.copy()
    held[1] = nodes.full[1]
    rules = Rules(running=True, endless=True, tolerance=1e-4, until=600.0)
    taken = march(nodes, pumping, held, start.highest, rules)
    face = nodes.foot - ABOVE - 1
    back = taken.flow[:, face]
    number = int(np.argmax(back > FLOW / 2))
    ours = np.interp(FLOW / 2, back[number - 1 : number + 1], taken.seconds[number - 1 : number + 1])
    assert ours == pytest.approx(arrival, rel=0.02)
    assert taken.ended == "steady"
    over = taken.held[-1, face] / nodes.length[face]
    width, side = nodes.width[face], nodes.side_slope[face]
    depth = 2 * over / (width + np.sqrt(width**2 + 4 * side * over))
    assert depth == pytest.approx(depths[-1], rel=0.01)
