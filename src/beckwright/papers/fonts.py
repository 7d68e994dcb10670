"""The one typeface of the papers, IBM Plex Sans, measured from its own tables.

The font file holds every weight and width; typst (0.15 or later) and browsers take the one they are asked for.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any

from beckwright.base.values import value
from beckwright.base.words import whole_words
from beckwright.languages import Said, say
from beckwright.papers.drawing import Millimetres, Weight
from beckwright.papers.variations import advances_at

FAMILY = "IBM Plex Sans"
NARROW = 85
"""Width of headings and big numerals, per cent."""
FILE = "IBMPlexSans[wdth,wght].ttf"


@value
class _Face:
    """Advances by code point, heights of a capital and of the tallest letters, and what hangs below; for size 1."""

    advances: dict[int, float]
    capital: float
    above: float
    below: float


def folder() -> Path:
    """Give the folder the font file lies in."""
    from fontpkg_ibm_plex_sans import ROOT

    return Path(ROOT) / "files"


def size(height: Millimetres) -> Millimetres:
    """Give the font size whose capitals stand ``height`` high."""
    return height / _face(400, 100).capital


def reach(height: Millimetres) -> tuple[Millimetres, Millimetres]:
    """Give how far letters such as p hang below the base line, and how far letters such as d stand above it."""
    face = _face(400, 100)
    return face.below * size(height), face.above * size(height)


def width(words: str, height: Millimetres, *, weight: Weight = 400, narrow: bool = False) -> Millimetres:
    """Give the width of the words in the reader's language, before kerning, which draws a few pairs closer."""
    return _advance(say(words), weight, NARROW if narrow else 100) * size(height)


def unprintable(words: str) -> set[str]:
    """Give the characters the font cannot draw. One of them would turn the whole line to another typeface, silently."""
    return set(words) - _printable()


def wrap(
    words: str, room: Millimetres, height: Millimetres, *, weight: Weight = 400, narrow: bool = False
) -> tuple[str, ...]:
    """Break words at spaces into lines no wider than ``room``; a single longer word keeps its own line.

    They are said in the reader's language first: a line is no phrase.
    """
    look, scale = (weight, NARROW if narrow else 100), size(height)
    space = _advance(" ", *look)
    lines, along = list[list[str]](), 0.0
    for word in whole_words(say(words)):
        own = _advance(word, *look)
        if lines and (along + space + own) * scale <= room:
            lines[-1].append(word)
            along += space + own
        else:
            lines.append([word])
            along = own
    return tuple(Said(" ".join(line)) for line in lines)


@lru_cache(maxsize=1)
def _printable() -> frozenset[str]:
    return frozenset(_letters(400, 100))


@lru_cache(maxsize=1 << 15)
def _advance(words: str, weight: int, wide: int) -> float:
    return sum(map(_letters(weight, wide).__getitem__, words))


class _Letters(dict[str, float]):
    """Advances by letter; none for a letter the font has not got."""

    def __missing__(self, letter: str) -> float:
        return 0.0


@lru_cache(maxsize=8)
def _letters(weight: int, wide: int) -> _Letters:
    return _Letters((chr(code), advance) for code, advance in _face(weight, wide).advances.items())


@lru_cache(maxsize=1)
def _font() -> Any:
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    return TTFont(folder() / FILE, lazy=True)


@lru_cache(maxsize=8)
def _face(weight: int, wide: int) -> _Face:
    """Advances at a weight and width, and heights, which are the same at all of them."""
    font = _font()
    units, advances = font["head"].unitsPerEm, advances_at(font, {"wght": weight, "wdth": wide})
    return _Face(
        advances={code: advances[name] / units for code, name in font.getBestCmap().items()},
        capital=font["OS/2"].sCapHeight / units,
        above=font["glyf"]["d"].yMax / units,
        below=-font["glyf"]["p"].yMin / units,
    )
