"""One net of triangles laid over the ground's: pieces over which both surfaces are planes, and exact volumes on them.

A piece is a convex polygon of m corners, the last one repeated where it has fewer: rows of one array, cut all at once.
"""

import numpy as np

from beckwright.base.quantities import Areas, BoolArray, FloatArray, IntArray, Length, Points
from beckwright.base.values import value
from beckwright.equations.earthworks import corner, prism
from beckwright.stages.earthworks.rays import plane_slopes
from beckwright.stages.ground import Ground
from beckwright.stages.ground.spread import spread

EAST, NORTH, GROUND, FORMATION = range(4)


@value
class Pieces:
    """Polygons in plan with both surfaces over each.

    owner   (n,) the triangle of the upper net each lies in
    held    (n, m, 4) easting and northing from ``origin``, ground level, formation level at its corners
    """

    owner: IntArray
    held: FloatArray

    def over(self) -> FloatArray:
        """Formation over the ground at every corner, (n, m)."""
        heights: FloatArray = self.held[..., FORMATION] - self.held[..., GROUND]
        return heights

    def only(self, which: BoolArray) -> "Pieces":
        """Those of ``which`` (n,)."""
        return Pieces(owner=self.owner[which], held=self.held[which])

    def padded(self, corners: int) -> FloatArray:
        """``held`` with at least so many corners, the last one repeated."""
        return np.concatenate(
            [self.held, np.repeat(self.held[:, -1:], max(corners - self.held.shape[1], 0), axis=1)], axis=1
        )


@value
class Amounts:
    """What is dug and filled on each of n pieces or triangles, topsoil stripped first.

    plan     area, below 0 where the net is folded over
    cut      from the stripped ground down to the formation
    fill     from the stripped ground up, without the topsoil put back
    topsoil  put back
    """

    plan: Areas
    cut: FloatArray
    fill: FloatArray
    topsoil: FloatArray

    def by_owner(self, owner: IntArray, count: int) -> "Amounts":
        """Summed over the pieces of each of ``count`` owners."""
        return Amounts(
            **{name: np.bincount(owner, getattr(self, name), minlength=count).astype(np.float64) for name in _AMOUNTS},
        )

    def less(self, other: "Amounts") -> "Amounts":
        """One less the other, piece by piece."""
        return Amounts(**{name: getattr(self, name) - getattr(other, name) for name in _AMOUNTS})

    def times(self, weight: FloatArray) -> "Amounts":
        """Each piece counted ``weight`` times."""
        return Amounts(**{name: getattr(self, name) * weight for name in _AMOUNTS})


_AMOUNTS = ("plan", "cut", "fill", "topsoil")


def lay_over(ground: Ground, corners: FloatArray, levels: FloatArray, origin: Points) -> Pieces:
    """Cut triangles, corners (k, 3, 2) and levels (k, 3), along the ground's. What lies off the survey is left out."""
    owner, under = _pairs(ground, corners)
    below, heights = ground.corners[under], ground.levels[ground.triangles[under]]
    held = np.empty((len(owner), 3, 4 + 3))
    held[..., :2] = corners[owner]
    held[..., GROUND] = _plane_at(below, heights, held[..., :2])
    held[..., FORMATION] = levels[owner]
    held[..., 4:] = _inside_sides(below, held[..., :2])
    held[..., :2] -= origin
    # Corners first: numpy is slow along short last axes, and this is the bulk of the work.
    sides = np.ascontiguousarray(held[..., 4:].transpose(1, 2, 0))
    apart = (sides.max(axis=0) < 0).any(axis=0)
    whole = (sides.min(axis=0) >= 0).all(axis=0)[~apart]
    owner, held = owner[~apart], held[~apart]
    cut, kept = held[~whole], owner[~whole]
    for side in range(4, 7):
        cut, left = cut_along(cut, cut[..., side])
        kept = kept[left]
    padded = np.concatenate([held[whole], np.repeat(held[whole, -1:], 3, axis=1)], axis=1)
    return Pieces(owner=np.concatenate([owner[whole], kept]), held=np.concatenate([padded, cut])[..., :4])


def _inside_sides(corners: FloatArray, points: FloatArray) -> FloatArray:
    """Above 0 where points (n, m, 2) lie inside each side of their triangles: (n, m, 3)."""
    side = (np.roll(corners, -1, axis=1) - corners)[:, None]
    away = points[:, :, None] - corners[:, None]
    inside: FloatArray = side[..., 0] * away[..., 1] - side[..., 1] * away[..., 0]
    return inside


def cut_along(held: FloatArray, inside: FloatArray) -> tuple[FloatArray, IntArray]:
    """Cut polygons (n, m, c) where ``inside`` (n, m), straight over each, is 0 and keep what is above: (n', m + 1, c).

    Also tells which of the n rows are kept. Every one of the c numbers is carried straight along the sides.
    """
    count = np.count_nonzero(inside >= 0, axis=1)
    mixed = np.flatnonzero((count > 0) & (count < inside.shape[1]))
    whole = np.flatnonzero(count == inside.shape[1])
    cut = _cut_off(held[mixed], inside[mixed], count[mixed])
    padded = np.concatenate([held[whole], held[whole, -1:]], axis=1)
    return np.concatenate([padded, cut]), np.concatenate([whole, mixed])


