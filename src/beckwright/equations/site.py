"""Depths and widths beside what stands there already."""

from beckwright.base.published import Grade, published
from beckwright.base.quantities import Length, Level


@published(source="definition", place="common practice: 45 degrees, as far out as down", grade=Grade.PRACTICE)
def load_line(underside: Level, away: Length) -> Level:
    """Level below which a dig takes ground that a footing leans on.

    ``zl = zf - x``

    underside  zf  of the footing
    away       x   from its face, in plan
    """
    return underside - away


@published(source="definition", place="difference of depths")
def cover_left(depth: Length, dug: Length) -> Length:
    """Ground left over a pipe or cable under a dig; below 0 the dig goes deeper than its top.

    ``c = ds - dd``

    depth  ds  of its top below the ground
    dug    dd  below the ground
    """
    return depth - dug


@published(source="definition", place="a machine and the room each side of it")
def way_needed(machine: Length, clearance: Length) -> Length:
    """Clear width a machine wants on its way in.

    ``w = b + 2 c``

    machine    b  width at its widest
    clearance  c  each side
    """
    return machine + 2 * clearance


@published(source="definition", place="a machine that stands back from the edge and reaches over the dig")
def reach_needed(machine: Length, standoff: Length, across: Length) -> Length:
    """Reach from the machine's middle to the far side of what it digs from one side.

    ``r = b / 2 + s + a``

    machine   b  width at its widest
    standoff  s  of its tracks from the edge
    across    a  dig, from the near edge to the far one
    """
    return machine / 2 + standoff + across
