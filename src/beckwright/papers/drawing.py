"""A drawing as a value: sheets, windows on paper, and marks. It knows nothing of SVG, PDF or DXF.

Paper is measured in millimetres from the sheet's lower left corner, y up; so paper and site turn the same way,
and every angle is in radians, anticlockwise. Marks of a ``Sheet`` and of a ``Stamp`` are in millimetres; marks of a
``View`` are in metres and are seen through its ``Window``. Pens, lettering and offsets are millimetres everywhere.
"""

from dataclasses import field, replace
from typing import Annotated, Literal

import numpy as np

from beckwright.base.quantities import Angle, FloatArray, Length, Points, Ratio
from beckwright.base.values import value
from beckwright.languages import say, spoken

Millimetres = Annotated[float, "mm"]
Point = tuple[float, float]
Colour = str
"""Six hexadecimal digits after a hash, or ``none``."""

Across = Literal["left", "middle", "right"]
Up = Literal["base", "middle", "top"]
Weight = Literal[400, 600, 700]
Arrow = Literal["arrow", "dot", "none"]

A5_FLAT: Point = (210.0, 148.0)
A4_UPRIGHT: Point = (210.0, 297.0)
A4_FLAT: Point = (297.0, 210.0)
A3_FLAT: Point = (420.0, 297.0)
A2_FLAT: Point = (594.0, 420.0)

BLACK: Colour = "#000000"
WHITE: Colour = "#FFFFFF"
RED: Colour = "#BE2A12"

SCALES = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
"""Reductions of ISO 5455: 1 to so much."""


@value
class Pen:
    """How a line is drawn. ``dash`` is stroke, gap, stroke, gap …; a stroke of 0 is a dot as wide as the pen."""

    width: Millimetres
    dash: tuple[Millimetres, ...] = ()
    colour: Colour = BLACK

    def __post_init__(self) -> None:
        if len(self.dash) % 2 or min(self.dash, default=0.0) < 0.0:
            message = f"a dash is pairs of stroke and gap, none below nothing: {self.dash}"
            raise ValueError(message)


@value
class HatchLine:
    """One family of parallel lines of a hatch.

    angle  of the lines, on the paper
    base   a point one of them passes through, and where its dashes begin
    apart  distance between neighbours
    shift  how far the dashes of each neighbour are pushed along
    dash   as in a pen; empty for an unbroken line
    """

    angle: Angle
    apart: Millimetres
    base: tuple[Millimetres, Millimetres] = (0.0, 0.0)
    shift: Millimetres = 0.0
    dash: tuple[Millimetres, ...] = ()


@value
class Hatch:
    """A hatch is families of lines; it starts from the sheet's corner, so neighbouring areas run on."""

    name: str
    lines: tuple[HatchLine, ...]
    pen: Pen


@value
class Polyline:
    """A line through ``points`` (n, 2), or an area where ``closed``. ``fill`` and ``hatch`` need a closed one."""

    points: Points
    layer: str
    pen: Pen | None = None
    closed: bool = False
    fill: Colour | None = None
    hatch: Hatch | None = None

    def __post_init__(self) -> None:
        if self.points.ndim != 2 or self.points.shape[1] != 2 or len(self.points) < 2:
            message = f"a line on layer {self.layer} needs two points or more, not shape {self.points.shape}"
            raise ValueError(message)
        if not np.isfinite(self.points).all():
            message = f"a line on layer {self.layer} has a point that is not a number"
            raise ValueError(message)
        if (self.fill or self.hatch) and not self.closed:
            message = f"only a closed line can be filled or hatched: layer {self.layer}"
            raise ValueError(message)
        self.points.setflags(write=False)


@value
class Circle:
    """A circle of ``radius`` in the unit of its place: metres in a view, millimetres on a sheet or a stamp."""

    at: Point
    radius: float
    layer: str
    pen: Pen | None = None
    fill: Colour | None = None
    hatch: Hatch | None = None


