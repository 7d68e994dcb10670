"""The as-built sheet's plan: what lies where, hidden lines heavier than what anybody can see."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Points
from beckwright.base.words import chainages, metres, millimetres, number_in, stride
from beckwright.compose import Design, Works
from beckwright.job.model import Pool, Step
from beckwright.papers import pens
from beckwright.papers.drawing import (
    BLACK,
    RED,
    WHITE,
    Circle,
    Mark,
    Pen,
    Point,
    Polyline,
    Stamp,
    Text,
    Window,
    rectangle,
)
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.ground.plan import kept_corners, window_over, word_boxes
from beckwright.papers.sheets.overview.plan import (
    dense,
    ground_marks,
    inside_window,
    service_marks,
    tree_marks,
    works_on_paper,
)
from beckwright.papers.sheets.reservoir.place import on_site, outline_of, standing
from beckwright.readings import AsBuilt, Off
from beckwright.stages.surroundings import pit_corners

CABLE = Pen(width=0.5, dash=(1.6, 1.2), colour=RED)
LIGHT_CABLE = Pen(width=0.25, dash=(1.0, 1.0), colour=RED)
LAP = Pen(width=0.7, dash=(1.4, 0.9))
LOWEST = 6
"""So many edges are named on the plan."""


def as_built_window(design: Design, corner: Point, size: Point) -> Window:
    """The works, the marks and the cable on one plan, at the largest scale that shows them."""
    site = design.job.site
    lines = [design.course.stations.points, np.array(pit_corners(design.job.reservoir)), *_lines(design)]
    near = np.vstack([np.asarray(line, dtype=float).reshape(-1, 2) for line in lines])
    low, high = near.min(axis=0) - 6.0, near.max(axis=0) + 6.0
    marks = [mark.at for mark in site.marks if np.all(np.array(mark.at) >= low) and np.all(np.array(mark.at) <= high)]
    return window_over(
        np.vstack([near, np.array(marks).reshape(-1, 2)]),
        corner,
        size,
        margin=1.2,
        along=design.course.alignment.vertices,
    )


def _lines(design: Design) -> list[Points]:
    work = design.job.electrics
    given = [design.job.route.line, () if work is None else work.line]
    return [np.array(line) for line in given if len(line) > 1]


def as_built_marks(design: Design, works: Works, window: Window, built: AsBuilt | None) -> tuple[Mark, ...]:
    """Everything the next contractor looks for."""
    labels: list[Label] = []
    marks: list[Mark] = [
        *ground_marks(design, window, labels),
        *tree_marks(design, labels),
        *service_marks(design, window, labels),
        *_stream(design, window),
        *_laps(design, works, labels),
        *_lips(design, built, labels),
        *_pit(design, works, window, labels),
        *_hose(design, works, window, labels),
        *_cables(design, works, labels),
        *_marks(design, labels),
        *_low(design, built, labels),
    ]
    low = window.corner[1]
    keep_off: tuple[Box, ...] = (*kept_corners(low), *works_on_paper(design, window), *word_boxes(marks, window))
    placing = place(labels, window, pens.THIN, keep_off=keep_off)
    return (*marks, *placing.marks)


def _stream(design: Design, window: Window) -> Iterator[Mark]:
    """Bed, edges of the lining with the barbs they have on every sheet, and chainages."""
    course, at = design.course, design.course.stations
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        half = at.width[here] / 2
        banks = [course.alignment.beside(at.chainage[here], side * half) for side in (1.0, -1.0)]
        hatch = pens.WATER_RULING if isinstance(stretch.reach, Pool) else pens.STONES
        yield Polyline(points=np.vstack([banks[0], banks[1][::-1]]), layer="bed", closed=True, fill=WHITE, hatch=hatch)
        yield from (Polyline(points=bank, layer="course", pen=pens.THIN) for bank in banks)
    left, right = (edge_line(design, side) for side in (1.0, -1.0))
    yield Polyline(points=left, layer="edge left", pen=pens.EDGE_LEFT)
    yield Polyline(points=right, layer="edge right", pen=pens.EDGE_RIGHT)
    yield from _chainages(design, window)


def edge_line(design: Design, side: float) -> FloatArray:
    """The lining's edge on plan, (n, 2): ``side`` 1 left, -1 right."""
    at, course = design.course.stations, design.course
    levels = at.edge_left if side > 0 else at.edge_right
    out = at.width / 2 + course.side_slope * (levels - at.rim)
    line: FloatArray = course.alignment.beside(at.chainage, side * out)
    return line


