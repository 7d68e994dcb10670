"""The loop cut into nodes that hold water: hose, box, the nodes of every run, pools, reservoir, and what is spilt.

Each node hands water to the next one only. A run is cut at its sills: what ends at a lip, a sill, a pool or the foot
of the course has its last node there, so a drop never lies inside the grid. Nodes of a run stand ``cell`` apart or
closer, each for half of the way to its neighbours, so the water they hold is exact for a level surface. Where all water
comes up from between the stones, or sinks in, the last cell is cut in three: there a trickle's surface bends within a
few stones' width.
"""

from collections.abc import Sequence
from dataclasses import fields, replace
from itertools import pairwise
from typing import Any, Literal

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, IntArray, Length, Lengths, Levels, Ratio
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.laws import (
    LEVEL_SHARE,
    eased_share,
    lip_row,
    no_row,
    pool_row,
    rim_row,
    run_row,
    through_coefficients,
)
from beckwright.job.model import Pool, Step
from beckwright.stages.course import Stretch
from beckwright.stages.water.hidden import controls_of, exchange_length, share_sunk
from beckwright.stages.water.runs import RunWater

FINE_ENDS = np.array([0.25, 0.5])
"""Where in the first cell of a stony piece more nodes stand, and in the last from its end, as shares of a cell."""

SHORT: Length = 3.0
"""A piece shorter than this is cut twice as fine: its two ends, where a face cannot lean, are more of it."""

Kind = Literal["hose", "box", "run", "pool", "reservoir", "spilt"]


@value
class Node:
    """One place that holds water, before all are laid side by side.

    length    of the run that it stands for; 1 for a box or pool, whose ``width`` is then its area
    below     held under the bed for each metre of length: between the stones, or in a box or pool up to its rim
    top       level of the bed, lip or rim
    apart     distance to the next node; 0 where what leaves falls over a lip, a sill, a rim or the foot
    share     of the stones' full flow that may pass on hidden
    gradient  fall of the bed for each metre along it
    row       flow for each root of the gradient, or over the lip, by the root of the depth
    run       number of the stretch it belongs to; -1 where it is no run
    """

    kind: Kind
    chainage: Length
    length: Length
    width: Length
    side_slope: Ratio
    below: float
    stone: Length
    voids: Ratio
    retained: Ratio
    top: float
    upright: Ratio
    apart: Length
    share: Ratio
    gradient: Ratio
    viscous: float
    inertial: float
    row: FloatArray
    run: int = -1


@value
class Passage:
    """A lip, and the node it holds the water of. Two lips without a pool or run between share one."""

    name: str
    chainage: Length
    node: int


@value
class Nodes:
    """All nodes in the order the water takes; every array is (m,) and read as in ``Node``; of loops abreast (k, m).

    lining   level under the stones
    fixed    gradient of a face that has no next level to look at, else 0
    scale    1 / distance along the bed, 0 there
    level    share of the gradient below which a surface counts as all but level
    rows     (k, s) flow by the root of the depth, each once; row (m,) which of them is a node's
    lips     source and steps
    """

    kinds: tuple[Kind, ...]
    chainage: Lengths
    length: Lengths
    width: Lengths
    side_slope: FloatArray
    below: FloatArray
    stone: Lengths
    voids: FloatArray
    retained: FloatArray
    top: Levels
    lining: Levels
    upright: FloatArray
    fixed: FloatArray
    scale: FloatArray
    level: FloatArray
    layer: FloatArray
    viscous: FloatArray
    inertial: FloatArray
    rows: FloatArray
    row: IntArray
    run: IntArray
    lips: tuple[Passage, ...]

    @property
    def count(self) -> int:
        """How many nodes."""
        return len(self.kinds)

    def of(self, kind: Kind) -> IntArray:
        """Numbers of the nodes of one kind."""
        return np.flatnonzero([each == kind for each in self.kinds])

    @property
    def foot(self) -> int:
        """The last node of the course: what it lets go falls into the reservoir."""
        return self.count - 3

    @property
    def full(self) -> FloatArray:
        """Water each node holds up to its bed, lip or rim, m3."""
        return self.below * self.length

    @property
    def in_runs(self) -> BoolArray:
        """Which nodes belong to runs."""
        return np.array([each == "run" for each in self.kinds])


