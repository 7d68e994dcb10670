"""Words taken out of our own SVG, for a page setter that sets words faster itself, and smaller, than within a picture.

Measured on 18 sheets of calculation, 274 000 letters: a third of the time and a fifth of the file.
"""

import re
from collections.abc import Iterator, Mapping
from html import unescape
from typing import NamedTuple

import numpy as np

from beckwright.languages import Said
from beckwright.papers import fonts
from beckwright.papers.drawing import Colour, Millimetres, Weight
from beckwright.papers.sight import Extent

_WORDS = re.compile(
    r'<text x="(?P<x>[^"]+)" y="(?P<y>[^"]+)" font-size="(?P<size>[^"]+)"(?: font-weight="(?P<weight>\d+)")?'
    r'(?P<narrow> style="[^"]*")?(?: text-anchor="(?P<anchor>\w+)")? fill="(?P<colour>[^"]+)">(?P<words>[^<]*)</text>'
)
"""One line of level words as ``write_svg`` writes it; turned words have one attribute more."""

_FILLED = re.compile(
    r'<(?:path fill="[^"]+".* d="(?P<path>[^"]+)"'
    r'|circle fill="[^"]+".* cx="(?P<x>[^"]+)" cy="(?P<y>[^"]+)" r="(?P<r>[^"]+)")/>'
)
"""A filled mark as ``write_svg`` writes it."""

_SPACES = re.compile(" +")
_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""Share of a line's width that lies before the place it is anchored at."""


class Words(NamedTuple):
    """One line of words on the page: where its base line begins, has its middle, or ends; y runs down."""

    x: Millimetres
    y: Millimetres
    size: Millimetres
    weight: Weight
    narrow: bool
    anchor: str
    colour: Colour
    words: str


def taken_out(svg: str) -> tuple[str, tuple[Words, ...]]:
    """The SVG of a sheet without the level words that stand on the paper itself, and these.

    Words in a view stay in it, for it ends at its window. Words set apart lie over everything else, so none is taken
    where a later mark is filled and lies over one.
    """
    views, group, paper = svg.rpartition("<g data-view=")
    rest, words, fills = list[str](), dict[int, Words](), dict[int, Extent]()
    for row, line in enumerate(paper.split("\n")):
        match = _WORDS.fullmatch(line)
        if match is not None:
            words[row] = _read(match)
            continue
        rest.append(line)
        filled = _FILLED.match(line) if words else None
        if filled is not None:
            fills[row] = _about(filled)
    return (svg, ()) if _covered(words, fills) else (views + group + "\n".join(rest), tuple(words.values()))


def _covered(words: Mapping[int, Words], fills: Mapping[int, Extent]) -> bool:
    """Whether a filled mark touches words that come before it; each by its row, with the upright box about it."""
    last = max(fills, default=0)
    before = {row: _room(each) for row, each in words.items() if row < last}
    if not before:
        return False
    left, low, right, high = np.array([*before.values()]).T[..., None]
    others = np.array([*fills.values()]).T
    later = np.array([*before])[:, None] < np.array([*fills])
    meet = (left <= others[2]) & (others[0] <= right) & (low <= others[3]) & (others[1] <= high)
    return bool((later & meet).any())


def _room(words: Words) -> Extent:
    """The upright box about a line of words, y running down."""
    capital = words.size / fonts.size(1.0)
    wide = fonts.width(Said(words.words), capital, weight=words.weight, narrow=words.narrow)
    hangs, stands = fonts.reach(capital)
    left = words.x - _BEFORE[words.anchor] * wide
    return left, words.y - stands, left + wide, words.y + hangs


def _about(filled: re.Match[str]) -> Extent:
    """The upright box about a filled mark."""
    if filled["path"] is None:
        x, y, radius = (float(filled[name]) for name in "xyr")
        return x - radius, y - radius, x + radius, y + radius
    xs, ys = zip(*_points(filled["path"]), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _points(path: str) -> Iterator[tuple[Millimetres, Millimetres]]:
    for point in path.strip("MZ").split("L"):
        x, y = point.split(" ")
        yield float(x), float(y)


def _read(match: re.Match[str]) -> Words:
    return Words(
        x=float(match["x"]),
        y=float(match["y"]),
        size=float(match["size"]),
        weight=int(match["weight"] or 400),  # type: ignore[arg-type]  # As it was written.
        narrow=match["narrow"] is not None,
        anchor=match["anchor"] or "start",
        colour=match["colour"],
        # As in a picture, where a row of spaces shows as one.
        words=_SPACES.sub(" ", unescape(match["words"])),
    )
