"""The build sheet: what the crew lays and sets, in order and in place; drawn pulled straight, with lists beside it."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import metres
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    Circle,
    Mark,
    Pen,
    Polyline,
    Sheet,
    Text,
    View,
    plan_window,
    scale_to_fit,
    turn_to_run_right,
)
from beckwright.papers.sheets.build.lists import WIDE, build_lists
from beckwright.papers.sheets.build.rows import strip_rows
from beckwright.papers.sheets.build.strip import (
    BARS,
    BESIDE,
    EDGE_ROWS,
    JOINT,
    LEAN,
    PEG_ROW,
    RULER,
    Strip,
    strip_scale,
    strip_view,
    strips,
)
from beckwright.papers.sheets.shared.flow import Block, Column, flowed
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    scale_bar,
)

READER = "for the crew: one number, one peg, one place"
HEAD = TOP - 11.0
"""Upper side of the first strip, mm."""
FOOT = LOW + TITLE_HIGH + 2.0
TALL = {1: 74.0, 2: (HEAD - FOOT) / 2 - BESIDE - 1.0}
"""Height of a view, mm: alone on a sheet, and where two stand one over the other."""
LETTERS = (2.8, 2.6, 2.4, 2.2, 2.0)
"""Heights of the letters of the lists, the best first, mm."""
GAP = 6.0
KEY_HIGH = TITLE_HIGH - 2.0


@value
class BuildPages:
    """What stands on which sheet: strips on the first ones, lists beside them and on those that follow."""

    strips: tuple[tuple[Strip, ...], ...]
    lists: tuple[tuple[Mark, ...], ...]
    shared: bool

    @property
    def count(self) -> int:
        """Sheets in all."""
        return len(self.strips) + len(self.lists) - self.shared


def build_pages(design: Design, works: Works) -> BuildPages:
    """Share strips and lists out over the sheets."""
    length = design.course.length
    count, scale, tall = strip_scale(works, length, TALL)
    alone = count == 1
    below = sum(EDGE_ROWS) + LEAN + RULER
    top = HEAD - BARS - PEG_ROW - sum(EDGE_ROWS) - LEAN - tall
    views = ((top, tall),) if alone else ((top, tall), (top - tall - BESIDE - 1.0, tall))
    drawn = strips(length, count, scale, views)
    pages = tuple(drawn[start : start + len(views)] for start in range(0, count, len(views)))
    first = _columns(top - below - 4.0) if alone else ()
    lists = _listed(build_lists(design, works), first)
    return BuildPages(strips=pages, lists=lists, shared=alone)


def _listed(blocks: tuple[Block, ...], first: tuple[Column, ...]) -> tuple[tuple[Mark, ...], ...]:
    """The lists in the largest letters that take no more sheets than the smallest, and squeeze no word."""
    tried = [flowed(blocks, _columns(TOP - 3.0), height=tall, step=2 * tall, first=first) for tall in LETTERS]
    fits = (
        lists
        for lists, tall in zip(tried, LETTERS, strict=True)
        if len(lists) == len(tried[-1]) and not _squeezed(lists, tall)
    )
    return next(fits, tried[-1])


def _squeezed(lists: tuple[tuple[Mark, ...], ...], tall: float) -> bool:
    """Whether any word is cut, or smaller than the others."""
    texts = (mark for marks in lists for mark in marks if isinstance(mark, Text))
    return any(text.words.endswith("…") or text.height < tall - 1e-9 for text in texts)


def build_sheets(
    design: Design, works: Works, first: int, of: int, pages: BuildPages | None = None
) -> tuple[Sheet, ...]:
    """All build sheets, numbered from ``first``; ``pages`` where they have been shared out already."""
    pages = build_pages(design, works) if pages is None else pages
    sheets = []
    for place in range(pages.count):
        shown = pages.strips[place] if place < len(pages.strips) else ()
        row = place - len(pages.strips) + pages.shared
        listed = pages.lists[row] if row >= 0 else ()
        sheets.append(_sheet(design, works, shown, listed, place, pages, first + place, of))
    return tuple(sheets)


def _columns(top: float) -> tuple[Column, ...]:
    """Three columns; two of them end over the title block."""
    lows = (LOW + 3.0, LOW + TITLE_HIGH + 3.0, LOW + TITLE_HIGH + 3.0)
    return tuple(
        Column(left=LEFT + 5.0 + place * (WIDE + GAP), wide=WIDE, top=top, low=low) for place, low in enumerate(lows)
    )


def _sheet(
    design: Design,
    works: Works,
    shown: tuple[Strip, ...],
    listed: tuple[Mark, ...],
    place: int,
    pages: BuildPages,
    number: int,
    of: int,
) -> Sheet:
    job = design.job
    part = f", part {place + 1} of {pages.count}" if pages.count > 1 else ""
    scale = f"1:{shown[0].window.scale:g}" if shown else "no drawing"
    title = SheetTitle(title=f"Build sheet{part}", reader=READER, scale=scale, number=number, of=of)
    views = [strip_view(design, works, strip) for strip in shown]
    marks: list[Mark] = [*frame(job, title), *listed]
    for strip in shown:
        marks += strip_rows(works, strip)
    if shown:
        words = "The course pulled straight, seen from above. Water runs to the right, left edge up."
        marks += [heading((LEFT + 3.0, TOP - 7.0), words), *scale_bar((RIGHT - 85.0, TOP - 8.0), shown[0].window.scale)]
        marks += _key((LEFT + 185.0, TOP - 7.0) if pages.shared else (LEFT + 150.0, LOW + KEY_HIGH), flat=pages.shared)
    if shown and not pages.shared:
        key, around = _key_plan(design, pages, shown)
        views.append(key)
        marks += around
    return Sheet(
        name=f"build-{place + 1}",
        title=f"{job.title.name}: build sheet{part}",
        paper=A3_FLAT,
        views=tuple(views),
        marks=tuple(marks),
        description=f"Build sheet of {job.title.name}: {metres(design.course.length)} of course with lining, laps, "
        "lips, edges below the nails, stone, lifts, joints, crates and the order of work.",
    )


def _key(at: tuple[float, float], *, flat: bool) -> Iterator[Mark]:
    """Lines of the strip: in one row, or one under the other."""
    signs: tuple[tuple[str, Pen], ...] = (("lip", pens.LINER), ("joint", JOINT), ("lap", pens.SHORT))
    for place, (words, pen) in enumerate(signs):
        left, up = (at[0] + 28.0 * place, at[1]) if flat else (at[0], at[1] - 5.0 * place)
        line = np.array([(left, up + 0.9), (left + 9.0, up + 0.9)])
        yield Polyline(points=line, layer="key", pen=pen)
        yield Text(at=(left + 10.5, up), words=words, height=2.0)


def _key_plan(design: Design, pages: BuildPages, shown: tuple[Strip, ...]) -> tuple[View, list[Mark]]:
    """Where the strips of this sheet lie on the whole course."""
    at, course = design.course.stations.points, design.course.alignment
    turn = turn_to_run_right(course.vertices)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    turned = at @ rotation
    low, high = turned.min(axis=0), turned.max(axis=0)
    corner, size = (LEFT + 2.0, LOW + 1.0), (125.0, KEY_HIGH)
    scale = scale_to_fit((float(high[0] - low[0]), float(high[1] - low[1])), (size[0] - 30.0, size[1] - 12.0))
    middle = (low + high) / 2 @ rotation.T
    window = plan_window(corner=corner, size=size, scale=scale, middle=(float(middle[0]), float(middle[1])), turn=turn)
    marks: list[Mark] = [Polyline(points=at, layer="course line", pen=pens.THIN)]
    here = {strip.number for strip in shown}
    for strip in (each for page in pages.strips for each in page):
        span = np.linspace(max(strip.start, 0.0), min(strip.end, design.course.length), 40)
        pen = pens.LINER if strip.number in here else pens.MEDIUM
        points = course.at(span)
        marks.append(Polyline(points=points, layer="course", pen=pen))
        spot = points[20]
        marks.append(
            Text(
                at=(float(spot[0]), float(spot[1])),
                words=f"{strip.number}",
                height=2.5,
                weight=700,
                across="middle",
                offset=(0.0, 2.0),
                halo=0.3,
            )
        )
        marks += [
            Circle(at=(float(end[0]), float(end[1])), radius=0.6 * scale / 1000.0, layer="course", fill=BLACK)
            for end in (points[0], points[-1])
        ]
    words = f"Strips on the course, 1:{scale:g}; this sheet heavy"
    around: list[Mark] = [
        Text(at=(corner[0] + 3.0, corner[1] + size[1] - 4.0), words=words, height=2.0, weight=600),
        *north_point((corner[0] + size[0] - 8.0, corner[1] + 15.0), turn),
        *scale_bar((corner[0] + 3.0, corner[1] + 1.5), scale),
    ]
    return View(name="key plan", window=window, marks=tuple(marks), world=True), around
