"""Words taken out of our own SVG, for a page setter that sets words faster itself, and smaller, than within a picture.

Measured on 18 sheets of calculation, 274 000 letters: a third of the time and a fifth of the file.
"""

import re
from typing import NamedTuple
from xml.sax.saxutils import unescape

from beckwright.papers.drawing import Colour, Millimetres

_WORDS = re.compile(
    r'<text x="(?P<x>[^"]+)" y="(?P<y>[^"]+)" font-size="(?P<size>[^"]+)"(?: font-weight="(?P<weight>\d+)")?'
    r'(?P<narrow> style="[^"]*")?(?: text-anchor="(?P<anchor>\w+)")? fill="(?P<colour>[^"]+)">(?P<words>[^<]*)</text>'
)
"""One line of level words as ``write_svg`` writes it; turned words have one attribute more."""


class Words(NamedTuple):
    """One line of words on the page: where its base line begins, has its middle, or ends; y runs down."""

    x: Millimetres
    y: Millimetres
    size: Millimetres
    weight: int
    narrow: bool
    anchor: str
    colour: Colour
    words: str


def taken_out(svg: str) -> tuple[str, tuple[Words, ...]]:
    """The SVG of a sheet without its level words, and these; all of it where something is seen through a window.

    Words set apart lie over everything else. So none is taken where a later mark is filled: it might cover them.
    """
    lines = svg.split("\n")
    if svg.count("<g data-view=") > 1 or _covered(lines):
        return svg, ()
    found = [(line, _WORDS.fullmatch(line)) for line in lines]
    rest = "\n".join(line for line, match in found if match is None)
    return rest, tuple(_read(match) for _, match in found if match is not None)


def _covered(lines: list[str]) -> bool:
    first = next((row for row, line in enumerate(lines) if line.startswith("<text ")), len(lines))
    return any(line.startswith(('<path fill="', '<circle fill="')) for line in lines[first:])


def _read(match: re.Match[str]) -> Words:
    return Words(
        x=float(match["x"]),
        y=float(match["y"]),
        size=float(match["size"]),
        weight=int(match["weight"] or 400),
        narrow=match["narrow"] is not None,
        anchor=match["anchor"] or "start",
        colour=match["colour"],
        words=unescape(match["words"]),
    )
