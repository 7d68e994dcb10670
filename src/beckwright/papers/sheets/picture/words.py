"""Words about the pictures of the course: what each flow is, how it is drawn, what the signs say."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.words import band, flow, opening
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import Mark, Millimetres, Pen, Point, Polyline, Text
from beckwright.papers.sheets.picture.colours import DAY, Light
from beckwright.papers.sheets.picture.course import CAPTIONS, Ribbons
from beckwright.papers.sheets.picture.night import at_stream, lamps_of
from beckwright.papers.sheets.picture.ribbon import HIDDEN, SHINE, THREAD, UNSEEN, seen_over
from beckwright.papers.sheets.shared.fitted import fitted

NAME, SMALL = 3.2, 2.2
WHOLE = 0.99
"""Share of the way that is told as all of it."""
KEY = (
    ("a sheet over the stones", Pen(width=SHINE, colour=DAY.shine)),
    ("threads between the stones", Pen(width=SHINE, dash=THREAD, colour=DAY.shine)),
    ("runs unseen under the stones", Pen(width=UNSEEN, dash=HIDDEN, colour=DAY.shine)),
)


def ribbon_words(design: Design, lie: Ribbons, flows: tuple[int, ...], light: Light, *, all_of_it: bool) -> list[Mark]:
    """At the left of each ribbon its flow; by day what comes over the lips, and over how much of the way it shows."""
    marks: list[Mark] = []
    left, room = lie.corner[0] + 3.0, CAPTIONS - 6.0
    for place, number in enumerate(flows):
        up = lie.start(place) + 0.5
        name = f"{opening(design.water.names[number])}, {flow(float(design.water.flows[number]))}"
        marks.append(fitted((left, up), name, room, NAME, weight=600, colour=light.words))
        for row, words in enumerate(_about(design, number) if all_of_it else (), 1):
            marks.append(fitted((left, up - 0.8 - 3.3 * row), words, room, SMALL, colour=light.words))
    return marks


def _about(design: Design, number: int) -> Iterator[str]:
    heads = np.concatenate([lip.head[:, number] for lip in design.water.lips])
    yield f"{band(float(heads.min()), float(heads.max()), 1.0, 'mm', scale=1000.0)} over the lips"
    low, _, high = seen_over(design, number) / design.course.length
    if low > WHOLE:
        yield "in view all the way"
    else:
        yield f"in view on {band(low, high, 5.0, '%', scale=100.0)} of the way"


def lip_names(design: Design, lie: Ribbons) -> Iterator[Mark]:
    """Names over the uppermost ribbon, where each lip lies; the reservoir's over its cover."""
    window = lie.window(0)
    for lip in design.water.lips:
        if lip.drop:
            x, y = window.on_paper(np.array([(lip.chainage, lip.crest)]))[0].tolist()
            yield Text(at=(x, y + 3.6), words=lip.name, height=2.0, weight=600, across="middle")
    end = window.on_paper(np.array([(design.course.length, design.course.end_level)]))[0, 1]
    at = (lie.corner[0] + lie.size[0] - 1.5, float(end) + 1.5)
    yield Text(at=at, words="reservoir", height=1.8, across="right")


def key_marks(lie: Ribbons) -> Iterator[Mark]:
    """What the lines of water say, in the empty corner of the box."""
    left = lie.corner[0] + 3.0
    for row, (words, pen) in enumerate(reversed(KEY)):
        up = lie.corner[1] + 2.5 + 3.6 * row
        line = np.array([(left, up + 0.9), (left + 9.0, up + 0.9)])
        yield Polyline(points=line, layer="key", pen=pen)
        yield Text(at=(left + 11.0, up), words=words, height=2.0)


def how_drawn(lie: Ribbons) -> str:
    """How much taller than lengths anything is drawn."""
    water = f"Water is drawn {lie.taller * lie.deeper:g} times as deep as it will be, a line at the least"
    if lie.taller > 1.0:
        return f"{water}; falls and ground {lie.taller:g} times as high."
    return f"{water}; falls and ground as high as they will be."


def elsewhere(design: Design, works: Works) -> str:
    """Lamps that stand away from the stream: on the sketch alone; nothing where there are none."""
    away = [each.lamp.light.name for each in lamps_of(design, works) if not at_stream(design, each)]
    return f"Away from the stream, see the sketch: {', '.join(away)}." if away else ""


def ruled_box(corner: Point, size: tuple[Millimetres, Millimetres]) -> Mark:
    """The rim of a box."""
    (left, low), (wide, tall) = corner, size
    rim = np.array([(left, low), (left + wide, low), (left + wide, low + tall), (left, low + tall)])
    return Polyline(points=rim, layer="frame", pen=pens.MEDIUM, closed=True)
