"""A sheet as DXF (R2010), for surveyors and other drawing programs.

Views of the site lie in model space in metres at their own easting and northing, not turned; the sheet itself is a
layout in millimetres that looks at them through viewports. Every other view is drawn on the layout, cut at its rim.
Numbers have a decimal point, layers are the marks' own words, line types and hatches are true to the pens.
"""

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from threading import Lock
from typing import TYPE_CHECKING, Any

import numpy as np

from beckwright.base.quantities import Angle, FloatArray
from beckwright.papers import fonts
from beckwright.papers.drawing import (
    BLACK,
    WHITE,
    Circle,
    Colour,
    HatchLine,
    Pen,
    Plain,
    Point,
    Polyline,
    Sheet,
    Text,
    View,
    Window,
    arc,
    laid,
    plain,
    seen,
)
from beckwright.papers.labels import text_base, text_box
from beckwright.papers.sight import about, meets

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout
    from ezdxf.layouts.layout import Paperspace

    from beckwright.papers.formats.dxf_marks import Family, Tags

_METRES = 6
"""Code of $INSUNITS."""
_POINT = 46
"""Code of the decimal sign."""
_BLACK_OR_WHITE = 7
"""Colour number of a line that is black on white paper and white on a black screen."""
_LINE_WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
"""The widths DXF knows, hundredths of a millimetre."""


_ONE_AT_A_TIME = Lock()


def write_dxf(sheet: Sheet) -> bytes:
    """Write the sheet as the bytes of a DXF file: the same for the same sheet and the same ezdxf, in any process."""
    with _without_the_moment():
        document = _document()
        _fill(document, sheet)
        return _told(document)


