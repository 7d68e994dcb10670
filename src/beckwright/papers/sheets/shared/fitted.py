"""Small marks many sheets share: a ruled line, and a line of words that fits its room."""

import numpy as np

from beckwright.languages import Said, say
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import BLACK, Across, Colour, Mark, Millimetres, Pen, Point, Polyline, Text, Weight

LEAST = 1.8
"""No letter is smaller than this, mm."""


def ruled(start: Point, end: Point, pen: Pen = pens.THIN, layer: str = "frame") -> Mark:
    """A straight line."""
    return Polyline(points=np.array([start, end]), layer=layer, pen=pen)


def fitted(
    at: Point,
    words: str,
    room: Millimetres,
    height: Millimetres,
    *,
    weight: Weight = 400,
    across: Across = "left",
    colour: Colour = BLACK,
) -> Text:
    """Words set narrow, then smaller, then cut with an ellipsis, so that they stay within their room."""
    words = say(words)
    narrow = fonts.width(words, height, weight=weight) > room
    taken = fonts.width(words, height, weight=weight, narrow=narrow)
    size = max(LEAST, height * min(1.0, room / taken)) if taken > 0 else height
    while len(words) > 1 and fonts.width(words, size, weight=weight, narrow=narrow) > room + 0.01:
        words = Said(words[:-2].rstrip() + "…")
    return Text(at=at, words=words, height=size, weight=weight, narrow=narrow, across=across, colour=colour)
