"""Water that comes and goes: what decides how a wave runs down a course."""

from beckwright.base.published import published
from beckwright.base.quantities import Length, Ratio


@published(source="woolhiser-liggett-1967", place="kinematic flow number")
def kinematic_wave_number(slope: Ratio, length: Length, depth: Length, froude: Ratio) -> Ratio:
    """How far the weight of the water along the bed rules over its inertia; above 20 inertia may be left out.

    ``k = S L / (h F**2)``

    slope   S  fall along the bed
    length  L  of the run
    depth   h  of the uniform flow
    froude  F  Froude number of the uniform flow
    """
    return slope * length / (depth * froude**2)
