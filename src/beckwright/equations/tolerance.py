"""What small errors of different origin come to together."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Length, Ratio


@published(source="jcgm-100", place="5.1.2, equation 10, sensitivities 1: the errors have different origins")
def combined_tolerance(survey: Length, dig: Length, stone: Length, settlement: Length) -> Length:
    """How far a level may be off when each of its parts may be off.

    ``t = (ts**2 + td**2 + tb**2 + tf**2)**0.5``

    survey      ts  of the levels surveyed
    dig         td  of the levels dug
    stone       tb  of the stones bedded
    settlement  tf  of how far the fill sinks
    """
    return np.sqrt(survey**2 + dig**2 + stone**2 + settlement**2)


@published(source="definition", place="share of its depth that fill loses, beyond what was allowed for")
def settling_doubt(fill: Length, greatest: Ratio, allowed: Ratio) -> Length:
    """How much farther fill may sink than was allowed for.

    ``tf = h max(s2 - s, 0)``

    fill      h   depth of the fill
    greatest  s2  largest share of its depth that such fill loses
    allowed   s   share that was allowed for
    """
    return fill * np.maximum(greatest - allowed, 0.0)