@value
class Text:
    """One line of words.

    height  of a capital, mm (ISO 3098)
    across  which part of the words stands at ``at``, sideways
    up      which part stands at ``at``, upwards: base line, half or full capital height
    turn    on the paper, whatever the view is turned by
    offset  mm on the paper from ``at``, before turning
    narrow  width 85 %, for headings and big numerals
    halo    margin of a white box behind the words; 0 for none
    """

    at: Point
    words: str
    height: Millimetres
    layer: str = "text"
    weight: Weight = 400
    narrow: bool = False
    colour: Colour = BLACK
    across: Across = "left"
    up: Up = "base"
    turn: Angle = 0.0
    offset: tuple[Millimetres, Millimetres] = (0.0, 0.0)
    halo: Millimetres = 0.0

    def __post_init__(self) -> None:
        # The reader's language comes in where words become marks: no sheet need think of it.
        object.__setattr__(self, "words", say(self.words))


@value
class Stamp:
    """Small marks drawn in millimetres about (0, 0), set down at a point and turned on the paper."""

    at: Point
    marks: "tuple[Mark, ...]"
    turn: Angle = 0.0


@value
class Dimension:
    """A measure between two points. ``offset`` moves its line to the left of the way from ``start`` to ``end``."""

    start: Point
    end: Point
    offset: Millimetres
    words: str
    pen: Pen
    height: Millimetres = 2.5
    layer: str = "dimension"
    weight: Weight = 400

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", say(self.words))


@value
class Leader:
    """Words set ``offset`` mm away from what they speak of, and a line back to it."""

    at: Point
    offset: tuple[Millimetres, Millimetres]
    words: str
    pen: Pen
    height: Millimetres = 2.5
    layer: str = "text"
    weight: Weight = 400
    narrow: bool = False
    colour: Colour = BLACK
    arrow: Arrow = "arrow"
    halo: Millimetres = 0.5

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", say(self.words))


Mark = Polyline | Circle | Text | Stamp | Dimension | Leader
Plain = Polyline | Circle | Text
"""What every writer can draw. ``plain`` brings every other mark down to these three."""


@value
class Window:
    """A rectangle of paper through which the site is seen at a scale.

    corner    lower left corner on the paper, mm
    size      width and height on the paper, mm
    scale     1 to so much, sideways; ``scale_up`` the same upwards, equal to it unless a section is drawn taller
    origin    a point of the site, m, and ``origin_at`` where on the paper it lies, mm
    turn      of the site on the paper
    """

    corner: tuple[Millimetres, Millimetres]
    size: tuple[Millimetres, Millimetres]
    scale: Ratio
    origin: tuple[Length, Length]
    origin_at: tuple[Millimetres, Millimetres]
    scale_up: Ratio = 0.0
    turn: Angle = 0.0

    def __post_init__(self) -> None:
        if not (self.scale > 0.0 and self.scale_up >= 0.0):
            message = f"a scale is more than nothing: 1:{self.scale:g}, upwards 1:{self.scale_up:g}"
            raise ValueError(message)
        if self.scale_up == 0.0:
            object.__setattr__(self, "scale_up", self.scale)
        if self.turn != 0.0 and self.scale != self.scale_up:
            message = "a turned window has one scale"
            raise ValueError(message)

    def on_paper(self, points: Points) -> FloatArray:
        """Millimetres on the paper (n, 2) of site points (n, 2) in metres."""
        moved = np.asarray(points, dtype=float).reshape(-1, 2) - self.origin
        return _turned(moved * (1000.0 / self.scale, 1000.0 / self.scale_up), self.turn) + self.origin_at

    def on_site(self, points: FloatArray) -> FloatArray:
        """Metres on the site (n, 2) of paper points (n, 2) in millimetres."""
        moved = np.asarray(points, dtype=float).reshape(-1, 2) - self.origin_at
        return _turned(moved, -self.turn) * (self.scale / 1000.0, self.scale_up / 1000.0) + self.origin

    def outline(self) -> FloatArray:
        """Give the four corners on the paper, mm, from the lower left, anticlockwise."""
        return rectangle(self.corner, self.size)


