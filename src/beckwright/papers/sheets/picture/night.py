"""The lamps of a job as the picture sheet shows them: where they stand along the water, and what their light meets."""

from collections.abc import Iterator
from math import cos, sin

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import Circle, Mark, Polyline, Stamp
from beckwright.papers.sheets.picture.colours import GLOW, INK, LIT
from beckwright.stages.electrics import Placed
from beckwright.tables.electrics import AT_DROP, LANDING

FINE: Length = 0.02


@value
class Along:
    """A lamp along the water: its chainage, how far beside the stream's middle, and how far its light is drawn."""

    lamp: Placed
    chainage: Length
    aside: Length
    reach: Length


def lamps_of(design: Design, works: Works) -> tuple[Along, ...]:
    """Every lamp of the job."""
    lamps = () if works.electrics is None else works.electrics.lamps
    chainage = np.arange(0.0, design.course.length + FINE, FINE)
    line = design.course.alignment.at(chainage)
    made = []
    for lamp in lamps:
        away = np.hypot(*(line - np.array(lamp.at)).T)
        near = int(np.argmin(away))
        reach = _reach(design, lamp, float(chainage[near]))
        made.append(Along(lamp=lamp, chainage=float(chainage[near]), aside=float(away[near]), reach=reach))
    return tuple(made)


def at_stream(design: Design, each: Along) -> bool:
    """Whether a lamp stands in or at the stream: others are shown on the sketch alone."""
    at = design.course.stations
    return each.aside <= float(np.interp(each.chainage, at.chainage, at.width)) / 2 + AT_DROP.amount


def _reach(design: Design, lamp: Placed, chainage: Length) -> Length:
    """To what a lamp is turned to: the point that was told, else where its axis meets the bed; no farther."""
    if lamp.light.aims is not None:
        flat = float(np.hypot(*(np.array(lamp.light.aims) - lamp.at)))
        return flat / max(float(np.hypot(*lamp.way[:2])), 0.2)
    at = design.course.stations
    down = lamp.level - float(at.bed[np.searchsorted(at.chainage, chainage + LANDING.amount).clip(0, len(at.bed) - 1)])
    return max(down / max(-float(lamp.way[2]), 0.2), LANDING.amount)


def lit_stations(design: Design, works: Works) -> BoolArray:
    """Stations whose water lies in a lamp's beam, (n,)."""
    at = design.course.stations
    spots = np.column_stack([at.points, at.rim])
    lit = np.zeros(len(spots), dtype=bool)
    for each in lamps_of(design, works):
        lit |= _in_beam(each, spots)
    return lit


def _in_beam(each: Along, spots: FloatArray) -> BoolArray:
    lamp = each.lamp
    ways = spots - np.array([*lamp.at, lamp.level])
    far = np.linalg.norm(ways, axis=1)
    along = ways @ lamp.way / np.maximum(far, 1e-9)
    inside: BoolArray = (far <= 1.2 * each.reach) & (along >= cos(lamp.light.beam / 2))
    return inside


def lit_lips(works: Works) -> frozenset[str]:
    """Lips that have a lamp, as the electrics have it."""
    return frozenset(() if works.electrics is None else (drop.lip for drop in works.electrics.drops if drop.lamps))


def beams(design: Design, works: Works) -> Iterator[Mark]:
    """Lit air in the section: as wide as each beam, as far as what it is turned to; the ground covers the rest."""
    for each in lamps_of(design, works):
        if at_stream(design, each):
            way = each.lamp.way
            with_stream = float(way[:2] @ design.course.alignment.direction(np.array([each.chainage]))[0])
            turn, half = float(np.arctan2(way[2], with_stream)), each.lamp.light.beam / 2
            at = np.array([each.chainage, each.lamp.level])
            rim = [at + each.reach * np.array([cos(turn + part * half), sin(turn + part * half)]) for part in _BOW]
            yield Polyline(points=np.array([at, *rim]), layer="lights", closed=True, fill=GLOW)


_BOW = np.linspace(-1.0, 1.0, 9)


def lamp_marks(design: Design, works: Works) -> Iterator[Mark]:
    """A small ring where each lamp stands."""
    ring = (
        Circle(at=(0.0, 0.0), radius=0.8, layer="lamps", pen=pens.THIN, fill=LIT),
        Circle(at=(0.0, 0.0), radius=0.3, layer="lamps", fill=INK),
    )
    for each in lamps_of(design, works):
        if at_stream(design, each):
            yield Stamp(at=(each.chainage, each.lamp.level), marks=ring)
