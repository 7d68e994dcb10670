"""How fast every node gains and loses water, and how that changes with what the nodes hold.

Diffusive wave: no inertia. In a run the surface drives the water both over and between the stones; over lips, sills,
rims and at the foot only the node above counts. Depths are always those of the node above: water can run back only as
far as that one is wet, which is all a level surface needs.
"""

from collections.abc import Callable

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Ratio, Volume
from beckwright.base.values import value
from beckwright.film.laws import DEEPEST, STEPS
from beckwright.film.nodes import Nodes

SPILL_TIME: Duration = 2.0
"""What stands over the overflow runs off within this time, s (assumed: a free pipe)."""

PEBBLY: Ratio = 0.05
"""Tops of stones are no plane: the first water shows when all but this share of the gaps is full (assumed)."""

_TINY = 1e-12


@value
class Rates:
    """Flows (m,) out of every node, m3/s; their change with the water in the node itself and in the next one, 1/s.

    wetted  depth of water among the stones, m
    """

    flow: FloatArray
    own: FloatArray
    following: FloatArray
    wetted: FloatArray


def rates_of(nodes: Nodes, overflow: Volume) -> Callable[[FloatArray, FloatArray], Rates]:
    """Prepare the function that gives the rates for the water held (m,) and the highest wetted depths (m,) so far.

    overflow  water in the reservoir at which it spills, m3
    """
    per_length, width = 1.0 / nodes.length, nodes.width
    square, fourfold = width**2, 4.0 * nodes.side_slope
    pore, drained = nodes.voids * width, (nodes.voids - nodes.retained) * width
    wetting, draining, clinging = 1.0 / pore, 1.0 / drained, nodes.retained * width
    table, rises = nodes.rows.ravel(), np.diff(nodes.rows, axis=1, append=nodes.rows[:, -1:]).ravel()
    start, steps = np.arange(nodes.count) * STEPS, (STEPS - 1) / np.sqrt(DEEPEST)
    last, spill = STEPS - 2, nodes.count - 2
    stone, lining, upright = nodes.stone, nodes.lining, nodes.upright
    band = np.where(nodes.in_runs, 2.0 * PEBBLY * nodes.below, 0.0) + _TINY
    started, covered = nodes.below - band / 2.0, nodes.below + band / 2.0
    half_band, per_band = 0.5 / band, 1.0 / band
    scale, level, layer = nodes.scale[:-1], nodes.level, nodes.layer
    viscous, inertial = nodes.viscous, 4.0 * nodes.inertial
    viscous_square, quarter = viscous**2, nodes.inertial

    def rates(held: FloatArray, highest: FloatArray) -> Rates:
        content = held * per_length
        risen = np.minimum(np.maximum(content - started, 0.0), band)
        over = risen * risen * half_band + np.maximum(content - covered, 0.0)
        surface = np.sqrt(square + fourfold * over)
        depth = 2.0 * over / (width + surface)
        among = content - over
        by_wetting, by_draining = among * wetting, (among - clinging * highest) * draining
        wetted = np.maximum(np.minimum(np.minimum(by_wetting, by_draining), stone), 0.0)
        water = lining + wetted + depth * upright
        gradient = nodes.fixed.copy()
        gradient[:-1] += (water[:-1] - water[1:]) * scale
        size = np.abs(gradient)
        root = np.sqrt(depth)
        place = root * steps
        row = np.minimum(place.astype(np.intp), last)
        rise = rises[start + row]
        conveyance = table[start + row] + (place - row) * rise
        eased = size + level
        pull = gradient / np.sqrt(eased)
        resisted = np.sqrt(viscous_square + inertial * eased)
        permeable = 2.0 / (viscous + resisted)
        through = permeable * gradient
        hidden = layer * wetted
        flow = conveyance * pull + hidden * through
        # Changes: with the depth over the stones, the depth among them, and through both with the level.
        rising = risen * per_band
        deeper = rising / surface
        fuller = (1.0 - rising) * np.where(by_wetting < by_draining, wetting, draining) * (wetted > 0.0)
        higher = fuller + upright * deeper
        steeper = conveyance * (0.5 * size + level) / (eased * np.sqrt(eased)) + hidden * permeable * (
            1.0 - quarter * size * permeable / resisted
        )
        driven = steeper[:-1] * scale
        own = rise * (0.5 * steps) / np.maximum(root, _TINY) * pull * deeper + layer * through * fuller
        own[:-1] += driven * higher[:-1]
        own *= per_length
        following = -driven * higher[1:] * per_length[1:]
        excess = held[spill] - overflow
        if excess > 0.0:
            flow[spill], own[spill] = excess / SPILL_TIME, 1.0 / SPILL_TIME
        return Rates(flow=flow, own=own, following=following, wetted=wetted)

    return rates
