"""Water among the stones: how deep it stands, what it hands on unseen, and how that changes."""

from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.film.faces import Faces
from beckwright.film.nodes import Nodes


class Among(NamedTuple):
    """Water among the stones of every node.

    by_wetting   depth if they were dry above (m,), m; by_draining if they are wet
    wetted       the lesser, and no more than they are deep (m,), m
    lean         of the faces (m - 1,); hidden the area there that hands water on (m,), m2
    """

    by_wetting: FloatArray
    by_draining: FloatArray
    wetted: FloatArray
    lean: FloatArray
    hidden: FloatArray


class Stones:
    """The stones of all runs; a course without any has none of these."""

    def __init__(self, nodes: Nodes, faces: Faces) -> None:
        """Bring arrays of the nodes into the form the march needs."""
        self.nodes, self.nothing, self.faces = nodes, np.zeros(nodes.length.shape), faces
        self.wetting = 1.0 / (nodes.voids * nodes.width)
        self.draining = 1.0 / ((nodes.voids - nodes.retained) * nodes.width)
        self.clinging = nodes.retained * nodes.width
        self.half_viscous, self.viscous_square = nodes.viscous / 2.0, nodes.viscous**2 / 4.0

    def among(self, content: FloatArray, highest: FloatArray) -> Among:
        """How ``content`` (m,), m2, stands among stones that have been wet up to ``highest`` (m,), m."""
        by_wetting, by_draining = content * self.wetting, (content - self.clinging * highest) * self.draining
        lower = np.minimum(np.minimum(by_wetting, by_draining), self.nodes.stone)
        wetted = np.maximum(lower, self.nothing)
        in_face, lean = self.faces.of(wetted)
        return Among(by_wetting, by_draining, wetted, lean, self.nodes.layer * in_face)

    def resistance(self, size: FloatArray) -> FloatArray:
        """Gradient over the velocity that it drives, for gradients of a size (m,), s/m."""
        resistance: FloatArray = self.half_viscous + np.sqrt(self.viscous_square + self.nodes.inertial * size)
        return resistance

    def fuller(self, among: Among, shown: FloatArray) -> FloatArray:
        """How depth changes with content (m,), 1/m, where ``shown`` of more water shows over the stones."""
        slower = np.where(among.by_wetting < among.by_draining, self.wetting, self.draining)
        fuller: FloatArray = (1.0 - shown) * slower * (among.wetted > 0.0)
        return fuller

    def driven(self, among: Among, size: FloatArray, resistance: FloatArray, tangent: FloatArray) -> FloatArray:
        """How the flow changes with the gradient (m,), m3/s: in proportion (``tangent`` 0), by its tangent (1)."""
        # Of i = a V + b V**2 the tangent is 1 / (a + 2 b V); in proportion it would be V / i = 1 / (a + b V).
        swift = self.nodes.inertial * size / (resistance * resistance)
        driven: FloatArray = among.hidden / resistance * (1.0 - tangent * swift / (1.0 + swift))
        return driven
