"""How the lining and the fleece are sold, joined and laid."""

from typing import Literal

from beckwright.base.quantities import Length, Ratio
from beckwright.base.values import value

Join = Literal["bonded", "loose"]


@value
class LiningWork:
    """What is on offer, and how it is laid.

    rolls         widths on offer, narrowest first; empty where nobody asked
    roll_length   longest piece a roll gives; None where it never ends
    join          how sheets meet: bonded, or loose with the upper one lying over the lower
    seam_counts   area of sheet that a metre of bonded seam counts as when plans are compared, m2 for each m
    gathered      most of a bank's length that may be taken up in pleats rather than cut away
    under_box     whether the sheet runs on under the outlet box
    fleece_rolls  widths of fleece on offer
    """

    rolls: tuple[Length, ...]
    roll_length: Length | None
    join: Join
    seam_counts: Length
    gathered: Ratio
    under_box: bool
    fleece_rolls: tuple[Length, ...]