def _chainages(design: Design, window: Window) -> Iterator[Mark]:
    """A tick across the line and its chainage, every metre or more."""
    course = design.course
    every = next(
        each for each in (stride(step, "m") for step in (1.0, 2.0, 5.0, 10.0)) if each * 1000 / window.scale >= 9.0
    )
    chain = np.arange(0.0, course.length + 1e-9, every)
    ways = course.alignment.direction(chain)
    for along, point, way in zip(chain, course.alignment.at(chain), ways, strict=True):
        tick = Polyline(points=np.array([(0.0, -1.0), (0.0, 1.0)]), layer="chainage", pen=pens.MEDIUM)
        words = Text(
            at=(0.0, 1.4), words=f"{number_in(along, 'm'):g}", height=1.8, layer="chainage", across="middle", halo=0.3
        )
        turn = float(np.arctan2(way[1], way[0])) + window.turn
        yield Stamp(at=(float(point[0]), float(point[1])), marks=(tick, words), turn=turn)


def _laps(design: Design, works: Works, labels: list[Label]) -> Iterator[Mark]:
    """Where one sheet lies over the next: across the stream, edge to edge."""
    lefts, rights = edge_line(design, 1.0), edge_line(design, -1.0)
    chain = design.course.stations.chainage
    for lap in works.lining.laps:
        middle = (lap.chainage[0] + lap.chainage[1]) / 2
        ends = np.array([[np.interp(middle, chain, line[:, axis]) for axis in (0, 1)] for line in (lefts, rights)])
        yield Polyline(points=ends, layer="lap", pen=LAP)
        joined = "bonded" if lap.bonded else "loose"
        words = f"lap {chainages(*lap.chainage)}, {joined}"
        labels.append(Label(at=_pair(ends[1]), words=words, height=2.2, gap=1.5, priority=4, layer="lap"))


def _lips(design: Design, built: AsBuilt | None, labels: list[Label]) -> Iterator[Mark]:
    """Lips with their levels, as shot where they were."""
    shot = {} if built is None else {lip.name: lip.off.shot for lip in built.lips}
    for lip in design.water.lips:
        ends = design.course.alignment.beside(np.full(2, lip.chainage), np.array([lip.width, -lip.width]) * 0.6)
        yield Polyline(points=ends, layer="lip", pen=pens.LINER)
        level = shot.get(lip.name)
        words = f"{lip.name} {metres(lip.crest if level is None else level)}{'' if level is None else ' as shot'}"
        labels.append(Label(at=_pair(ends[0]), words=words, height=2.5, weight=600, gap=1.5, priority=6, layer="lip"))


def _pit(design: Design, works: Works, window: Window, labels: list[Label]) -> Iterator[Mark]:
    job = design.job
    hatch = {"crates": pens.CRATES, "stones": pens.STONES}.get(job.reservoir.fill)
    corners = np.array(pit_corners(job.reservoir))
    yield Polyline(points=corners, layer="reservoir", pen=pens.HEAVY, closed=True, fill=WHITE, hatch=hatch)
    words = f"reservoir {number_in(job.reservoir.length, 'm'):.2f} x {metres(job.reservoir.width)}"
    gap = 1000 * max(job.reservoir.length, job.reservoir.width) / 2 / window.scale + 1.5
    labels.append(
        Label(at=job.reservoir.centre, words=words, height=2.5, weight=600, gap=gap, priority=6, layer="reservoir")
    )
    stands = standing(design, works.crates)
    if stands.chamber is None:
        return
    shaft = on_site(design, outline_of(stands.chamber))
    yield Polyline(points=shaft, layer="chamber", pen=pens.MEDIUM, closed=True, fill=WHITE)
    middle = _pair(shaft.mean(axis=0))
    yield Circle(at=middle, radius=0.9 * window.scale / 1000.0, layer="chamber", fill=BLACK)
    labels.append(Label(at=middle, words="chamber, as drawn", height=2.2, gap=2.0, priority=7, layer="chamber"))


def _hose(design: Design, works: Works, window: Window, labels: list[Label]) -> Iterator[Mark]:
    line = np.array(design.job.route.line)
    if len(line) < 2:
        return
    yield from pens.hose(line, window)
    trench = works.setting_out.trench_depth
    deep = "" if trench is None else f", {millimetres(trench[0])} down"
    at = inside_window(dense(line), window)
    words = f"hose, bore {millimetres(design.job.route.chosen.bore)}{deep}"
    labels.append(
        Label(at=at or _pair(line[0]), words=words, height=2.2, weight=600, gap=2.0, priority=8, layer="hose")
    )


