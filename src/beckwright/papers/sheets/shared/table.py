"""A ruled table on paper."""

from collections.abc import Sequence

import numpy as np

from beckwright.languages import Said, say
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import Across, Mark, Millimetres, Point, Polyline, Text, Weight

LEAST: Millimetres = 1.8
"""Letters are no lower than this."""


def table(
    at: Point,
    widths: Sequence[Millimetres],
    rows: Sequence[Sequence[str]],
    *,
    height: Millimetres = 2.0,
    step: Millimetres = 4.4,
    across: Sequence[Across] | None = None,
    heads: int = 1,
) -> tuple[tuple[Mark, ...], float]:
    """Draw rows from ``at`` (upper left) down; gives back the height of the lower edge.

    heads   how many of the first rows are headings
    across  how each column is set; left where not told
    A column that would have to cut its words takes room from those that have some to spare. Words still too wide are
    set narrow, then smaller, then cut to the column with an ellipsis, never over a neighbour.
    """
    widths = _shared(widths, rows, height, heads)
    lefts = np.concatenate([[0.0], np.cumsum(widths)]) + at[0]
    down, marks = at[1], [_rule(at[0], float(lefts[-1]), at[1])]
    for number, row in enumerate(rows):
        down -= step
        for column, words in enumerate(row):
            setting = across[column] if across else "left"
            edge = {"left": lefts[column] + 1.0, "right": lefts[column + 1] - 1.0}.get(
                setting, (lefts[column] + lefts[column + 1]) / 2
            )
            marks.append(
                cell(
                    (float(edge), down + step * 0.28), words, widths[column] - 1.6, height, setting, head=number < heads
                )
            )
        marks.append(_rule(at[0], float(lefts[-1]), down))
    return tuple(marks), down


def cell(at: Point, words: str, room: Millimetres, height: Millimetres, setting: Across, *, head: bool) -> Text:
    """Words in a room: set narrow where they are too wide, then smaller, then cut with an ellipsis."""
    words, weight = say(words), _weight(head=head)
    narrow = fonts.width(words, height, weight=weight) > room
    taken = fonts.width(words, height, weight=weight, narrow=narrow)
    size = max(min(LEAST, height), height * room / taken) if taken > room else height
    while narrow and len(words) > 1 and fonts.width(words, size, weight=weight, narrow=True) > room + 0.01:
        words = Said(words[:-2].rstrip() + "…")
    return Text(at=at, words=words, height=size, weight=weight, narrow=narrow, across=setting)


def _shared(
    widths: Sequence[Millimetres], rows: Sequence[Sequence[str]], height: Millimetres, heads: int
) -> Sequence[Millimetres]:
    """Widths with the same sum: what cut columns lack is taken from those that would not miss it.

    First from room that stands empty, then, where that is not enough, from what setting narrow would leave. A column
    without words is kept: something else is drawn in it.
    """
    given = np.array(widths, dtype=float)
    tight, easy = (np.array([_need(rows, at, height, heads, narrow) for at in range(len(given))]) for narrow in (1, 0))
    lack = np.maximum(tight - given, 0.0)
    if lack.sum() == 0.0:
        return widths
    for need in (easy, tight):
        spare = np.where((lack > 0.0) | (easy == 0.0), 0.0, np.maximum(given - need, 0.0))
        if lack.sum() <= spare.sum() or (need is tight and spare.sum() > 0.0):
            share = min(1.0, lack.sum() / spare.sum())
            return tuple((given + lack * share * spare.sum() / lack.sum() - spare * share).tolist())
    return widths


def _need(rows: Sequence[Sequence[str]], at: int, height: Millimetres, heads: int, narrow: int) -> Millimetres:
    """Width of a column's widest words, with the margins; 0 where it has none."""
    said = [(row[at], _weight(head=number < heads)) for number, row in enumerate(rows) if at < len(row) and row[at]]
    wide = (fonts.width(words, height, weight=weight, narrow=bool(narrow)) for words, weight in said)
    return max((each + 1.7 for each in wide), default=0.0)


def _weight(*, head: bool) -> Weight:
    return 600 if head else 400


def _rule(left: float, right: float, at: float) -> Mark:
    return Polyline(points=np.array([(left, at), (right, at)]), layer="frame", pen=pens.THIN)
