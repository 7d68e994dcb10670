"""The smooth plan line through the designer's points."""

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Lengths, Points
from beckwright.base.values import value

_PIECES_PER_POINT = 64


@value
class Alignment:
    """A plan line by the distance along it.

    vertices   (m, 2) close together, on the smooth line
    distances  (m,) along the line from its first point
    stretch    distance along the line for each metre of the course's own length
    """

    vertices: Points
    distances: Lengths
    stretch: float

    @property
    def length(self) -> Length:
        """Length of the smooth line itself."""
        return float(self.distances[-1])

    def at(self, chainage: FloatArray) -> Points:
        """Points on the line at chainages of the course, shape (n, 2)."""
        along = np.asarray(chainage) * self.stretch
        return np.column_stack([np.interp(along, self.distances, self.vertices[:, axis]) for axis in (0, 1)])

    def direction(self, chainage: FloatArray) -> Points:
        """Unit vectors pointing downstream at chainages of the course, shape (n, 2)."""
        steps = np.diff(self.vertices, axis=0)
        steps = steps / np.hypot(*steps.T)[:, None]
        along = np.asarray(chainage) * self.stretch
        middles = (self.distances[1:] + self.distances[:-1]) / 2
        blend = np.column_stack([np.interp(along, middles, steps[:, axis]) for axis in (0, 1)])
        unit: Points = blend / np.hypot(*blend.T)[:, None]
        return unit

    def left(self, chainage: FloatArray) -> Points:
        """Unit vectors pointing to the left looking downstream, at chainages of the course, shape (n, 2)."""
        downstream = self.direction(chainage)
        return np.column_stack([-downstream[:, 1], downstream[:, 0]])

    def beside(self, chainage: FloatArray, offset: FloatArray) -> Points:
        """Points ``offset`` to the left of the line looking downstream (negative: to the right)."""
        sideways: Points = self.at(chainage) + self.left(chainage) * np.asarray(offset)[:, None]
        return sideways


def smooth_line(points: Points, course_length: Length) -> Alignment:
    """Draw a natural cubic spline through the designer's points, source first.

    points         (n, 2), n at least 2, no two in a row coincident
    course_length  sum of the lengths of the reaches; the line is read in proportion to it
    """
    chords = np.hypot(*np.diff(points, axis=0).T)
    steps = np.arange(_PIECES_PER_POINT) / _PIECES_PER_POINT
    pieces = _bent(points, chords, steps) if len(points) > 2 else points[0] + np.diff(points, axis=0) * steps[:, None]
    vertices = np.concatenate([pieces, points[-1:]])
    distances = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(vertices, axis=0).T))])
    return Alignment(vertices=vertices, distances=distances, stretch=float(distances[-1]) / course_length)


def _bent(points: Points, chords: Lengths, steps: FloatArray) -> Points:
    """A natural cubic spline at ``steps`` of every chord, from 0 to below 1, (n - 1) * len(steps) points.

    Its second derivatives are the unknowns: none at either end, between them as slopes of both sides agree (de Boor, A
    Practical Guide to Splines, chapter IV, from memory). Written here because reading a library's would be a third of
    a second for every command: the whole of optimisation comes with it.
    """
    from scipy.linalg import solve_banded

    slopes = np.diff(points, axis=0) / chords[:, None]
    bands = np.stack([chords[:-1], 2.0 * (chords[:-1] + chords[1:]), chords[1:]])
    bends = np.zeros_like(points)
    bends[1:-1] = solve_banded((1, 1), bands, 6.0 * np.diff(slopes, axis=0))
    ahead = steps[:, None]
    back = 1.0 - ahead
    line = back * points[:-1, None] + ahead * points[1:, None]
    sag = (back**3 - back) * bends[:-1, None] + (ahead**3 - ahead) * bends[1:, None]
    bent: Points = (line + sag * (chords**2 / 6.0)[:, None, None]).reshape(-1, 2)
    return bent