def _cables(design: Design, works: Works, labels: list[Label]) -> Iterator[Mark]:
    work, electrics = design.job.electrics, works.electrics
    if work is None or electrics is None:
        return
    line = electrics.route.line
    if line is not None:
        yield Polyline(points=line, layer="supply cable", pen=CABLE)
        words = f"supply cable, {millimetres(work.cover)} of cover as told"
        at = _pair(line[:2].mean(axis=0))
        labels.append(
            Label(at=at, words=words, height=2.2, weight=600, colour=RED, gap=1.5, priority=8, layer="supply cable")
        )
    for string in electrics.strings:
        yield Polyline(points=string.line, layer="light cable", pen=LIGHT_CABLE)
        if len(string.line) > 1:
            words = f"light cable {string.voltage:g} V"
            labels.append(Label(at=_pair(string.line[-1]), words=words, height=2.0, colour=RED, gap=1.5, priority=2))


def _marks(design: Design, labels: list[Label]) -> Iterator[Mark]:
    """Fixed marks, as on every setting-out sheet."""
    corners = np.array([(0.0, 2.2), (-1.9, -1.1), (1.9, -1.1)])
    triangle = Polyline(points=corners, layer="mark", pen=pens.MEDIUM, closed=True, fill=WHITE)
    dot = Circle(at=(0.0, 0.0), radius=0.3, layer="mark", fill=BLACK)
    for mark in design.job.site.marks:
        yield Stamp(at=mark.at, marks=(triangle, dot))
        level = "" if mark.level is None else f", {metres(mark.level)}"
        labels.append(
            Label(at=mark.at, words=f"{mark.name}{level}", height=2.5, weight=600, gap=3.0, priority=9, layer="mark")
        )


def _low(design: Design, built: AsBuilt | None, labels: list[Label]) -> Iterator[Mark]:
    """The edges that want raising, the lowest first: a red disc each."""
    chain = design.course.stations.chainage
    for off in _wanting(built):
        line = edge_line(design, 1.0 if off.what.startswith("left") else -1.0)
        at = (float(np.interp(off.chainage, chain, line[:, 0])), float(np.interp(off.chainage, chain, line[:, 1])))
        yield Stamp(at=at, marks=(Circle(at=(0.0, 0.0), radius=1.1, layer="low edge", fill=RED),))
        words = f"{off.what} {millimetres(float(off.freeboard[-1]))} over water"
        labels.append(
            Label(at=at, words=words, height=2.2, weight=600, colour=RED, gap=2.0, priority=7, layer="low edge")
        )


def _wanting(built: AsBuilt | None) -> tuple[Off, ...]:
    return () if built is None else tuple(off for off in built.edges if off.raised > 0)[:LOWEST]


def key_marks(at: Point, which: str) -> tuple[Mark, ...]:
    """A sample for the key, 12 mm wide, its middle line at ``at``."""
    flat = np.array([at, (at[0] + 12.0, at[1])])
    if which == "low edge":
        return (Circle(at=(at[0] + 6.0, at[1]), radius=1.1, layer="key", fill=RED),)
    if which == "chamber":
        box = rectangle((at[0] + 3.5, at[1] - 1.6), (5.0, 3.2))
        dot = Circle(at=(at[0] + 6.0, at[1]), radius=0.9, layer="key", fill=BLACK)
        return (Polyline(points=box, layer="key", pen=pens.MEDIUM, closed=True, fill=WHITE), dot)
    if which == "hose":
        rails = tuple(Polyline(points=flat + np.array((0.0, off)), layer="key", pen=pens.HOSE) for off in (0.5, -0.5))
        ticks = tuple(
            Polyline(
                points=np.array([(at[0] + far, at[1] - 0.5), (at[0] + far, at[1] + 0.5)]), layer="key", pen=pens.HOSE
            )
            for far in (3.0, 9.0)
        )
        return rails + ticks
    pen = {
        "supply cable": CABLE,
        "light cable": LIGHT_CABLE,
        "lap": LAP,
        "edge left": pens.EDGE_LEFT,
        "edge right": pens.EDGE_RIGHT,
        "service": pens.WATER_MAIN,
    }[which]
    return (Polyline(points=flat, layer="key", pen=pen),)


def _pair(point: FloatArray) -> Point:
    return float(point[0]), float(point[1])
