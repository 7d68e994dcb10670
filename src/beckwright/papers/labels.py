"""Words on the paper: the room they take, and places for labels where none lies over another."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.papers import fonts
from beckwright.papers.drawing import (
    BLACK,
    Across,
    Arrow,
    Colour,
    Leader,
    Mark,
    Millimetres,
    Pen,
    Point,
    Text,
    Up,
    Weight,
    Window,
    leader_words,
)

Box = tuple[Millimetres, Millimetres, Millimetres, Millimetres]
"""Left, low, right, high on the paper, mm."""

Segment = tuple[Millimetres, Millimetres, Millimetres, Millimetres]
"""East and north of one end, then of the other, mm."""

_ACROSS = {"left": 0.0, "middle": -0.5, "right": -1.0}
_UP = {"base": 0.0, "middle": -0.5, "top": -1.0}
_BESIDE: tuple[tuple[Across, Up, Point], ...] = (
    ("left", "middle", (1.0, 0.0)),
    ("left", "base", (0.7, 0.7)),
    ("left", "top", (0.7, -0.7)),
    ("right", "middle", (-1.0, 0.0)),
    ("right", "base", (-0.7, 0.7)),
    ("right", "top", (-0.7, -0.7)),
    ("middle", "base", (0.0, 1.0)),
    ("middle", "top", (0.0, -1.0)),
)
_FAR = (6.0, 9.0, 13.0, 18.0, 24.0, 32.0)
_WAYS = np.radians((45.0, 135.0, -45.0, -135.0, 20.0, 160.0, -20.0, -160.0, 70.0, 110.0, -70.0, -110.0)).tolist()
_AWAY = tuple((far * float(np.cos(way)), far * float(np.sin(way))) for far in _FAR for way in _WAYS)


@value
class Label:
    """Words that want to stand near a point.

    at        metres, as the marks of the view
    gap       between the point and the words, mm: half the size of what is drawn there, and a little
    priority  the highest is placed first
    """

    at: tuple[Length, Length]
    words: str
    height: Millimetres = 2.5
    weight: Weight = 400
    narrow: bool = False
    colour: Colour = BLACK
    gap: Millimetres = 1.5
    halo: Millimetres = 0.3
    priority: int = 0
    layer: str = "text"


@value
class Placing:
    """Where labels went: ``marks`` for the view, the ``boxes`` they fill on the paper, and those without a place."""

    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    left_out: tuple[Label, ...]


def text_base(text: Text) -> Point:
    """Give the point on the paper, mm, where the words' left end, middle or right end stands on their base line."""
    return _beside(text, 0.0, _UP[text.up] * text.height)


def text_width(text: Text) -> Millimetres:
    """Give the width of the words on the paper."""
    return fonts.width(text.words, text.height, weight=text.weight, narrow=text.narrow)


def text_box(text: Text) -> FloatArray:
    """Give the four corners (4, 2) of the room the words take with their halo, turned with them, mm."""
    left, low, right, high = _room(text)
    return np.array([_beside(text, *corner) for corner in ((left, low), (right, low), (right, high), (left, high))])


def text_extent(text: Text) -> Box:
    """Give the upright box about that room, mm."""
    if text.turn != 0.0:
        return _bounds(text_box(text))
    left, low, right, high = _room(text)
    (east, north), (along, up) = text.at, text.offset
    return east + (left + along), north + (low + up), east + (right + along), north + (high + up)


def _room(text: Text) -> Box:
    """Left, low, right and high side of the room the words take, along and square to them from their own place."""
    wide, (below, above) = text_width(text), fonts.reach(text.height)
    left, base = _ACROSS[text.across] * wide - text.halo, _UP[text.up] * text.height
    return left, base - below - text.halo, left + wide + 2 * text.halo, base + above + text.halo


def paragraph(
    at: Point,
    words: str,
    room: Millimetres,
    height: Millimetres,
    *,
    weight: Weight = 400,
    colour: Colour = BLACK,
    layer: str = "text",
) -> tuple[Text, ...]:
    """Break words into lines no wider than ``room``; ``at`` is the base line of the first, the rest go down from it."""
    lines = fonts.wrap(words, room, height, weight=weight)
    drop = 1.25 * fonts.size(height)
    return tuple(
        Text(at=(at[0], at[1] - drop * row), words=line, height=height, weight=weight, colour=colour, layer=layer)
        for row, line in enumerate(lines)
    )


