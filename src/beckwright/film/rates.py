"""How fast every node hands water on, and how that changes with what the nodes hold.

Diffusive wave: no inertia. In a run the surface drives the water both over and between the stones; over lips, sills,
rims and at the foot only the node above counts. Water can run back only as far as the node above is wet, which is all
a level surface needs.
"""

from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Ratio, Volume
from beckwright.film.faces import Faces
from beckwright.film.laws import DEEPEST, LEVEL_SHARE, STEPS
from beckwright.film.nodes import Nodes
from beckwright.film.stones import Among, Stones

SPILL_TIME: Duration = 2.0
"""What stands over the overflow runs off within this time, s (assumed: a free pipe)."""

PEBBLY: Ratio = 0.05
"""Tops of stones are no plane: the first water shows when all but this share of the gaps is full (assumed)."""

TANGENT_FROM: Ratio = 0.3
"""Share of the bed's gradient about which the change of flow with the gradient comes to be taken by its tangent."""

_TINY = 1e-12


class Water(NamedTuple):
    """How the water stands in every node, (m,) each, and what it hands on.

    risen        content over where water first shows, up to where it covers all stones, m2
    surface      half the width of the surface, m
    among        water among the stones, where a course has any
    wetted       depth of that, m
    lean         of the faces over the stones (m - 1,)
    root, rise   of the depth over the stones in the face, and of the table there
    conveyance   read from the table
    gradient     of the surface along the bed; size without its sign, and no less than what counts as level
    flatness     root of that size; resistance of the stones, s/m
    flow         out of the node, m3/s
    """

    risen: FloatArray
    surface: FloatArray
    among: Among | None
    wetted: FloatArray
    lean: FloatArray
    root: FloatArray
    rise: FloatArray
    conveyance: FloatArray
    gradient: FloatArray
    size: FloatArray
    flatness: FloatArray
    resistance: FloatArray
    flow: FloatArray


class Rates:
    """The rates of a loop, or of loops abreast: every array (k, m) where a loop's own is (m,).

    Arrays of the nodes are brought into the form the march needs, once.

    Most of a film's time goes into calls on arrays this short, each the dearer for a plain number among its arguments:
    so what never changes is an array too.
    """

    def __init__(self, nodes: Nodes, overflow: Volume | FloatArray) -> None:
        """``overflow`` is the water in the reservoir at which it spills, m3; of loops abreast (k,)."""
        self.nodes, self.overflow, self.spill = nodes, overflow, nodes.count - 2
        self.faces, self.nothing = Faces(nodes), np.zeros(nodes.length.shape)
        self.stones = Stones(nodes, self.faces) if nodes.stone.any() else None
        self.per_length, self.half, self.half_square = 1.0 / nodes.length, nodes.width / 2.0, nodes.width**2 / 4.0
        self.band = np.where(nodes.in_runs, 2.0 * PEBBLY * nodes.below, 0.0) + _TINY
        self.half_band, self.per_band = 0.5 / self.band, 1.0 / self.band
        self.started = nodes.below - self.band / 2.0
        rises = np.diff(nodes.rows, axis=1, append=nodes.rows[:, -1:])
        self.rises, self.bases = rises.ravel(), (nodes.rows - np.arange(STEPS) * rises).ravel()
        self.steps = np.full(nodes.length.shape, (STEPS - 1) / np.sqrt(DEEPEST))
        self.start, self.end = nodes.row * STEPS, nodes.row * STEPS + STEPS - 2
        self.scale, self.per_following = nodes.scale[..., :-1], self.per_length[..., 1:]
        self.tangent_from = TANGENT_FROM / LEVEL_SHARE * nodes.level

    def water(self, held: FloatArray, highest: FloatArray) -> Water:
        """How the water stands, and what is handed on, for the water held (m,) and the highest wetted depths (m,)."""
        nodes, stones = self.nodes, self.stones
        content = held * self.per_length
        above = np.maximum(content - self.started, self.nothing)
        risen = np.minimum(above, self.band)
        over = risen * risen * self.half_band + (above - risen)
        surface = np.sqrt(self.half_square + nodes.side_slope * over)
        depth = over / (self.half + surface)
        among = stones.among(content - over, highest) if stones else None
        wetted = among.wetted if among else self.nothing
        level = nodes.lining + wetted + depth * nodes.upright
        gradient = nodes.fixed.copy()
        gradient[..., :-1] += (level[..., :-1] - level[..., 1:]) * self.scale
        in_face, lean = self.faces.of(depth)
        root = np.sqrt(in_face)
        place = root * self.steps
        row = np.minimum(self.start + place.astype(np.intp), self.end)
        rise = self.rises.take(row)
        conveyance = self.bases.take(row) + place * rise
        size = np.abs(gradient) + nodes.level
        flatness = np.sqrt(size)
        carried, resistance = conveyance / flatness, self.nothing
        if stones and among:
            resistance = stones.resistance(size)
            carried += among.hidden / resistance
        flow = carried * gradient
        flow[..., self.spill] = np.maximum(held[..., self.spill] - self.overflow, 0.0) / SPILL_TIME
        return Water(
            risen,
            surface,
            among,
            wetted,
            lean,
            root,
            rise,
            conveyance,
            gradient,
            size,
            flatness,
            resistance,
            flow,
        )

    def changes(self, water: Water, held: FloatArray) -> tuple[FloatArray, FloatArray]:
        """How the flow out of every node changes with the water in it (m,), and in the next one (m - 1,), 1/s.

        With the gradient it changes by its tangent, but where the surface is all but level in proportion: there the
        tangent of a root holds for so short a way that a step along it overshoots. How a face leans is taken as given.
        The order of the march hangs on neither.
        """
        nodes, stones, among = self.nodes, self.stones, water.among
        shown = water.risen * self.per_band
        deeper = 0.5 * shown / water.surface
        tangent = water.size / (water.size + self.tangent_from)
        driven = water.conveyance / water.flatness * (1.0 - 0.5 * tangent)
        higher = nodes.upright * deeper
        by_depth = 0.5 * water.rise * self.steps / (water.flatness * np.maximum(water.root, _TINY)) * water.gradient
        own, following = _by_depth(by_depth, deeper, water.lean)
        if stones and among:
            fuller = stones.fuller(among, shown)
            driven += stones.driven(among, water.size, water.resistance, tangent)
            higher += fuller
            own_stones, following_stones = _by_depth(
                nodes.layer * water.gradient / water.resistance, fuller, among.lean
            )
            own += own_stones
            following += following_stones
        driven *= nodes.scale
        own += driven * higher
        own *= self.per_length
        own[..., self.spill] = np.where(held[..., self.spill] > self.overflow, 1.0 / SPILL_TIME, 0.0)
        following -= driven[..., :-1] * higher[..., 1:]
        return own, following * self.per_following


def _by_depth(flow: FloatArray, depth: FloatArray, lean: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How flow changes with what a node holds (m,) and the next (m - 1,).

    flow   how it changes with the depth in the face (m,); depth how that of a node does with what it holds (m,)
    lean   of the faces (m - 1,)
    """
    own, leant = flow * depth, flow[..., :-1] * lean
    own[..., :-1] -= leant * depth[..., :-1]
    return own, leant * depth[..., 1:]
