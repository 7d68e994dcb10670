"""Marks as the tags of DXF entities, written straight out: ezdxf keeps the document, its handles and its order.

A sheet has hundreds of marks of five kinds. Having ezdxf check, keep and tell every attribute of each takes five times
as long as writing the few tags they have, which are the same to the byte (group codes: DXF Reference, R2010).
"""

from collections.abc import Iterable, Sequence
from math import isclose
from typing import TYPE_CHECKING

from ezdxf.entities.dxfgfx import DXFGraphic

from beckwright.base.quantities import Angle
from beckwright.papers.drawing import Across, Point

if TYPE_CHECKING:
    from ezdxf.layouts.base import BaseLayout
    from ezdxf.lldxf.tagwriter import AbstractTagWriter

Tags = str
"""Tags as they stand in the file: a code on a line, its value on the next."""

Family = tuple[float, Point, Point, Sequence[float]]
"""Lines of a hatch: angle in degrees, a point of one, the step to its neighbour, dashes with gaps negative."""

_ACROSS = {"left": "", "middle": " 72\n1\n", "right": " 72\n2\n"}
_IN_PLANE = " 30\n0.0\n"


class _Written(DXFGraphic):
    """An entity whose tags are told already, but for what its place in the document says of it."""

    def __init__(self, kind: str, told: Tags) -> None:
        super().__init__()
        self.DXFTYPE, self._told = kind, told

    def export_dxf(self, tagwriter: "AbstractTagWriter") -> None:
        handle, owner = self.dxf.handle, self.dxf.owner
        paper = " 67\n1\n" if self.dxf.paperspace else ""
        head = f"  0\n{self.DXFTYPE}\n  5\n{handle}\n330\n{owner}\n100\nAcDbEntity\n{paper}"
        tagwriter.write_str(head + self._told)


def look(
    layer: str,
    line_weight: int,
    number: int,
    *,
    true_colour: int | None = None,
    line_type: str = "",
    stretched: float = 1.0,
) -> Tags:
    """Layer, line type, colour number, line weight, stretch of the dashes, true colour."""
    dashes = f"  6\n{line_type}\n" if line_type else ""
    stretch = f" 48\n{stretched}\n" if stretched != 1.0 else ""
    colour = "" if true_colour is None else f"420\n{true_colour}\n"
    return f"  8\n{layer}\n{dashes} 62\n{number}\n370\n{line_weight}\n{stretch}{colour}"


def polyline(layout: "BaseLayout", ring: Sequence[Point], *, closed: bool, look: Tags) -> None:
    """LWPOLYLINE."""
    told = f"{look}100\nAcDbPolyline\n 90\n{len(ring)}\n 70\n{int(closed)}\n{_vertices(ring)}"
    layout.add_entity(_Written("LWPOLYLINE", told))


def circle(layout: "BaseLayout", at: Point, radius: float, *, look: Tags) -> None:
    """CIRCLE."""
    layout.add_entity(_Written("CIRCLE", f"{look}100\nAcDbCircle\n{_point(at)} 40\n{float(radius)}\n"))


def text(
    layout: "BaseLayout",
    words: str,
    at: Point,
    *,
    height: float,
    turn: Angle,
    style: str,
    squeeze: float,
    across: Across,
    look: Tags,
) -> None:
    """TEXT; ``turn`` in degrees."""
    turned = f" 50\n{turn}\n" if turn else ""
    squeezed = f" 41\n{squeeze}\n" if squeeze != 1.0 else ""
    x, y = at
    told = (
        f"{look}100\nAcDbText\n{_point(at)} 40\n{height}\n  1\n{words}\n{turned}  7\n{style}\n{squeezed}"
        f"{_ACROSS[across]} 11\n{x}\n 21\n{y}\n 31\n0.0\n100\nAcDbText\n"
    )
    layout.add_entity(_Written("TEXT", told))


def hatch(
    layout: "BaseLayout", ring: Sequence[Point], *, look: Tags, name: str = "SOLID", families: Sequence[Family] = ()
) -> None:
    """HATCH: solid, or of families of lines."""
    solid = int(not families)
    told = (
        f"{look}100\nAcDbHatch\n{_point((0.0, 0.0))}210\n0.0\n220\n0.0\n230\n1.0\n  2\n{name}\n 70\n{solid}\n"
        f" 71\n0\n 91\n1\n 92\n3\n 72\n0\n 73\n1\n 93\n{len(ring)}\n{_vertices(ring)} 97\n0\n 75\n{1 - solid}\n 76\n1\n"
    )
    if families:
        lines = "".join(map(_family, families))
        told += f" 52\n0.0\n 41\n1.0\n 77\n0\n 78\n{len(families)}\n{lines}"
    layout.add_entity(_Written("HATCH", f"{told} 98\n0\n"))


def wipeout(layout: "BaseLayout", ring: Sequence[Point], *, layer: str) -> None:
    """WIPEOUT: an area that hides what lies under it; its ring in shares of the box about it, y running down."""
    xs, ys = zip(*ring, strict=True)
    left, low = min(xs), min(ys)
    wide, high = max(xs) - left, max(ys) - low
    inside = [((x - left) / wide - 0.5, 0.5 - (y - low) / high) for x, y in ring]
    if not all(isclose(*both, rel_tol=1e-9, abs_tol=1e-12) for both in zip(inside[0], inside[-1], strict=True)):
        inside.append(inside[0])
    rim = "".join(f" 14\n{x}\n 24\n{y}\n" for x, y in inside)
    told = (
        f"  8\n{layer}\n100\nAcDbWipeout\n 90\n0\n{_point((left, low))} 11\n{wide}\n 21\n0.0\n 31\n0.0\n"
        f" 12\n0.0\n 22\n{high}\n 32\n0.0\n 13\n1.0\n 23\n1.0\n340\n0\n 70\n7\n280\n1\n281\n50\n282\n50\n283\n0\n"
        f"360\n0\n 71\n2\n 91\n{len(inside)}\n{rim}290\n0\n"
    )
    layout.add_entity(_Written("WIPEOUT", told))


def _point(at: Point) -> Tags:
    x, y = at
    return f" 10\n{x}\n 20\n{y}\n{_IN_PLANE}"


def _vertices(ring: Iterable[Point]) -> Tags:
    return "".join([f" 10\n{x}\n 20\n{y}\n" for x, y in ring])


def _family(family: Family) -> Tags:
    angle, (base_x, base_y), (step_x, step_y), dashes = family
    told = "".join(f" 49\n{dash}\n" for dash in dashes)
    return f" 53\n{angle}\n 43\n{base_x}\n 44\n{base_y}\n 45\n{step_x}\n 46\n{step_y}\n 79\n{len(dashes)}\n{told}"
