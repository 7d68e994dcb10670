"""A ruled table on paper."""

from collections.abc import Sequence

import numpy as np

from beckwright.languages import Said, say
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import Across, Mark, Millimetres, Point, Polyline, Text, Weight


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
    Words too wide for their column are set narrow, then cut to the column with an ellipsis, never over a neighbour.
    """
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
    """Words in a room: set narrow where they are too wide, then cut with an ellipsis."""
    words, weight = say(words), _weight(head=head)
    narrow = fonts.width(words, height, weight=weight) > room
    while narrow and len(words) > 1 and fonts.width(words, height, weight=weight, narrow=True) > room:
        words = Said(words[:-2].rstrip() + "…")
    return Text(at=at, words=words, height=height, weight=weight, narrow=narrow, across=setting)


def _weight(*, head: bool) -> Weight:
    return 600 if head else 400


def _rule(left: float, right: float, at: float) -> Mark:
    return Polyline(points=np.array([(left, at), (right, at)]), layer="frame", pen=pens.THIN)
