"""How stone is set, lifted and brought; and the chamber that the pump stands in."""

from typing import Literal

from beckwright.base.quantities import Area, Length, Ratio
from beckwright.base.quantities import Mass as MassOf
from beckwright.base.values import value

Joint = Literal["foam", "mortar"]
ChartOf = Literal["rated", "tipping", "hydraulic"]


@value
class StoneWork:
    """How stone is set, lifted and brought.

    courses      of edge stone one upon the other on each bank; 0 for none
    depth        of a course from the water's side to its back
    voids        between the stones of a course
    shape        share of a boulder's box that is stone
    lip          bearing under each cheek, depth along the stream, thickness of a lip stone
    cheek        longest, middle and shortest size of a stone beside a lip; None where there are none
    pools_bed    bed make-up that covers the floors of pools; None leaves them bare
    on_cover     three sizes of the heaviest stone that stands on the reservoir's cover; None where none was told
    lorry        what one lorry of stone brings; None where nobody said
    joint_fills  joint that one container fills
    chart        reach and mass of the machine that sets stone, nearest first; empty where nobody asked
    chart_of     whether the chart gives rated loads, loads that tip it, or loads its cylinders hold
    gear         bucket, hitch, chains and sling on the arm
    """

    courses: int
    height: Length
    depth: Length
    voids: Ratio
    shape: Ratio
    lip: tuple[Length, Length, Length]
    cheek: tuple[Length, Length, Length] | None
    pools_bed: str | None
    on_cover: tuple[Length, Length, Length] | None
    waste: Ratio
    lorry: MassOf | None
    bag: MassOf
    joint: Joint
    joint_fills: Length
    chart: tuple[tuple[Length, MassOf], ...]
    chart_of: ChartOf
    gear: MassOf


@value
class Chamber:
    """The lidded shaft that holds the pump. None where nobody said.

    inside     two sides, or its bore twice
    wall       thickness
    pump       length, width and height of the pump
    slots      area of all slots under water
    lid        mass of the whole lid, and of how many pieces it is
    lid_bears  what the lid and its grille were told to bear
    locked     whether the lid locks
    grille     whether a grille lies under the lid
    lifts_out  whether the pump comes out by its rope with nobody climbing in
    """

    inside: tuple[Length, Length] | None
    wall: Length
    pump: tuple[Length, Length, Length] | None
    slots: Area | None
    lid: MassOf | None
    lid_pieces: int
    lid_bears: MassOf | None
    locked: bool | None
    grille: bool | None
    lifts_out: bool | None
