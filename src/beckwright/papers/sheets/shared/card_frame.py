"""What a card carries, so that it stands alone on the stone it is about: a name to be read at arm's length, a foot."""

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import METRIC, metres, millimetres, reads
from beckwright.job.model import Job
from beckwright.papers import pens
from beckwright.papers.drawing import A5_FLAT, BLACK, WHITE, Mark, Point, Polyline, Text, rectangle
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import print_rule

RIM = 6.0
"""White round a card, mm: no printer at a desk reaches nearer."""
LEFT, LOW = RIM, RIM
RIGHT, TOP = A5_FLAT[0] - RIM, A5_FLAT[1] - RIM
HEAD_HIGH, FOOT_HIGH = 17.0, 9.5
BARS = {True: (0.05, 0.1, 0.2, 0.5, 1.0), False: (0.0254, 0.0762, 0.1524, 0.3048, 0.6096, 0.9144)}
"""Lengths of a card's scale bar, m: round millimetres; or 1, 3, 6, 12, 24, 36 inches."""
BAR_MOST = 26.0
"""A bar is no longer than this, mm."""


@value
class CardTitle:
    """What the head and the foot of a card say."""

    name: str
    beside: tuple[str, str]
    part: str
    number: int
    of: int


def card_frame(job: Job, title: CardTitle) -> tuple[Mark, ...]:
    """Frame, head and foot."""
    wide, high = RIGHT - LEFT, TOP - LOW
    head, foot = TOP - HEAD_HIGH, LOW + FOOT_HIGH
    border = Polyline(points=rectangle((LEFT, LOW), (wide, high)), layer="frame", pen=pens.FRAME, closed=True)
    band = Polyline(points=rectangle((LEFT, head), (wide, HEAD_HIGH)), layer="frame", closed=True, fill=BLACK)
    rule = Polyline(points=np.array([(LEFT, foot), (RIGHT, foot)]), layer="frame", pen=pens.MEDIUM)
    full = print_rule((LEFT + 5, LOW + 0.4), (LEFT + 105, LOW + 1.8))
    return (border, band, rule, *_head(title, head), *_foot(job, title), *full)


def _head(title: CardTitle, low: float) -> tuple[Text, ...]:
    return (
        Text(at=(LEFT + 5, low + 4.5), words=title.name, height=9.0, weight=700, narrow=True, colour=WHITE),
        fitted((LEFT + 76, low + 10.0), title.beside[0], 76.0, 3.0, weight=600, colour=WHITE),
        fitted((LEFT + 76, low + 4.0), title.beside[1], 76.0, 3.0, weight=600, colour=WHITE),
        fitted((RIGHT - 4, low + 10.0), title.part, 40.0, 3.0, across="right", colour=WHITE),
    )


def _foot(job: Job, title: CardTitle) -> tuple[Text, ...]:
    invented = "Invented demonstration job." if job.title.invented else ""
    high, low = LOW + 5.6, LOW + 1.8
    return (
        fitted((LEFT + 5, high), f"{job.title.name}. {invented}", 98.0, 2.2, weight=600),
        fitted((LEFT + 5, low), f"Levels: {job.datum.name} = {metres(job.datum.level)}", 88.0, 2.0),
        fitted((LEFT + 108, high), "revision", 20.0, 1.8),
        fitted((LEFT + 108, low), job.title.revision, 20.0, 2.5, weight=600),
        fitted((LEFT + 132, high), "date", 24.0, 1.8),
        fitted((LEFT + 132, low), job.title.date, 24.0, 2.5, weight=600),
        fitted((LEFT + 160, high), "sheet", 20.0, 1.8),
        fitted((LEFT + 160, low), f"{title.number}/{title.of}", 24.0, 2.5, weight=600),
    )


def card_bar(right: Point, scale: float) -> tuple[Mark, ...]:
    """A bar in two fields that ends at ``right``, its length before it: a card shows less than a metre."""
    lengths = BARS[reads() is METRIC]
    length = max((each for each in lengths if 1000.0 * each / scale <= BAR_MOST), default=lengths[0])
    half, (end, low) = 500.0 * length / scale, right
    fields = (
        Polyline(
            points=rectangle((end - part * half, low), (half, 1.4)),
            layer="frame",
            pen=pens.THIN,
            closed=True,
            fill=fill,
        )
        for part, fill in ((2, BLACK), (1, WHITE))
    )
    words = Text(at=(end - 2 * half - 1.2, low), words=millimetres(length), height=1.8, across="right")
    return (*fields, words)