@value
class View:
    """Marks in metres seen through a window, and cut off at its rim.

    world  True where the coordinates are the site's own easting and northing
    """

    name: str
    window: Window
    marks: tuple[Mark, ...]
    world: bool = False


@value
class Sheet:
    """One sheet of paper.

    name         short, fit for a file name
    paper        width and height, mm
    marks        in mm, drawn over the views
    description  what a person who cannot see the sheet should be told
    readers      keys of those who read it, as ``readers.py`` has them
    language     it is told in
    """

    name: str
    title: str
    paper: tuple[Millimetres, Millimetres]
    views: tuple[View, ...] = ()
    marks: tuple[Mark, ...] = ()
    description: str = ""
    readers: tuple[str, ...] = ()
    language: str = field(default_factory=spoken)

    def __post_init__(self) -> None:
        for told in ("title", "description"):
            object.__setattr__(self, told, say(getattr(self, told)))


def plan_window(
    *, corner: Point, size: Point, scale: Ratio, middle: tuple[Length, Length], turn: Angle = 0.0
) -> Window:
    """Give a window with the site point ``middle`` in its middle."""
    return Window(
        corner=corner,
        size=size,
        scale=scale,
        origin=middle,
        origin_at=(corner[0] + size[0] / 2.0, corner[1] + size[1] / 2.0),
        turn=turn,
    )


def section_window(
    *, corner: Point, size: Point, scale: Ratio, left: Length, low: Length, scale_up: Ratio = 0.0
) -> Window:
    """Give a window whose lower left corner is chainage ``left`` at level ``low``."""
    return Window(corner=corner, size=size, scale=scale, scale_up=scale_up, origin=(left, low), origin_at=corner)


def scale_to_fit(extent: tuple[Length, Length], size: tuple[Millimetres, Millimetres]) -> Ratio:
    """Give the largest scale of ISO 5455 at which ``extent`` fits into ``size``; beyond 1:1000, the bare need."""
    need = max(1000.0 * length / room for length, room in zip(extent, size, strict=True))
    return next((scale for scale in SCALES if scale >= need), need)


def turn_to_run_right(points: Points) -> Angle:
    """Turn that lays the way from the first of ``points`` to the last from left to right on the paper."""
    east, north = np.asarray(points, dtype=float)[-1] - np.asarray(points, dtype=float)[0]
    return -float(np.arctan2(north, east))


def rectangle(corner: Point, size: Point) -> FloatArray:
    """Four corners (4, 2) from the lower left, anticlockwise."""
    (left, low), (width, height) = corner, size
    return np.array([(left, low), (left + width, low), (left + width, low + height), (left, low + height)])


def arc(middle: Point, radius: float, start: Angle, end: Angle) -> FloatArray:
    """Points (n, 2) along an arc, at most 5 degrees apart."""
    count = max(2, int(np.ceil(abs(end - start) / np.radians(5.0))) + 1)
    angles = np.linspace(start, end, count)
    return np.column_stack((np.cos(angles), np.sin(angles))) * radius + middle


def seen(view: View) -> tuple[Plain, ...]:
    """Every mark of a view as it lies on the paper, mm, not yet cut off at the rim."""
    return tuple(part for mark in view.marks for part in plain(laid(mark, view.window)))


def laid(mark: Mark, window: Window) -> Mark:
    """Lay a mark of a view on the paper. Only coordinates change: what is measured in millimetres stays as it is."""
    match mark:
        case Polyline():
            return replace(mark, points=window.on_paper(mark.points))
        case Circle() if window.scale != window.scale_up:
            ring = window.on_paper(arc(mark.at, mark.radius, 0.0, 2.0 * np.pi)[:-1])
            return Polyline(points=ring, closed=True, layer=mark.layer, pen=mark.pen, fill=mark.fill, hatch=mark.hatch)
        case Circle():
            at = _point(window.on_paper(np.array([mark.at])))
            return replace(mark, at=at, radius=mark.radius * 1000.0 / window.scale)
        case Dimension():
            ends = window.on_paper(np.array([mark.start, mark.end]))
            return replace(mark, start=_point(ends[:1]), end=_point(ends[1:]))
        case _:
            return replace(mark, at=_point(window.on_paper(np.array([mark.at]))))


