"""The reservoir's pit: its floor with room to work, its sides at the batter, exactly down from the ground."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, Length, Level, Levels, Points, Ratio, Volume
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.earthworks.overlay import (
    FORMATION,
    Pieces,
    amounts,
    areas,
    cut_along,
    lay_over,
)
from beckwright.stages.earthworks.rays import ground_under, meet_ground
from beckwright.stages.earthworks.values import PitDig
from beckwright.stages.ground import Ground
from beckwright.stages.reservoir import Pit
from beckwright.tables.soils import STANDS, SUMP_SIDE

CORNERS = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
SIDES = 4
FLOOR, BATTER, FILL, SUMP = range(4)

AT_GROUND: Length = 1e-9
"""The batter is cut off this near the ground."""

BACK: Length = 1e-3
"""The ground at the edge of the survey is read this far inside it."""


@value
class Shape:
    """The pit in its own axes, along and across from its middle.

    half   half the floor, along and across; ``fill`` half the fill on it
    sump   (4, 2) the sump's corners on the site
    """

    middle: Points
    axes: FloatArray
    half: Points
    fill: Points
    floor: Level
    sump_floor: Level
    sump: Points
    batter: Ratio

    def corners(self, half: Points) -> Points:
        """Corners on the site of a rectangle about the middle, in the order of ``surroundings.pit_corners``."""
        placed: Points = self.middle + (CORNERS * half) @ self.axes
        return placed

    def along(self, points: FloatArray) -> FloatArray:
        """Points (..., 2) in the pit's own axes."""
        # One long product: numpy would else make a small one for every piece.
        own: FloatArray = ((points - self.middle).reshape(-1, 2) @ self.axes.T).reshape(points.shape)
        return own

    def outside(self, points: FloatArray, half: Points) -> FloatArray:
        """How far points (..., 2) lie outside each side of a rectangle about the middle: (..., 4)."""
        along = self.along(points)
        return np.concatenate([along - half, -along - half], axis=-1)


@value
class Dug:
    """The pit in the ground.

    pieces   (p, m, 2) of its plan, up to where the batter meets the ground; ``rim`` (q, 2) the points where it does
    plan     of the pit at ground level; ``over_fill`` that of the fill
    cut      from the stripped ground to the floor; ``sump`` below the floor
    backfill round the fill up to the ground, without its topsoil
    depth    of the floor below the ground, where it is most
    """

    pieces: FloatArray
    rim: Points
    plan: Area
    over_fill: Area
    cut: Volume
    backfill: Volume
    sump: Volume
    sump_plan: Area
    depth: Length


def shape_of(job: Job, pit: Pit) -> Shape:
    """The dig for a reservoir: as wide as the fill and the room round it, as deep as the layers under it."""
    reservoir, layers = job.reservoir, job.layers
    cosine, sine = np.cos(reservoir.turned), np.sin(reservoir.turned)
    axes, middle = np.array([[cosine, sine], [-sine, cosine]]), np.array(reservoir.centre)
    under = layers.fleece_over + layers.lining + layers.fleece_under + layers.blinding
    fill = np.array([reservoir.length, reservoir.width]) / 2
    batter = job.earthworks.batter
    side = np.minimum(SUMP_SIDE.amount / 2, fill)
    return Shape(
        middle=middle,
        axes=axes,
        half=fill + job.earthworks.working_space,
        fill=fill,
        floor=pit.floor - under,
        sump_floor=pit.sump_floor - under,
        sump=_pump_stand(job, middle, axes, fill - side) + (CORNERS * side) @ axes,
        batter=STANDS[job.site.soil].amount if batter is None else batter,
    )


def _pump_stand(job: Job, middle: Points, axes: FloatArray, room: Points) -> Points:
    """Where the hose starts, if that lies in the pit, or its middle; the sump stays under the fill."""
    start = np.array(job.route.line[0]) if job.route.line else middle
    along = (start - middle) @ axes.T
    inside = bool((np.abs(along) <= room + SUMP_SIDE.amount).all())
    stand: Points = middle + np.clip(along, -room, room) @ axes if inside else middle
    return stand


