"""At what depth water passes from a node to the next: that of the node above, leaning towards the one below."""

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio
from beckwright.film.laws import LEVEL_SHARE
from beckwright.film.nodes import Nodes

LEANS_MOST: Ratio = 0.5
"""Half-way: there the error falls with the square of the cell."""

STEEPENS: Ratio = 2.0
"""Flow among stones grows as depth times the root of the gradient S: it spreads as far as depth / (2 S).

A face that leans by no more than that share of its cell has no flow that falls as the next node fills less, so no wave
overshoots where a cell is too long for it. A film spreads less far (depth**2.5: depth / (5 S)), but all answers come
nearer to those of a fine grid, in no more steps, if it leans like water among stones.
"""


class Faces:
    """The faces of a loop, or of loops abreast (k, m), leant as far as the water's own spreading allows."""

    def __init__(self, nodes: Nodes) -> None:
        """Lay out how far faces lean for each metre of depth."""
        self.leaning = _per_fall(nodes) / STEEPENS
        self.most = np.full(self.leaning.shape, LEANS_MOST)

    def of(self, depth: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Depth in the face below every node (m,), and the share of the way to the next node it leans (m - 1,)."""
        above, in_face = depth[..., :-1], depth.copy()
        lean = np.minimum(above * self.leaning, self.most)
        in_face[..., :-1] += lean * (depth[..., 1:] - above)
        return in_face, lean


def _per_fall(nodes: Nodes) -> FloatArray:
    """1 / the bed's fall to the next node (m - 1,), 1/m; 0 where the next begins or ends a piece.

    At a lip, sill or rim water is as deep as that asks, which says nothing of the water on its way there.
    """
    here, below = nodes.scale[..., :-1], nodes.scale[..., 1:]
    fall: FloatArray = np.where((here > 0.0) & (below > 0.0), here * LEVEL_SHARE / nodes.level[..., :-1], 0.0)
    return fall
