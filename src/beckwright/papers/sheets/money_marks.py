"""Small marks the sheets of money share: a ruled line, a line of words that fits its room, money in print."""

import numpy as np

from beckwright.base.quantities import Money
from beckwright.base.words import grouped, in_print, unit_called, with_unit
from beckwright.job.tables.sold import PACKS
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


def counted(number: float, word: str, digits: int) -> str:
    """So many of a thing as sold: packs and days in the plural, pieces without a word."""
    unit = in_print(word)
    if unit_called(unit) != unit:
        return f"{with_unit(number, unit):,.{digits}f}"
    shown = grouped(number, digits)
    if word == "each":
        return shown
    several = word in (*PACKS, "day") and shown != "1"
    return f"{shown} {in_print(word)}{'s' if several else ''}"


def one_priced(word: str) -> str:
    """What a price is for: ``"a m³"``, or ``"each"``."""
    return "each" if word == "each" else f"a {unit_called(in_print(word))}"


def whole(money: Money) -> str:
    """Money to one."""
    return grouped(money)


def between(low: Money, high: Money) -> str:
    """A band of money, rounded outward to one; one number where its ends print alike."""
    bottom, top = grouped(np.floor(low + 1e-6)), grouped(np.ceil(high - 1e-6))
    return bottom if bottom == top or whole(low) == whole(high) else f"{bottom} to {top}"
