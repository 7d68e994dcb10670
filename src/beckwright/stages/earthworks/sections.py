"""The course as it is dug and banked, section by section from behind the outlet box to its lower end.

Every section has the same eight marks from left to right: toe, bank, edge, floor; floor, edge, bank, toe. Between
neighbouring sections they are joined into triangles. Where two sections stand in one place, as at a step, the face
between them is upright and has no plan: nothing is lost there or counted twice.
"""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Lengths, Levels, Points, Ratio
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.rays import ground_under, meet_ground
from beckwright.stages.earthworks.values import CrossSection
from beckwright.stages.ground import Ground
from beckwright.tables.soils import STANDS

MARKS = 8
TOE, BANK, EDGE, FLOOR = range(4)
BEHIND = 5
"""Sections of the outlet box: its toe, its bank outside and in, and its two ends."""


@value
class Row:
    """The inner marks of r sections, before their banks are led to the ground.

    middle, left, chainage  point on the course line (r, 2), unit vector to the left (r, 2), distance downstream (r,)
    floors                  (r, 2) half widths, left and right; edges the same
    floor, tops             (r,) level of the floor, (r, 2) levels of the edges
    """

    middle: Points
    left: Points
    chainage: Lengths
    floors: FloatArray
    edges: FloatArray
    floor: Levels
    tops: FloatArray


@value
class Sections:
    """r sections of eight marks each, from the toe behind the outlet box downstream.

    points, levels  (r, 8, 2) and (r, 8)
    offsets         (r, 8) to the left of the line; they mean nothing in the first row, the toe behind the box
    unmet           (r,) sections of which a slope leaves the survey before it meets the ground
    """

    chainage: Lengths
    points: FloatArray
    offsets: FloatArray
    levels: FloatArray
    unmet: BoolArray


def formation_floor(course: SetOutCourse) -> Lengths:
    """Half the width of the dug floor at every station: the bed's, less the sides inside a pool."""
    at = course.stations
    return np.maximum(at.width / 2 - course.side_slope * (at.rim - at.bed), 0.0)


def lay_sections(job: Job, course: SetOutCourse, ground: Ground) -> Sections:
    """Every section, its banks led to the ground."""
    row = _joined(_box(job, course), _stations(course))
    marks, levels = _banks(job, row, ground)
    points = row.middle[:, None] + row.left[:, None] * marks[..., None]
    toes, unmet = _toes(job, row, points, levels, ground)
    points[:, [0, -1]], levels[:, [0, -1]] = toes[..., :2], toes[..., 2]
    marks[:, [0, -1]] = np.einsum("nki,ni->nk", points[:, [0, -1]] - row.middle[:, None], row.left)
    behind, behind_unmet = _behind(job, row, points[0], levels[0], ground)
    return Sections(
        chainage=np.concatenate([row.chainage[:1], row.chainage]),
        points=np.concatenate([behind[None, :, :2], points]),
        offsets=np.concatenate([marks[:1], marks]),
        levels=np.concatenate([behind[None, :, 2], levels]),
        unmet=np.concatenate([[behind_unmet], unmet]),
    )