def pit_pieces(ground: Ground, shape: Shape, origin: Points) -> Pieces:
    """Floor, sides, the part under the fill, and the sump, laid over the ground; ``owner`` tells which."""
    highest = float(ground.levels.max())
    reach = max(highest - shape.floor, 0.0) * shape.batter
    floor, rim = shape.corners(shape.half), shape.corners(shape.half + reach)
    level, top = shape.floor, shape.floor + (reach / shape.batter if shape.batter else 0.0)
    quads = [(floor, [level] * 4, FLOOR), (shape.corners(shape.fill), [level] * 4, FILL)]
    quads += [(shape.sump, [level] * 4, SUMP)] * (shape.sump_floor < shape.floor)
    if reach > 0:
        for one, other in ((0, 1), (1, 2), (2, 3), (3, 0)):
            side = np.array([rim[one], rim[other], floor[other], floor[one]])
            quads.append((side, [top, top, level, level], BATTER))
    corners = np.array([quad[0] for quad in quads])[:, [[0, 1, 2], [0, 2, 3]]].reshape(-1, 3, 2)
    levels = np.array([quad[1] for quad in quads])[:, [[0, 1, 2], [0, 2, 3]]].reshape(-1, 3)
    kinds = np.repeat([quad[2] for quad in quads], 2)
    pieces = lay_over(ground, corners, levels, origin)
    return Pieces(owner=kinds[pieces.owner], held=pieces.held)


def dig_down(pieces: Pieces, shape: Shape, origin: Points, strip: Length) -> Dug:
    """What the pit comes to by itself."""
    floor, batter, fill, sump = (pieces.only(pieces.owner == kind) for kind in (FLOOR, BATTER, FILL, SUMP))
    parts = [_below_ground(part) for part in (floor, batter, fill, sump)]
    cuts = [float(amounts(part, strip, _bare(part)).cut.sum()) for part in parts]
    deeper = parts[3].held.copy()
    deeper[..., FORMATION] = shape.sump_floor
    to_sump = amounts(Pieces(owner=parts[3].owner, held=deeper), strip, _bare(parts[3]))
    plans = [float(areas(part.held).sum()) for part in parts]
    under = -np.append(floor.over(), 0.0)
    return Dug(
        pieces=np.concatenate([part.held[..., :2] for part in parts[:2]]) + origin,
        rim=parts[1].held[np.abs(parts[1].over()) < AT_GROUND][:, :2] + origin,
        plan=plans[0] + plans[1],
        over_fill=plans[2],
        cut=cuts[0] + cuts[1],
        backfill=cuts[0] + cuts[1] - cuts[2],
        sump=float(to_sump.cut.sum()) - cuts[3],
        sump_plan=plans[3],
        depth=float(under.max()),
    )


def _below_ground(pieces: Pieces) -> Pieces:
    held, kept = cut_along(pieces.held, -pieces.over())
    return Pieces(owner=pieces.owner[kept], held=held)


def _bare(pieces: Pieces) -> BoolArray:
    return np.zeros(len(pieces.owner), dtype=bool)


def describe(ground: Ground, shape: Shape, depth: Length, rim: Points) -> PitDig:
    """The pit as it is set out: its floor, and where the corners of its sides come out of the ground."""
    top, top_levels = _tops(ground, shape)
    return PitDig(
        floor=shape.corners(shape.half),
        floor_level=shape.floor,
        top=top,
        top_levels=top_levels,
        batter=shape.batter,
        depth=depth,
        rim=rim,
    )


def _tops(ground: Ground, shape: Shape) -> tuple[Points, Levels]:
    """Corners of the sides at ground level; beyond the survey the ground is taken as level from its edge on."""
    floor, level = shape.corners(shape.half), np.full(SIDES, shape.floor)
    if shape.batter == 0:
        return floor, ground_under(ground, floor, level)
    outward, rise = CORNERS @ shape.axes / np.sqrt(2), 1 / (shape.batter * np.sqrt(2))
    distance, met = meet_ground(ground, floor, outward, level, np.full(SIDES, rise))
    at_edge = ground_under(ground, floor + outward * np.maximum(distance - BACK, 0.0)[:, None], level)
    distance = np.where(met, distance, np.maximum((at_edge - level) / rise, distance))
    return floor + outward * distance[:, None], level + rise * distance
