"""A job in SI: what the person gave, converted once and never changed. The stages read it and nothing else."""

from typing import Literal

from beckwright.base.quantities import Density as DensityOf
from beckwright.base.quantities import (
    Duration,
    Flow,
    Flows,
    Length,
    Lengths,
    Level,
    Levels,
    MassPerArea,
    Money,
    MoneyPerEnergy,
    Points,
    Pressure,
    Ratio,
    UnitWeight,
)
from beckwright.base.quantities import Force as ForceOf
from beckwright.base.values import value

Laid = Literal["loose", "bedded flat", "with boulders", "smooth"]
LipKind = Literal["sharp edge", "flat slab", "round edge", "boulders"]
FillKind = Literal["crates", "stones", "open"]
WallKind = Literal["smooth", "spiral", "corrugated"]


@value
class Title:
    """What the sheets say about the job itself."""

    name: str
    client: str
    revision: str
    date: str
    drawn_by: str
    invented: bool


@value
class Datum:
    """The one fixed mark all levels are told from."""

    name: str
    level: Level


@value
class Survey:
    """Points shot on the ground: ``points`` (n, 2), ``levels`` (n,), and ``breaklines`` as rows of point numbers."""

    points: Points
    levels: Levels
    codes: tuple[str, ...]
    breaklines: tuple[tuple[int, ...], ...]


@value
class Tree:
    """A tree with the diameters of its stems at 1.5 m above ground."""

    name: str
    species: str
    at: tuple[Length, Length]
    stems: tuple[Length, ...]
    protected: bool


@value
class Service:
    """A pipe or cable in the ground. ``depth`` is to its top; None where nobody knows."""

    name: str
    kind: str
    line: tuple[tuple[Length, Length], ...]
    depth: Length | None
    clearance: Length
    note: str


@value
class Boundary:
    """A fence, wall or building line that the works keep off. ``damp_proof`` is a damp-proof course level or None."""

    name: str
    line: tuple[tuple[Length, Length], ...]
    clearance: Length
    damp_proof: Level | None


@value
class Site:
    """The ground and what stands in it."""

    soil: str
    topsoil: Length
    groundwater_winter: Length | None
    groundwater_summer: Length | None
    access_width: Length
    trees: tuple[Tree, ...]
    services: tuple[Service, ...]
    boundaries: tuple[Boundary, ...]
    notes: tuple[str, ...]


@value
class BedMakeUp:
    """Stones over the lining. ``size`` is the smallest and largest stone as sold; ``depth`` 0 is a bare face.

    manning  roughness if the person insists on one, else None
    """

    name: str
    depth: Length
    size: tuple[Length, Length]
    voids: Ratio
    retained: Ratio
    laid: Laid
    manning: float | None


@value
class Run:
    """A sloping stony stretch. ``sills`` are distances from its head where hidden water is forced up."""

    name: str
    length: Length
    fall: Length
    width: Length
    bed: BedMakeUp
    sills: tuple[Length, ...]


@value
class Step:
    """A drop over a lip."""

    name: str
    drop: Length
    lip_width: Length
    lip: LipKind


@value
class Pool:
    """Standing water; its bed level is the rim it spills over, its floor lies ``depth`` below."""

    name: str
    length: Length
    width: Length
    depth: Length


Reach = Run | Step | Pool


@value
class Edge:
    """Height of the lining's edge above the bed, one side of one stretch of the course."""

    start: Length
    end: Length
    side: Literal["left", "right", "both"]
    above_bed: Length


@value
class MeasuredEdges:
    """Edge levels shot on site, by chainage: they stand in place of the designed ones."""

    chainages: Lengths
    left: Levels
    right: Levels


@value
class Course:
    """The stream from source to reservoir.

    line       the designer's points, source first, shape (n, 2)
    reaches    runs, steps and pools in order downstream
    end        level of the bed at the lower end as the person gave it, or None
    side_slope horizontal for each 1 up of the channel's sides
    """

    line: Points
    reaches: tuple[Reach, ...]
    end: Level | None
    side_slope: Ratio
    edge_above_bed: Length
    edges: tuple[Edge, ...]
    measured_edges: MeasuredEdges | None
    freeboard_wanted: Length
    settlement: Ratio


@value
class Source:
    """The outlet box at the top."""

    lip_level: Level
    lip_width: Length
    lip: LipKind
    box_depth: Length
    box_length: Length
    hose_outlet: Level


@value
class Layers:
    """What lies between the stones and the dug ground, from the top: fleece, lining, fleece, blinding."""

    fleece_over: Length
    lining: Length
    fleece_under: Length
    blinding: Length
    lining_mass: MassPerArea
    edge_allowance: Length
    lap: Length


@value
class NamedFlow:
    """A flow the designer named."""

    name: str
    flow: Flow


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
class Climate:
    """Twelve months, January first: rain and open-water evaporation as depth in the month."""

    station: str
    rain: Lengths
    evaporation: Lengths


@value
class Materials:
    """Weights the quantities need."""

    stone: DensityOf
    edge_stone_per_bank: float
    """Mass of edge stone for each metre of bank, kg/m."""
    edge_stone_sizes: tuple[Length, Length]


@value
class Job:
    """Everything a person gave about one stream."""

    title: Title
    datum: Datum
    site: Site
    survey: Survey
    source: Source
    course: Course
    layers: Layers
    flows: tuple[NamedFlow, ...]
    reservoir: Reservoir
    route: HoseRoute
    pumps: PumpSet
    running: tuple[Running, ...]
    prices: Prices
    climate: Climate | None
    materials: Materials
    water_temperature: float
    """Degrees Celsius."""
    doubts: tuple[str, ...]
    """Keys of the job that nobody has measured yet: the doubt list."""
