"""Where channel and banks lie over the pit: dug once, and filled back to the channel and not to the ground."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Points, Volume
from beckwright.base.values import value
from beckwright.stages.earthworks.overlay import (
    FORMATION,
    GROUND,
    Amounts,
    Pieces,
    amounts,
    cut_along,
)
from beckwright.stages.earthworks.pit import SIDES, Shape

PIT = 4
"""The pit's own level, carried along beside easting, northing, ground and formation."""


@value
class Shared:
    """What the net and the pit have in common.

    inside   of each of the net's triangles, counted there as if there were no pit: the pit digs it
    deeper   (k,) dug below the pit's sides, triangle by triangle
    backfill, topsoil  more, or less, to fill round the reservoir's fill than up to the ground
    """

    inside: Amounts
    deeper: FloatArray
    backfill: Volume
    topsoil: Volume


def share(pieces: Pieces, shape: Shape, origin: Points, strip: Length, lined: BoolArray) -> Shared:
    """Part the net's pieces, laid over the ground, at the pit. ``lined`` (k,) of the net's triangles."""
    count = len(lined)
    here = _in_pit(pieces.only(_near(pieces, shape, origin)), shape, origin)
    over_fill = _within(here, shape, origin)
    inside = amounts(here, strip, lined[here.owner]).by_owner(here.owner, count)
    around = _changed(here, strip, lined, over_fill)
    return Shared(
        inside=inside, deeper=around.cut, backfill=float(around.fill.sum()), topsoil=float(around.topsoil.sum())
    )


def _near(pieces: Pieces, shape: Shape, origin: Points) -> BoolArray:
    along = np.ascontiguousarray(shape.along(pieces.held[..., :2] + origin).transpose(1, 0, 2))
    reach = shape.half + shape.batter * max(float(pieces.held[..., GROUND].max(initial=shape.floor)) - shape.floor, 0.0)
    near: BoolArray = ((along.min(axis=0) <= reach) & (along.max(axis=0) >= -reach)).all(axis=1)
    return near


def _in_pit(pieces: Pieces, shape: Shape, origin: Points) -> Pieces:
    """Pieces parted at the pit's mitres and rim, with the pit's level as a fifth number.

    The floor and the four sides all at once: each lies where it is farther outside the floor than the others are,
    the floor itself being nowhere outside.
    """
    sides = shape.outside(pieces.held[..., :2] + origin, shape.half)
    outside = np.concatenate([np.zeros((*sides.shape[:2], 1)), sides], axis=2)
    own = np.repeat(np.arange(1 + SIDES if shape.batter > 0 else 1), len(pieces.owner))
    outside, held, owner = (
        np.tile(part, (len(own) // max(len(pieces.owner), 1), *[1] * (part.ndim - 1)))
        for part in (outside, pieces.held, pieces.owner)
    )
    # How far outside its own side less how far outside each other one, carried along as four more numbers.
    farther = np.take_along_axis(outside, own[:, None, None], axis=2) - outside
    level = (
        shape.floor + farther[..., :1] / shape.batter
        if shape.batter > 0
        else np.full_like(farther[..., :1], shape.floor)
    )
    somewhere = (farther.max(axis=1) >= 0).all(axis=1)
    held, owner = np.concatenate([held, level, farther], axis=2)[somewhere], owner[somewhere]
    for other in range(1 + SIDES):
        held, kept = cut_along(held, held[..., PIT + 1 + other])
        owner = owner[kept]
    held, kept = cut_along(held, held[..., GROUND] - held[..., PIT])
    return Pieces(owner=owner[kept], held=held[..., : PIT + 1])


def _within(pieces: Pieces, shape: Shape, origin: Points) -> Pieces:
    """What lies over the reservoir's fill."""
    owner, held = pieces.owner, pieces.held
    for side in range(SIDES):
        held, kept = cut_along(held, -shape.outside(held[..., :2] + origin, shape.fill)[..., side])
        owner = owner[kept]
    return Pieces(owner=owner, held=held)


def _changed(pieces: Pieces, strip: Length, lined: BoolArray, less: Pieces) -> Amounts:
    """Filled up to the channel less filled up to the ground, by triangle of the net: ``pieces`` and not ``less``.

    Both from what lies lower: the pit's side, or the stripped ground where that side comes up through it.
    """
    owner = np.concatenate([pieces.owner, less.owner])
    held = np.concatenate([pieces.padded(less.held.shape[1]), less.padded(pieces.held.shape[1])])
    weight = np.repeat([1.0, -1.0], [len(pieces.owner), len(less.owner)])
    stripped = held[..., GROUND] - strip
    (below, in_below), (above, in_above) = (
        cut_along(held, side) for side in (stripped - held[..., PIT], held[..., PIT] - stripped)
    )
    lower = np.concatenate([below[..., PIT], above[..., GROUND] - strip])
    parts, rows = np.concatenate([below, above]), np.concatenate([in_below, in_above])
    both = np.concatenate([parts, parts])
    both[:, :, FORMATION] = np.concatenate([parts[..., FORMATION], parts[..., GROUND]])
    both[:, :, GROUND] = np.concatenate([lower, lower]) + strip
    owner, weight = owner[rows], weight[rows]
    lines = lined[owner]
    made = amounts(Pieces(owner=np.tile(owner, 2), held=both), strip, np.concatenate([lines, np.zeros_like(lines)]))
    return made.times(np.concatenate([weight, -weight])).by_owner(np.tile(owner, 2), len(lined))
