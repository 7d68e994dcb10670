"""The care card, one A4 for the fridge: the stick, what is normal by season, settings, winter, and who is rung."""

from collections.abc import Iterator, Mapping

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.words import band, flow, grouped, millimetres, opening
from beckwright.care import CareTask, Normal, numbers
from beckwright.care.tasks import frost_span
from beckwright.care.told import capped
from beckwright.compose import Design
from beckwright.figures.care import by_month
from beckwright.job.model import Job
from beckwright.papers import pens
from beckwright.papers.drawing import A4_UPRIGHT, RED, Mark, Millimetres, Polyline, Sheet, rectangle
from beckwright.papers.sheets.owner.frame import BODY_LOW, BODY_TOP, LEFT, RIGHT, WIDE, block, headed, owner_frame
from beckwright.papers.sheets.owner.stick import stick
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.season import MONTHS
from beckwright.stages.water.beds import HIGH, LOW

QUARTERS = ((11, 0, 1), (2, 3, 4), (5, 6, 7), (8, 9, 10))
GAP = 6.0
NARROW = 70.0
RIGHT_AT = LEFT + 4.0 + NARROW + GAP
RIGHT_WIDE = RIGHT - 4.0 - RIGHT_AT
STICK_HIGH = 96.0


def care_card(design: Design, normal: Normal, tasks: tuple[CareTask, ...], number: int, of: int) -> Sheet:
    """Draw the card."""
    job = design.job
    marks: list[Mark] = [*owner_frame(job, "Care card", "for the fridge door", number, of)]
    drawn, down = headed((LEFT + 4, BODY_TOP - 2), "Stick, from the lid down", NARROW)
    marks += [*drawn, *stick(normal, (LEFT + 4, down - STICK_HIGH), (NARROW, STICK_HIGH))]
    low = BODY_LOW + RING_HIGH + SEASONS_HIGH
    left = _column(_left(normal), LEFT + 4, NARROW, down - STICK_HIGH - 4, low)
    right = _column(_right(design, normal, tasks), RIGHT_AT, RIGHT_WIDE, BODY_TOP - 2, low)
    marks += [*left, *right, *_seasons(design.job, normal), *_ring(design)]
    return Sheet(
        name="care-card",
        title=f"{job.title.name}: care card",
        paper=A4_UPRIGHT,
        marks=tuple(marks),
        description="Levels from the lid, what is normal by season, settings, winter, and whom to ring.",
    )


Said = tuple[str, tuple[str, ...]]
"""A heading and its paragraphs."""
SIZES = (3.0, 2.8, 2.6, 2.4, 2.2, 2.0, 1.8)
SEASONS_HIGH = 47.0
RING_HIGH = 31.0


def _column(
    blocks: Iterator[Said], at: Millimetres, room: Millimetres, top: Millimetres, low: Millimetres
) -> tuple[Mark, ...]:
    """Headings and paragraphs, as large as leaves them over ``low``."""
    held = tuple(blocks)
    drawn = [_set(held, at, room, top, height) for height in SIZES]
    return next((marks for marks, down in drawn if down >= low), drawn[-1][0])


def _set(
    blocks: tuple[Said, ...], at: Millimetres, room: Millimetres, top: Millimetres, height: Millimetres
) -> tuple[tuple[Mark, ...], float]:
    down, marks = top, list[Mark]()
    for head, paragraphs in blocks:
        drawn, down = headed((at, down), head, room)
        marks += drawn
        for words in paragraphs:
            rows, down = block((at, down), words, room, height)
            marks += rows
            down -= 0.8
        down -= 2.4
    return tuple(marks), down


def _left(normal: Normal) -> Iterator[Said]:
    said = numbers(normal, normal.hardest)
    yield (
        "Reading it",
        (
            f"{said['litre_deep']} on the stick."
            + (f" Read with the pump off for {said['settles']} or more." if "settles" in said else "")
            + f" The reservoir shows {said['amplified']} times what the stream loses: small reservoirs do.",
        ),
    )


def _settings(design: Design) -> Iterator[str]:
    yield "; ".join(f"{each.name} {flow(each.flow)}" for each in design.job.flows) + "."
    for row in design.job.running:
        when = f", {row.when}" if row.when else ""
        yield f"{opening(row.flow)}: {grouped(row.time / 3600)} h{when}."


def _right(design: Design, normal: Normal, tasks: tuple[CareTask, ...]) -> Iterator[Said]:
    said = numbers(normal, normal.hardest)
    yield "Start", (_start(normal, said),)
    yield "At nine in the evening", tuple(_evening(normal, said))
    filling = (
        f"Only at rest, to {said['rested']} below the lid, through an open air gap. "
        f"While it runs {said['lent']} are on their way."
    )
    yield "Filling up", (filling,)
    winter = tuple(_winter(normal, tasks))
    if winter:
        yield "Winter", winter
    yield "Settings", tuple(_settings(design))


