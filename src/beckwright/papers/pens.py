"""The lines of the house: named pens and hatches, and the lines that carry something along them.

Pen widths are steps of ISO 128-2. Barbs, hanging stones, dots and hatch of the freeboard are our own, so every sheet
that uses them prints the key. The functions take a line in metres, running downstream, and the window it will be
seen through, because what they add has a size on the paper.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Points
from beckwright.papers.drawing import (
    BLACK,
    RED,
    Circle,
    Colour,
    Hatch,
    HatchLine,
    Mark,
    Millimetres,
    Pen,
    Polyline,
    Stamp,
    Text,
    Window,
)

EXISTING_GROUND = Pen(width=0.35, dash=(6.0, 1.2, 0.35, 1.2))
DIG_LEVEL = Pen(width=0.5, dash=(2.2, 1.1))
LINER = Pen(width=1.0)
BED = Pen(width=0.35)
STILL_WATER = Pen(width=0.25)
RUNNING_FULL = Pen(width=0.5)
RUNNING_EVERYDAY = Pen(width=0.25)
RUNNING_TRICKLE = Pen(width=0.35, dash=(0.0, 1.1))
EDGE_LEFT = Pen(width=0.5)
EDGE_RIGHT = Pen(width=0.5, dash=(4.5, 1.5))
EDGE_SETTLED = Pen(width=0.25, dash=(0.0, 0.9))
HOSE = Pen(width=0.25)
ROOT_CIRCLE = Pen(width=0.7, dash=(5.0, 2.0), colour=RED)
WATER_MAIN = Pen(width=0.5, dash=(5.0, 1.5), colour=RED)
BOUNDARY = Pen(width=0.35, dash=(9.0, 1.4, 0.35, 1.4, 0.35, 1.4))
CENTRE = Pen(width=0.18, dash=(6.0, 1.0, 0.5, 1.0))
CONTOUR = Pen(width=0.13)
CONTOUR_INDEX = Pen(width=0.25)
THIN = Pen(width=0.18)
MEDIUM = Pen(width=0.35)
HEAVY = Pen(width=0.7)
FRAME = Pen(width=0.7)
SHORT = Pen(width=0.7, colour=RED)

_DEGREE = float(np.pi / 180.0)


def slanted(apart: Millimetres, colour: Colour, *, width: Millimetres = 0.18) -> Hatch:
    """Give unbroken lines at 45 degrees."""
    lines = (HatchLine(angle=45 * _DEGREE, apart=apart),)
    return Hatch(name="slanted", lines=lines, pen=Pen(width=width, colour=colour))


def _level(apart: Millimetres) -> Hatch:
    return Hatch(name="level", lines=(HatchLine(angle=0.0, apart=apart),), pen=Pen(width=0.13))


def _dots(apart: Millimetres) -> Hatch:
    """Rows half as far apart as the dots in them, every other row set over by half."""
    row = HatchLine(angle=0.0, apart=apart / 2, shift=apart / 2, dash=(0.0, apart))
    return Hatch(name="dots", lines=(row,), pen=Pen(width=0.25))


def _crosses(apart: Millimetres, arm: Millimetres, pen: Pen) -> Hatch:
    dash = (2 * arm, apart - 2 * arm)
    flat = HatchLine(angle=0.0, apart=apart, base=(-arm, 0.0), dash=dash)
    upright = HatchLine(angle=90 * _DEGREE, apart=apart, base=(0.0, -arm), dash=dash)
    return Hatch(name="crosses", lines=(flat, upright), pen=pen)


def _crossed_squares(side: Millimetres) -> Hatch:
    straight = (HatchLine(angle=0.0, apart=side), HatchLine(angle=90 * _DEGREE, apart=side))
    slant = side * float(np.sqrt(0.5))
    diagonal = (HatchLine(angle=45 * _DEGREE, apart=slant), HatchLine(angle=135 * _DEGREE, apart=slant))
    return Hatch(name="crossed squares", lines=straight + diagonal, pen=Pen(width=0.13))


def _flecks(across: Millimetres, rise: Millimetres, leg: Millimetres) -> Hatch:
    """Small roofs ``across`` apart in a row, rows ``rise`` apart, every other row set over by half.

    A leg points at the roof half a step along the next row, so each family of legs repeats along its own lines.
    """
    step = float(np.hypot(across / 2, rise))
    angle = float(np.arctan2(rise, across / 2))
    apart = across * rise / step
    shift = (across**2 / 4 - rise**2) / step
    foot = (-leg * across / 2 / step, -leg * rise / step)
    up = HatchLine(angle=angle, apart=apart, base=foot, shift=-shift, dash=(leg, step - leg))
    down = HatchLine(angle=-angle, apart=apart, shift=shift, dash=(leg, step - leg))
    return Hatch(name="flecks", lines=(up, down), pen=Pen(width=0.18))


FREEBOARD_DOTS = _dots(1.6)
SHORT_HATCH = slanted(1.6, RED, width=0.25)
HEAP_HATCH = slanted(1.8, BLACK)
RAMMED_FILL = _flecks(4.4, 1.4, 0.9)
CRATES = _crossed_squares(3.2)
STONES = _dots(2.4)
WATER_RULING = _level(0.7)
ROOT_CROSSES = _crosses(3.2, 0.55, Pen(width=0.18, colour=RED))


def existing_ground(points: Points, window: Window, *, layer: str = "existing ground") -> tuple[Mark, ...]:
    """Long dash and dot, three slanted strokes of earth below at every 18 mm."""
    strokes = tuple(
        Polyline(points=np.array([(start, -0.2), (start - 1.2, -1.7)]), layer=layer, pen=THIN)
        for start in (0.0, 0.9, 1.8)
    )
    return (Polyline(points=points, layer=layer, pen=EXISTING_GROUND), *_along(points, window, strokes, every=18.0))


def edge_left(points: Points, window: Window, *, layer: str = "edge left") -> tuple[Mark, ...]:
    """Draw it unbroken, barbs to the left of the way downstream: up on every sheet."""
    barb = Polyline(points=np.array([(0.0, 0.0), (-1.2, 1.9)]), layer=layer, pen=EDGE_LEFT)
    return (Polyline(points=points, layer=layer, pen=EDGE_LEFT), *_along(points, window, (barb,), every=16.0))


def edge_right(points: Points, window: Window, *, layer: str = "edge right") -> tuple[Mark, ...]:
    """Draw it dashed, barbs to the right of the way downstream: down on every sheet."""
    barb = Polyline(points=np.array([(0.0, 0.0), (-1.2, -1.9)]), layer=layer, pen=replace(EDGE_RIGHT, dash=()))
    return (Polyline(points=points, layer=layer, pen=EDGE_RIGHT), *_along(points, window, (barb,), every=16.0))


def bed(points: Points, window: Window, *, layer: str = "bed") -> tuple[Mark, ...]:
    """Draw a thin line with stones hanging from it: to the right of the way downstream, none on the face of a step."""
    line = window.on_paper(points)
    knots = _lengths(line)
    sizes = np.resize([2.6, 3.4, 2.2, 3.0, 3.8], int(knots[-1] / 2.2) + 2)
    ends = np.concatenate([[0.0], np.cumsum(sizes)])
    ends = ends[ends <= knots[-1]]
    chords = np.column_stack((np.interp(ends, knots, line[:, 0]), np.interp(ends, knots, line[:, 1])))
    stones = (
        _hanging(start, end) for start, end in pairwise(chords) if abs(end[0] - start[0]) > abs(end[1] - start[1])
    )
    hung = (Polyline(points=window.on_site(stone), layer=layer, pen=THIN) for stone in stones)
    return (Polyline(points=points, layer=layer, pen=BED), *hung)


def still_water(points: Points, window: Window, *, layer: str = "still water") -> tuple[Mark, ...]:
    """Draw a thin line, on its middle the triangle and three strokes that say: a water level."""
    line = window.on_paper(points)
    middle = float(_lengths(line)[-1]) / 2.0
    at = next(iter(_along(points, window, water_level_mark(layer=layer), every=1e9, first=middle)), None)
    line_mark = Polyline(points=points, layer=layer, pen=STILL_WATER)
    return (line_mark,) if at is None else (line_mark, at)


def water_level_mark(*, layer: str = "still water") -> tuple[Mark, ...]:
    """Give the triangle standing on a water level and three strokes under it, mm about (0, 0)."""
    triangle = Polyline(
        points=np.array([(0.0, 0.0), (1.2, 2.0), (-1.2, 2.0)]), layer=layer, pen=STILL_WATER, closed=True
    )
    strokes = (
        Polyline(points=np.array([(-half, -down), (half, -down)]), layer=layer, pen=STILL_WATER)
        for half, down in ((1.4, 0.6), (0.95, 1.2), (0.5, 1.8))
    )
    return (triangle, *strokes)


def hose(points: Points, window: Window, *, layer: str = "hose") -> tuple[Mark, ...]:
    """Draw a double line with a stroke across it at every 7 mm."""
    from shapely import LineString, get_coordinates, get_parts

    middle = LineString(window.on_paper(points))
    sides = (get_coordinates(part) for off in (0.5, -0.5) for part in get_parts(middle.offset_curve(off)))
    rails = tuple(Polyline(points=window.on_site(side), layer=layer, pen=HOSE) for side in sides if len(side) > 1)
    stroke = Polyline(points=np.array([(0.0, -0.5), (0.0, 0.5)]), layer=layer, pen=HOSE)
    return rails + _along(points, window, (stroke,), every=7.0)


def water_main(points: Points, window: Window, *, layer: str = "water main") -> tuple[Mark, ...]:
    """Draw a dashed line with a W standing in it at every 35 mm."""
    letter = Text(
        at=(0.0, 0.0),
        words="W",
        height=1.8,
        layer=layer,
        weight=600,
        colour=WATER_MAIN.colour,
        across="middle",
        up="middle",
        halo=0.6,
    )
    # Never turned with the line: upside down it would be an M.
    letters = (replace(stamp, turn=0.0) for stamp in _along(points, window, (letter,), every=35.0))
    return (Polyline(points=points, layer=layer, pen=WATER_MAIN), *letters)


def root_circle(at: tuple[Length, Length], radius: Length, *, layer: str = "root circle") -> tuple[Mark, ...]:
    """Draw a heavy dashed ring filled with small crosses. The radius is the caller's: 12 stems by BS 5837:2012."""
    return (Circle(at=at, radius=radius, layer=layer, pen=ROOT_CIRCLE, hatch=ROOT_CROSSES),)


