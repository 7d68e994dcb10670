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
    from scipy.interpolate import CubicSpline

    chords = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    steps = np.linspace(0.0, 1.0, _PIECES_PER_POINT, endpoint=False)
    fine = np.concatenate([(chords[:-1, None] + np.diff(chords)[:, None] * steps).ravel(), chords[-1:]])
    vertices = CubicSpline(chords, points, bc_type="natural")(fine) if len(points) > 2 else _straight(points, fine)
    distances = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(vertices, axis=0).T))])
    return Alignment(vertices=vertices, distances=distances, stretch=float(distances[-1]) / course_length)


def _straight(points: Points, fine: FloatArray) -> Points:
    share = fine[:, None] / fine[-1]
    line: Points = points[0] + (points[1] - points[0]) * share
    return line
