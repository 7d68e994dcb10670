"""Sheets as one PDF, or one sheet as a picture: typst sets each sheet's SVG on a page of exactly its size.

The PDF is for keeping and for everyone (PDF/A-2a and PDF/UA-1): words stay words, fonts are embedded as far as used,
and each page carries the sheet's description. The same sheets and the same moment give the same bytes.
"""

from collections.abc import Sequence
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from beckwright.papers import fonts
from beckwright.papers.drawing import Sheet
from beckwright.papers.formats.svg import write_svg

if TYPE_CHECKING:
    import typst

_DOCUMENT = """\
#set document(title: sys.inputs.title, author: sys.inputs.author)
#set text(font: sys.inputs.family, lang: "en")
"""
_PAGE = """\
#page(width: {wide}mm, height: {high}mm, margin: 0pt,
  image(bytes(sys.inputs.at("sheet-{row}")), width: {wide}mm, height: {high}mm, alt: sys.inputs.at("words-{row}")))
"""


def write_pdf(
    sheets: Sequence[Sheet], *, title: str, author: str, written: datetime, drawn: Sequence[str] | None = None
) -> bytes:
    """Write the sheets as the pages of one PDF.

    title, author  what the file says of itself
    written        the moment it says it was made at, with its time zone
    drawn          the SVG of each sheet, where it has been made already
    """
    drawn = [write_svg(sheet) for sheet in sheets] if drawn is None else drawn
    return _set(sheets, drawn, title=title, author=author, written=written, form="pdf", dots_per_inch=None)


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
    drawn: Sequence[str],
    *,
    title: str,
    author: str,
    written: datetime | None,
    form: Literal["pdf", "png"],
    dots_per_inch: float | None,
) -> bytes:
    import typst

    pages = "".join(_PAGE.format(wide=sheet.paper[0], high=sheet.paper[1], row=row) for row, sheet in enumerate(sheets))
    told = {"title": title, "author": author, "family": fonts.FAMILY}
    for row, sheet in enumerate(sheets):
        told |= {f"sheet-{row}": drawn[row], f"words-{row}": sheet.description or sheet.title}
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


@lru_cache(maxsize=1)
def _fonts() -> "typst.Fonts":
    """Read the fonts once, and no other typeface, so that none can stand in for ours unseen."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts.folder())])
