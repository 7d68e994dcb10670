"""Water over a lip: every drop is held by its lip, so the head on the lip sets the level behind it."""
# mypy: no-warn-return-any

from typing import Annotated

from beckwright.base.published import published
from beckwright.base.quantities import Flow, Length, Ratio, UnitFlow

LipCoefficient = Annotated[float, "m^(1/2)/s"]

HEAD_ADDITION: Length = 0.001
"""What surface tension and viscosity add to the head that a thin sheet feels."""

DROWNED_POWER: Ratio = 0.385
"""Villemonte's exponent."""


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


@published(source="villemonte-1947", place="submerged weirs, n 1.5 for a level crest")
def drowned_share(head: Length, tailwater: Length) -> Ratio:
    """Share of its free flow that still passes a lip over whose crest the water below stands.

    ``Q / Qf = (1 - (H2 / H1)**1.5)**0.385``

    Measured on thin plates. Slabs and boulders hold out longer: from this their head comes out on the high side.

    head       H1  water over the crest a little upstream
    tailwater  H2  water over the crest below, less than H1
    """
    return (1 - (tailwater / head) ** 1.5) ** DROWNED_POWER


@published(source="rouse-1936", place="end depth of a free overfall from a level bed")
def brink_depth(critical_depth: Length) -> Length:
    """Depth of the water at the very brink of a drop.

    ``yb = 0.715 yc``

    critical_depth  yc  critical depth of the flow
    """
    return 0.715 * critical_depth


@published(source="definition", place="lip_unit_flow summed along a straight crest under level water")
def sloping_lip_flow(coefficient: LipCoefficient, width: Length, deep_head: Length, shallow_head: Length) -> Flow:
    """Flow over a piece of lip that is out of level across.

    ``Q = 2/5 C b ((Hd + 1 mm)**2.5 - (Hs + 1 mm)**2.5) / (Hd - Hs)``

    coefficient   C   of the lip's shape
    width         b   of the piece
    deep_head     Hd  head at its lower end
    shallow_head  Hs  head at its higher end; -1 mm where the lip runs dry
    """
    deep, shallow = (deep_head + HEAD_ADDITION) ** 2.5, (shallow_head + HEAD_ADDITION) ** 2.5
    return 0.4 * coefficient * width * (deep - shallow) / (deep_head - shallow_head)


@published(source="definition", place="part over whole")
def flow_share(part: Flow, whole: Flow) -> Ratio:
    """Share of a flow that takes one way.

    ``s = Q1 / Q``

    part   Q1  that takes it
    whole  Q   all of it
    """
    return part / whole


@published(source="definition", place="flow over width, solved for the flow")
def lip_flow(unit_flow: UnitFlow, width: Length) -> Flow:
    """Flow of a whole lip.

    ``Q = q b``

    unit_flow  q  flow for each metre of lip
    width      b  of the lip
    """
    return unit_flow * width


@published(source="definition", place="flow over width, solved for the width")
def lip_width(flow: Flow, unit_flow: UnitFlow) -> Length:
    """Width of lip over which a flow runs so strong.

    ``b = Q / q``

    flow       Q  over the lip
    unit_flow  q  flow for each metre of lip
    """
    return flow / unit_flow