def _cut_off(held: FloatArray, inside: FloatArray, count: IntArray) -> FloatArray:
    """Polygons of which ``count`` corners in a row are inside: way in, those corners, way out, the last repeated."""
    rows, corners = np.arange(len(held)), inside.shape[1]
    within = inside >= 0
    before = np.concatenate([within[:, -1:], within[:, :-1]], axis=1)
    first = np.argmax(within & ~before, axis=1)
    order = (first[:, None] + np.arange(corners)) % corners
    held, inside = held[rows[:, None], order], inside[rows[:, None], order]
    way_in = _crossing(held[:, -1], held[:, 0], inside[:, -1], inside[:, 0])
    last = count - 1
    way_out = _crossing(held[rows, last], held[rows, count], inside[rows, last], inside[rows, count])
    cut = np.concatenate([way_in[:, None], held], axis=1)
    after = np.arange(corners + 1) > count[:, None]
    return np.where(after[..., None], way_out[:, None], cut)


def _crossing(one: FloatArray, other: FloatArray, at_one: FloatArray, at_other: FloatArray) -> FloatArray:
    share = at_one / (at_one - at_other)
    crossing: FloatArray = one + (other - one) * share[:, None]
    return crossing


def areas(held: FloatArray) -> Areas:
    """Areas of the triangles each polygon fans into, (n, m - 2); below 0 where it runs clockwise."""
    arms = held[:, 1:, :2] - held[:, :1, :2]
    doubled = arms[:, :-1, 0] * arms[:, 1:, 1] - arms[:, :-1, 1] * arms[:, 1:, 0]
    fan: Areas = doubled / 2
    return fan


def volume_above(fan: Areas, heights: FloatArray) -> FloatArray:
    """Volume between a surface and the one it lies ``heights`` (n, m) over, only where it lies above: (n,)."""
    corners = np.stack(np.broadcast_arrays(heights[:, :1], heights[:, 1:-1], heights[:, 2:]))
    lowest, highest = corners.min(axis=0), corners.max(axis=0)
    volumes = np.where(lowest >= 0, prism.over(fan, *corners), 0.0)
    mixed = (lowest < 0) & (highest > 0)
    volumes[mixed] = _split(fan[mixed], *np.sort(corners[:, mixed], axis=0))
    total: FloatArray = volumes.sum(axis=1)
    return total


def _split(area: Areas, low: FloatArray, middle: FloatArray, high: FloatArray) -> FloatArray:
    """The part above zero of triangles that the zero line crosses, split along it."""
    volumes = np.empty_like(area)
    one = middle <= 0
    volumes[one] = corner.over(area[one], high[one], -middle[one], -low[one])
    two = ~one
    below = corner.over(area[two], -low[two], middle[two], high[two])
    volumes[two] = prism.over(area[two], low[two], middle[two], high[two]) + below
    return volumes


def amounts(pieces: Pieces, strip: Length, lined: BoolArray) -> Amounts:
    """What each piece comes to. ``lined`` (n,): under the lining no topsoil is put back."""
    fan, over = areas(pieces.held), pieces.over()
    stripped = over + strip
    filled = volume_above(fan, stripped)
    cut = filled - prism.over(fan, stripped[:, :1], stripped[:, 1:-1], stripped[:, 2:]).sum(axis=1)
    under = np.where(lined, filled, volume_above(fan, over))
    return Amounts(plan=fan.sum(axis=1), cut=cut, fill=under, topsoil=filled - under)


def _pairs(ground: Ground, corners: FloatArray) -> tuple[IntArray, IntArray]:
    """Triangles of both nets whose boxes touch, found through the ground's grid of cells."""
    lookup = ground.lookup
    low, high = corners.min(axis=1), corners.max(axis=1)
    most = np.array(lookup.shape) - 1
    first, last = (np.clip((edge - lookup.origin) // lookup.cell, 0, most).astype(np.int64) for edge in (low, high))
    span = last - first + 1
    owner, turn = spread(span[:, 0] * span[:, 1])
    row, column = np.divmod(turn, span[owner, 0])
    cell = (first[owner, 1] + row) * lookup.shape[0] + first[owner, 0] + column
    entry, turn = spread(lookup.starts[cell + 1] - lookup.starts[cell])
    owner, under = owner[entry], lookup.triangles[lookup.starts[cell[entry]] + turn]
    lower, upper = _boxes(ground.corners)
    touch = np.ones(len(owner), dtype=bool)
    for axis in (EAST, NORTH):
        touch &= (low[owner, axis] <= upper[axis][under]) & (high[owner, axis] >= lower[axis][under])
    pairs = np.unique(owner[touch] * len(ground.triangles) + under[touch])
    return np.divmod(pairs, len(ground.triangles))


def _boxes(corners: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Least and greatest easting and northing of triangles, (2, k) each."""
    one, two, three = corners.transpose(1, 2, 0)
    return np.minimum(np.minimum(one, two), three), np.maximum(np.maximum(one, two), three)


def _plane_at(corners: FloatArray, levels: FloatArray, points: FloatArray) -> FloatArray:
    away = points - corners[:, None, 0]
    heights: FloatArray = levels[:, :1] + np.einsum("nij,nj->ni", away, plane_slopes(corners, levels))
    return heights
