"""Plan marks of the ground work, as the driver and the setting-out crew need them: pegs, edges, heaps, keep-outs."""

from itertools import pairwise
from string import ascii_uppercase

import numpy as np

from beckwright.base.quantities import FloatArray, Points
from beckwright.base.words import metres, opening, stride
from beckwright.compose import Design
from beckwright.job.model import Service
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
    laid,
    plain,
    plan_window,
    rectangle,
    turn_to_run_right,
)
from beckwright.papers.labels import Box, Label, place, text_box
from beckwright.papers.sheets.shared.frame import LEFT, TOP
from beckwright.stages.earthworks.values import Groundwork, Heap
from beckwright.stages.ground import contours
from beckwright.stages.setting_out import Peg, SettingOut, SidePeg, pieces

PLAN_SCALES = (20.0, 25.0, 50.0, 75.0, 100.0, 125.0, 200.0, 250.0, 300.0, 400.0, 500.0, 1000.0)
"""Scales of ISO 5455 and of the rules people carry (common practice)."""
INTERVALS = (0.1, 0.25, 0.5, 1.0, 2.0)
STRING = Pen(width=0.13)
HAND_BAND = Pen(width=0.18, dash=(2.0, 1.0), colour=RED)


def window_over(points: Points, corner: Point, size: Point, *, margin: float, along: Points) -> Window:
    """The largest plan that shows ``points`` with ``margin`` m round them, turned so that ``along`` runs right."""
    turn = turn_to_run_right(along)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    turned = np.asarray(points) @ rotation
    low, high = turned.min(axis=0) - margin, turned.max(axis=0) + margin
    need = max(1000.0 * (high - low) / np.array(size))
    scale = next((scale for scale in PLAN_SCALES if scale >= need), float(np.ceil(need)))
    middle = (low + high) / 2 @ rotation.T
    return plan_window(corner=corner, size=size, scale=scale, middle=_pair(middle), turn=turn)


def ground_plan(
    design: Design,
    groundwork: Groundwork,
    setting_out: SettingOut,
    window: Window,
    *,
    named: tuple[Peg, ...],
    also: tuple[Mark, ...] = (),
    heaps: bool = True,
    keep_off: tuple[Box, ...] = (),
) -> tuple[Mark, ...]:
    """Everything on the ground seen through ``window``.

    named     pegs that get their number here
    also      marks drawn over the ground that labels must not cover with words
    keep_off  boxes on the paper no words may enter
    """
    labels: list[Label] = []
    marks: list[Mark] = [
        *_contours(design),
        *keep_outs(design, labels, window),
        *_limits(design, labels, window),
        *_works(design, groundwork, setting_out, window),
        *(_heaps(groundwork.heaps, window, labels) if heaps else ()),
        *_fixed(setting_out, labels),
        *_pegs(setting_out, named, labels),
        *also,
    ]
    words = word_boxes(marks, window)
    spots = np.array([side.spot.at for peg in setting_out.pegs for side in (peg.left, peg.right)])
    placing = place(
        labels,
        window,
        pens.THIN,
        keep_off=(*keep_off, *words, *over_pegs(spots, window), *_over_works(design, groundwork, window)),
    )
    return (*marks, *placing.marks)


def _pair(point: FloatArray) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def word_boxes(marks: list[Mark], window: Window) -> tuple[Box, ...]:
    """Boxes over words already drawn, for labels to keep off."""
    worded = (mark for mark in marks if not isinstance(mark, Polyline | Circle))
    texts = (part for mark in worded for part in plain(laid(mark, window)) if isinstance(part, Text))
    boxes = (text_box(text) for text in texts)
    return tuple((*map(float, box.min(axis=0)), *map(float, box.max(axis=0))) for box in boxes)  # type: ignore[misc]