def plain(mark: Mark) -> tuple[Plain, ...]:
    """Bring a mark in millimetres down to lines, circles and words."""
    match mark:
        case Stamp():
            return tuple(_set_down(part, mark) for inner in mark.marks for part in plain(inner))
        case Dimension():
            return _dimension(mark)
        case Leader():
            return _leader(mark)
        case _:
            return (mark,)


def _turned(points: FloatArray, turn: Angle) -> FloatArray:
    if turn == 0.0:
        return points
    cosine, sine = np.cos(turn), np.sin(turn)
    return points @ np.array(((cosine, sine), (-sine, cosine)))


def _point(points: FloatArray) -> Point:
    return float(points[0, 0]), float(points[0, 1])


def _set_down(part: Plain, stamp: Stamp) -> Plain:
    if isinstance(part, Polyline):
        return replace(part, points=_turned(part.points, stamp.turn) + stamp.at)
    at = _point(_turned(np.array([part.at]), stamp.turn) + stamp.at)
    return replace(part, at=at, turn=part.turn + stamp.turn) if isinstance(part, Text) else replace(part, at=at)


def _dimension(mark: Dimension) -> tuple[Plain, ...]:
    """Witness lines, a dimension line with oblique strokes (ISO 129-1, from memory), and the words above it."""
    start, end = np.array(mark.start), np.array(mark.end)
    along = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
    left = np.array((-along[1], along[0]))
    near, far = start + left * mark.offset, end + left * mark.offset
    stroke = (along + left) * 1.2
    past = left * float(np.copysign(1.5, mark.offset))
    lines = ((start + past / 2, near + past), (end + past / 2, far + past)) if mark.offset else ()
    strokes = tuple((at - stroke, at + stroke) for at in (near, far))
    turn = float(np.arctan2(along[1], along[0]))
    upright = turn if -np.pi / 2 < turn <= np.pi / 2 + 1e-9 else turn - float(np.copysign(np.pi, turn))
    middle = (near + far) / 2 + np.array((-np.sin(upright), np.cos(upright))) * 1.0
    words = Text(
        at=(float(middle[0]), float(middle[1])),
        words=mark.words,
        height=mark.height,
        layer=mark.layer,
        weight=mark.weight,
        across="middle",
        turn=upright,
        halo=0.4,
    )
    drawn = (*lines, (near, far), *strokes)
    return (*(Polyline(points=np.array(line), layer=mark.layer, pen=mark.pen) for line in drawn), words)


ARROW = np.array([(0.0, 0.0), (-2.6, 0.65), (-2.6, -0.65)])
"""A filled arrow head pointing along x, mm."""


def leader_words(mark: Leader) -> Text:
    """The words of a leader in millimetres, where they stand: beyond its end."""
    away, up = mark.offset
    return Text(
        at=mark.at,
        words=mark.words,
        height=mark.height,
        layer=mark.layer,
        weight=mark.weight,
        narrow=mark.narrow,
        colour=mark.colour,
        across="left" if away >= 0.0 else "right",
        up="middle",
        offset=(away + (1.0 if away >= 0.0 else -1.0), up),
        halo=mark.halo,
    )


def _leader(mark: Leader) -> tuple[Plain, ...]:
    at, away = np.array(mark.at), np.array(mark.offset)
    line = Polyline(points=np.array([at, at + away]), layer=mark.layer, pen=mark.pen)
    words = leader_words(mark)
    if mark.arrow == "dot":
        return (line, Circle(at=mark.at, radius=0.6, layer=mark.layer, fill=mark.pen.colour), words)
    if mark.arrow == "arrow":
        head = _turned(ARROW, float(np.arctan2(-away[1], -away[0]))) + at
        return (line, Polyline(points=head, layer=mark.layer, closed=True, fill=mark.pen.colour), words)
    return (line, words)
