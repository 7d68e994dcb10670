"""What the stone comes to: masses as bands with the reasons for them, lifts, loads, joints."""

from typing import Literal

from beckwright.base.quantities import Area, Length, Mass, Volume
from beckwright.base.values import value
from beckwright.job.model import Joint, LipKind

Sizes = tuple[Length, Length, Length]
"""Longest, middle and shortest size of one stone."""

By = Literal["one person", "a team", "the machine", "nobody can tell", "nothing told"]
"""What lifts a stone: ``nobody can tell`` without a lift chart, ``nothing told`` where all that is told is too weak."""


@value
class Tonnage:
    """Stone of one class. ``likely`` is what is ordered; ``reasons`` are why it may come to ``low`` or ``high``."""

    likely: Mass
    low: Mass
    high: Mass
    reasons: tuple[str, ...]


@value
class EdgeStone:
    """Edge stone on both banks.

    told    at the mass for each metre that the person gave; None where they gave none
    worked  from the courses' height, depth and voids; None without courses
    ends    of ``worked``, for the voids the trade sees
    """

    bank: Length
    told: Mass | None
    worked: Mass | None
    ends: tuple[Mass, Mass]
    order: Tonnage


@value
class BedStone:
    """Stone of one bed make-up. ``area`` along the slope, pools' floors included; ``drawn`` without waste."""

    name: str
    depth: Length
    runs: Area
    pools: Area
    volume: Volume
    drawn: Mass
    order: Tonnage


@value
class LipStone:
    """One lip stone: along the lip, along the stream, thickness."""

    name: str
    kind: LipKind
    chainage: Length
    size: Sizes
    mass: Mass


@value
class FixedStones:
    """Stones that a place wants larger than its bed, or fixed: one layer of them.

    size  (low, high) that stays; ``each`` their masses; ``count`` at the high end's size
    """

    place: str
    span: tuple[Length, Length]
    area: Area
    size: tuple[Length, Length]
    each: tuple[Mass, Mass]
    count: int
    order: Tonnage


@value
class ToLift:
    """One kind of heavy stone and what lifts it.

    reach    from the machine's middle, worked from the nearer bank; None where nobody said how wide the machine is
    machine  what it lifts there; None without a chart; 0 out of its chart's reach or of its bucket's
    people   of a team that lift it by the filter; None where no team does
    """

    what: str
    mass: Mass
    count: int
    reach: Length | None
    machine: Mass | None
    people: int | None
    by: By


@value
class Bases:
    """Stones heavy enough for a base of their own, and what the bases take."""

    count: int
    volume: Volume


@value
class JointAt:
    """A joint and where: behind and beside a lip, or across the sills of a run.

    name   of the lip or the run
    at     chainage of the lip, or of each sill
    """

    name: str
    at: tuple[Length, ...]
    length: Length


@value
class Joints:
    """Joints that steer the water: behind and beside lips, and across sills."""

    kind: Joint
    at_lips: tuple[JointAt, ...]
    at_sills: tuple[JointAt, ...]
    fills: Length
    containers: tuple[int, int, int]

    @property
    def lips(self) -> Length:
        """Those of all lips together."""
        return sum(each.length for each in self.at_lips)

    @property
    def sills(self) -> Length:
        """Those of all sills together."""
        return sum(each.length for each in self.at_sills)

    @property
    def length(self) -> Length:
        """All of them."""
        return self.lips + self.sills


@value
class Delivery:
    """How it comes. Low, likely, high; ``loads`` of a lorry is None where nobody said what one brings."""

    lorry: Mass | None
    loads: tuple[int, int, int] | None
    bag: Mass
    bags: tuple[int, int, int]


@value
class RuleSeen:
    """What a rule of thumb makes of the length of this stream."""

    name: str
    per_metre: tuple[float, float]
    mass: tuple[Mass, Mass]


@value
class Stonework:
    """All stone. ``total`` is the sum of ``edge``, ``beds``, ``lips``, ``cheeks`` and ``fixed``.

    cheek    sizes of the stone on each side of each lip; None, no mass and no number where there are none
    lifts    every kind of stone that is set singly, the heaviest first
    rules    beside it, never in it
    by_hand  team, and what it lifts by the filter for women and for men
    """

    edge: EdgeStone
    beds: tuple[BedStone, ...]
    lips: tuple[LipStone, ...]
    lip_order: Tonnage
    cheek: Sizes | None
    cheek_mass: Mass
    cheeks: int
    cheek_order: Tonnage
    fixed: tuple[FixedStones, ...]
    total: Tonnage
    lifts: tuple[ToLift, ...]
    bases: Bases
    joints: Joints
    delivery: Delivery
    rules: tuple[RuleSeen, ...]
    by_hand: tuple[tuple[int, Mass, Mass], ...]
