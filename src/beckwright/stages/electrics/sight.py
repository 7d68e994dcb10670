"""Who sees which lamp: lines of sight over the surface, angles off each beam, and mirrors of still water."""

import numpy as np

from beckwright.base.quantities import Angle, FloatArray, Length, Ratio
from beckwright.equations.electrics import angle_between
from beckwright.job.model import Pool, Step, ViewPoint
from beckwright.stages.electrics.surface import Surface
from beckwright.stages.electrics.values import AtDrop, Placed, Seen, Sight
from beckwright.tables.electrics import AT_DROP, LAMP_SIZE, SCREEN_AT, SIGHT_MARGIN, TURN_MARGIN

STEP: Length = 0.05
"""Farthest apart the surface is read along a line of sight, m."""


def sight_of(lamp: Placed, view: ViewPoint, surface: Surface) -> Sight:
    """One lamp from one view."""
    eye_level = (surface.level_of(view.at) if view.ground is None else view.ground) + view.eye
    eye, source = np.array([*view.at, eye_level]), np.array([*lamp.at, lamp.level])
    distance = float(np.linalg.norm(eye - source))
    along, across = _products(lamp.way, (eye - source) / distance)
    off = angle_between(along, across)
    clear, surveyed = _clearance(source, eye, surface)
    seen = _seen(lamp, off, clear)
    return Sight(
        light=lamp,
        view=view,
        eye=eye_level,
        distance=distance,
        along=along,
        across=across,
        off=off,
        seen=seen,
        turn=max(lamp.light.beam / 2 + TURN_MARGIN.amount - off, 0.0) if seen == "in the beam" else 0.0,
        screen=_screen(source, eye, surface) if seen in ("in the beam", "beside it") else 0.0,
        clear=clear,
        surveyed=surveyed,
        mirrored=_mirror(lamp, eye, surface),
    )


def lamps_at_drops(lamps: tuple[Placed, ...], surface: Surface) -> tuple[AtDrop, ...]:
    """Which lamps light each drop: those under its lip, and those near it."""
    found = []
    for stretch in surface.course.of_kind(Step):
        lip, name = surface.course.alignment.at(np.array([stretch.start]))[0], stretch.reach.name
        names = tuple(lamp.light.name for lamp in lamps if _lights(lamp, name, lip))
        found.append(AtDrop(lip=name, lamps=names))
    return tuple(found)


def _lights(lamp: Placed, name: str, lip: FloatArray) -> bool:
    if lamp.light.lip is not None:
        return lamp.light.lip == name
    return float(np.hypot(*(np.array(lamp.at) - lip))) <= AT_DROP.amount


def _products(one: FloatArray, other: FloatArray) -> tuple[Ratio, Ratio]:
    return float(one @ other), float(np.linalg.norm(np.cross(one, other)))


def _seen(lamp: Placed, off: Angle, clear: Length) -> Seen:
    if off >= lamp.light.hood:
        return "turned away"
    if clear < -SIGHT_MARGIN.amount:
        return "hidden by ground"
    return "in the beam" if off <= lamp.light.beam / 2 else "beside it"


def _clearance(source: FloatArray, eye: FloatArray, surface: Surface) -> tuple[Length, Ratio]:
    """Least height of a straight line over the surface, what touches its ends left out; and the share of it known."""
    flat = float(np.hypot(*(eye - source)[:2]))
    if flat <= 2 * LAMP_SIZE.amount:
        return np.inf, 1.0
    count = max(int(np.ceil(flat / STEP)), 2)
    part = np.linspace(LAMP_SIZE.amount / flat, 1 - LAMP_SIZE.amount / flat, count)[:, np.newaxis]
    points = source + (eye - source) * part
    levels = surface.level(points[:, :2])
    return float((points[:, 2] - levels).min()), float(np.isfinite(levels).mean())


def _screen(source: FloatArray, eye: FloatArray, surface: Surface) -> Length:
    """Height of a stone, standing towards the eye, whose top just meets the line of sight."""
    flat = float(np.hypot(*(eye - source)[:2]))
    at = source + (eye - source) * min(SCREEN_AT.amount / flat, 1.0)
    level = float(surface.level(at[np.newaxis, :2])[0])
    return max(float(at[2]) - level, 0.0) if np.isfinite(level) else 0.0


def _mirror(lamp: Placed, eye: FloatArray, surface: Surface) -> str:
    """The pool that shows the lamp's beam to an eye: light leaves still water as steeply as it came."""
    source = np.array([*lamp.at, lamp.level])
    for stretch in surface.course.of_kind(Pool):
        rim = stretch.bed_start
        above, over = source[2] - rim, eye[2] - rim
        if above <= 0.0 or over <= 0.0:
            continue
        spot = source + (eye - source) * above / (above + over)
        spot[2] = rim
        pool, level = surface.pool_at(spot[np.newaxis, :2])
        if pool is None or pool.name != stretch.reach.name or level != rim:
            continue
        ray = (spot - source) / np.linalg.norm(spot - source)
        lit = angle_between(*_products(lamp.way, ray)) <= lamp.light.beam / 2
        if lit and _clearance(source, spot, surface)[0] >= 0.0 and _clearance(spot, eye, surface)[0] >= 0.0:
            return pool.name
    return ""
