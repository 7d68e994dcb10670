"""What planting comes to."""

from beckwright.base.quantities import Angle, Area, Length, Points, Ratio, Volume
from beckwright.base.values import value
from beckwright.job.model.planting import Pattern, Place, Pocket
from beckwright.stages.planting.names import Named
from beckwright.tables.plants import Zone


@value
class Planted:
    """One plant in one pocket.

    area     of ground it covers
    spacing  given, else the table's; None where neither is known
    covers   plants that cover the ground; 0 without a spacing
    number   to order, whole plants; ``low`` with no losses, ``high`` with the most the trade reckons with
    """

    named: Named
    share: Ratio
    area: Area
    spacing: Length | None
    covers: Ratio
    number: int
    low: int
    high: int


@value
class PlacedPocket:
    """One pocket in its place.

    letter      on the planting plan
    near, far   (n, 2) its two sides on the site, downstream
    outline     (m, 2) round the ground it takes: where a bend folds a side, that ground once
    plan        area seen from above; ``ground`` along the slope
    round_it    length of its outline
    over_water  soil over the running water at the usual flow, middle of the band; None outside the lining
    from_water  near side from the edge of the running water at the largest flow; None outside, below 0 in it
    from_lining nearest lining, stream or pit; 0 inside
    beyond      how far it reaches past the edge of the lining as drawn; 0 outside
    reach       into the channel; 0 where it keeps out
    roots       names of trees whose root circle it enters
    """

    pocket: Pocket
    letter: str
    near: Points
    far: Points
    outline: Points
    plan: Area
    slope: Angle
    surveyed: bool
    ground: Area
    round_it: Length
    zone: Zone
    over_water: Length | None
    from_water: Length | None
    from_lining: Length
    beyond: Length
    reach: Length
    soil_depth: Length
    soil: Volume
    fleece: Area
    roots: tuple[str, ...]
    plants: tuple[Planted, ...]


@value
class Choked:
    """What the pockets that stand in the channel do to one run, at the largest flow and the high end of the band.

    letters  of the pockets
    share    of the bed's width closed where they close most
    rise     of the water where it is most, ``left`` the least freeboard of either settled edge of the run
    keeps    largest share at which the freeboard wanted still stands; 0 where it does not stand even without plants
    """

    run: str
    width: Length
    span: tuple[Length, Length]
    letters: tuple[str, ...]
    flow: str
    share: Ratio
    rise: Length
    left: Length
    wanted: Length
    keeps: Ratio


@value
class Ordered:
    """One plant over all pockets. ``spacings`` are those used, least first."""

    named: Named
    letters: tuple[str, ...]
    area: Area
    spacings: tuple[Length, ...]
    number: int
    low: int
    high: int


@value
class Planting:
    """All pockets of a job.

    usual   flow that runs longest in a year: soil is as wet as it leaves it
    over    pairs of pockets that lie on one another, and by how much
    in_pools  letters of pockets that stand in a pool
    """

    place: Place
    pattern: Pattern
    loss: Ratio
    usual: str
    pockets: tuple[PlacedPocket, ...]
    choked: tuple[Choked, ...]
    in_pools: tuple[str, ...]
    over: tuple[tuple[str, str, Area], ...]
    orders: tuple[Ordered, ...]

    @property
    def soil(self) -> Volume:
        """Soil put into pockets inside the lining."""
        return sum(each.soil for each in self.pockets if each.pocket.inside)

    @property
    def compost(self) -> Volume:
        """Compost dug into pockets outside the lining."""
        return sum(each.soil for each in self.pockets if not each.pocket.inside)

    @property
    def fleece(self) -> Area:
        """Barrier fleece under and round the soil inside the lining."""
        return sum(each.fleece for each in self.pockets)
