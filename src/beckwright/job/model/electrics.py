"""Electrics as told: where the supply comes from, how its cable runs, lights, and who looks at them."""

from typing import Literal

from beckwright.base.quantities import Angle, Length, Level, Power, Ratio
from beckwright.base.values import value

Insulation = Literal["PVC", "XLPE"]
"""Of the supply cable: 70 °C thermoplastic, or 90 °C thermosetting as in most armoured cable."""
Spot = tuple[Length, Length]


@value
class Light:
    """One lamp.

    at           None where it hangs at a lip; ``lip`` names that one
    across       along the lip from the middle of the stream, left positive
    height       over the ground, or over the crest of its lip: below 0 it sits under it
    aims         point it is turned to; None at a lip: down at the landing
    aims_height  of that point over the ground, or over the bed where it is in the stream
    beam         whole angle of its beam, to half its strength
    hood         angle off the axis from which its face cannot be seen
    cable        from the light before it, or from the transformer; None where nobody measured it
    """

    name: str
    power: Power
    voltage: float
    at: Spot | None
    lip: str | None
    across: Length
    height: Length
    aims: Spot | None
    aims_height: Length
    beam: Angle
    hood: Angle
    cable: Length | None


@value
class ViewPoint:
    """A place somebody looks from. ``ground`` is the level there; None where the survey tells it."""

    name: str
    at: Spot
    eye: Length
    ground: Level | None


@value
class ElectricsWork:
    """The supply and the lights. Sizes of cable are nominal, mm2: the name they are sold by.

    board         where the supply comes from, in words
    line          on plan, from the board to where the pump is connected; empty where nobody drew it
    length        measured along the route; None where the line tells it
    laid          whether the cable lies there already
    other         power of whatever else hangs on the cable
    connection    where pump and cable meet; None for the end of the line
    transformer   place of the transformer; None for the connection
    light_drop    share that may be lost to the last light
    transformers  ratings on offer, VA; empty for the usual ones
    """

    board: str
    line: tuple[Spot, ...]
    length: Length | None
    laid: bool
    phases: int
    voltage: float
    insulation: Insulation
    cable: float
    power_factor: Ratio
    other: Power
    cover: Length
    connection: Spot | None
    transformer: Spot | None
    light_cable: float
    light_drop: Ratio
    transformers: tuple[float, ...]
    lights: tuple[Light, ...]
    views: tuple[ViewPoint, ...]
