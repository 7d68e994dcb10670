"""Planting: pockets along the course and what grows in them."""

from typing import Literal

from beckwright.base.quantities import Length, Ratio
from beckwright.base.values import value

Light = Literal["sun", "part shade", "shade"]
Pattern = Literal["triangles", "squares"]
Place = Literal["England", "Wales", "Scotland", "Northern Ireland", "European Union", "USA"]
"""Whose lists of invasive plants hold."""


@value
class PlantShare:
    """A plant and its share of a pocket's ground. ``spacing`` is None where the person leaves it to the table."""

    plant: str
    share: Ratio
    spacing: Length | None


@value
class Pocket:
    """A planting hole along one side of the course.

    start, end  chainages
    inside      of the lining: its soil is watered by the stream; outside it is ordinary soil
    gap         from the edge of the bed outwards where inside (below 0 it stands in the channel), from the edge of the
                lining outwards where outside, to the near side of the pocket
    above_bed   height of its soil over the bed; None where nobody said
    soil        depth of soil put in; None for what the house puts in
    """

    name: str
    start: Length
    end: Length
    side: Literal["left", "right"]
    inside: bool
    gap: Length
    width: Length
    above_bed: Length | None
    soil: Length | None
    light: Light
    plants: tuple[PlantShare, ...]


@value
class PlantingWork:
    """How the whole job is planted. ``loss`` is the share ordered beyond what is planted."""

    pattern: Pattern
    loss: Ratio
    place: Place
    pockets: tuple[Pocket, ...]
