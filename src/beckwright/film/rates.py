"""How fast every node hands water on, and how that changes with what the nodes hold.

Diffusive wave: no inertia. In a run the surface drives the water both over and between the stones; over lips, sills,
rims and at the foot only the node above counts. Depths are always those of the node above: water can run back only as
far as that one is wet, which is all a level surface needs.
"""

from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Ratio, Volume
from beckwright.film.laws import DEEPEST, STEPS
from beckwright.film.nodes import Nodes

SPILL_TIME: Duration = 2.0
"""What stands over the overflow runs off within this time, s (assumed: a free pipe)."""

PEBBLY: Ratio = 0.05
"""Tops of stones are no plane: the first water shows when all but this share of the gaps is full (assumed)."""

_TINY = 1e-12


class Water(NamedTuple):
    """How the water stands in every node, (m,) each, and what it hands on.

    risen        content over where water first shows, up to where it covers all stones, m2
    surface      width of the surface, m
    by_wetting   depth among the stones if they were dry above, m; by_draining if they are wet
    wetted       depth among the stones, m
    root, rise   of the depth over the stones, and of the table there
    conveyance   read from the table
    gradient     of the surface along the bed
    eased        what the gradient is multiplied by for its root; permeable: for the velocity between the stones, m/s
    hidden       area that velocity has, m2
    flow         out of the node, m3/s
    """

    risen: FloatArray
    surface: FloatArray
    by_wetting: FloatArray
    by_draining: FloatArray
    wetted: FloatArray
    root: FloatArray
    rise: FloatArray
    conveyance: FloatArray
    gradient: FloatArray
    eased: FloatArray
    permeable: FloatArray
    hidden: FloatArray
    flow: FloatArray


class Rates:
    """The rates of one loop. Arrays of the nodes are brought into the form the march needs, once."""

    def __init__(self, nodes: Nodes, overflow: Volume) -> None:
        """``overflow`` is the water in the reservoir at which it spills, m3."""
        self.nodes, self.overflow, self.spill = nodes, overflow, nodes.count - 2
        self.per_length, self.square, self.fourfold = 1.0 / nodes.length, nodes.width**2, 4.0 * nodes.side_slope
        self.wetting = 1.0 / (nodes.voids * nodes.width)
        self.draining = 1.0 / ((nodes.voids - nodes.retained) * nodes.width)
        self.clinging = nodes.retained * nodes.width
        self.band = np.where(nodes.in_runs, 2.0 * PEBBLY * nodes.below, 0.0) + _TINY
        self.half_band, self.per_band = 0.5 / self.band, 1.0 / self.band
        self.started, self.covered = nodes.below - self.band / 2.0, nodes.below + self.band / 2.0
        self.table = nodes.rows.ravel()
        self.rises = np.diff(nodes.rows, axis=1, append=nodes.rows[:, -1:]).ravel()
        self.start, self.steps = np.arange(nodes.count) * STEPS, float((STEPS - 1) / np.sqrt(DEEPEST))
        self.scale, self.resisting = nodes.scale[:-1], 4.0 * nodes.inertial
        self.viscous_square = nodes.viscous**2

    def water(self, held: FloatArray, highest: FloatArray) -> Water:
        """How the water stands, and what is handed on, for the water held (m,) and the highest wetted depths (m,)."""
        nodes = self.nodes
        content = held * self.per_length
        risen = np.minimum(np.maximum(content - self.started, 0.0), self.band)
        over = risen * risen * self.half_band + np.maximum(content - self.covered, 0.0)
        surface = np.sqrt(self.square + self.fourfold * over)
        depth = 2.0 * over / (nodes.width + surface)
        among = content - over
        by_wetting, by_draining = among * self.wetting, (among - self.clinging * highest) * self.draining
        wetted = np.maximum(np.minimum(np.minimum(by_wetting, by_draining), nodes.stone), 0.0)
        level = nodes.lining + wetted + depth * nodes.upright
        gradient = nodes.fixed.copy()
        gradient[:-1] += (level[:-1] - level[1:]) * self.scale
        root = np.sqrt(depth)
        place = root * self.steps
        row = np.minimum(place.astype(np.intp), STEPS - 2)
        at = self.start + row
        rise = self.rises.take(at)
        conveyance = self.table.take(at) + (place - row) * rise
        size = np.abs(gradient) + nodes.level
        eased = 1.0 / np.sqrt(size)
        permeable = 2.0 / (nodes.viscous + np.sqrt(self.viscous_square + self.resisting * size))
        hidden = nodes.layer * wetted
        flow = (conveyance * eased + hidden * permeable) * gradient
        flow[self.spill] = max(held[self.spill] - self.overflow, 0.0) / SPILL_TIME
        return Water(
            risen,
            surface,
            by_wetting,
            by_draining,
            wetted,
            root,
            rise,
            conveyance,
            gradient,
            eased,
            permeable,
            hidden,
            flow,
        )

    def changes(self, water: Water, held: FloatArray) -> tuple[FloatArray, FloatArray]:
        """How the flow out of every node changes with the water in it (m,), and in the next one (m - 1,), 1/s.

        With the gradient it is taken to change in proportion: the tangent of a root is half of that, and a step along
        it overshoots a level surface by as much as it was off. The order of the march does not hang on it.
        """
        nodes = self.nodes
        shown = water.risen * self.per_band
        deeper = shown / water.surface
        slower = np.where(water.by_wetting < water.by_draining, self.wetting, self.draining)
        fuller = (1.0 - shown) * slower * (water.wetted > 0.0)
        higher = fuller + nodes.upright * deeper
        steeper = water.conveyance * water.eased + water.hidden * water.permeable
        driven = steeper[:-1] * self.scale
        own = water.rise * (0.5 * self.steps) / np.maximum(water.root, _TINY) * water.eased * water.gradient * deeper
        own += nodes.layer * water.permeable * water.gradient * fuller
        own[:-1] += driven * higher[:-1]
        own *= self.per_length
        own[self.spill] = 1.0 / SPILL_TIME if held[self.spill] > self.overflow else 0.0
        return own, -driven * higher[1:] * self.per_length[1:]
