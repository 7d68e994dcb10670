"""The picture sheet: what a client keeps. A sketch, the course at three flows, what it costs, what is heard."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.words import METRIC, band, grouped, opening, reads, retold
from beckwright.compose import Design, Works
from beckwright.figures.make import main_flow
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Mark, Polyline, Sheet, View
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.picture.colours import DARK, DAY
from beckwright.papers.sheets.picture.course import Ribbons, day_views, night_views, ribbons_of
from beckwright.papers.sheets.picture.flows import CAPTION, flow_views, shown_fall, three_flows
from beckwright.papers.sheets.picture.money import building_marks, running_marks
from beckwright.papers.sheets.picture.plan import sketch_view
from beckwright.papers.sheets.picture.words import elsewhere, how_drawn, key_marks, lip_names, ribbon_words, ruled_box
from beckwright.papers.sheets.shared.card_frame import card_bar
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import (
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

COLUMN = RIGHT - TITLE_WIDE
WIDE = COLUMN - LEFT
NIGHT_HEAD, DAY_HEAD, NOTES = 6.0, 11.0, 11.5
"""Room for words over and under the boxes, mm."""
BOXES = {True: (66.0, 66.0), False: (108.0, 0.0)}
"""Heights of the boxes by day and by night; without a lamp there is none by night."""
FALL_LEAST, FALL_MOST = 28.0, 56.0
"""Room for a fall drawn larger in the column; with less it is left out."""
DRAWN = "Drawn at the middle of what is worked out. How the water breaks on the stones is theirs to say."
TEXT = 2.9
CARES_LOW = LOW + TITLE_HIGH + 4.0
CHILDREN = (
    "Children: [a few centimetres] of water is enough to drown in. An adult within reach whenever water stands or "
    "runs, and while it is being built; the lid of the reservoir stays locked."
)
WATER = "Nobody drinks this water or bathes in it. Electrics only by a licensed electrician, to local rules."


def picture_sheet(design: Design, works: Works, number: int, of: int) -> Sheet:
    """All of it on one A3."""
    job, flows = design.job, three_flows(design)
    dark = works.electrics is not None and bool(works.electrics.lamps)
    by_day, by_night = BOXES[dark]
    low = LOW + NOTES + (by_night + NIGHT_HEAD if dark else 0.0)
    foot = low + by_day + DAY_HEAD
    plan = sketch_view(design, works, (LEFT, foot), (WIDE, TOP - foot - 10.0))
    day = ribbons_of(design, flows, (LEFT + 3.0, low), (WIDE - 6.0, by_day))
    night = ribbons_of(design, flows, (LEFT + 3.0, LOW + NOTES), (WIDE - 6.0, by_night)) if dark else None
    column, enlarged = _column(design, works)
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
        views=(
            plan,
            *day_views(design, works, day, flows),
            *(() if night is None else night_views(design, works, night, flows)),
            *enlarged,
        ),
        marks=(
            *frame(job, title),
            *_rules(foot),
            heading((LEFT + 5.0, TOP - 7.0), f"{job.title.name}: sketch, rocks are placed by eye", 4.5),
            *scale_bar((LEFT + 8.0, foot + 4.0), plan.window.scale),
            *north_point((LEFT + 13.0, TOP - 28.0), plan.window.turn),
            *_course_words(design, works, flows, day, night),
            *column,
        ),
        description=f"Sketch of {job.title.name}, the course cut along the water at {len(flows)} flows by "
        f"day{' and night' if dark else ''}, what a year of running costs, what building it costs and what is in "
        "that sum.",
    )


def _rules(foot: float) -> Iterator[Mark]:
    for line in (((COLUMN, LOW + TITLE_HIGH), (COLUMN, TOP)), ((LEFT, foot), (COLUMN, foot))):
        yield Polyline(points=np.array(line), layer="frame", pen=pens.MEDIUM)


def _course_words(
    design: Design, works: Works, flows: tuple[int, ...], day: Ribbons, night: Ribbons | None
) -> Iterator[Mark]:
    top = day.corner[1] + day.size[1]
    words = f"The whole course cut along the water at {len(flows)} flows, lengths 1:{day.along:g}"
    yield heading((LEFT + 5.0, top + 3.5), words, 3.5)
    yield from scale_bar((COLUMN - 80.0, top + 3.0), day.along)
    yield ruled_box(day.corner, day.size)
    yield from ribbon_words(design, day, flows, DAY, all_of_it=True)
    yield from lip_names(design, day)
    yield from key_marks(day)
    said = f"{how_drawn(day)} {DRAWN}"
    if night is None:
        said += " This design has no lamps, so no picture by night."
    else:
        under = night.corner[1] + night.size[1] + 1.8
        yield fitted((LEFT + 5.0, under), "By night, with the lamps of this design", 100.0, 2.9, weight=600)
        yield fitted((LEFT + 108.0, under), elsewhere(design, works), WIDE - 112.0, 2.2)
        yield ruled_box(night.corner, night.size)
        yield from ribbon_words(design, night, flows, DARK, all_of_it=False)
    yield from paragraph((LEFT + 5.0, LOW + 6.8), said, WIDE - 10.0, 2.2)


def _column(design: Design, works: Works) -> tuple[list[Mark], tuple[View, ...]]:
    left, room = COLUMN + 6.0, TITLE_WIDE - 12.0
    running, down = running_marks(design, works.running, (left, TOP - 9.0), room)
    cares, high = _cares(design, left, room)
    building, down = building_marks(works.estimate, (left, down - 12.0), room, high + 4.0)
    larger, views = _enlarged(design, works, down - 1.0, high - 2.5)
    return [*running, *building, *larger, *cares], views


def _enlarged(design: Design, works: Works, top: float, low: float) -> tuple[list[Mark], tuple[View, ...]]:
    """The highest fall true to scale, where the column has room for it."""
    shown, tall = shown_fall(design, works), min(top - low, FALL_MOST)
    if shown is None or tall < FALL_LEAST:
        return [], ()
    left, room = COLUMN + 6.0, TITLE_WIDE - 12.0
    views = flow_views(shown, (left, top - tall), (room, tall - 7.0))
    scale = views[0].window.scale
    words = f"{opening(shown.fall.lip.name)} cut through, 1:{scale:g}"
    marks: list[Mark] = [heading((left, top - 5.0), words, 4.0), *card_bar((RIGHT - 6.0, top - 4.5), scale)]
    for view, number in zip(views, shown.flows, strict=True):
        (at, under), (wide, high) = view.window.corner, view.window.size
        head = shown.fall.lip.head[:, number]
        over = band(float(head.min()), float(head.max()), 1.0, "mm", scale=1000.0)
        up = under + high + CAPTION
        marks.append(fitted((at, up - 3.7), opening(design.water.names[number]), wide, 2.5, weight=600))
        marks.append(fitted((at, up - 6.8), f"{over} of water over the stone", wide, 2.0))
        marks.append(ruled_box(view.window.corner, view.window.size))
    return marks, views


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
