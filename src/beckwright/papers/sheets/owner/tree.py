"""The fault tree as boxes and lines: a symptom, its questions down the left, where each answer ends at the right."""

from collections.abc import Iterator, Sequence

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.care import FaultTree, Leaf, Question, Symptom
from beckwright.languages import say
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import BLACK, RED, WHITE, Mark, Millimetres, Polyline, Text, rectangle
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.owner.frame import BODY_LOW, BODY_TOP, LEFT, RIGHT
from beckwright.papers.sheets.shared.fitted import fitted, ruled

RAIL = 9.0
"""Left of the questions, for lines that go down past others, and the words on them."""
ASKED = 50.0
GAP = 8.0
ENDS_AT = LEFT + 3.0 + RAIL + ASKED + GAP
ENDS_WIDE = RIGHT - 3.0 - ENDS_AT
PAD = 1.3
BETWEEN = 3.4
HEAD = 6.5
SIZES = (2.6, 2.5, 2.4, 2.3, 2.2, 2.1, 2.0, 1.9, 1.8)
LAST_SIZES = (1.7, 1.6, 1.5, 1.4, 1.2)
ASK_FILL = "#EEEEEE"


@value
class _Row:
    """A question with the leaves its answers end in, and how high they stand."""

    question: Question | None
    ends: tuple[tuple[str, Leaf], ...]
    downs: tuple[tuple[str, str], ...]
    high: Millimetres
    highs: tuple[Millimetres, ...]


def tree_pages(trees: Sequence[FaultTree]) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """Two pages of symptoms, kept whole: the first of ``trees`` that fits, in the largest letters with which it does.

    The last one, told in the fewest words, is set as small as it must be.
    """
    tries = [(tree, height) for tree in trees for height in SIZES] + [(trees[-1], height) for height in LAST_SIZES]
    for tree, height in tries:
        one, other, fits = _split(tree, height)
        if fits:
            break
    return tuple(_page(tree, one, height)), tuple(_page(tree, other, height))


def _split(tree: FaultTree, height: Millimetres) -> tuple[tuple[Symptom, ...], tuple[Symptom, ...], bool]:
    """The place at which both pages are most alike, and whether both then fit."""
    highs = np.array([_high(tree, symptom, height) for symptom in tree.symptoms])
    room = BODY_TOP - BODY_LOW - 5.0
    cuts = [(max(highs[:cut].sum(), highs[cut:].sum()), cut) for cut in range(1, len(highs))]
    worst, cut = min(cuts)
    return tree.symptoms[:cut], tree.symptoms[cut:], bool(worst <= room)


def _high(tree: FaultTree, symptom: Symptom, height: Millimetres) -> Millimetres:
    return HEAD + sum(row.high + BETWEEN for row in _rows(tree, symptom, height)) + 1.5


def _rows(tree: FaultTree, symptom: Symptom, height: Millimetres) -> Iterator[_Row]:
    for key in tree.below(symptom.first):
        at = tree.at(key)
        if isinstance(at, Leaf):
            if key == symptom.first:
                alone = _box_high(at.does, ENDS_WIDE, height)
                yield _Row(question=None, ends=(("", at),), downs=(), high=alone, highs=(alone,))
            continue
        answers = (("yes", at.yes), ("no", at.no))
        found = [(answer, tree.at(to)) for answer, to in answers]
        ends = tuple((answer, leaf) for answer, leaf in found if isinstance(leaf, Leaf))
        downs = tuple((answer, to.key) for answer, to in found if isinstance(to, Question))
        highs = tuple(_box_high(leaf.does, ENDS_WIDE, height) for _, leaf in ends)
        asked = _box_high(at.asks, ASKED, height)
        high = max(asked, sum(highs) + 1.2 * max(len(highs) - 1, 0))
        yield _Row(question=at, ends=ends, downs=downs, high=high, highs=highs)


def _box_high(words: str, room: Millimetres, height: Millimetres) -> Millimetres:
    lines = len(fonts.wrap(words, room - 2 * PAD, height))
    below, above = fonts.reach(height)
    return 1.25 * fonts.size(height) * (lines - 1) + below + above + 2 * PAD


def _page(tree: FaultTree, symptoms: tuple[Symptom, ...], height: Millimetres) -> Iterator[Mark]:
    down = BODY_TOP - 2.5
    for symptom in symptoms:
        rows = tuple(_rows(tree, symptom, height))
        yield fitted((LEFT + 3, down - 4.2), opening(symptom.name), RIGHT - LEFT - 6, 3.2, weight=700)
        yield from _symptom(rows, down - HEAD, height)
        down -= HEAD + sum(row.high + BETWEEN for row in rows) + 1.5


