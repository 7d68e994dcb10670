"""The surface as it will be: bed and banks along the stream, the surveyed ground elsewhere; and the lamps set on it."""

import numpy as np

from beckwright.base.quantities import BoolArray, IntArray, Length, Lengths, Level, Levels, Points
from beckwright.base.values import value
from beckwright.job.model import Light, Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.electrics.values import Placed
from beckwright.stages.ground import Ground, inside, level_at
from beckwright.tables.electrics import LANDING, UNDER_LIP

BEYOND_ENDS: Length = 0.25
"""Ground this far beyond either end of the course still counts as stream, m: one station."""


@value
class OnCourse:
    """Points told from the course: chainage, offset to the left, and whether they lie between its ends."""

    chainage: Lengths
    left: Lengths
    between: BoolArray


@value
class Surface:
    """Ground, bed and banks together. ``bank_top`` is the width of a bank beyond the lining's edge."""

    ground: Ground
    course: SetOutCourse
    bank_top: Length

    def beside_course(self, points: Points) -> OnCourse:
        """Tell points (n, 2) from the nearest station."""
        at = self.course.stations
        away = points[:, np.newaxis] - at.points[np.newaxis]
        nearest: IntArray = np.argmin(np.einsum("ijk,ijk->ij", away, away), axis=1)
        here, way = away[np.arange(len(points)), nearest], self.course.alignment.direction(at.chainage)[nearest]
        along = np.einsum("ij,ij->i", here, way)
        return OnCourse(
            chainage=at.chainage[nearest] + along / self.course.alignment.stretch,
            left=way[:, 0] * here[:, 1] - way[:, 1] * here[:, 0],
            between=np.abs(along) <= BEYOND_ENDS,
        )

    def level(self, points: Points) -> Levels:
        """Level of the surface at points (n, 2); minus infinity where nobody knows it."""
        levels = np.full(len(points), -np.inf)
        known = inside(self.ground, points)
        levels[known] = level_at(self.ground, points[known])
        at, told = self.course.stations, self.beside_course(points)
        width, bed, rim = (np.interp(told.chainage, at.chainage, row) for row in (at.width, at.bed, at.rim))
        left, right = (np.interp(told.chainage, at.chainage, row) for row in (at.edge_left, at.edge_right))
        edge = np.where(told.left >= 0.0, left, right)
        out, half = np.abs(told.left), width / 2
        bank = half + self.course.side_slope * (edge - rim)
        up = np.clip((out - half) / np.maximum(bank - half, 1e-9), 0.0, 1.0)
        stream = told.between & (out <= bank + self.bank_top)
        channel = np.where(out <= half, bed, rim + up * (edge - rim))
        finished: Levels = np.where(stream, np.where(out < bank, channel, np.maximum(levels, edge)), levels)
        return finished

    def level_of(self, spot: tuple[Length, Length]) -> Level:
        """Level at one place that is known."""
        return float(self.level(np.array([spot]))[0])

    def pool_at(self, points: Points) -> tuple[Pool | None, Level]:
        """The pool that a single point (1, 2) lies over, with its rim; no pool and minus infinity elsewhere."""
        told = self.beside_course(points)
        chainage, left = float(told.chainage[0]), float(told.left[0])
        for stretch in self.course.of_kind(Pool):
            pool = stretch.reach
            if isinstance(pool, Pool) and stretch.start <= chainage <= stretch.end and abs(left) <= pool.width / 2:
                return pool, stretch.bed_start
        return None, -np.inf


def place_lamp(light: Light, surface: Surface) -> Placed:
    """Set one lamp in its place and turn it to what it lights."""
    at, level, landing = _spot(light, surface)
    aims = light.aims if light.aims is not None else landing
    target = np.array([*aims, surface.level_of(aims) + light.aims_height])
    way = target - np.array([*at, level])
    _, rim = surface.pool_at(np.array([at]))
    return Placed(light=light, at=at, level=level, way=way / np.linalg.norm(way), wet=bool(level < rim))


def _spot(light: Light, surface: Surface) -> tuple[tuple[Length, Length], Level, tuple[Length, Length]]:
    """Place and level of a lamp, and where it looks if nobody said."""
    if light.at is not None:
        return light.at, surface.level_of(light.at) + light.height, light.at
    course = surface.course
    lip = next(stretch for stretch in course.stretches if stretch.reach.name == light.lip)
    stretch = course.alignment.stretch
    chainages = lip.start + np.array([UNDER_LIP.amount, UNDER_LIP.amount + LANDING.amount]) / stretch
    spot, landing = course.alignment.beside(chainages, np.full(2, light.across)).tolist()
    return (spot[0], spot[1]), lip.bed_start + light.height, (landing[0], landing[1])