def place(
    labels: Sequence[Label], window: Window, pen: Pen, *, keep_off: Sequence[Box] = (), arrow: Arrow = "none"
) -> Placing:
    """Place labels one after the other so that none meets another, ``keep_off``, a leader, or the rim of the window.

    Leaders may cross ``keep_off``: words about the stream stand clear of it and point into it.

    Beside the point where there is room, else further off at a leader drawn with ``pen``. Highest priority first, then
    in the order given: the same labels always go to the same places. A label of a point outside the window is left out.
    """
    taken = _Taken(rim=_bounds(window.outline()), kept=tuple(keep_off), boxes=(), lines=())
    marks: list[Mark] = []
    left_out: list[Label] = []
    for label in sorted(labels, key=lambda wanted: -wanted.priority):
        found = next(_free_places(label, window, pen, arrow, taken), None)
        if found is None:
            left_out.append(label)
        else:
            mark, box, line = found
            marks.append(mark)
            taken = replace(taken, boxes=(*taken.boxes, box), lines=(*taken.lines, *line))
    return Placing(marks=tuple(marks), boxes=taken.boxes, left_out=tuple(left_out))


@value
class _Taken:
    rim: Box
    kept: tuple[Box, ...]
    boxes: tuple[Box, ...]
    lines: tuple[Segment, ...]

    def leaves(self, box: Box, line: tuple[Segment, ...]) -> bool:
        """Tell whether words in ``box`` and their leader would meet nothing."""
        inside = self.rim[0] <= box[0] and self.rim[1] <= box[1] and box[2] <= self.rim[2] and box[3] <= self.rim[3]
        return (
            inside
            and _clear(box, self.kept)
            and _clear(box, self.boxes)
            and not any(_crosses(other, box) for other in self.lines)
            and not any(_crosses(own, other) for own in line for other in self.boxes)
        )


def overlap(one: Box, other: Box) -> bool:
    """Tell whether two boxes share more than their rims."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _clear(box: Box, others: Iterable[Box]) -> bool:
    """Tell whether a box overlaps none of these. Written out: it is asked of a million pairs of boxes a set."""
    left, low, right, high = box
    for other in others:  # noqa: SIM110
        if left < other[2] and other[0] < right and low < other[3] and other[1] < high:
            return False
    return True


def _free_places(
    label: Label, window: Window, pen: Pen, arrow: Arrow, taken: _Taken
) -> Iterator[tuple[Mark, Box, tuple[Segment, ...]]]:
    east, north = window.on_paper(np.array([label.at]))[0].tolist()
    if not (taken.rim[0] <= east <= taken.rim[2] and taken.rim[1] <= north <= taken.rim[3]):
        return
    for mark in _candidates(replace(label, at=(east, north)), pen, arrow):
        box, line = _footprint(mark)
        if taken.leaves(box, line):
            yield replace(mark, at=label.at), box, line


def _candidates(label: Label, pen: Pen, arrow: Arrow) -> Iterator[Text | Leader]:
    """Beside the point, best place first; then at leaders, near before far, slanted before straight."""
    for across, up, way in _BESIDE:
        yield Text(
            at=label.at,
            words=label.words,
            height=label.height,
            layer=label.layer,
            weight=label.weight,
            narrow=label.narrow,
            colour=label.colour,
            across=across,
            up=up,
            offset=(way[0] * label.gap, way[1] * label.gap),
            halo=label.halo,
        )
    for away in _AWAY:
        yield Leader(
            at=label.at,
            offset=away,
            words=label.words,
            pen=pen,
            height=label.height,
            layer=label.layer,
            weight=label.weight,
            narrow=label.narrow,
            colour=label.colour,
            arrow=arrow,
            halo=label.halo,
        )


def _footprint(mark: Text | Leader) -> tuple[Box, tuple[Segment, ...]]:
    if isinstance(mark, Text):
        return text_extent(mark), ()
    (east, north), (aside, up) = mark.at, mark.offset
    return text_extent(leader_words(mark)), ((east, north, east + aside, north + up),)


def _bounds(points: FloatArray) -> Box:
    left, low = points.min(axis=0).tolist()
    right, high = points.max(axis=0).tolist()
    return left, low, right, high


def _crosses(line: Segment, box: Box) -> bool:
    """Tell whether any part of a straight line lies inside a box, by cutting it at the box's sides one by one."""
    first, last = 0.0, 1.0
    for start, end, low, high in ((line[0], line[2], box[0], box[2]), (line[1], line[3], box[1], box[3])):
        run = end - start
        if run == 0.0:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / run, (high - start) / run))
        first, last = max(first, near), min(last, far)
    return first < last


def _beside(text: Text, along: Millimetres, up: Millimetres) -> Point:
    cosine, sine = float(np.cos(text.turn)), float(np.sin(text.turn))
    along, up = along + text.offset[0], up + text.offset[1]
    return text.at[0] + along * cosine - up * sine, text.at[1] + along * sine + up * cosine