class Loop:
    """The loop of a design, cut once by each law for the films that are taken of it."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self._known: dict[tuple[int, Length], Nodes] = {}

    def cut(self, end: int, cell: Length) -> Nodes:
        """As ``cut`` does."""
        if (end, cell) not in self._known:
            self._known[end, cell] = cut(self.design, end, cell)
        return self._known[end, cell]


def cut(design: Design, end: int, cell: Length) -> Nodes:
    """Cut the loop of a design into nodes.

    end   which end of the band: low, middle or high depth
    cell  farthest apart two nodes of a run may stand, m; half of it in a piece shorter than ``SHORT``
    """
    nodes: list[Node] = [_store("hose", 0.0), _box(design, end)]
    lips = [Passage(name=design.water.lips[0].name, chainage=0.0, node=1)]
    runs = {run.number: run for run in design.water.runs}
    for number, stretch in enumerate(design.course.stretches):
        reach = stretch.reach
        if isinstance(reach, Step):
            lips.append(Passage(name=reach.name, chainage=stretch.start, node=len(nodes) - 1))
        elif isinstance(reach, Pool):
            nodes.append(_pool(design, number, reach, runs.get(number + 1), end))
        else:
            nodes.extend(_run(design, runs[number], end, cell))
    nodes.extend([_store("reservoir", design.course.length), _store("spilt", design.course.length)])
    return _lay_out(nodes, tuple(lips))


def _lay_out(nodes: list[Node], lips: tuple[Passage, ...]) -> Nodes:
    def each(name: str) -> FloatArray:
        return np.array([getattr(node, name) for node in nodes], dtype=float)

    apart, upright, gradient = each("apart"), each("upright"), each("gradient")
    inner = apart > 0
    stone, voids = each("stone"), each("voids")
    rows = {id(node.row): node.row for node in nodes}
    return Nodes(
        kinds=tuple(node.kind for node in nodes),
        chainage=each("chainage"),
        length=each("length"),
        width=each("width"),
        side_slope=each("side_slope"),
        below=each("below"),
        stone=stone,
        voids=voids,
        retained=each("retained"),
        top=each("top"),
        lining=each("top") - stone,
        upright=upright,
        fixed=np.where(inner, 0.0, gradient),
        scale=np.where(inner, 1.0 / (np.where(inner, apart, 1.0) * upright), 0.0),
        level=LEVEL_SHARE * gradient,
        layer=each("share") * each("width"),
        viscous=each("viscous"),
        inertial=each("inertial"),
        rows=np.array(list(rows.values())),
        row=np.array([list(rows).index(id(node.row)) for node in nodes]),
        run=np.array([node.run for node in nodes]),
        lips=lips,
    )


def abreast(loops: Sequence[Nodes]) -> Nodes:
    """Lay loops of as many nodes one under the other, for films that are taken side by side: arrays are (k, m)."""
    tabled, rows = dict[int, IntArray](), list[FloatArray]()
    for each in loops:
        if id(each) not in tabled:
            tabled[id(each)] = each.row + sum(map(len, rows))
            rows.append(each.rows)
    stacked: dict[str, Any] = {name: np.array([getattr(each, name) for each in loops]) for name in _STACKED}
    row = np.array([tabled[id(each)] for each in loops])
    return replace(loops[0], **stacked, rows=np.concatenate(rows), row=row)


_STACKED = tuple(field.name for field in fields(Nodes) if field.name not in {"kinds", "rows", "row", "lips"})


_STILL = Node(
    kind="box",
    chainage=0.0,
    length=1.0,
    width=1.0,
    side_slope=0.0,
    below=0.0,
    stone=0.0,
    voids=1.0,
    retained=0.0,
    top=0.0,
    upright=1.0,
    apart=0.0,
    share=0.0,
    gradient=1.0,
    viscous=1.0,
    inertial=0.0,
    row=no_row(),
)
"""A node that is no run: nothing hidden, no slope."""


def _store(kind: Kind, chainage: Length) -> Node:
    """Hose, reservoir and spilt water: what they hand on is no matter of depth."""
    return replace(_STILL, kind=kind, chainage=chainage, below=float("inf"))


def _box(design: Design, end: int) -> Node:
    source = design.job.source
    plan = source.box_length * source.lip_width
    row = lip_row(source.lip, source.lip_width, 1.0, end)
    return replace(_STILL, width=plan, below=plan * source.box_depth, top=source.lip_level, row=row)


def _pool(design: Design, number: int, pool: Pool, below: RunWater | None, end: int) -> Node:
    water = next(each for each in design.water.pools if each.number == number)
    after = design.course.stretches[number + 1].reach if number + 1 < len(design.course.stretches) else None
    if isinstance(after, Step):
        row = lip_row(after.lip, after.lip_width, 1.0, end)
    elif below is None:
        row = rim_row(pool.width, end)
    else:
        row = pool_row(below, design.course.side_slope, end)
    return replace(
        _STILL, kind="pool", chainage=water.chainage, width=water.plan, below=water.full, top=water.rim, row=row
    )


def _run(design: Design, water: RunWater, end: int, cell: Length) -> list[Node]:
    stretch, run = water.stretch, water.run
    marks = np.unique([stretch.start, *(stretch.start + sill for sill in run.sills), stretch.end])
    viscous, inertial = through_coefficients(water, design.job.water_temperature, end)
    eased = eased_share(viscous, inertial, water.gradient)
    row = run_row(water, design.course.side_slope, end)
    plain = replace(
        _STILL,
        kind="run",
        width=run.width,
        side_slope=design.course.side_slope,
        below=run.bed.voids * run.bed.depth * run.width,
        stone=run.bed.depth,
        voids=run.bed.voids,
        retained=run.bed.retained,
        upright=float(np.hypot(1.0, stretch.slope)),
        gradient=water.gradient,
        viscous=viscous,
        inertial=inertial,
        share=eased,
        row=row,
        run=water.number,
    )
    nodes = [node for ends in pairwise(marks) for node in _piece(design, water, plain, ends, cell)]
    nodes[-1] = _foot(design, water, nodes[-1], eased, end)
    return nodes


def _piece(design: Design, water: RunWater, plain: Node, ends: tuple[Length, Length], cell: Length) -> list[Node]:
    """Nodes between two sills, or a sill and an end: half a cell at either end, the last with nothing hidden."""
    stretch, stone = water.stretch, water.run.bed.depth
    at = _places(ends, cell, fine_ends=stone > 0.0)
    apart = np.append(np.diff(at), 0.0)
    length = (apart + np.append(0.0, apart[:-1])) / 2
    share = share_sunk(
        at[:-1] + apart[:-1] / 2, controls_of(design.course, stretch), exchange_length(stone, stretch.slope)
    )
    # Water comes up, or sinks in, within no less than the stones' depth: the slope's part of the exchange length.
    share = np.append(np.maximum(share, min(stretch.slope, 1.0) if stone > 0.0 else 0.0), 0.0)
    return [
        replace(
            plain,
            chainage=float(x),
            length=float(length[number]),
            top=stretch.bed_start - stretch.slope * (float(x) - stretch.start),
            apart=float(apart[number]),
            share=plain.share * float(share[number]),
        )
        for number, x in enumerate(at)
    ]


def _places(ends: tuple[Length, Length], cell: Length, *, fine_ends: bool) -> Lengths:
    """Where the nodes of a piece stand: even cells, the first and the last cut to a half and two quarters if asked."""
    start, stop = ends
    finest = cell / 2 if stop - start < SHORT else cell
    count = max(1, int(np.ceil((stop - start) / finest - 1e-9)))
    cells = np.arange(count + 1.0)
    if fine_ends:
        cells = np.unique(np.concatenate([cells, FINE_ENDS, count - FINE_ENDS]))
    places: Lengths = np.interp(cells, [0.0, count], [start, stop])
    return places


def _foot(design: Design, water: RunWater, last: Node, eased: Ratio, end: int) -> Node:
    """What ends a run: a lip, a rim or the next run (over which all water comes up), or the open end of the course."""
    course = design.course
    after: Stretch | None = course.stretches[water.number + 1] if water.number + 1 < len(course.stretches) else None
    if after is None:
        return replace(last, share=eased)
    if isinstance(after.reach, Step):
        row = lip_row(after.reach.lip, after.reach.lip_width, last.upright, end)
        return replace(last, row=row, gradient=1.0)
    return last
