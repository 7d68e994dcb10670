"""The course pulled straight in plan, for the crew: lining, laps, lips and joints in their places, edges by peg."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import Length, Ratio
from beckwright.base.values import value
from beckwright.base.words import unit_called, with_unit
from beckwright.compose import Design, Works
from beckwright.job.model import Pool, Run, Step
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    BLACK,
    RED,
    Mark,
    Millimetres,
    Pen,
    Polyline,
    Stamp,
    Text,
    View,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.labels import Box, Label, place
from beckwright.papers.sheets.build.lip_cards import LipCard, lip_cards
from beckwright.papers.sheets.ground.setting_out import told_level
from beckwright.papers.sheets.shared.frame import LEFT, RIGHT
from beckwright.stages.setting_out import Peg

NAMES: Millimetres = 15.0
"""Room for the names of the rows."""
WIDE = RIGHT - LEFT - NAMES - 2.0
BARS, PEG_ROW, RULER = 11.0, 4.4, 5.0
EDGE_ROWS: tuple[Millimetres, Millimetres] = (8.8, 11.8)
"""Rows of one edge: below the nail, and its level."""
LABELS: Millimetres = 7.5
"""Room for words over and under the lining in a view."""
LEAN: Millimetres = 3.0
"""Height in which the lines from a column lean over to their peg."""
BESIDE = BARS + PEG_ROW + 2 * sum(EDGE_ROWS) + 2 * LEAN + RULER
"""Height a strip takes beside its view."""
SCALES = (10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 125.0, 200.0)
"""Of ISO 5455 and of the rules people carry (common practice)."""
COUNTS = ((1, 50.0), (2, 100.0), (4, 100.0), (6, 100.0), (8, 200.0), (12, 200.0))
"""How many strips, and the smallest scale each is worth it for."""
ENDS: Length = 0.3
"""Drawn beyond both ends of the course, m."""
OVERLAP: Length = 0.4
"""Course that neighbouring strips share, m."""
RIM_KEPT: Millimetres = 0.6
JOINT = Pen(width=0.7, dash=(0.0, 1.3))
LAP_HATCH = pens.slanted(1.8, RED, width=0.25)
LAP_PEN = Pen(width=0.5, colour=RED)


@value
class Strip:
    """One length of the course in its window. ``cut`` tells at which of its ends another strip goes on."""

    number: int
    start: Length
    end: Length
    cut: tuple[bool, bool]
    window: Window

    def holds(self, chainage: Length) -> bool:
        """Whether a place lies in it."""
        return self.start <= chainage <= self.end

    def right(self, chainage: Length) -> Millimetres:
        """Where on the paper a place lies."""
        return float(self.window.on_paper(np.array([(chainage, 0.0)]))[0, 0])


def strip_scale(works: Works, length: Length, tall: dict[int, Millimetres]) -> tuple[int, Ratio, Millimetres]:
    """How many strips, at which scale, and how high a view has to be.

    tall  height of a view at the most, for one strip on a sheet, and for two
    """
    out = widest(works.setting_out.pegs)
    for count, smallest in COUNTS:
        most = tall[min(count, 2)]
        need = 1000.0 * max(_along(length, count) / WIDE, out / (most - 2 * LABELS))
        scale = next((each for each in SCALES if each >= need - 1e-9), None)
        if scale is not None and scale <= smallest:
            return count, scale, min(1000.0 * out / scale + 2 * LABELS, most)
    count = COUNTS[-1][0]
    scale = 1000.0 * max(_along(length, count) / WIDE, out / (tall[2] - 2 * LABELS))
    return count, float(np.ceil(scale)), tall[2]


def _along(length: Length, count: int) -> Length:
    """Length of one of so many strips."""
    return (length + 2 * ENDS + (count - 1) * OVERLAP) / count


def widest(pegs: tuple[Peg, ...]) -> Length:
    """Twice the farthest edge of the lining from the middle of the course."""
    return 2 * max(abs(edge) for peg in pegs for dug in peg.dug for edge in dug.edges)


def strips(
    length: Length, count: int, scale: Ratio, views: tuple[tuple[Millimetres, Millimetres], ...]
) -> tuple[Strip, ...]:
    """All strips in order. ``views``: low and height of the views of one sheet, in turn."""
    along = _along(length, count)
    found = []
    for number in range(count):
        start = -ENDS + number * (along - OVERLAP)
        low, tall = views[number % len(views)]
        window = section_window(
            corner=(LEFT + NAMES, low),
            size=(along * 1000.0 / scale, tall),
            scale=scale,
            left=start,
            low=-tall * scale / 2000.0,
        )
        cut = (number > 0, number + 1 < count)
        found.append(Strip(number=number + 1, start=start, end=start + along, cut=cut, window=window))
    return tuple(found)


def strip_view(design: Design, works: Works, strip: Strip) -> View:
    """Bed, edges, lips, laps and joints of one strip, left edge up."""
    window, cards = strip.window, lip_cards(design, works)
    labels = [*_lip_labels(works, cards), *_lap_labels(works)]
    inside = [label for label in labels if strip.holds(label.at[0])]
    marks: list[Mark] = [*_bed(design), *_edges(works.setting_out.pegs, window)]
    marks += [*_laps(works), *_lips(cards), *_reach_names(design, works, strip), *_way(strip)]
    placed = place(inside, window, pens.THIN, arrow="dot", keep_off=_kept(design, works, strip))
    return View(name=f"strip {strip.number}", window=window, marks=(*marks, *placed.marks))


def _bed(design: Design) -> Iterator[Mark]:
    at = design.course.stations
    for number, stretch in enumerate(design.course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        half, along = at.width[here] / 2, at.chainage[here]
        outline = np.vstack([np.column_stack([along, half]), np.column_stack([along, -half])[::-1]])
        hatch = pens.WATER_RULING if isinstance(stretch.reach, Pool) else pens.STONES
        yield Polyline(points=outline, layer="bed", pen=pens.THIN, closed=True, hatch=hatch)
        if isinstance(stretch.reach, Run):
            for sill in stretch.reach.sills:
                across = np.array([(stretch.start + sill, -half[0]), (stretch.start + sill, half[0])])
                yield Polyline(points=across, layer="joints", pen=JOINT)


def _edges(pegs: tuple[Peg, ...], window: Window) -> Iterator[Mark]:
    """The lining's edge from peg to peg; it jumps where the course changes at a peg."""
    for side, draw in ((0, pens.edge_left), (1, pens.edge_right)):
        line = np.array([(peg.chainage, dug.edges[side]) for peg in pegs for dug in peg.dug])
        yield from draw(line, window)