def freeboard(points: Points, *, layer: str = "freeboard") -> tuple[Mark, ...]:
    """Fill the area between running water and edge with fine dots."""
    return (Polyline(points=points, layer=layer, closed=True, hatch=FREEBOARD_DOTS),)


def short(points: Points, *, layer: str = "short") -> tuple[Mark, ...]:
    """Fill an area with the slanted hatch, outlined: the one that says too little."""
    return (Polyline(points=points, layer=layer, pen=SHORT, closed=True, hatch=SHORT_HATCH),)


def _lengths(line: FloatArray) -> FloatArray:
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])


def _hanging(start: FloatArray, end: FloatArray) -> FloatArray:
    """Give seven points of a flat bow that hangs from a chord, a third of it deep."""
    part = np.linspace(0.0, 1.0, 7)[:, None]
    along = end - start
    right = np.array((along[1], -along[0]))
    return start + along * part + right * (4.0 / 3.0 * part * (1.0 - part))


def _along(
    points: Points, window: Window, marks: tuple[Mark, ...], *, every: Millimetres, first: Millimetres | None = None
) -> tuple[Stamp, ...]:
    """Set ``marks`` down along a line, turned with it, the first half a step from its start unless told."""
    line = window.on_paper(points)
    knots = _lengths(line)
    places = np.arange(every / 2.0 if first is None else first, knots[-1], every)
    leg = np.clip(np.searchsorted(knots, places, side="right") - 1, 0, len(line) - 2)
    ways = np.diff(line, axis=0)[leg]
    on_line = line[leg] + ways * ((places - knots[leg]) / np.hypot(*ways.T))[:, None]
    return tuple(
        Stamp(at=(float(east), float(north)), marks=marks, turn=float(np.arctan2(way[1], way[0])))
        for (east, north), way in zip(window.on_site(on_line), ways, strict=True)
    )
