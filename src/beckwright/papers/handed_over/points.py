"""The points: what a crew pegs, and what a surveyor checks."""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import Length, Level, Points
from beckwright.papers.handed_over.values import Code, Point
from beckwright.stages.setting_out.values import Dug, Peg, SettingOut

if TYPE_CHECKING:
    from beckwright.compose import Design


def points_of(design: "Design", setting_out: SettingOut) -> tuple[Point, ...]:
    """Every point, each with a number of its own."""
    course = _along_the_course(design, setting_out)
    return numbered((*course, *_lip_points(design), *_pit_points(setting_out), *_marks(design)))


def _along_the_course(design: "Design", setting_out: SettingOut) -> Iterator[Point]:
    for peg in setting_out.pegs:
        for name, side in (("left", peg.left), ("right", peg.right)):
            yield _point(f"peg {peg.number} {name}", "PEG", side.spot.at, peg.nail)
        for below, dug in zip(("", " below"), peg.dug, strict=False):
            yield _point(f"dig {peg.number}{below}", "DIG", peg.spot.at, dug.dig)
            yield from _edge_points(design, peg, dug, below)


def _edge_points(design: "Design", peg: Peg, dug: Dug, below: str) -> Iterator[Point]:
    spots = design.course.alignment.beside(np.full(2, peg.chainage), np.array(dug.edges))
    for name, spot, level in zip(("left", "right"), spots, dug.edge_levels, strict=True):
        yield _point(f"edge {peg.number} {name}{below}", "EDGE", spot, level)


def _lip_points(design: "Design") -> Iterator[Point]:
    for lip in design.water.lips:
        across = np.array([lip.width / 2, 0.0, -lip.width / 2])
        spots = design.course.alignment.beside(np.full(3, lip.chainage), across)
        for name, spot in zip(("left", "middle", "right"), spots, strict=True):
            yield _point(f"{lip.name} {name}", "LIP", spot, lip.crest)


def _pit_points(setting_out: SettingOut) -> Iterator[Point]:
    pit = setting_out.pit
    for corner in pit.corners:
        yield _point(f"pit floor {corner.name}", "PIT", corner.floor.at, pit.floor_level)
        yield _point(f"pit top {corner.name}", "PIT", corner.top.at, corner.top.ground)
    for peg in pit.pegs:
        yield _point(f"pit peg {peg.name}", "PEG", peg.spot.at, pit.nail)


def _marks(design: "Design") -> Iterator[Point]:
    for mark in design.job.site.marks:
        yield _point(mark.name, "MARK", mark.at, mark.level)


def _point(name: str, code: Code, at: "tuple[Length, Length] | Points", level: Level | None) -> Point:
    return Point(number="", name=name, code=code, at=(float(at[0]), float(at[1])), level=level)


def numbered(points: Iterable[Point]) -> tuple[Point, ...]:
    """Give every point a number of its own that instruments take."""
    used: Counter[str] = Counter()
    numbered = []
    for point in points:
        plain = _instrument_number(point.name)
        number = plain
        while used[number]:
            used[plain] += 1
            number = f"{plain}-{used[plain]}"
        used[number] += 1
        numbered.append(replace(point, number=number))
    return tuple(numbered)


def _instrument_number(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-") or "point"
