"""Root circles: what of the works lies in each, how deep, how high, and the shift of the line that clears it."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Area, Length
from beckwright.base.values import value
from beckwright.equations.trees import combined_stem, combined_stem_many, root_radius
from beckwright.job.model import Job, Tree
from beckwright.stages.levels import places
from beckwright.stages.surroundings.plane import Span, distances, spans_inside, total
from beckwright.stages.surroundings.shift import Barriers, Shift, barriers_of, clearing_shift
from beckwright.stages.surroundings.works import LEFT, RIGHT, Footprint, area_of, pit_outline, width_between
from beckwright.tables.trees import MANY_STEMS, ROOT_RADIUS_CAP

if TYPE_CHECKING:
    from shapely import Polygon

QUARTER = 64
"""Sides to a quarter of a circle where areas are cut: the area comes out 0.01 % small."""

SPADE: Length = 1.0
"""Nobody changes from spade to bucket and back for less of the stream than this."""


@value
class RootCircle:
    """A tree's root protection circle and the works in it.

    stem       one diameter that stands for all its stems
    inside     chainages of the course line inside the circle, to where it crosses it
    works      chainages where the stream with its banks is inside, to the station, short gaps left out
    raised     chainages where ground inside the circle is raised
    nearest    distance from the tree to the course line
    closest    distance from the tree to the nearest dig of the stream
    deepest    dig inside, below the ground; 0 where none
    highest    fill inside, above the ground; 0 where none
    dug        plan area of the stream's dig inside
    covered    plan area of the stream with its banks inside
    pit_area   plan area of the pit inside, without its batter
    pit_into   how far the pit reaches into the circle; 0 where it does not
    hose_spans distances from the pump along the hose inside
    shift      shift of the line that takes the stream with its banks out of the circle; None where none was found, or
               none is needed
    """

    tree: Tree
    stem: Length
    radius: Length
    inside: tuple[Span, ...]
    works: tuple[Span, ...]
    raised: tuple[Span, ...]
    nearest: Length
    closest: Length
    deepest: Length
    highest: Length
    dug: Area
    covered: Area
    pit_area: Area
    pit_into: Length
    hose_spans: tuple[Span, ...]
    shift: Shift | None

    @property
    def length(self) -> Length:
        """Length of the course inside, by its line."""
        return total(self.inside)

    @property
    def pit(self) -> bool:
        """Whether the pit enters the circle."""
        return self.pit_into > 0.0

    @property
    def hose(self) -> bool:
        """Whether the hose enters the circle."""
        return bool(self.hose_spans)

    @property
    def by_hand(self) -> Length:
        """Length of stream and hose trench to be dug by hand if nothing is moved."""
        return total(self.works) + total(self.hose_spans)


def stem_of(tree: Tree) -> Length:
    """One stem diameter that stands for all of a tree's stems."""
    if len(tree.stems) == 1:
        return tree.stems[0]
    if len(tree.stems) < MANY_STEMS.amount:
        return combined_stem(sum(stem**2 for stem in tree.stems))
    return combined_stem_many(sum(tree.stems) / len(tree.stems), len(tree.stems))


def radius_of(tree: Tree) -> Length:
    """Radius of a tree's root circle, capped."""
    return float(min(root_radius(stem_of(tree)), ROOT_RADIUS_CAP.amount))


def root_circles(job: Job, works: Footprint) -> tuple[RootCircle, ...]:
    """Measure the works against every tree."""
    if not job.site.trees:
        return ()
    trees = tuple((tree.at, radius_of(tree)) for tree in job.site.trees)
    pit, barriers = pit_outline(job.reservoir), barriers_of(job, trees)
    return tuple(_circle(job, tree, works, pit, barriers) for tree in job.site.trees)


def _circle(job: Job, tree: Tree, works: Footprint, pit: "Polygon", barriers: Barriers) -> RootCircle:
    radius = radius_of(tree)
    left, away = works.toward(tree.at)
    edge, foot = works.edge, works.foot
    channel = width_between(left, away, radius, -edge[RIGHT], edge[LEFT])
    whole = width_between(left, away, radius, -foot[RIGHT], foot[LEFT])
    banks = np.stack(
        [
            width_between(left, away, radius, edge[LEFT], foot[LEFT]),
            width_between(left, away, radius, -foot[RIGHT], -edge[RIGHT]),
        ]
    )
    fill = np.maximum(np.where(banks > 0.0, works.raised, 0.0).max(axis=0), np.where(channel > 0.0, -works.dug, 0.0))
    entered = whole > 0.0
    pit_into, pit_area = _pit(tree, radius, pit)
    return RootCircle(
        tree=tree,
        stem=stem_of(tree),
        radius=radius,
        inside=spans_inside(works.points, works.chainage, tree.at, radius),
        works=places(entered, works.chainage, SPADE),
        raised=places(fill > 0.0, works.chainage, SPADE),
        nearest=float(np.hypot(left, away).min()),
        closest=float(np.hypot(np.maximum(np.maximum(left - edge[LEFT], -edge[RIGHT] - left), 0.0), away).min()),
        deepest=float(np.max(works.dug, where=channel > 0.0, initial=0.0)),
        highest=float(fill.max(initial=0.0)),
        dug=area_of(channel, works, works.dug > 0.0),
        covered=area_of(whole, works),
        pit_area=pit_area,
        pit_into=pit_into,
        hose_spans=_hose_spans(job, tree, radius),
        shift=clearing_shift(works, (left, away), radius, barriers) if entered.any() else None,
    )


def _pit(tree: Tree, radius: Length, pit: "Polygon") -> tuple[Length, Area]:
    """How far the pit reaches into the circle, and the plan it takes there."""
    from shapely import Point

    trunk = Point(tree.at)
    into = radius - float(trunk.distance(pit))
    if into <= 0.0:
        return 0.0, 0.0
    return into, float(trunk.buffer(radius, quad_segs=QUARTER).intersection(pit).area)


def _hose_spans(job: Job, tree: Tree, radius: Length) -> tuple[Span, ...]:
    if len(job.route.line) < 2:
        return ()
    line = np.array(job.route.line)
    return spans_inside(line, distances(line), tree.at, radius)
