"""The picture sheet: what a client keeps. A sketch, one fall at three flows, what it costs, what is heard."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.words import METRIC, band, flow, grouped, opening, reads, retold
from beckwright.compose import Design, Works
from beckwright.figures.make import main_flow
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Mark, Polyline, Sheet, View, rectangle
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.card_frame import card_bar
from beckwright.papers.sheets.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    scale_bar,
)
from beckwright.papers.sheets.money_marks import fitted
from beckwright.papers.sheets.picture_flows import CAPTION, Shown, flow_views, shown_fall
from beckwright.papers.sheets.picture_money import building_marks, running_marks
from beckwright.papers.sheets.picture_plan import sketch_view

COLUMN = RIGHT - TITLE_WIDE
WIDE = COLUMN - LEFT
PLAN_LOWS = {True: LOW + 152.0, False: LOW + 102.0}
"""Foot of the sketch, mm: over pictures by day and by night, or by day alone."""
TEXT = 2.9
CARES_LOW = LOW + TITLE_HIGH + 4.0
CHILDREN = (
    "Children: [a few centimetres] of water is enough to drown in. An adult within reach whenever water stands or "
    "runs, and while it is being built; the lid of the reservoir stays locked."
)
WATER = "Nobody drinks this water or bathes in it. Electrics only by a licensed electrician, to local rules."


def picture_sheet(design: Design, works: Works, number: int, of: int) -> Sheet:
    """All of it on one A3."""
    job = design.job
    shown = shown_fall(design, works)
    foot = PLAN_LOWS[shown is not None and bool(shown.lamps)]
    plan = sketch_view(design, works, (LEFT, foot), (WIDE, TOP - foot - 10.0))
    day: tuple[View, ...] = ()
    night: tuple[View, ...] = ()
    if shown is not None:
        day, night = flow_views(shown, (LEFT + 4.0, LOW + 12.0), (WIDE - 8.0, foot - LOW - 26.0))
    title = SheetTitle(
        title="Picture sheet",
        reader="for the client: to look at, to ask about",
        scale=f"sketch 1:{plan.window.scale:g}",
        number=number,
        of=of,
    )
    return Sheet(
        name="picture",
        title=f"{job.title.name}: picture sheet",
        paper=A3_FLAT,
        views=(plan, *day, *night),
        marks=(
            *frame(job, title),
            *_rules(foot),
            heading((LEFT + 5.0, TOP - 7.0), f"{job.title.name}: sketch, rocks are placed by eye", 4.5),
            *scale_bar((LEFT + 8.0, foot + 4.0), plan.window.scale),
            *north_point((LEFT + 13.0, TOP - 28.0), plan.window.turn),
            *(() if shown is None else _captions(design, shown, day, night, foot - 14.0)),
            *_column(design, works),
        ),
        description=f"Sketch of {job.title.name}, one fall at {len(day)} flows by day{' and night' if night else ''}, "
        "what a year of running costs, what building it costs and what is in that sum.",
    )


def _rules(foot: float) -> Iterator[Mark]:
    for line in (((COLUMN, LOW + TITLE_HIGH), (COLUMN, TOP)), ((LEFT, foot), (COLUMN, foot))):
        yield Polyline(points=np.array(line), layer="frame", pen=pens.MEDIUM)


def _captions(
    design: Design, shown: Shown, day: tuple[View, ...], night: tuple[View, ...], top: float
) -> Iterator[Mark]:
    scale = day[0].window.scale
    words = f"{opening(shown.fall.lip.name)} cut through: the water at {len(day)} flows, 1:{scale:g}"
    yield heading((LEFT + 5.0, top + 4.0), words, 3.5)
    yield from card_bar((COLUMN - 5.0, top + 4.5), scale)
    for view, number in zip(day, shown.flows, strict=True):
        (left, low), (wide, tall) = view.window.corner, view.window.size
        head = shown.fall.lip.head[:, number]
        over = band(float(head.min()), float(head.max()), 1.0, "mm", scale=1000.0)
        name = f"{opening(design.water.names[number])}, {flow(float(design.water.flows[number]))}"
        yield fitted((left, low + tall + CAPTION - 4.5), name, wide, 3.2, weight=600)
        yield fitted((left, low + tall + 2.0), f"{over} of water over the stone", wide, 2.2)
    for view in (*day, *night):
        box = rectangle(view.window.corner, view.window.size)
        yield Polyline(points=box, layer="frame", pen=pens.MEDIUM, closed=True)
    if night:
        left, low = night[0].window.corner
        under = low + night[0].window.size[1] + 1.8
        yield fitted((left, under), "By night, with the lamps of this design", WIDE - 20.0, 2.5, weight=600)
    said = "Drawn at the middle of what is worked out. How the water breaks on the stones is theirs to say."
    if not night:
        said += " No lamp is set at a fall in this design, so no picture by night."
    yield fitted((LEFT + 5.0, LOW + 4.0), said, WIDE - 10.0, 2.2)


def _column(design: Design, works: Works) -> Iterator[Mark]:
    left, room = COLUMN + 6.0, TITLE_WIDE - 12.0
    marks, down = running_marks(design, works.running, (left, TOP - 9.0), room)
    yield from marks
    cares, high = _cares(design, left, room)
    marks, _ = building_marks(works.estimate, (left, down - 12.0), room, high + 4.0)
    yield from marks
    yield from cares


def _cares(design: Design, left: float, room: float) -> tuple[list[Mark], float]:
    """What is heard, and the cautions, set up from the title block; gives back their upper end."""
    marks: list[Mark] = []
    up = CARES_LOW
    shallow = "a few centimetres" if reads() is METRIC else "an inch or two"
    children = retold(CHILDREN.replace("[a few centimetres]", shallow))
    for title, lines in (("Water and children", (children, WATER)), ("What you will hear", tuple(_sounds(design)))):
        set_up = [paragraph((left, 0.0), line, room, TEXT) for line in reversed(lines)]
        for rows in set_up:
            first = up - rows[-1].at[1]
            marks += paragraph((left, first), " ".join(row.words for row in rows), room, TEXT)
            up = first + 6.0
        marks.append(heading((left, up + 1.0), title, 4.0))
        up += 12.0
    return marks, up


def _sounds(design: Design) -> Iterator[str]:
    """The voice of every fall, those alike together; how much louder the most is than what runs longest."""
    voices: dict[str, list[str]] = {}
    for fall in design.falls:
        if fall.sheet is not None:
            voices.setdefault(fall.voice, []).append(fall.lip.name)
    for voice, lips in voices.items():
        yield f"{opening(', '.join(lips))}: {voice}."
    main = main_flow(design.job)
    most = int(np.argmax(design.water.flows))
    than = float(design.water.flows[design.water.number(main)])
    if voices and design.water.names[most] != main:
        louder = grouped(float(design.falls[-1].louder(than)[most]))
        yield f"At {design.water.names[most]} every fall is about {louder} decibels louder than at {main}."
