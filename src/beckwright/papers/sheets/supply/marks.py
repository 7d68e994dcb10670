"""Signs of the supply sheet, mm about a point. Our own: every sheet that uses them prints the key."""

import numpy as np

from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, WHITE, Circle, Colour, Mark, Millimetres, Point, Polyline, arc, rectangle


def lamp_mark(at: Point, radius: Millimetres) -> tuple[Mark, ...]:
    """A lamp: a ring with a cross in it."""
    arm, (x, y) = radius * float(np.sqrt(0.5)), at
    arms = (
        Polyline(points=np.array([(x - arm, y - arm * way), (x + arm, y + arm * way)]), layer="lights", pen=pens.THIN)
        for way in (1, -1)
    )
    return (Circle(at=at, radius=radius, layer="lights", pen=pens.MEDIUM, fill=WHITE), *arms)


def transformer_mark(at: Point, radius: Millimetres) -> tuple[Mark, ...]:
    """A transformer: two rings that overlap."""
    return tuple(
        Circle(at=(at[0] + side * 0.65 * radius, at[1]), radius=radius, layer="lights", pen=pens.MEDIUM)
        for side in (-1, 1)
    )


def pump_mark(at: Point) -> tuple[Mark, ...]:
    """A pump: a ring with a triangle that points the way of the water."""
    x, y = at
    blade = np.array([(x - 4.2, y - 4.2), (x + 6.0, y), (x - 4.2, y + 4.2)])
    return (
        Circle(at=at, radius=7.0, layer="diagram", pen=pens.HEAVY, fill=WHITE),
        Polyline(points=blade, layer="diagram", pen=pens.MEDIUM, closed=True),
    )


def box_mark(at: Point, fill: Colour) -> tuple[Mark, ...]:
    """A board where filled, a box where open."""
    square = rectangle((at[0] - 1.6, at[1] - 1.6), (3.2, 3.2))
    return (Polyline(points=square, layer="supply cable", pen=pens.MEDIUM, closed=True, fill=fill),)


def eye_mark(at: Point) -> tuple[Mark, ...]:
    """An eye: two flat bows and a pupil."""
    x, y = at
    lids = np.vstack([arc((x, y - 2.0), 3.2, 0.675, np.pi - 0.675), arc((x, y + 2.0), 3.2, np.pi + 0.675, 5.608)])
    return (
        Polyline(points=lids, layer="sight lines", pen=pens.MEDIUM, closed=True, fill=WHITE),
        Circle(at=at, radius=0.7, layer="sight lines", fill=BLACK),
    )
