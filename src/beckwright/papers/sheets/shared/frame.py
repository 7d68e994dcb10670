"""What every sheet carries, so that it can stand alone when it is photographed and forwarded."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import METRIC, metres, millimetres, one_unit, reads, unit_called
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    RED,
    WHITE,
    Circle,
    Mark,
    Millimetres,
    Pen,
    Point,
    Polyline,
    Text,
    Weight,
    rectangle,
)
from beckwright.papers.labels import paragraph

if TYPE_CHECKING:
    from beckwright.job.model import Job

LEFT, LOW = 20.0, 10.0
WIDE, HIGH = A3_FLAT[0] - LEFT - 10.0, A3_FLAT[1] - 2 * LOW
RIGHT, TOP = LEFT + WIDE, LOW + HIGH
TITLE_WIDE, TITLE_HIGH = 150.0, 32.0
LEAST = 1.8
"""Frame of ISO 5457: 20 mm for binding at the left, 10 mm elsewhere; the title block in the lower right corner."""


@value
class SheetTitle:
    """What the title block says about one sheet."""

    title: str
    reader: str
    scale: str
    number: int
    of: int


def frame(job: "Job", title: SheetTitle) -> tuple[Mark, ...]:
    """Frame and title block."""
    left, low = RIGHT - TITLE_WIDE, LOW
    invented = "Invented demonstration job. " if job.title.invented else ""
    lines = (
        ((left, low), (left, low + TITLE_HIGH)),
        ((left, low + TITLE_HIGH), (RIGHT, low + TITLE_HIGH)),
        ((left, low + 16), (RIGHT, low + 16)),
        ((left, low + 7.5), (left + 104, low + 7.5)),
        ((left + 104, low), (left + 104, low + TITLE_HIGH)),
        ((left + 128, low), (left + 128, low + 16)),
    )
    words = (
        _titled((left + 3, low + 23.5), title.title, 101.0),
        Text(at=(left + 3, low + 18.2), words=title.reader, height=2.2),
        _within((left + 3, low + 10.2), f"{job.title.name}. {invented}", 2.5, 99.0, weight=600),
        _within((left + 3, low + 3.0), f"Levels: {job.datum.name} = {metres(job.datum.level)}", 2.2, 88.0),
        Text(at=(left + 106, low + 27.5), words="revision", height=1.8),
        _fitted((left + 106, low + 19), job.title.revision, 13.0),
        Text(at=(left + 120, low + 19), words=job.title.date, height=2.5, weight=600),
        Text(at=(left + 106, low + 11.5), words="scale on A3", height=1.8),
        _within((left + 106, low + 4.5), title.scale, 2.2, 21.0, weight=600),
        Text(at=(left + 130, low + 11.5), words="sheet", height=1.8),
        _within((left + 130, low + 3.5), f"{title.number}/{title.of}", 5.0, 18.5, weight=700),
    )
    border = Polyline(points=rectangle((LEFT, LOW), (WIDE, HIGH)), layer="frame", pen=pens.FRAME, closed=True)
    block = Polyline(points=rectangle((left, low), (TITLE_WIDE, TITLE_HIGH)), layer="frame", closed=True, fill=WHITE)
    rule = print_rule((left + 2, low + 0.7), (left + 102, low + 3.0))
    return (block, border, *(_line(*ends, pens.MEDIUM) for ends in lines), *words, *rule)


def print_rule(at: Point, beside: Point) -> tuple[Mark, ...]:
    """A rule of 100 mm, or 4 inches: held against another it tells whether a page was printed at its full size.

    at      its lower left corner
    beside  the right end of its words
    """
    metric = reads() is METRIC
    field, count = (10.0, 10) if metric else (25.4, 4)
    dark = (
        Polyline(points=rectangle((at[0] + place * field, at[1]), (field, 0.7)), layer="frame", closed=True, fill=BLACK)
        for place in range(0, count, 2)
    )
    whole = rectangle(at, (field * count, 0.7))
    words = Text(at=beside, words=millimetres(field * count / 1000.0), height=LEAST, across="right")
    return (Polyline(points=whole, layer="frame", pen=pens.THIN, closed=True, fill=WHITE), *dark, words)


def scale_bar(at: Point, scale: float) -> tuple[Mark, ...]:
    """A black and white bar of whole metres, or feet, in four fields: it can be laid against a rule."""
    length = bar_length(scale)
    field = 1000.0 * length * one_unit("m") / scale / 4
    marks: list[Mark] = []
    for number in range(4):
        box = rectangle((at[0] + number * field, at[1]), (field, 1.4))
        fill = BLACK if number % 2 == 0 else "#FFFFFF"
        marks.append(Polyline(points=box, layer="frame", pen=pens.THIN, closed=True, fill=fill))
    ends = ((0, "0"), (4, f"{length} {unit_called('m')}"))
    return (
        *marks,
        *(Text(at=(at[0] + n * field, at[1] + 2.2), words=w, height=1.8, across="middle", halo=0.3) for n, w in ends),
    )


def north_point(at: Point, turn: float) -> tuple[Mark, ...]:
    """A needle that turns with the plan."""
    half = np.array([(0.0, 9.0), (2.6, -4.0), (0.0, -2.0), (-2.6, -4.0)])
    cosine, sine = np.cos(turn), np.sin(turn)
    rotation = np.array([(cosine, sine), (-sine, cosine)])
    tip = np.array([(0.0, 12.0)]) @ rotation + at
    return (
        Polyline(points=half @ rotation + at, layer="frame", pen=pens.THIN, closed=True, fill=BLACK),
        Text(at=(float(tip[0, 0]), float(tip[0, 1])), words="N", height=2.5, weight=700, across="middle", up="middle"),
    )


def heading(at: Point, words: str, height: Millimetres = 3.5) -> Text:
    """A heading over a block."""
    return Text(at=at, words=words, height=height, weight=600, narrow=True)


def notes(
    at: Point, lines: tuple[str, ...], room: Millimetres, height: Millimetres = 2.0
) -> tuple[tuple[Mark, ...], float]:
    """Numbered notes one under the other; gives back the height where they end."""
    marks: list[Mark] = []
    down = at[1]
    for number, line in enumerate(lines, 1):
        marks.append(Text(at=(at[0], down), words=f"{number}", height=height, weight=600))
        rows = paragraph((at[0] + 4.5, down), line, room - 4.5, height)
        marks.extend(rows)
        down = rows[-1].at[1] - height * 2.1
    return tuple(marks), down


def bullet(at: Point, severity: int) -> tuple[Mark, ...]:
    """Mark of a finding: a red disc fails, a red ring warns, a black ring informs."""
    fill = RED if severity == 3 else None
    pen = Pen(width=0.35, colour=BLACK if severity == 1 else RED)
    return (Circle(at=at, radius=1.1, layer="text", pen=pen, fill=fill),)


def _titled(at: Point, words: str, room: Millimetres) -> Text:
    """The sheet's title, smaller where it would run into the revision."""
    taken = fonts.width(words, 5.0, weight=700, narrow=True)
    return Text(at=at, words=words, height=5.0 * min(1.0, room / taken), weight=700, narrow=True)


def _within(at: Point, words: str, height: Millimetres, room: Millimetres, *, weight: Weight = 400) -> Text:
    """Words set narrow, then smaller, until they fit; never below the least height that can be read."""
    narrow = fonts.width(words, height, weight=weight) > room
    taken = fonts.width(words, height, weight=weight, narrow=narrow)
    return Text(at=at, words=words, height=max(LEAST, height * min(1.0, room / taken)), weight=weight, narrow=narrow)


def bar_length(scale: float) -> int:
    """Whole metres, or feet, that a scale bar of no more than 70 mm shows."""
    each = 1000 * one_unit("m")
    return max((length for length in (1, 2, 5, 10, 20, 50, 100, 200, 500) if each * length / scale <= 70), default=1)


def _fitted(at: Point, words: str, room: Millimetres) -> Text:
    """Big where there is room, else small and narrow."""
    big = fonts.width(words, 5.0, weight=700) <= room
    return Text(at=at, words=words, height=5.0 if big else 2.2, weight=700, narrow=not big)


def _line(start: Point, end: Point, pen: Pen) -> Polyline:
    return Polyline(points=np.array([start, end]), layer="frame", pen=pen)