def _laps(works: Works) -> Iterator[Mark]:
    """Each lap across the sheet, and an arrow the way the water runs off the upper one."""
    pegs = works.setting_out.pegs
    for lap in works.lining.laps:
        (start, end), (left, right) = lap.chainage, _edges_at(pegs, lap.chainage[0])
        box = rectangle((start, right), (max(end - start, 1e-3), left - right))
        yield Polyline(points=box, layer="laps", pen=LAP_PEN, closed=True, hatch=LAP_HATCH)


def _edges_at(pegs: tuple[Peg, ...], chainage: Length) -> tuple[Length, Length]:
    along = [peg.chainage for peg in pegs for _ in peg.dug]
    edges = np.array([dug.edges for peg in pegs for dug in peg.dug])
    return float(np.interp(chainage, along, edges[:, 0])), float(np.interp(chainage, along, edges[:, 1]))


def _lips(cards: tuple[LipCard, ...]) -> Iterator[Mark]:
    """Each lip across its clear width; its joint behind the stone and down both ends."""
    for card in cards:
        lip = card.fall.lip
        half, at = lip.width / 2, lip.chainage
        yield Polyline(points=np.array([(at, -half), (at, half)]), layer="lip", pen=pens.LINER)
        if card.stone is not None:
            long, deep, _ = card.stone.size
            back = np.array([(at, long / 2), (at - deep, long / 2), (at - deep, -long / 2), (at, -long / 2)])
            yield Polyline(points=back, layer="joints", pen=JOINT)


