"""How the water lies before a film begins: dry, at rest, or running steadily."""

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Flow, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.laws import LEVEL_SHARE, depths
from beckwright.film.nodes import Nodes
from beckwright.film.pump import Pumping
from beckwright.film.rates import PEBBLY
from beckwright.film.reel import Rules, Scene
from beckwright.film.together import Work
from beckwright.stages.water.hidden import level_held

_AFTER: Duration = 86400.0
"""A stream left alone this long runs steadily."""

_HOSE, _BOX, _RESERVOIR = 0, 1, -2


@value
class Start:
    """Water in every node (m,), m3, the highest wetted depth among the stones (m,), m, and what was added from outside.

    added  water put in from a tap so that it could run at all, or to the rest level, m3
    """

    held: FloatArray
    highest: FloatArray
    added: Volume


def dry(nodes: Nodes, pumping: Pumping, *, pools_filled: bool, missing: Volume) -> Start:
    """Nothing anywhere but in the reservoir, unless the pools are filled from a hose first."""
    held = np.zeros(nodes.count)
    if pools_filled:
        pools = nodes.of("pool")
        held[pools] = nodes.full[pools]
    held[_RESERVOIR] = pumping.rested - missing
    return Start(held=held, highest=np.zeros(nodes.count), added=0.0)


def rested(design: Design, nodes: Nodes, pumping: Pumping, *, missing: Volume) -> Start:
    """The morning: pools and box to their rims, stones wet but drained to what lips and sills hold back."""
    standing = nodes.of("pool")
    held = np.zeros(nodes.count)
    held[standing] = nodes.full[standing]
    held[_BOX] = nodes.full[_BOX]
    runs = np.flatnonzero(nodes.in_runs)
    tops = PEBBLY * nodes.stone[runs]
    depth = np.clip(_level(design, nodes)[runs] - nodes.lining[runs] - tops, 0.0, nodes.stone[runs] - tops)
    clinging = nodes.retained[runs] * (nodes.stone[runs] - depth)
    held[runs] = (nodes.voids[runs] * depth + clinging) * nodes.width[runs] * nodes.length[runs]
    held[_HOSE] = 0.0 if pumping.drains > 0.0 else pumping.hose
    held[_RESERVOIR] = pumping.rested - missing
    return Start(held=held, highest=nodes.stone.copy(), added=0.0)


def running(
    nodes: Nodes, pumping: Pumping, morning: Start, tolerance: Ratio, *, topped_up: bool, missing: Volume
) -> Work[Start]:
    """Running steadily since the morning; what the reservoir could not lend was put in from a tap, and is told.

    topped_up  a float has filled the reservoir to its rest level meanwhile
    """
    held = _guess(nodes, pumping, morning)
    rules = Rules(running=True, endless=True, tolerance=tolerance, until=_AFTER)
    last = yield Scene(nodes, pumping, held, morning.highest, rules)
    held = last.held[-1].copy()
    wanted = pumping.rested - missing if topped_up else pumping.least
    added = max(float(wanted - held[_RESERVOIR]), 0.0)
    held[_RESERVOIR] += added
    return Start(held=held, highest=last.highest, added=added)


def _guess(nodes: Nodes, pumping: Pumping, morning: Start) -> FloatArray:
    """Uniform flow in every node, its water taken from the reservoir, so that little is left to settle."""
    flow = pumping.at(pumping.least)
    held: FloatArray = np.maximum(morning.held, _uniform(nodes, flow))
    held[_HOSE] = pumping.hose
    held[_RESERVOIR] = 0.0
    held[_RESERVOIR] = float(morning.held.sum() - held.sum())
    return held


def _uniform(nodes: Nodes, flow: Flow) -> FloatArray:
    """Water in each node if the surface followed the bed, m3; nothing in hose and reservoir."""
    gradient = np.where(nodes.scale > 0.0, nodes.level / LEVEL_SHARE, nodes.fixed)
    speed = 2 * gradient / (nodes.viscous + np.sqrt(nodes.viscous**2 + 4 * nodes.inertial * gradient))
    hidden = np.minimum(nodes.layer * nodes.stone * speed, flow)
    depth = np.array(
        [
            np.interp(shown, row * root, depths())
            for shown, row, root in zip(flow - hidden, nodes.rows[nodes.row], np.sqrt(gradient), strict=True)
        ]
    )
    among = np.where(hidden < flow, nodes.stone, flow / np.maximum(nodes.layer * speed, 1e-12))
    below = np.where(nodes.in_runs, nodes.voids * nodes.width * np.minimum(among, nodes.stone), nodes.below)
    water: FloatArray = (below + (nodes.width + nodes.side_slope * depth) * depth) * nodes.length
    water[[_HOSE, _RESERVOIR, -1]] = 0.0
    return water


def _level(design: Design, nodes: Nodes) -> FloatArray:
    """Level that lips, sills and pools hold back at rest, at every node of a run; minus infinity elsewhere."""
    level = np.full(nodes.count, -np.inf)
    for run in design.water.runs:
        here = np.flatnonzero(nodes.in_runs & (nodes.run == run.number))
        level[here] = level_held(design.course, run.stretch, nodes.chainage[here])
    return level
