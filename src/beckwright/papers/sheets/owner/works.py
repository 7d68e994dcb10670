"""How it works in one picture, to no scale, with this job's numbers where the water goes; below it the winter."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.words import litres, metres, millimetres, opening
from beckwright.care import CareTask, Normal, numbers
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import (
    ARROW,
    BLACK,
    WHITE,
    Circle,
    Mark,
    Millimetres,
    Pen,
    Point,
    Polyline,
    Stamp,
    Text,
    rectangle,
)
from beckwright.papers.sheets.owner.frame import BODY_LOW, BODY_TOP, LEFT, RIGHT, WIDE, block, headed
from beckwright.papers.sheets.shared.fitted import fitted, ruled

PICTURE_HIGH = 112.0
WATER = Pen(width=0.7)
NOTHING = 0.0005
"""Less room for rain than this, m, is none."""
SIZES = (2.6, 2.4, 2.2, 2.0, 1.8)
PIT_WIDE, PIT_HIGH = 66.0, 44.0


def how_it_works(design: Design, normal: Normal, tasks: tuple[CareTask, ...]) -> Iterator[Mark]:
    """The picture, its numbered words, and the winter."""
    low = BODY_TOP - 4.0 - PICTURE_HIGH
    yield from _picture(design, low)
    yield fitted((LEFT + 4, low - 4.2), "A sketch, to no scale. Numbers in rings are told below.", WIDE - 8, 1.9)
    yield from _words(design, normal, tasks, low - 6.0)


def _picture(design: Design, low: Millimetres) -> Iterator[Mark]:
    steps = max(1, min(sum(1 for lip in design.water.lips if lip.drop > 0), 5))
    left, right = LEFT + 16.0, RIGHT - PIT_WIDE - 8.0
    top, foot = low + PICTURE_HIGH - 16.0, low + 52.0
    ground = [(left - 10.0, top - 3.0), (left + 12.0, top - 3.0)]
    wide, drop = (right - left - 14.0) / steps, (top - 3.0 - foot) / steps
    for step in range(steps):
        at = (left + 12.0 + step * wide, top - 3.0 - step * drop)
        ground += [at, (at[0] + wide * 0.86, at[1] - drop * 0.3), (at[0] + wide * 0.86, at[1] - drop)]
        ground.append((at[0] + wide, at[1] - drop))
    pit = (RIGHT - PIT_WIDE - 4.0, low + 4.0)
    yield Polyline(points=np.array(ground), layer="course", pen=pens.LINER)
    yield Polyline(points=np.array(ground[1:]) + np.array((0.0, 2.2)), layer="course", pen=WATER)
    yield from _box((left - 10.0, top - 3.0))
    yield from _pit(pit, ground[-1])
    yield from _hose(pit, (left - 4.0, top + 9.0), low)
    yield from _ring((left + 16.0, top + 8.0), "1")
    yield from _ring(((left + right) / 2, (top + foot) / 2 + 12.0), "2")
    yield from _ring((pit[0] + PIT_WIDE / 2 - 2, pit[1] + 14.0), "3")
    yield from _ring((pit[0] + PIT_WIDE - 13.0, pit[1] + 21.0), "4")
    yield from _ring(((left + pit[0]) / 2, low + 9.0), "5")
    yield from _ring((pit[0] + 6.0, pit[1] + PIT_HIGH + 17.0), "6")
    yield from _ring((pit[0] - 6.0, pit[1] + 29.0), "7")


def _box(at: Point) -> Iterator[Mark]:
    """The outlet box at the top."""
    yield Polyline(
        points=rectangle((at[0], at[1] - 1.0), (12.0, 9.0)), layer="source", closed=True, fill=WHITE, pen=pens.HEAVY
    )
    yield Polyline(
        points=rectangle((at[0], at[1] - 1.0), (12.0, 6.0)), layer="source", closed=True, hatch=pens.WATER_RULING
    )


def _pit(corner: Point, inlet: Point) -> Iterator[Mark]:
    """The reservoir under its stones, the chamber with the pump, the overflow and the feed."""
    left, low = corner
    full = low + 27.0
    yield Polyline(
        points=rectangle(corner, (PIT_WIDE, PIT_HIGH - 8)), layer="pit", closed=True, hatch=pens.CRATES, pen=pens.LINER
    )
    yield Polyline(points=rectangle(corner, (PIT_WIDE, full - low)), layer="pit", closed=True, hatch=pens.WATER_RULING)
    stones = rectangle((left, low + PIT_HIGH - 8), (PIT_WIDE, 6.0))
    yield Polyline(points=stones, layer="cover", closed=True, hatch=pens.STONES, pen=pens.THIN)
    chamber = rectangle((left + PIT_WIDE - 22, low), (18, PIT_HIGH))
    yield Polyline(points=chamber, layer="chamber", closed=True, fill=WHITE, pen=pens.HEAVY)
    yield ruled((left + PIT_WIDE - 24, low + PIT_HIGH), (left + PIT_WIDE - 2, low + PIT_HIGH), pens.LINER, "lid")
    yield ruled((left + PIT_WIDE - 22, full), (left + PIT_WIDE - 4, full), WATER, "water")
    yield Polyline(points=rectangle((left + PIT_WIDE - 18, low + 1), (10, 8)), layer="pump", closed=True, fill=BLACK)
    yield from _flowing([inlet, (left + 10.0, inlet[1] + 1.0), (left + 10.0, low + PIT_HIGH - 1.0)])
    yield from _flowing([(left, full + 0.8), (left - 12.0, full + 0.8)])
    yield from _flowing([(left + 16.0, low + PIT_HIGH + 16.0), (left + 16.0, low + PIT_HIGH + 3.0)])


def _hose(pit: Point, outlet: Point, low: Millimetres) -> Iterator[Mark]:
    pump = (pit[0] + PIT_WIDE - 13.0, pit[1] + 3.0)
    line = [
        pump,
        (pump[0], low + 1.0),
        (outlet[0] - 8.0, low + 1.0),
        (outlet[0] - 8.0, outlet[1]),
        outlet,
        (outlet[0], outlet[1] - 5.0),
    ]
    yield Polyline(points=np.array(line), layer="hose", pen=pens.HEAVY)
    yield from _flowing([outlet, (outlet[0], outlet[1] - 6.0)])


def _flowing(line: list[Point]) -> Iterator[Mark]:
    yield Polyline(points=np.array(line), layer="water", pen=WATER)
    (east, north), (to_east, to_north) = line[-2], line[-1]
    head = (Polyline(points=ARROW, layer="water", closed=True, fill=BLACK),)
    yield Stamp(at=line[-1], marks=head, turn=float(np.arctan2(to_north - north, to_east - east)))


def _ring(at: Point, number: str) -> Iterator[Mark]:
    yield Circle(at=at, radius=3.0, layer="text", fill=WHITE, pen=pens.MEDIUM)
    yield Text(at=at, words=number, height=2.8, weight=700, across="middle", up="middle")


def _told(design: Design, normal: Normal) -> Iterator[str]:
    said, job = numbers(normal, normal.hardest), design.job
    yield (
        f"The source: {said['rate']} at {normal.flow}, "
        f"{metres(job.source.lip_level - normal.pit.rested)} over the water at rest."
    )
    back = (
        f" The first is back {said['back']} after switching on; "
        f"off, all is back within {said.get('settles', 'a while')}."
        if "back" in said
        else f" At {normal.flow} the reservoir runs out {said['cuts_out']} after the start."
    )
    yield (
        f"The course: {metres(design.course.length)} of stones over a lining. {said['lent']} are in motion on it.{back}"
    )
    yield (
        f"The reservoir: {litres(normal.useful)} between rest and the "
        f"pump's least. {opening(said['litre_deep'])} on the stick."
    )
    running = f"; running {said['running']}" if "running" in said else ""
    yield (
        "The chamber with the pump. From the lid: at rest "
        f"{said['rested']}{running}; least {said['least']}. Lid locked."
    )
    yield (
        f"Hose and cable lie underground: {metres(job.route.length)} of hose. Nobody digs there before both are found."
    )
    yield f"Filling up, at rest, through an open air gap, to {said['rested']} below the lid."
    held = f"room for {millimetres(normal.storm)} of" if normal.storm >= NOTHING else "no room for"
    room = f" At rest there is {held} rain." if normal.known else ""
    to = f" to {job.reservoir.overflow_to}" if job.reservoir.overflow_to else ""
    yield f"The overflow, {said['overflow']} below the lid,{to}.{room}"


def _words(design: Design, normal: Normal, tasks: tuple[CareTask, ...], top: Millimetres) -> tuple[Mark, ...]:
    drawn = [_set(design, normal, tasks, top, height) for height in SIZES]
    return next((marks for marks, down in drawn if down >= BODY_LOW + 2.0), drawn[-1][0])


def _set(
    design: Design, normal: Normal, tasks: tuple[CareTask, ...], top: Millimetres, height: Millimetres
) -> tuple[tuple[Mark, ...], float]:
    marks, down = list[Mark](), top
    for number, words in enumerate(_told(design, normal), 1):
        marks += _ring((LEFT + 7.5, down - 2.6), f"{number}")
        rows, low = block((LEFT + 13, down), words, WIDE - 17, height)
        marks += rows
        down = min(low, down - 6.4) - 1.4
    drawn, down = headed((LEFT + 4, down - 1.5), "Winter", WIDE - 8)
    marks += drawn
    winter = [task for task in tasks if task.key in ("drain", "start")]
    for words in [f"{task.title}. {task.does} {opening(task.why)}." for task in winter] or [
        "Nobody gave days with frost: ask your builder."
    ]:
        rows, down = block((LEFT + 4, down), words, WIDE - 8, height)
        marks += rows
        down -= 1.2
    return tuple(marks), down
