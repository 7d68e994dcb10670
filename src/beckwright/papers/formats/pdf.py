"""Sheets as one PDF, or one sheet as a picture: typst sets each sheet's SVG on a page of exactly its size.

Sheets of nothing but words and rules have their words set by typst itself: quicker, smaller, and read aloud in order.

The PDF is for keeping and for everyone (PDF/A-2a and PDF/UA-1): words stay words, fonts are embedded as far as used,
and each page carries the sheet's description. The same sheets and the same moment give the same bytes.
"""

from collections.abc import Sequence
from datetime import datetime
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING, Literal, NamedTuple

from beckwright.papers import fonts
from beckwright.papers.drawing import Millimetres, Sheet
from beckwright.papers.formats.svg import write_svg
from beckwright.papers.formats.words import Words, taken_out

if TYPE_CHECKING:
    import typst

SHARPEST, MOST_DOTS = 200.0, 24e6
"""Dots to the inch of a picture, and dots at most: four bytes of memory each, a few times over."""
INCH = 25.4

_DOCUMENT = """\
#set document(title: sys.inputs.title, author: sys.inputs.author)
#set text(font: sys.inputs.family, lang: sys.inputs.language, hyphenate: false)
#set text(top-edge: "baseline", bottom-edge: "baseline")
#let words(at, x, y, size, weight, wide, colour, words) = place(
  at, dx: x * 1mm, dy: y * 1mm,
  text(size: size * 1mm, weight: weight, stretch: wide * 1%, fill: rgb(colour), words))
"""
_PAGE = """\
#page(width: {wide}mm, height: {high}mm, margin: 0pt)[
#place(top + left, image(bytes(sys.inputs.at("sheet-{row}")), width: {wide}mm, height: {high}mm,
  alt: sys.inputs.at("words-{row}")))
{words}]
"""
_ANCHORS = {"start": ("left", 0.0), "middle": ("center", 0.5), "end": ("right", 1.0)}
"""Where words are anchored, and at which part of the page's width that is measured from."""


class Page(NamedTuple):
    """A sheet as typst is told of it: its SVG without the words taken out of it, and what sets these."""

    picture: str
    words: str


def page_of(sheet: Sheet, svg: str) -> Page:
    """Make the page of a sheet from its SVG."""
    picture, words = taken_out(svg)
    return Page(picture, "\n".join(_set_words(each, sheet.paper[0]) for each in words))


def write_pdf(
    sheets: Sequence[Sheet], *, title: str, author: str, written: datetime, drawn: Sequence[str | Page] | None = None
) -> bytes:
    """Write the sheets as the pages of one PDF.

    title, author  what the file says of itself
    written        the moment it says it was made at, with its time zone
    drawn          the SVG of each sheet, or its page, where it has been made already
    """
    drawn = [write_svg(sheet) for sheet in sheets] if drawn is None else drawn
    return _set(sheets, drawn, title=title, author=author, written=written, form="pdf", dots_per_inch=None)


def sharpest(sheet: Sheet) -> float:
    """Dots to the inch of a sheet's picture: as many as it is worth, fewer where the paper is large."""
    inches = sheet.paper[0] * sheet.paper[1] / INCH**2
    return min(SHARPEST, sqrt(MOST_DOTS / inches))


def write_png(sheet: Sheet, *, dots_per_inch: float) -> bytes:
    """Write a sheet as a picture."""
    return _set(
        (sheet,),
        (write_svg(sheet),),
        title=sheet.title,
        author="",
        written=None,
        form="png",
        dots_per_inch=dots_per_inch,
    )


def _set(
    sheets: Sequence[Sheet],
    drawn: Sequence[str | Page],
    *,
    title: str,
    author: str,
    written: datetime | None,
    form: Literal["pdf", "png"],
    dots_per_inch: float | None,
) -> bytes:
    import typst

    told, pages = {"title": title, "author": author, "family": fonts.FAMILY}, ""
    told["language"] = sheets[0].language if sheets else "en"
    for row, sheet in enumerate(sheets):
        each = drawn[row]
        page = page_of(sheet, each) if isinstance(each, str) else each
        wide, high = sheet.paper
        told |= {f"sheet-{row}": page.picture, f"words-{row}": sheet.description or sheet.title}
        pages += _PAGE.format(wide=wide, high=high, row=row, words=page.words)
    made, complaints = typst.compile_with_warnings(
        (_DOCUMENT + pages).encode(),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        format=form,
        ppi=dots_per_inch,
        sys_inputs=told,
        pdf_standards=["a-2a", "ua-1"] if form == "pdf" else None,
        timestamp=written,
    )
    if complaints:
        message = f"the page setter complains: {'; '.join(str(complaint) for complaint in complaints)}"
        raise RuntimeError(message)
    return made


def _set_words(words: Words, page: Millimetres) -> str:
    """Tell typst of one line of words; a string is taken letter by letter, never as markup."""
    at, share = _ANCHORS[words.anchor]
    said = words.words.replace("\\", "\\\\").replace('"', '\\"')
    wide = fonts.NARROW if words.narrow else 100
    x = words.x - share * page
    numbers = f"{x:.4f}, {words.y:.4f}, {words.size:.4f}, {words.weight}, {wide}"
    return f'#words(top + {at}, {numbers}, "{words.colour}", "{said}")'


@lru_cache(maxsize=1)
def _fonts() -> "typst.Fonts":
    """Read the fonts once, and no other typeface, so that none can stand in for ours unseen."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts.folder())])
