"""Water over a lip: every drop is held by its lip, so the head on the lip sets the level behind it."""
# mypy: no-warn-return-any

from typing import Annotated

from beckwright.base.published import published
from beckwright.base.quantities import Length, UnitFlow

LipCoefficient = Annotated[float, "m^(1/2)/s"]

HEAD_ADDITION: Length = 0.001
"""What surface tension and viscosity add to the head that a thin sheet feels."""


@published(source="kindsvater-carter-1957", place="effective head, kh 1 mm; solved for the head")
def lip_head(unit_flow: UnitFlow, coefficient: LipCoefficient) -> Length:
    """Head on a lip, from its flow.

    ``H = (q / C)**(2/3) - 1 mm``

    In a mere film, below C (1 mm)**1.5, it is negative: the water clings and no head can be told.

    unit_flow    q  flow for each metre of lip
    coefficient  C  of the lip's shape
    """
    return (unit_flow / coefficient) ** (2 / 3) - HEAD_ADDITION


@published(source="kindsvater-carter-1957", place="effective head, kh 1 mm", head=(0.03, 0.75))
def lip_unit_flow(head: Length, coefficient: LipCoefficient) -> UnitFlow:
    """Flow over each metre of a lip, from the head on it.

    ``q = C (H + 1 mm)**1.5``

    Every weir standard stops at 30 mm or so; lips run below.

    head         H  energy of the water behind the lip over the lip
    coefficient  C  of the lip's shape
    """
    return coefficient * (head + HEAD_ADDITION) ** 1.5


@published(source="rouse-1936", place="end depth of a free overfall from a level bed")
def brink_depth(critical_depth: Length) -> Length:
    """Depth of the water at the very brink of a drop.

    ``yb = 0.715 yc``

    critical_depth  yc  critical depth of the flow
    """
    return 0.715 * critical_depth
