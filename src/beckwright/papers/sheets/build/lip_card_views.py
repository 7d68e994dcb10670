"""The two views of a lip card, true to scale: across as seen from downstream, and cut along the water."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.words import millimetres
from beckwright.job.model import Job
from beckwright.papers import pens
from beckwright.papers.drawing import (
    BLACK,
    WHITE,
    Dimension,
    Mark,
    Pen,
    Point,
    Polyline,
    Stamp,
    Text,
    View,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.labels import Box, Label, place
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.stonework import LipStone
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.lip_stones import GROOVE, GROOVE_BACK, GROOVED_FROM, PROJECTS

LINING = Pen(width=0.7)
HATCH = pens.slanted(1.8, BLACK)
WATER = (Pen(width=0.18), Pen(width=0.25), Pen(width=0.35), Pen(width=0.5))
"""The larger the flow, the heavier the line."""
SCALES = (2.0, 5.0, 10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)
"""Of ISO 5455 and of the rules people carry (common practice)."""
CHEEK_SHOWN = 0.7
"""A cheek stone is drawn this much of its height over the lip, the rest beside it: its place is the eye's."""


def front_view(job: Job, fall: Fall, stone: LipStone | None, corner: Point, size: Point) -> View:
    """Lip and cheeks as whoever sets them stands before them. Left is left looking downstream: at the right here."""
    wide, tall, under = _across(job, fall, stone)
    room = (size[0] - 2.0, size[1] - 11.5)
    scale = fitting_scale((wide, tall + under), room)
    metre = scale / 1000.0
    window = section_window(corner=corner, size=size, scale=scale, left=-size[0] * metre / 2, low=-under - 0.8 * metre)
    return View(name="seen from downstream", window=window, marks=tuple(_front(job, fall, stone, window)))


def _across(job: Job, fall: Fall, stone: LipStone | None) -> tuple[Length, Length, Length]:
    """Width drawn, height over the crest, depth under it."""
    lip, cheek = fall.lip, job.stonework.cheek
    if stone is None:
        return lip.width, 0.0, job.source.box_depth
    over = 0.0 if cheek is None else CHEEK_SHOWN * cheek[2]
    under = max(stone.size[2], 0.0 if cheek is None else (1 - CHEEK_SHOWN) * cheek[2])
    return max(stone.size[0], lip.width + (0.0 if cheek is None else 2 * cheek[1])), over, under


def _front(job: Job, fall: Fall, stone: LipStone | None, window: Window) -> Iterator[Mark]:
    lip, cheek = fall.lip, job.stonework.cheek
    half = lip.width / 2
    if stone is None:
        box = rectangle((-half, -job.source.box_depth), (lip.width, job.source.box_depth))
        yield Polyline(points=box, layer="lip", pen=pens.MEDIUM, closed=True)
    else:
        long, _, thick = stone.size
        body = rectangle((-long / 2, -thick), (long, thick))
        yield Polyline(points=body, layer="lip", pen=pens.HEAVY, closed=True, fill=WHITE, hatch=HATCH)
    if stone is not None and cheek is not None:
        for side in (-1.0, 1.0):
            low, high = -(1 - CHEEK_SHOWN) * cheek[2], CHEEK_SHOWN * cheek[2]
            yield _boulder(side * half, side * cheek[1], low, high)
    yield Polyline(points=np.array([(-half, 0.0), (half, 0.0)]), layer="lip", pen=pens.LINER)
    yield from _clear(fall, window)


def _clear(fall: Fall, window: Window) -> Iterator[Mark]:
    """The width that stays open, over everything else."""
    half, metre = fall.lip.width / 2, window.scale / 1000.0
    up = window.origin[1] + (window.size[1] - 6.0) * metre
    yield Polyline(points=np.array([(-half, up), (half, up)]), layer="dimension", pen=pens.THIN)
    for side in (-half, half):
        witness = np.array([(side, 0.0), (side, up + 1.0 * metre)])
        yield Polyline(points=witness, layer="dimension", pen=pens.THIN)
        stroke = np.array([(side - 0.9 * metre, up - 0.9 * metre), (side + 0.9 * metre, up + 0.9 * metre)])
        yield Polyline(points=stroke, layer="dimension", pen=pens.MEDIUM)
    words = f"{millimetres(fall.lip.width)} clear"
    yield Text(at=(0.0, up), words=words, height=3.5, weight=700, across="middle", offset=(0.0, 1.2), layer="dimension")