def _way(strip: Strip) -> Iterator[Mark]:
    """An arrow down the water at the head of the strip."""
    shaft = Polyline(points=np.array([(0.0, 0.0), (9.0, 0.0)]), layer="key", pen=pens.MEDIUM)
    head = Polyline(points=np.array([(12.0, 0.0), (8.6, 1.2), (8.6, -1.2)]), layer="key", closed=True, fill=BLACK)
    at = strip.start + 2.0 * strip.window.scale / 1000.0
    yield Stamp(at=(at, 0.0), marks=(shaft, head))


def _lip_labels(works: Works, cards: tuple[LipCard, ...]) -> Iterator[Label]:
    slack = {each.place: each.slack for each in works.lining.slacks}
    for card in cards:
        level, below = told_level(card.level)
        fold = ""
        if card.fall.lip.name in slack:
            fold = f", {with_unit(slack[card.fall.lip.name] * 1000, 'mm'):,.0f} loose"
        down = f"{below} {unit_called('m')} down, " if below else ""
        words = f"{card.name}: {down}{level}{fold}"
        edges = _edges_at(works.setting_out.pegs, card.fall.lip.chainage)
        yield Label(at=(card.fall.lip.chainage, edges[0]), words=words, height=2.5, weight=600, priority=5, gap=1.8)


def _lap_labels(works: Works) -> Iterator[Label]:
    lining = works.lining
    for number, (lap, (upper, lower)) in enumerate(zip(lining.laps, pairwise(lining.pieces), strict=True), 1):
        long = f"{with_unit((lap.end - lap.start) * 1000, 'mm'):,.0f}"
        words = f"lap {number}: {upper.letter} over {lower.letter}, {long}, {'bond' if lap.bonded else 'loose'}"
        _, right = _edges_at(works.setting_out.pegs, lap.chainage[0])
        at = (sum(lap.chainage) / 2, right)
        yield Label(at=at, words=words, height=2.2, weight=600, colour=RED, priority=4, gap=2.2)


def _reach_names(design: Design, works: Works, strip: Strip) -> Iterator[Mark]:
    """Each run's and pool's name on its bed, clear of laps; none where there is no room for it."""
    for stretch in design.course.stretches:
        if isinstance(stretch.reach, Step):
            continue
        words = stretch.reach.name
        if isinstance(stretch.reach, Run) and stretch.reach.bed.depth > 0:
            words += f": {stretch.reach.bed.name}, {with_unit(stretch.reach.bed.depth * 1000, 'mm'):,.0f}"
        half = (fonts.width(words, 2.2) / 2 + 2.0) * strip.window.scale / 1000.0
        start, end = max(stretch.start, strip.start), min(stretch.end, strip.end)
        for part in (0.5, 0.35, 0.65, 0.2, 0.8):
            at = start + (end - start) * part
            clear = all(lap.chainage[1] < at - half or lap.chainage[0] > at + half for lap in works.lining.laps)
            if start <= at - half and at + half <= end and clear:
                yield Text(at=(at, 0.0), words=words, height=2.2, across="middle", up="middle", halo=0.6, layer="bed")
                break


def _kept(design: Design, works: Works, strip: Strip) -> tuple[Box, ...]:
    """No words over the bed and the edges, but for a leader."""
    step = 2.0 * strip.window.scale / 1000.0
    boxes = []
    for chainage in np.arange(max(strip.start, 0.0), min(strip.end, design.course.length) + step, step).tolist():
        near = [_edges_at(works.setting_out.pegs, at) for at in (chainage - step, chainage, chainage + step)]
        left, right = max(each[0] for each in near), min(each[1] for each in near)
        corners = strip.window.on_paper(np.array([(chainage - step / 2, right), (chainage + step / 2, left)]))
        low, high = float(corners[0, 1]) - RIM_KEPT, float(corners[1, 1]) + RIM_KEPT
        boxes.append((float(corners[0, 0]), low, float(corners[1, 0]), high))
    return tuple(boxes)