def over_pegs(spots: Points, window: Window) -> tuple[Box, ...]:
    """Boxes over the squares of pegs: no words may hide one."""
    return tuple((x - 1.0, y - 1.0, x + 1.0, y + 1.0) for x, y in window.on_paper(spots).tolist())


def _over_works(design: Design, groundwork: Groundwork, window: Window) -> tuple[Box, ...]:
    """Boxes over the bed and the pit, so that no words cover what is to be dug."""
    at = design.course.stations
    half = at.width / 2 * 1000.0 / window.scale
    spots = [(*xy, float(reach)) for xy, reach in zip(window.on_paper(at.points), half, strict=True)]
    corners = groundwork.pit.floor
    inner = np.vstack([corners.mean(axis=0), (corners + corners.mean(axis=0)) / 2])
    reach = 1000.0 * float(np.hypot(*np.diff(corners, axis=0).T).min()) / 2 / window.scale
    spots += [(*xy, reach * 0.7) for xy in window.on_paper(inner)]
    return tuple((x - r, y - r, x + r, y + r) for x, y, r in spots)


def _contours(design: Design) -> list[Mark]:
    span = float(np.ptp(design.ground.levels))
    strides = [stride(each, "m") for each in INTERVALS]
    interval = next((each for each in strides if span / each <= 20), stride(5.0, "m"))
    return [
        Polyline(points=contour.line, layer="contour", pen=pens.CONTOUR, closed=contour.closed)
        for contour in contours(design.ground, interval)
    ]


def keep_outs(design: Design, labels: list[Label], window: Window) -> list[Mark]:
    """Root circles, and services with the band that is dug by hand."""
    marks: list[Mark] = []
    for circle in design.surroundings.circles:
        tree = circle.tree
        marks.extend(pens.root_circle(tree.at, circle.radius))
        marks.append(Circle(at=tree.at, radius=max(circle.stem / 2, 0.08), layer="tree", pen=pens.MEDIUM, fill=BLACK))
        words = f"{tree.species} {tree.name}: keep out {metres(circle.radius)} round"
        labels.append(_red(tree.at, words, 10, "tree", gap=500.0 * circle.stem / window.scale + 1.5))
    for service in design.job.site.services:
        marks.extend(_service(service, window))
        line = np.array(service.line)
        at = _seen_of(_dense(line), window) if len(line) > 1 else service.line[0]
        depth = "depth unknown" if service.depth is None else f"{metres(service.depth)} down as told"
        if at is not None:
            words = f"{service.name}, {depth}: dig by hand {metres(service.clearance)} each side"
            labels.append(_red(at, words, 10, "service"))
    return marks


def _red(at: tuple[float, float], words: str, priority: int, layer: str, *, gap: float = 1.5) -> Label:
    return Label(
        at=at, words=opening(words), height=2.5, weight=600, colour=RED, gap=gap, priority=priority, layer=layer
    )


def _service(service: Service, window: Window) -> list[Mark]:
    from shapely import LineString, Point, get_coordinates

    line = np.array(service.line)
    shape = LineString(line) if len(line) > 1 else Point(line[0])
    band = get_coordinates(shape.buffer(max(service.clearance, 0.05)).exterior)
    marks: list[Mark] = [Polyline(points=band, layer="service", pen=HAND_BAND, closed=True)]
    if len(line) < 2:
        return [*marks, Circle(at=service.line[0], radius=0.12, layer="service", pen=pens.SHORT)]
    if "water" in service.kind:
        return [*marks, *pens.water_main(line, window)]
    return [*marks, Polyline(points=line, layer="service", pen=pens.WATER_MAIN)]