def _boulder(inner: Length, wide: Length, low: Length, high: Length) -> Polyline:
    """A stone with its corners off, upright against the lip's end."""
    part = np.array([(0.0, 0.0), (0.0, 0.85), (0.15, 1.0), (0.75, 0.96), (1.0, 0.7), (0.95, 0.12), (0.8, 0.0)])
    points = part * (wide, high - low) + (inner, low)
    return Polyline(points=points, layer="stones", pen=pens.MEDIUM, closed=True, fill=WHITE)


def fitting_scale(extent: tuple[Length, Length], room: Point) -> float:
    """The largest scale at which this fits."""
    need = max(1000.0 * length / most for length, most in zip(extent, room, strict=True))
    return next((scale for scale in SCALES if scale >= need), SCALES[-1])


def through_view(job: Job, fall: Fall, stone: LipStone | None, corner: Point, size: Point) -> View:
    """The lip cut along the water, its edge in the middle of the view, upstream at the left."""
    sheet = fall.sheet
    if sheet is None or stone is None:
        left, right, low, high = -job.source.box_length, 0.3, -job.source.box_depth, 0.1
    else:
        left, right = -1.25 * stone.size[1], _shown(sheet)
        low, high = -sheet.floor_drop, 0.35 * sheet.floor_drop
    scale = fitting_scale((right - left, high - low), (size[0] - 22.0, size[1] - 2.0))
    metre = scale / 1000.0
    spare = size[1] * metre - (high - low)
    # What is over goes to the right, where the words stand.
    window = section_window(
        corner=corner, size=size, scale=scale, left=left - 3.0 * metre, low=low - min(spare, 2.0 * metre)
    )
    marks = _outlet(job, window) if sheet is None or stone is None else _through(fall, sheet, stone, right, window)
    return View(name="through the lip", window=window, marks=tuple(marks))


def _shown(sheet: Sheet) -> Length:
    """Length of what lies below that is drawn: past the farthest landing, no more than the pool there is."""
    wanted = max(1.5 * float(sheet.landed.far.max()), 0.6 * sheet.floor_drop)
    return min(wanted, sheet.basin.pool_length) if sheet.basin.pool_length else wanted


def _outlet(job: Job, window: Window) -> Iterator[Mark]:
    """The outlet box, and the bed that goes on level with its lip."""
    source = job.source
    box = rectangle((-source.box_length, -source.box_depth), (source.box_length, source.box_depth))
    yield Polyline(points=box, layer="running water", closed=True, hatch=pens.WATER_RULING)
    walls = np.array(
        [(-source.box_length, 0.1), (-source.box_length, -source.box_depth), (0.0, -source.box_depth), (0, 0)]
    )
    yield Polyline(points=walls, layer="lip", pen=pens.LINER)
    right = window.origin[0] + window.size[0] * window.scale / 1000.0
    yield from pens.bed(np.array([(0.0, 0.0), (right, 0.0)]), window)
    labels = (Label(at=(0.06, 0.0), words="the bed goes on level with the lip", height=2.0, gap=2.0),)
    yield from place(labels, window, pens.THIN).marks


def _through(fall: Fall, sheet: Sheet, stone: LipStone, right: Length, window: Window) -> Iterator[Mark]:
    lip, (_, deep, thick) = fall.lip, stone.size
    floor, out, odd = -sheet.floor_drop, PROJECTS.amount, lip.kind == "boulders"
    if sheet.basin.pool_length:
        water = rectangle((-out, floor), (right + out, sheet.floor_drop - lip.drop))
        yield Polyline(points=water, layer="still water", closed=True, hatch=pens.WATER_RULING)
        surface = np.array([(-out, -lip.drop), (right, -lip.drop)])
        yield Polyline(points=surface, layer="still water", pen=pens.STILL_WATER)
        yield Stamp(at=(right * 0.8, -lip.drop), marks=pens.water_level_mark())
    yield from _lining(deep, thick, floor, right)
    yield Polyline(
        points=_slab(deep, thick, odd=odd),
        layer="lip",
        pen=pens.MEDIUM,
        closed=True,
        fill=WHITE,
        hatch=HATCH,
    )
    yield from _falling(fall, sheet, deep)
    yield from _measures(fall, sheet, right, window)
    placed = place(
        _named(deep, thick, odd=odd),
        window,
        pens.THIN,
        arrow="dot",
        keep_off=_kept(sheet, stone, right, window),
    )
    yield from placed.marks


