"""The works: reservoir, hose, pump, running, prices, materials."""

from typing import Literal

from beckwright.base.quantities import Density as DensityOf
from beckwright.base.quantities import (
    Duration,
    Flows,
    Length,
    Lengths,
    Level,
    Money,
    MoneyPerEnergy,
    Pressure,
    Ratio,
    UnitWeight,
)
from beckwright.base.quantities import Force as ForceOf
from beckwright.base.values import value

FillKind = Literal["crates", "stones", "open"]
WallKind = Literal["smooth", "spiral", "corrugated"]


@value
class Load:
    """Something that may stand on the cover. ``contact`` is the patch of one wheel or foot."""

    name: str
    force: ForceOf
    contact: tuple[Length, Length]
    dynamic: Ratio


@value
class Reservoir:
    """The covered pit.

    Levels: ``cover`` is the finished top; ``overflow`` the invert of its pipe; ``rested`` the level with the pump off.
    ``turned`` is radians anticlockwise from east to the length; the fill lies under the cover, the sump under the fill.
    """

    cover: Level
    centre: tuple[Length, Length]
    length: Length
    width: Length
    turned: float
    fill: FillKind
    fill_depth: Length
    voids: Ratio
    cover_depth: Length
    cover_voids: Ratio
    cover_weight: UnitWeight
    sump: Length
    pump_depth: Length
    overflow: Level
    overflow_bore: Length
    overflow_to: str
    rested: Level
    crate: tuple[Length, Length, Length] | None
    crate_weight: UnitWeight
    strength_vertical: Pressure | None
    strength_long_term: Pressure | None
    strength_lateral: Pressure | None
    loads: tuple[Load, ...]


@value
class Hose:
    """A hose or pipe on offer: its true bore, not its name."""

    name: str
    bore: Length
    roughness: Length
    wall: WallKind
    loss_factor: Ratio
    price_per_length: float | None


@value
class HoseRoute:
    """How the hose runs. ``fittings`` are (name, how many) of rows in ``tables/fittings.py``; ``line`` is its plan."""

    length: Length
    fittings: tuple[tuple[str, int], ...]
    line: tuple[tuple[Length, Length], ...]
    chosen: Hose
    offered: tuple[Hose, ...]


@value
class Pump:
    """A pump as its maker tabulates it: flow rising, head falling, watts drawn from the wall."""

    name: str
    flows: Flows
    heads: Lengths
    watts: Flows
    slowest: Ratio
    """Lowest share of full speed; 1 for a pump without speed control."""


@value
class PumpSet:
    """The pump chosen, how many run side by side, and all that are on offer."""

    chosen: Pump
    together: int
    offered: tuple[Pump, ...]


@value
class Running:
    """How long a named flow runs in a year."""

    flow: str
    time: Duration
    when: str


@value
class Prices:
    """What the person pays. None where nobody said: a price is never assumed."""

    currency: str
    energy: MoneyPerEnergy | None
    energy_source: str
    running_limit: Money | None


@value
class Materials:
    """Weights the quantities need."""

    stone: DensityOf
    edge_stone_per_bank: float
    """Mass of edge stone for each metre of bank, kg/m."""
    edge_stone_sizes: tuple[Length, Length]