def _limits(design: Design, labels: list[Label], window: Window) -> list[Mark]:
    """Boundaries, footings and where water was seen to run."""
    site = design.job.site
    marks: list[Mark] = []
    named = [
        *((line.name, line.line, "boundary", pens.BOUNDARY) for line in site.boundaries),
        *((f"footing: {line.name}", line.line, "foundation", pens.HEAVY) for line in site.foundations),
        *((f"water runs here in rain: {line.name}", line.line, "runoff", pens.RUNNING_FULL) for line in site.runoff),
    ]
    for words, places, layer, pen in named:
        line = np.array(places)
        if len(line) < 2:
            continue
        marks.append(Polyline(points=line, layer=layer, pen=pen))
        if layer == "runoff":
            marks.append(_arrow(line, window))
        at = _seen_of(_dense(line), window)
        if at is not None:
            labels.append(Label(at=at, words=opening(words), height=2.2, priority=2, layer=layer))
    return marks


def _arrow(line: FloatArray, window: Window) -> Stamp:
    way = np.diff(window.on_paper(line[-2:]), axis=0)[0]
    head = Polyline(points=np.array([(0.0, 0.0), (-3.0, 1.1), (-3.0, -1.1)]), layer="runoff", closed=True, fill=BLACK)
    return Stamp(at=_pair(line[-1]), marks=(head,), turn=float(np.arctan2(way[1], way[0])))


def _works(design: Design, groundwork: Groundwork, setting_out: SettingOut, window: Window) -> list[Mark]:
    """Limits of dig and bank, edges of the lining, lips, pit and hose trench."""
    course = design.course
    chainage = np.array([section.chainage for section in groundwork.sections])
    edges = np.array([section.edges for section in groundwork.sections])
    left, right = (course.alignment.beside(chainage, side) for side in edges.T)
    half = course.stations.width / 2
    bed = np.vstack([course.alignment.beside(chainage, half), course.alignment.beside(chainage, -half)[::-1]])
    marks: list[Mark] = [
        *(Polyline(points=line, layer="works", pen=pens.DIG_LEVEL, closed=True) for line in setting_out.outlines),
        Polyline(points=bed, layer="bed", closed=True, fill=WHITE),
        Polyline(points=course.stations.points, layer="course line", pen=pens.CENTRE),
        *(
            Polyline(points=line, layer=layer, pen=pens.MEDIUM)
            for line, layer in ((left, "edge left"), (right, "edge right"))
        ),
    ]
    for lip in design.water.lips:
        ends = course.alignment.beside(np.full(2, lip.chainage), np.array([lip.width, -lip.width]) / 2)
        marks.append(Polyline(points=ends, layer="lip", pen=pens.LINER))
    pit = setting_out.pit.dig
    marks += [
        Polyline(points=pit.rim, layer="pit", pen=pens.DIG_LEVEL, closed=True),
        Polyline(points=pit.floor, layer="pit", pen=pens.HEAVY, closed=True, fill=WHITE),
    ]
    if groundwork.trench is not None:
        for line in pieces(groundwork.trench):
            marks.extend(pens.hose(line, window, layer="hose trench"))
    return marks


def heap_letters(heaps: tuple[Heap, ...]) -> tuple[str, ...]:
    """A letter for each heap, so that it can be called from the cab."""
    return tuple(ascii_uppercase[number % len(ascii_uppercase)] for number in range(len(heaps)))


def _heaps(heaps: tuple[Heap, ...], window: Window, labels: list[Label]) -> list[Mark]:
    marks: list[Mark] = []
    letters: list[Mark] = []
    for letter, heap in zip(heap_letters(heaps), heaps, strict=True):
        name = Text(
            at=(0.0, 0.0), words=letter, height=5.0, weight=700, across="middle", up="middle", halo=1.0, layer="heap"
        )
        marks.append(Circle(at=heap.at, radius=heap.radius, layer="heap", pen=pens.MEDIUM, hatch=pens.HEAP_HATCH))
        letters.append(Stamp(at=heap.at, marks=(name,)))
        gap = 1000.0 * heap.radius / window.scale + 1.0
        words = f"{letter}: {heap.holds}" if heap.clear >= 0 else f"{letter}: {heap.holds}, not clear of {heap.of}"
        colour = BLACK if heap.clear >= 0 else RED
        labels.append(
            Label(at=heap.at, words=words, height=2.8, weight=600, colour=colour, gap=gap, priority=8, layer="heap")
        )
    return [*marks, *letters]