def cross_sections(course: SetOutCourse, sections: Sections, ground: Ground) -> tuple[CrossSection, ...]:
    """The sections at the stations, with the ground under every mark and under the line."""
    at = course.stations
    offsets, formation, points = (part[BEHIND:] for part in (sections.offsets, sections.levels, sections.points))
    existing = ground_under(ground, points.reshape(-1, 2), np.repeat(at.ground, MARKS)).reshape(formation.shape)
    offsets, formation, existing = (
        np.insert(part, MARKS // 2, line, axis=1)
        for part, line in ((offsets, np.zeros(len(offsets))), (formation, at.dig), (existing, at.ground))
    )
    edges = offsets[:, [EDGE, MARKS - EDGE]].tolist()
    return tuple(
        CrossSection(chainage=chainage, offsets=across, ground=under, formation=level, edges=(left, right))
        for chainage, across, under, level, (left, right) in zip(
            at.chainage.tolist(), offsets, existing, formation, edges, strict=True
        )
    )


def _stations(course: SetOutCourse) -> Row:
    at, slope = course.stations, course.side_slope
    tops = np.stack([at.edge_left, at.edge_right], axis=1)
    floors = formation_floor(course)
    return Row(
        middle=at.points,
        left=_left(course, at.chainage),
        chainage=at.chainage,
        floors=np.stack([floors, floors], axis=1),
        edges=np.maximum(at.width[:, None] / 2 + slope * (tops - at.rim[:, None]), floors[:, None]),
        floor=at.dig,
        tops=tops,
    )


def _box(job: Job, course: SetOutCourse) -> Row:
    """The outlet box with upright sides, and solid ground to the height of its edges behind it."""
    source, at = job.source, course.stations
    back = np.array([source.box_length + job.earthworks.bank_top, source.box_length, source.box_length, 0.0])
    left = _left(course, at.chainage[:1])
    downstream = np.stack([left[:, 1], -left[:, 0]], axis=1)
    tops = np.array([[at.edge_left[0], at.edge_right[0]]])
    half = np.full((4, 2), source.lip_width / 2)
    return Row(
        middle=at.points[:1] - back[:, None] * downstream,
        left=np.repeat(left, 4, axis=0),
        chainage=-back,
        floors=half,
        edges=half,
        floor=np.array([np.nan, np.nan, *[source.lip_level - source.box_depth] * 2]),
        tops=np.repeat(tops, 4, axis=0),
    )


def _left(course: SetOutCourse, chainage: Lengths) -> Points:
    east, north = course.alignment.direction(chainage).T
    return np.stack([-north, east], axis=1)


def _joined(first: Row, then: Row) -> Row:
    names = ("middle", "left", "chainage", "floors", "edges", "floor", "tops")
    return Row(**{name: np.concatenate([getattr(first, name), getattr(then, name)]) for name in names})


def _banks(job: Job, row: Row, ground: Ground) -> tuple[FloatArray, FloatArray]:
    """Offsets and levels of the eight marks, the toes not yet led to the ground.

    Where the ground stands higher than the edge there is no bank: the cut goes on up from the edge.
    """
    sides = np.array([1.0, -1.0])
    over = row.middle[:, None] + row.left[:, None] * (sides * row.edges)[..., None]
    existing = ground_under(ground, over.reshape(-1, 2), row.tops.ravel()).reshape(row.tops.shape)
    banks = row.edges + np.where(existing > row.tops, 0.0, job.earthworks.bank_top)
    left, right = (
        np.stack([banks[:, side], banks[:, side], row.edges[:, side], row.floors[:, side]], axis=1) for side in (0, 1)
    )
    offsets = np.concatenate([left, -right[:, ::-1]], axis=1)
    floor = np.where(np.isnan(row.floor)[:, None], row.tops, row.floor[:, None])
    left, right = (np.stack([row.tops[:, side]] * 3 + [floor[:, side]], axis=1) for side in (0, 1))
    return offsets, np.concatenate([left, right[:, ::-1]], axis=1)


def _toes(job: Job, row: Row, points: FloatArray, levels: FloatArray, ground: Ground) -> tuple[FloatArray, BoolArray]:
    """Toes left and right of every section, (r, 2, 3), and which sections have one that runs off the survey."""
    ends = [BANK, MARKS - 1 - BANK]
    outward = np.stack([row.left, -row.left], axis=1)
    toes, met = _led_out(job, points[:, ends].reshape(-1, 2), outward.reshape(-1, 2), levels[:, ends].ravel(), ground)
    left, right = met.reshape(-1, 2).T
    return toes.reshape(-1, 2, 3), ~(left & right)


def _behind(job: Job, row: Row, points: Points, levels: Levels, ground: Ground) -> tuple[FloatArray, bool]:
    """The toe behind the outlet box (8, 3): straight back from its bank, and on the mitre at both corners."""
    left = row.left[0]
    upstream = np.array([-left[1], left[0]])
    outward = np.repeat(upstream[None], MARKS, axis=0)
    mitre = np.ones(MARKS)
    outward[0], outward[-1] = (upstream + left) / np.sqrt(2), (upstream - left) / np.sqrt(2)
    mitre[[0, -1]] = np.sqrt(2)
    start, level = points.copy(), levels.copy()
    start[[0, -1]], level[[0, -1]] = points[[BANK, MARKS - 1 - BANK]], levels[[BANK, MARKS - 1 - BANK]]
    toes, met = _led_out(job, start, outward, level, ground, mitre)
    return toes, not bool(met.all())


def _led_out(
    job: Job, start: Points, outward: Points, level: Levels, ground: Ground, mitre: FloatArray | float = 1.0
) -> tuple[FloatArray, BoolArray]:
    """Slopes from n points out to the ground: down at the bank's slope where it lies lower, up at the soil's where not.

    ``mitre`` stretches the slope where a ray runs along the ridge between two of them.
    """
    up, down = _slopes(job)
    existing = ground_under(ground, start, level)
    rise = np.where(existing > level, 1 / up, -1 / down) / mitre
    distance, met = meet_ground(ground, start, outward, level, rise)
    toes = np.empty((len(start), 3))
    toes[:, :2] = start + outward * distance[:, None]
    toes[:, 2] = level + rise * distance
    return toes, met


def _slopes(job: Job) -> tuple[Ratio, Ratio]:
    return STANDS[job.site.soil].amount, job.earthworks.bank_slope
