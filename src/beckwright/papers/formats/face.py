"""A sheet's SVG for screens that have not got its typeface: a picture in a page may fetch none, so it brings its own.

Kept apart from ``write_svg``: the file a person is handed stays small and can be changed by any program.
"""

from base64 import b64encode
from functools import lru_cache
from io import BytesIO
from threading import Lock

from beckwright.papers import fonts

LETTERS = ((0x20, 0x7E), (0xA0, 0xFF), (0x2009, 0x2026), (0x202F, 0x202F), (0x2190, 0x2193), (0x2212, 0x2212))
"""Code points kept: Latin letters with the usual accents, figures, and the marks and spaces our own words use. Of any
other letter a browser takes the typeface it has."""

_ONE_AT_A_TIME = Lock()
"""A page asks for many sheets at once, and the typeface is cut down once."""


def with_face(svg: str) -> str:
    """Give the SVG of ``write_svg`` with the typeface in it."""
    with _ONE_AT_A_TIME:
        face = _face()
    return svg.replace("<title>", f"{face}<title>", 1)


@lru_cache(maxsize=1)
def _face() -> str:
    from fontTools.subset import Options, Subsetter  # type: ignore[import-untyped]
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    options = Options(hinting=False, layout_features=["kern", "mark", "ccmp", "tnum"], notdef_outline=True)
    kept = Subsetter(options)
    kept.populate(unicodes=[code for first, last in LETTERS for code in range(first, last + 1)])
    font, file = TTFont(fonts.folder() / fonts.FILE), BytesIO()
    kept.subset(font)
    font.save(file)
    told = f'font-family:"{fonts.FAMILY}";font-weight:100 700;font-stretch:{fonts.NARROW}% 100%'
    return f"<style>@font-face{{{told};src:url(data:font/ttf;base64,{b64encode(file.getvalue()).decode()})}}</style>"