def landmarks(setting_out: SettingOut) -> tuple[Peg, ...]:
    """Pegs worth a number on a plan of the whole site: lips, both ends, and every tenth."""
    last = setting_out.pegs[-1].number
    return tuple(
        peg for peg in setting_out.pegs if peg.lip is not None or peg.number in (1, last) or not peg.number % 10
    )


def white_corners(low: float) -> tuple[Mark, ...]:
    """White under the north point and the scale bar of a plan whose lower rim is at ``low``."""
    return (
        Polyline(points=rectangle((LEFT + 5, TOP - 24), (18.0, 20.0)), layer="frame", closed=True, fill=WHITE),
        Polyline(points=rectangle((LEFT + 5, low + 3), (78.0, 8.0)), layer="frame", closed=True, fill=WHITE),
    )


def kept_corners(low: float) -> tuple[Box, ...]:
    """Boxes over both, for labels to keep off."""
    return ((LEFT, TOP - 34.0, LEFT + 28.0, TOP), (LEFT, low, LEFT + 84.0, low + 12.0))


def _fixed(setting_out: SettingOut, labels: list[Label]) -> list[Mark]:
    """Fixed marks: a triangle with its point at the mark's middle."""
    triangle = Polyline(
        points=np.array([(0.0, 2.2), (-1.9, -1.1), (1.9, -1.1)]), layer="mark", pen=pens.MEDIUM, closed=True, fill=WHITE
    )
    dot = Circle(at=(0.0, 0.0), radius=0.3, layer="mark", fill=BLACK)
    marks: list[Mark] = []
    for mark in setting_out.marks:
        marks.append(Stamp(at=mark.at, marks=(triangle, dot)))
        level = "" if mark.level is None else f", {metres(mark.level)}"
        labels.append(
            Label(at=mark.at, words=f"{mark.name}{level}", height=2.5, weight=600, gap=3.0, priority=9, layer="mark")
        )
    return marks


def _pegs(setting_out: SettingOut, named: tuple[Peg, ...], labels: list[Label]) -> list[Mark]:
    """A square with its nail at both ends of every string, the number at the end with more room."""
    square = Polyline(points=rectangle((-0.9, -0.9), (1.8, 1.8)), layer="peg", pen=pens.THIN, closed=True, fill=WHITE)
    nail = Circle(at=(0.0, 0.0), radius=0.3, layer="peg", fill=BLACK)
    marks: list[Mark] = []
    for peg in setting_out.pegs:
        ends = np.array([peg.left.spot.at, peg.right.spot.at])
        marks.append(Polyline(points=ends, layer="string", pen=STRING))
        marks.extend(Stamp(at=side.spot.at, marks=(square, nail)) for side in (peg.left, peg.right))
    for peg in named:
        labels.extend(_number(peg, side) for side in (peg.left, peg.right))
    return marks


def _number(peg: Peg, side: SidePeg) -> Label:
    return Label(
        at=side.spot.at, words=f"{peg.number}", height=3.5, weight=700, narrow=True, gap=1.6, priority=7, layer="peg"
    )


def _seen_of(line: FloatArray, window: Window) -> tuple[float, float] | None:
    """The point of a line that lies farthest inside the window, if any does."""
    paper = window.on_paper(line)
    low, size = np.array(window.corner), np.array(window.size)
    gap = np.minimum(paper - low, low + size - paper).min(axis=1)
    best = int(np.argmax(gap))
    return _pair(line[best]) if gap[best] > 4 else None


def _dense(line: FloatArray) -> FloatArray:
    return np.vstack([start + (end - start) * np.linspace(0, 1, 40)[:, None] for start, end in pairwise(line)])