def _told(document: "Drawing") -> bytes:
    from ezdxf.sections.classes import REQ_R2004

    # The library would add them in the order of a set, which is another in every process.
    for name in sorted(set(REQ_R2004) | document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def _fill(document: "Drawing", sheet: Sheet) -> None:
    layout = document.paperspace()
    document.layouts.rename(layout.name, sheet.name)
    layout.page_setup(size=sheet.paper, margins=(0, 0, 0, 0), units="mm")
    for view in sheet.views:
        if view.world:
            _Space(document, document.modelspace(), view.window).draw(_on_site(view))
            _look_through(document, layout, view.window)
        else:
            inside = (cut for part in _opened(seen(view)) for cut in _cut(part, view.window.outline()))
            _Space(document, layout).draw(inside)
    _Space(document, layout).draw(_opened(part for mark in sheet.marks for part in plain(mark)))


class _Space:
    """Model space or the layout: what is drawn here, and how long a millimetre of paper is in its unit."""

    def __init__(self, document: "Drawing", layout: "BaseLayout", window: Window | None = None) -> None:
        self.document, self.layout = document, layout
        self.millimetre = window.scale / 1000.0 if window else 1.0
        self.turn: Angle = window.turn if window else 0.0
        self.paper_corner = window.on_site(np.zeros((1, 2)))[0] if window else np.zeros(2)

    def draw(self, parts: Iterable[Plain]) -> None:
        from beckwright.papers.formats import dxf_marks

        for part in parts:
            match part:
                case Text():
                    self._words(part)
                case Polyline():
                    ring = _ring(part.points)
                    self._areas(part, ring)
                    if part.pen:
                        look = self._stroke(part.layer, part.pen)
                        dxf_marks.polyline(self.layout, ring, closed=part.closed, look=look)
                case Circle():
                    self._areas(part, _ring(arc(part.at, part.radius, 0.0, 2.0 * np.pi)[:-1]))
                    if part.pen:
                        dxf_marks.circle(self.layout, part.at, part.radius, look=self._stroke(part.layer, part.pen))

    def _words(self, text: Text) -> None:
        from beckwright.papers.formats import dxf_marks

        dxf_marks.text(
            self.layout,
            text.words,
            text_base(text),
            look=self._look(text.layer, text.colour, 0.25),
            height=text.height * self.millimetre,
            turn=float(np.degrees(text.turn)),
            style=self._style(text),
            squeeze=_squeeze(text),
            across=text.across,
        )

    def _areas(self, part: Polyline | Circle, ring: list[Point]) -> None:
        from beckwright.papers.formats import dxf_marks

        if part.fill == WHITE:
            self._layer(part.layer, 0.25)
            dxf_marks.wipeout(self.layout, ring, layer=part.layer)
        elif part.fill:
            dxf_marks.hatch(self.layout, ring, look=self._look(part.layer, part.fill, 0.25))
        if part.hatch:
            look = self._look(part.layer, part.hatch.pen.colour, part.hatch.pen.width)
            families = [self._family(family) for family in part.hatch.lines]
            dxf_marks.hatch(self.layout, ring, look=look, name=part.hatch.name, families=families)

    def _family(self, family: HatchLine) -> "Family":
        """Tell a family of lines as DXF does: angle, a point, the step to the neighbour, dashes with gaps negative."""
        angle = family.angle - self.turn
        along = np.array((np.cos(angle), np.sin(angle)))
        left = np.array((-along[1], along[0]))
        step = (along * family.shift + left * family.apart) * self.millimetre
        cosine, sine = np.cos(self.turn), np.sin(self.turn)
        east, north = np.array(family.base) * self.millimetre
        base = self.paper_corner + np.array((east * cosine + north * sine, north * cosine - east * sine))
        dashes = [length * self.millimetre * (-1) ** row for row, length in enumerate(family.dash)]
        return float(np.degrees(angle)), tuple(base.tolist()), tuple(step.tolist()), dashes

    def _stroke(self, layer: str, pen: Pen) -> "Tags":
        # A new layer takes its handle before a new line type does.
        self._layer(layer, pen.width)
        dashed = {"line_type": self._linetype(pen), "stretched": self.millimetre} if pen.dash else {}
        return self._look(layer, pen.colour, pen.width, **dashed)

    def _look(self, layer: str, colour: Colour, width: float, **dashed: Any) -> "Tags":
        from beckwright.papers.formats import dxf_marks

        true_colour = None if colour == BLACK else int(colour[1:], 16)
        named, weight = self._layer(layer, width), _line_weight(width)
        return dxf_marks.look(named, weight, _BLACK_OR_WHITE, true_colour=true_colour, **dashed)

    def _layer(self, name: str, width: float) -> str:
        """Make sure of a layer. Its own line weight is that of the first mark on it; marks carry theirs as well."""
        if name not in self.document.layers:
            self.document.layers.add(name, color=_BLACK_OR_WHITE, lineweight=_line_weight(width))
        return name

    def _linetype(self, pen: Pen) -> str:
        name = "dash " + " ".join(f"{length:g}" for length in pen.dash)
        if name not in self.document.linetypes:
            strokes = [length * (-1) ** row for row, length in enumerate(pen.dash)]
            self.document.linetypes.add(
                name, pattern=[sum(pen.dash), *strokes], description=f"stroke, gap, mm: {name[5:]}"
            )
        return name

    def _style(self, text: Text) -> str:
        name = f"{fonts.FAMILY} {text.weight}{' narrow' if text.narrow else ''}"
        if name not in self.document.styles:
            style = self.document.styles.add(name, font="IBMPlexSans-Regular.ttf")
            style.set_extended_font_data(fonts.FAMILY, bold=text.weight > 400)
            style.dxf.width = _squeeze(text)
        return name


def _document() -> "Drawing":
    from ezdxf.filemanagement import new

    document = new("R2010", units=_METRES)
    document.header["$MEASUREMENT"] = 1
    document.header["$DIMDSEP"] = _POINT
    document.dimstyles.get("Standard").dxf.dimdsep = _POINT
    # Dashes are stretched mark by mark, so that a dash has its length on the paper through the viewport too.
    document.header["$PSLTSCALE"] = 0
    document.header["$LWDISPLAY"] = 1
    document.set_wipeout_variables(frame=0)  # type: ignore[no-untyped-call]
    return document


@contextmanager
def _without_the_moment() -> Iterator[None]:
    """Have ezdxf leave out the time of writing and random names: its own switch, which is one for all documents."""
    from ezdxf import options  # type: ignore[attr-defined]

    with _ONE_AT_A_TIME:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _look_through(document: "Drawing", layout: "Paperspace", window: Window) -> None:
    middle_on_paper = window.outline().mean(axis=0)
    middle = window.on_site(middle_on_paper[None])[0].tolist()
    high = window.size[1] * window.scale / 1000.0
    viewport = layout.add_viewport(
        center=middle_on_paper.tolist(), size=window.size, view_center_point=(0.0, 0.0), view_height=high
    )
    viewport.dxf.view_target_point = (*middle, 0.0)
    viewport.dxf.view_twist_angle = float(np.degrees(window.turn))
    document.set_modelspace_vport(height=high, center=middle)


def _opened(parts: Iterable[Plain]) -> Iterator[Plain]:
    """Put a white box of its own behind every text with a halo."""
    for part in parts:
        if isinstance(part, Text) and part.halo:
            yield Polyline(points=text_box(part), layer=part.layer, closed=True, fill=WHITE)
        yield part


def _on_site(view: View) -> Iterator[Plain]:
    """The marks of a view that the sheet shows, whole, in metres and at the coordinates they were given.

    Lettering and pens stay in millimetres. What lies beside the sheet is on another one, and all of it in the model.
    """
    sight = about(view.window.outline())
    for mark in view.marks:
        parts = plain(laid(mark, view.window))
        if not any(meets(part, sight) for part in parts):
            continue
        if isinstance(mark, Polyline | Circle):
            yield mark
        else:
            yield from _back(parts, view.window)


def _back(parts: tuple[Plain, ...], window: Window) -> Iterator[Plain]:
    """Take what has a size on the paper back to the site at that size."""
    for part in _opened(parts):
        match part:
            case Polyline():
                yield replace(part, points=window.on_site(part.points))
            case Circle():
                yield replace(part, at=_point(window, part.at), radius=part.radius * window.scale / 1000.0)
            case Text():
                at = _point(window, text_base(part))
                yield replace(part, at=at, up="base", offset=(0.0, 0.0), turn=part.turn - window.turn)


def _point(window: Window, at: Point) -> Point:
    east, north = window.on_site(np.array([at]))[0].tolist()
    return east, north


def _cut(part: Plain, rim: FloatArray) -> Iterator[Plain]:
    """Cut a mark off at the rim. Words stay whole, or go where they begin outside it."""
    if isinstance(part, Text):
        if _inside(np.array([text_base(part)]), rim):
            yield part
        return
    if isinstance(part, Circle):
        ring = arc(part.at, part.radius, 0.0, 2.0 * np.pi)[:-1]
        shape = Polyline(points=ring, layer=part.layer, pen=part.pen, closed=True, fill=part.fill, hatch=part.hatch)
    else:
        shape = part
    if _inside(shape.points, rim):
        yield part
    else:
        yield from _cut_area(shape, rim)
        yield from _cut_line(shape, rim)


def _inside(points: FloatArray, rim: FloatArray) -> bool:
    return bool(np.all(points >= rim[0]) and np.all(points <= rim[2]))


def _cut_area(shape: Polyline, rim: FloatArray) -> Iterator[Polyline]:
    from shapely import Polygon, box, get_parts, make_valid

    if shape.fill or shape.hatch:
        left = make_valid(Polygon(shape.points)).intersection(box(*rim[0], *rim[2]))
        for piece in get_parts(left):
            if piece.geom_type == "Polygon" and not piece.is_empty:
                yield replace(shape, points=np.array(piece.exterior.coords)[:-1], pen=None)


def _cut_line(shape: Polyline, rim: FloatArray) -> Iterator[Polyline]:
    from shapely import LineString, box, get_parts

    if shape.pen:
        line = np.concatenate((shape.points, shape.points[:1])) if shape.closed else shape.points
        for piece in get_parts(LineString(line).intersection(box(*rim[0], *rim[2]))):
            if piece.geom_type == "LineString" and not piece.is_empty:
                yield replace(shape, points=np.array(piece.coords), closed=False, fill=None, hatch=None)


def _squeeze(text: Text) -> float:
    return fonts.NARROW / 100.0 if text.narrow else 1.0


def _ring(points: FloatArray) -> list[Point]:
    return [(x, y) for x, y in points.tolist()]


@cache
def _line_weight(width: float) -> int:
    return min(_LINE_WEIGHTS, key=lambda known: abs(known - width * 100.0))