def _symptom(rows: tuple[_Row, ...], top: Millimetres, height: Millimetres) -> Iterator[Mark]:
    tops = top - np.concatenate([[0.0], np.cumsum([row.high + BETWEEN for row in rows])])
    places = {row.question.key: place for place, row in enumerate(rows) if row.question is not None}
    lane = 0
    for place, row in enumerate(rows):
        up = float(tops[place])
        yield from _boxes(row, up, height)
        for answer, key in row.downs:
            to = places[key]
            straight = to == place + 1
            yield from _way(row, up, float(tops[to]), answer, height, straight=straight, lane=lane)
            lane += 0 if straight else 1


def _boxes(row: _Row, up: Millimetres, height: Millimetres) -> Iterator[Mark]:
    left = LEFT + 3.0 + RAIL
    if row.question is not None:
        yield from _box(row.question.asks, left, ASKED, up, height, fill=ASK_FILL)
    down = up
    for (answer, leaf), high in zip(row.ends, row.highs, strict=True):
        yield from _box(leaf.does, ENDS_AT, ENDS_WIDE, down, height, stops=leaf.stops)
        if answer:
            at = down - min(high, _asked_high(row, height)) / 2
            at = max(at, up - _asked_high(row, height) + 1.0) if len(row.ends) == 1 else down - high / 2
            yield from _arrow(row, up, at, answer, height)
        down -= high + 1.2


def _asked_high(row: _Row, height: Millimetres) -> Millimetres:
    return _box_high(row.question.asks, ASKED, height) if row.question is not None else row.high


def _arrow(row: _Row, up: Millimetres, at: Millimetres, answer: str, height: Millimetres) -> Iterator[Mark]:
    """From a question to where its answer ends: straight where the box reaches there, else down beside it."""
    right = LEFT + 3.0 + RAIL + ASKED
    low = up - _asked_high(row, height)
    if at < low + 0.8:
        knee = right - 4.0
        yield ruled((knee, low), (knee, at), pens.MEDIUM, "tree")
        yield ruled((knee, at), (ENDS_AT, at), pens.MEDIUM, "tree")
    else:
        yield ruled((right, at), (ENDS_AT, at), pens.MEDIUM, "tree")
    yield _answer((right + GAP / 2, at), answer)


def _answer(at: tuple[float, float], answer: str) -> Text:
    return Text(at=at, words=answer, height=1.9, weight=700, across="middle", up="middle", halo=0.5)


def _way(
    row: _Row, up: Millimetres, to: Millimetres, answer: str, height: Millimetres, *, straight: bool, lane: int
) -> Iterator[Mark]:
    """From a question down to the next, or down the rail to one farther on."""
    left = LEFT + 3.0 + RAIL
    low = up - _asked_high(row, height)
    if straight:
        at = left + 12.0
        yield ruled((at, low), (at, to), pens.MEDIUM, "tree")
        # The gap between two boxes is low: the word stands beside the line, where the next begins.
        yield Text(at=(at + 1.2, (low + to) / 2), words=answer, height=1.8, weight=700, up="middle")
        return
    rail, out, into = left - 2.4 - 2.4 * (lane % 2), up - 2.2 - 1.2 * (lane % 2), to - 2.4
    for start, end in (((left, out), (rail, out)), ((rail, out), (rail, into)), ((rail, into), (left, into))):
        yield ruled(start, end, pens.MEDIUM, "tree")
    yield Text(at=(LEFT + 3.0 + RAIL - 5.4, out), words=answer, height=1.8, weight=700, across="right", up="middle")


def _box(
    words: str,
    left: Millimetres,
    room: Millimetres,
    up: Millimetres,
    height: Millimetres,
    *,
    fill: str = WHITE,
    stops: bool = False,
) -> Iterator[Mark]:
    high = _box_high(words, room, height)
    pen = pens.SHORT if stops else pens.MEDIUM
    box = rectangle((left, up - high), (room, high))
    yield Polyline(points=box, layer="tree", closed=True, fill=fill, pen=pen)
    _, above = fonts.reach(height)
    yield from paragraph(
        (left + PAD, up - PAD - above), say(words), room - 2 * PAD, height, colour=RED if stops else BLACK
    )
