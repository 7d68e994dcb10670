"""The works on plan: the pit, the hose, and the stream from the foot of one bank to the foot of the other."""

from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Lengths, Level, Points
from beckwright.base.values import value
from beckwright.job.model import HoseRoute, Job, Layers, Reservoir
from beckwright.stages.course import SetOutCourse
from beckwright.tables.soils import STANDS

if TYPE_CHECKING:
    from shapely import LineString, Polygon

LEFT, RIGHT = 0, 1

STEEPEST = 0.5
"""Ground is taken to fall away from a bank by no more than this share of the bank's own slope: their meeting, drawn
from a half-metre of ground, would else run off to nowhere."""


@value
class Footprint:
    """The stream on plan at its n stations. Rows of (2, n) arrays are left and right, all measured outwards.

    sideways  (n, 2) unit vectors to the left
    edge      (2, n) from the line to the lining's edge
    foot      (2, n) from the line to the foot of the bank, or to the top of the cut where the edge lies in the ground,
              which is taken to go on from the edge as it falls from the line to the edge
    raised    (2, n) edge above the ground under it; below 0 where it is dug in
    dug       (n,) depth of the dig below the ground; below 0 where the bed stands on fill
    stretch   line on plan for each metre of chainage
    """

    chainage: Lengths
    points: Points
    sideways: Points
    edge: FloatArray
    foot: FloatArray
    raised: FloatArray
    dug: Lengths
    stretch: float

    @property
    def feet(self) -> tuple[Points, Points]:
        """Lines of the banks' feet, left and right, (n, 2) each."""
        left, right = self.foot[:, :, np.newaxis] * self.sideways
        return self.points + left, self.points - right

    def toward(self, spot: tuple[Length, Length]) -> tuple[Lengths, Lengths]:
        """How far a spot lies to the left of each station's section, and how far off that section, (n,) each."""
        east, north = (np.array(spot) - self.points).T
        left = self.sideways.T
        return east * left[0] + north * left[1], east * left[1] - north * left[0]


def footprint(job: Job, course: SetOutCourse) -> Footprint:
    """Lay the course out on plan with its banks."""
    at = course.stations
    downstream = course.alignment.direction(at.chainage)
    edge = at.width / 2 + course.side_slope * (np.stack([at.edge_left, at.edge_right]) - at.rim)
    raised = np.stack([at.edge_left - at.ground_left, at.edge_right - at.ground_right])
    return Footprint(
        chainage=at.chainage,
        points=at.points,
        sideways=np.stack([-downstream[:, 1], downstream[:, 0]], axis=1),
        edge=edge,
        foot=edge + _beyond(job, raised, (at.ground - np.stack([at.ground_left, at.ground_right])) / edge),
        raised=raised,
        dug=at.ground - at.dig,
        stretch=course.alignment.stretch,
    )


def _beyond(job: Job, raised: FloatArray, falls: FloatArray) -> FloatArray:
    """From the lining's edge to where bank or cut meets the ground, which falls outwards by ``falls`` a metre."""
    top, down = job.earthworks.bank_top, 1.0 / job.earthworks.bank_slope
    up = 1.0 / STANDS[job.site.soil].amount
    bank = (raised + top * down) / (down - np.clip(falls, -down, STEEPEST * down))
    cut = -raised / (up + np.clip(falls, -STEEPEST * up, up))
    met: FloatArray = np.where(raised >= 0.0, np.maximum(bank, top), cut)
    return met


def pit_corners(reservoir: Reservoir, grown: Length = 0.0) -> tuple[tuple[Length, Length], ...]:
    """Corners of the pit on plan, anticlockwise, the first at the low end of both sides; ``grown`` on every side."""
    cosine, sine = np.cos(reservoir.turned), np.sin(reservoir.turned)
    half = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    corners = []
    for along, across in half:
        x, y = along * (reservoir.length / 2 + grown), across * (reservoir.width / 2 + grown)
        corners.append(
            (
                float(reservoir.centre[0] + x * cosine - y * sine),
                float(reservoir.centre[1] + x * sine + y * cosine),
            )
        )
    return tuple(corners)


def pit_outline(reservoir: Reservoir) -> "Polygon":
    """The pit on plan."""
    from shapely import Polygon

    return Polygon(pit_corners(reservoir))


def pit_bottom(reservoir: Reservoir, layers: Layers) -> Level:
    """Level the pit is dug to: under the sump, its lining and what the lining lies on."""
    floor = reservoir.cover - reservoir.cover_depth - reservoir.fill_depth - reservoir.sump
    return floor - layers.lining - layers.fleece_under - layers.blinding


def hose_line(route: HoseRoute) -> "LineString | None":
    """The hose on plan, or None where nobody drew it."""
    from shapely import LineString

    return LineString(route.line) if len(route.line) > 1 else None


def source_box(job: Job, course: SetOutCourse) -> Points:
    """Middle line of the outlet box: from the head of the course back by the box's length, (2, 2)."""
    head = np.zeros(1)
    back = course.alignment.direction(head)[0] * job.source.box_length
    start = course.alignment.at(head)[0]
    return np.stack([start, start - back])


def width_between(left: Lengths, away: Lengths, radius: Length, near: FloatArray, far: FloatArray) -> Lengths:
    """Width of each section's strip from ``near`` to ``far`` (left positive) that lies in a circle, (n,).

    ``left``, ``away``: the circle's middle as ``Footprint.toward`` tells it.
    """
    half = np.sqrt(np.maximum(radius**2 - away**2, 0.0))
    width: Lengths = np.maximum(np.minimum(far, left + half) - np.maximum(near, left - half), 0.0)
    return width


def area_of(widths: Lengths, works: Footprint, where: BoolArray | None = None) -> float:
    """Plan area of strips of these widths along the stream, m2; bends are not corrected for."""
    taken = widths if where is None else np.where(where, widths, 0.0)
    return float(np.sum((taken[1:] + taken[:-1]) / 2 * np.diff(works.chainage)) * works.stretch)