def _start(normal: Normal, said: dict[str, str]) -> str:
    if normal.cuts_out is not None:
        return (
            f"At {normal.flow} it runs out of water {said['cuts_out']} "
            f"after the start: the water in motion, {said['lent']}, is "
            f"more than the {said['useful']} the reservoir can lend."
        )
    return (
        f"The first water is back {said['back']} after switching on; "
        f"the level goes down to {said['lowest']} and then stands. "
        f"Off: {said.get('settles', 'a while')} until all is back."
    )


def _evening(normal: Normal, said: dict[str, str]) -> Iterator[str]:
    yield "1  Pump off, wait, read the stick, note the hour."
    if "night_most" in said:
        yield (
            f"2  In a night, pump off, up to {said['night_most']} down is "
            f"weather in {said['month']}; {said['night_rings']} is not: ring."
        )
    else:
        yield "2  Down in a night with the pump off, and again the next: ring."
    if "six_down" in said:
        yield f"3  In {said['six']} dry days of {said['month']}, {said['six_down']} down is weather: fill up."
    yield "4  Tripped, sparks, smell of burning: touch nothing, ring the electrician."
    if "lasts" in said:
        yield f"5  From full, with no rain and nothing filled up, it runs {said['lasts']} of {said['month']}."


def _winter(normal: Normal, tasks: tuple[CareTask, ...]) -> Iterator[str]:
    span = frost_span(normal)
    if span is None:
        return
    named = {task.key: MONTHS[task.months[0]] for task in tasks}
    yield (
        f"Frost from {MONTHS[span[0]]} to {MONTHS[span[1]]}. Drain hose and pump in {named['drain']}, start again in "
        f"{named['start']}. If it runs on: look daily, ice at a lip sends water over the edge."
    )


def _seasons(job: Job, normal: Normal) -> Iterator[Mark]:
    """The table of the quarters, over the telephones."""
    top = BODY_LOW + RING_HIGH + SEASONS_HIGH
    drawn, down = headed((LEFT + 4, top), "Normal without filling up", WIDE - 8)
    yield from drawn
    if not normal.known:
        rows, _ = block(
            (LEFT + 4, down), "Nobody gave a climate table: what a dry day takes is not told.", WIDE - 8, 2.4
        )
        yield from rows
        return
    heads = ("", "dry day, down", "dry week, down", "a night, at most", "fill up a week")
    named = {what: by_month(job, normal, what) for what in ("day_down", "week_down", "night", "topped_week")}
    rows_ = [_quarter(normal, named, list(months)) for months in QUARTERS]
    widths = (44.0, 30.0, 34.0, 32.0, 32.0)
    marks, _ = table((LEFT + 4, down + 2), widths, [heads, *rows_], height=2.5, step=6.4)
    yield from marks


def _quarter(normal: Normal, named: Mapping[str, FloatArray], months: list[int]) -> tuple[str, ...]:
    """Three months as one row: least of their least, most of their most."""
    held = {what: ends[:, months] for what, ends in named.items()}
    day, week, topped = (
        np.array([held[what][LOW].min(), held[what][HIGH].max()]) for what in ("day_down", "week_down", "topped_week")
    )
    return (
        f"{MONTHS[months[0]]} to {MONTHS[months[-1]]}",
        capped(normal, day),
        capped(normal, week),
        millimetres(float(held["night"].max())),
        band(float(topped[0]), float(topped[1]), 5, "L", scale=1000),
    )


def _ring(design: Design) -> Iterator[Mark]:
    """Whom to ring, as large as there is room, and what holds at every hour."""
    people = design.job.people[:3] or ()
    top = BODY_LOW + RING_HIGH
    box = rectangle((LEFT + 4, BODY_LOW + 13.5), (WIDE - 8, RING_HIGH - 14.5))
    yield Polyline(points=box, layer="ring", closed=True, pen=pens.HEAVY)
    if not people:
        yield fitted(
            (LEFT + 8, top - 10), "Ring whoever built it; wires: a licensed electrician.", WIDE - 16, 3.5, weight=600
        )
    room = (WIDE - 12) / max(len(people), 1)
    for place, each in enumerate(people):
        at = LEFT + 8 + place * room
        yield fitted((at, top - 5.6), f"{each.trade}: {each.name}", room - 6, 2.6, weight=600)
        yield fitted((at, top - 13.6), each.telephone or "no number given", room - 6, 5.2, weight=700)
    caution = (
        "Treat every standing depth as a danger to children; keep the lid "
        "locked. Water here is not for drinking. Wires are for licensed "
        "electricians, digging only after services are found; local rules decide."
    )
    rows, _ = block((LEFT + 4, BODY_LOW + 11.5), caution, WIDE - 8, 2.1, weight=600, colour=RED)
    yield from rows
