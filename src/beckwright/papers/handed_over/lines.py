"""The lines: what is built, and what stands on the site."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

import numpy as np

from beckwright.base.quantities import Lengths, Levels
from beckwright.job.model import Pool
from beckwright.papers.handed_over.values import Fact, Line, Round
from beckwright.stages.earthworks.values import Groundwork
from beckwright.stages.ground import Ground, contours
from beckwright.stages.setting_out.values import SettingOut
from beckwright.stages.surroundings import pit_corners

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.job.model import Job

INTERVALS = (0.1, 0.25, 0.5, 1.0, 2.0, 5.0)
"""Steps between contours, m: the closest that draws no more of them than the next number."""
MOST_CONTOURS = 50


def lines_of(design: "Design", groundwork: Groundwork, setting_out: SettingOut) -> tuple[Line, ...]:
    """Every line: the works, the site, and the contours of the existing ground."""
    return (
        *_course_lines(design, groundwork),
        *_pit_lines(design, groundwork),
        *_hose_lines(design, groundwork),
        *_site_lines(design.job),
        *_outlines(setting_out),
        *_contour_lines(design.ground),
    )


def rounds_of(design: "Design", groundwork: Groundwork) -> tuple[Round, ...]:
    """Trees and heaps."""
    return (*_trees(design), *_heaps(groundwork))


def _course_lines(design: "Design", groundwork: Groundwork) -> Iterator[Line]:
    course, at = design.course, design.course.stations
    yield Line(kind="course", name="course", points=at.points, levels=at.bed, facts=(("length_m", course.length),))
    edges = np.array([section.edges for section in groundwork.sections])
    yield _beside(design, "edge left", edges[:, 0], at.edge_left)
    yield _beside(design, "edge right", edges[:, 1], at.edge_right)
    for lip in design.water.lips:
        ends = course.alignment.beside(np.full(2, lip.chainage), np.array([lip.width / 2, -lip.width / 2]))
        facts = (("chainage_m", lip.chainage), ("level_m", lip.crest), ("width_m", lip.width), ("drop_m", lip.drop))
        yield Line(kind="lip", name=lip.name, points=ends, levels=np.full(2, lip.crest), facts=facts)
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Pool):
            yield _pool(design, stretch.reach, number)


def _beside(design: "Design", side: Literal["edge left", "edge right"], offsets: Lengths, levels: Levels) -> Line:
    points = design.course.alignment.beside(design.course.stations.chainage, offsets)
    return Line(kind=side, name=side, points=points, levels=levels)


def _pool(design: "Design", pool: Pool, number: int) -> Line:
    here = design.course.stations.of(number)
    chainage, half = (each[here] for each in (design.course.stations.chainage, design.course.stations.width / 2))
    left, right = (design.course.alignment.beside(chainage, side * half) for side in (1.0, -1.0))
    rim = float(design.course.stations.rim[here][0])
    ring = np.concatenate((right, left[::-1]))
    facts = (("rim_level_m", rim), ("depth_m", pool.depth), ("width_m", pool.width))
    return Line(kind="pool", name=pool.name, points=ring, levels=np.full(len(ring), rim), closed=True, facts=facts)


def _pit_lines(design: "Design", groundwork: Groundwork) -> Iterator[Line]:
    pit, reservoir = groundwork.pit, design.job.reservoir
    yield Line(
        kind="pit floor",
        name="pit floor",
        points=pit.floor,
        levels=np.full(len(pit.floor), pit.floor_level),
        closed=True,
        facts=(("level_m", pit.floor_level), ("depth_m", pit.depth), ("batter", pit.batter)),
    )
    yield Line(kind="pit top", name="pit top", points=pit.top, levels=pit.top_levels, closed=True)
    yield Line(
        kind="reservoir",
        name="reservoir",
        points=np.array(pit_corners(reservoir)),
        levels=np.full(4, reservoir.cover),
        closed=True,
        facts=(("cover_level_m", reservoir.cover), ("overflow_level_m", reservoir.overflow)),
    )


def _hose_lines(design: "Design", groundwork: Groundwork) -> Iterator[Line]:
    route, trench = design.job.route, groundwork.trench
    if len(route.line) > 1:
        facts = (("bore_m", route.chosen.bore), ("length_m", route.length))
        yield Line(kind="hose", name=route.chosen.name, points=np.array(route.line), levels=None, facts=facts)
    if trench is None:
        return
    for piece in np.unique(trench.piece):
        here = trench.piece == piece
        yield Line(
            kind="hose trench",
            name=f"hose trench {piece + 1}",
            points=trench.line[here],
            levels=trench.bottom[here],
            facts=(("width_m", trench.width),),
        )


def _site_lines(job: "Job") -> Iterator[Line]:
    for service in job.site.services:
        facts: tuple[Fact, ...] = (
            ("service", service.kind),
            ("depth_m", service.depth),
            ("clearance_m", service.clearance),
            ("note", service.note),
        )
        yield Line(kind="service", name=service.name, points=np.array(service.line), levels=None, facts=facts)
    for boundary in job.site.boundaries:
        facts = (("clearance_m", boundary.clearance), ("damp_proof_course_level_m", boundary.damp_proof))
        yield Line(kind="boundary", name=boundary.name, points=np.array(boundary.line), levels=None, facts=facts)
    for footing in job.site.foundations:
        facts = (("depth_m", footing.depth), ("note", footing.note))
        yield Line(kind="foundation", name=footing.name, points=np.array(footing.line), levels=None, facts=facts)
    for runoff in job.site.runoff:
        facts = (("note", runoff.note),)
        yield Line(kind="runoff", name=runoff.name, points=np.array(runoff.line), levels=None, facts=facts)


def _contour_lines(ground: Ground) -> Iterator[Line]:
    span = float(np.ptp(ground.levels))
    interval = next((step for step in INTERVALS if span / step <= MOST_CONTOURS), span / MOST_CONTOURS)
    for contour in contours(ground, interval):
        points = np.concatenate((contour.line, contour.line[:1])) if contour.closed else contour.line
        levels = np.full(len(points), contour.level)
        yield Line(
            kind="contour",
            name=f"{contour.level:.2f}",
            points=points,
            levels=levels,
            facts=(("level_m", contour.level),),
        )


def _outlines(setting_out: SettingOut) -> Iterator[Line]:
    for ring in setting_out.outlines:
        yield Line(kind="works outline", name="works of the course", points=ring, levels=None, closed=True)


def _trees(design: "Design") -> Iterator[Round]:
    for circle in design.surroundings.circles:
        tree = circle.tree
        facts = (("species", tree.species), ("stem_m", circle.stem), ("protected", tree.protected))
        yield Round(kind="tree", name=tree.name, at=tree.at, radius=circle.radius, facts=facts)


def _heaps(groundwork: Groundwork) -> Iterator[Round]:
    for heap in groundwork.heaps:
        facts = (("holds", heap.holds), ("height_m", heap.height), ("loose_m3", heap.loose))
        yield Round(kind="heap", name=heap.name, at=heap.at, radius=heap.radius, facts=facts)