def _lining(deep: Length, thick: Length, floor: Length, right: Length) -> Iterator[Mark]:
    """Under the stone, down the face, along the floor; and standing up behind the stone."""
    face = -PROJECTS.amount
    line = np.array([(-1.25 * deep, -thick), (face, -thick), (face, floor), (right, floor)])
    yield Polyline(points=line, layer="liner", pen=LINING)
    behind = np.array([(-deep, -thick), (-deep, -0.1 * thick)])
    yield Polyline(points=behind, layer="liner", pen=LINING)


def _slab(deep: Length, thick: Length, *, odd: bool) -> FloatArray:
    """The stone cut through: a made one with its groove, an odd one with its corners off."""
    if odd:
        return np.array(
            [
                (-deep, -thick),
                (-deep, -0.15 * thick),
                (-0.9 * deep, 0.0),
                (-0.08 * deep, 0.0),
                (0.0, -0.12 * thick),
                (-0.1 * deep, -thick),
            ]
        )
    if thick < GROOVED_FROM.amount:
        return rectangle((-deep, -thick), (deep, thick))
    back, wide = -GROOVE_BACK.amount, GROOVE.amount
    groove = [(back, -thick), (back, -thick + wide), (back - wide, -thick + wide), (back - wide, -thick)]
    return np.array([(-deep, -thick), (-deep, 0.0), (0.0, 0.0), (0.0, -thick), *groove])


def _falling(fall: Fall, sheet: Sheet, deep: Length) -> Iterator[Mark]:
    """Under side of the sheet at each flow, from the edge to the water below: a parabola through both."""
    part = np.linspace(0.0, 1.0, 13)
    for number, far in enumerate(sheet.landed.by_fall[MIDDLE]):
        drop = float(sheet.fall[MIDDLE, number])
        pen = WATER[min(number, len(WATER) - 1)]
        if drop > 0.0:
            arc = np.column_stack([part * float(far), -drop * part**2])
            yield Polyline(points=arc, layer="running water", pen=pen)
    largest = int(np.argmax(fall.flows))
    over = float(fall.lip.head[MIDDLE, largest])
    yield Polyline(points=np.array([(-1.25 * deep, over), (-0.5 * deep, over)]), layer="running water", pen=WATER[-1])


def _measures(fall: Fall, sheet: Sheet, right: Length, window: Window) -> Iterator[Mark]:
    metre = window.scale / 1000.0
    at = right + 5.0 * metre
    yield Dimension(start=(at, 0.0), end=(at, -fall.lip.drop), offset=0.0, words="", pen=pens.THIN)
    yield Text(
        at=(at, -fall.lip.drop / 2),
        words=millimetres(fall.lip.drop),
        height=3.5,
        weight=700,
        up="middle",
        offset=(2.0, 0.0),
        layer="dimension",
    )
    if sheet.basin.pool_length:
        yield Dimension(start=(at, -fall.lip.drop), end=(at, -sheet.floor_drop), offset=0.0, words="", pen=pens.THIN)


def _named(deep: Length, thick: Length, *, odd: bool) -> tuple[Label, ...]:
    out = f"{millimetres(PROJECTS.amount)}"
    named = [
        Label(at=(-deep, -0.1 * thick), words="lining up behind", height=2.0, priority=3),
        Label(at=(-PROJECTS.amount / 2, -thick), words=f"projects {out}", height=2.0, priority=2),
    ]
    if not odd and thick >= GROOVED_FROM.amount:
        groove = (-GROOVE_BACK.amount - GROOVE.amount / 2, -thick + GROOVE.amount)
        named.append(Label(at=groove, words="drip groove", height=2.0, priority=1))
    return tuple(named)


def _kept(sheet: Sheet, stone: LipStone, right: Length, window: Window) -> tuple[Box, ...]:
    """No words over the water, the stone, the lining or the measures beside them."""
    metre, (_, deep, thick) = window.scale / 1000.0, stone.size
    beside = right + 24.0 * metre
    boxes = ((-1.25 * deep, -thick, 0.0, 0.05 * sheet.floor_drop), (-0.02, -sheet.floor_drop, beside, 0.02))
    kept = []
    for left, low, far, high in (*boxes, (-1.25 * deep, -sheet.floor_drop, -deep * 0.98, 0.0)):
        corners = window.on_paper(np.array([(left, low), (far, high)]))
        kept.append((float(corners[0, 0]), float(corners[0, 1]), float(corners[1, 0]), float(corners[1, 1])))
    return tuple(kept)
