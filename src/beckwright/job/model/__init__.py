"""A job in SI: what the person gave, converted once and never changed. The stages read it and nothing else."""

from beckwright.base.values import value
from beckwright.job.model.course import (
    BedMakeUp,
    Course,
    Edge,
    Laid,
    Layers,
    LipKind,
    MeasuredEdges,
    NamedFlow,
    Pool,
    Reach,
    Run,
    Source,
    Step,
)
from beckwright.job.model.electrics import ElectricsWork, Insulation, Light, ViewPoint
from beckwright.job.model.ground import Earthworks, Foundation, Holds, Mark, Placed, Runoff, Tolerances, WishedHeap
from beckwright.job.model.lining import Join, LiningWork
from beckwright.job.model.money import (
    GroundKnown,
    Group,
    Measure,
    MoneyTerms,
    PriceRow,
    QuotedRow,
    Sold,
    Three,
)
from beckwright.job.model.people import Person
from beckwright.job.model.planting import PlantingWork, PlantShare, Pocket
from beckwright.job.model.programme import Crew, Machine, OwnTask, WorkForce
from beckwright.job.model.season import SeasonWork, Weather
from beckwright.job.model.site import Boundary, Climate, Datum, Service, Site, Survey, Title, Tree
from beckwright.job.model.stonework import Chamber, ChartOf, Joint, StoneWork
from beckwright.job.model.works import (
    FillKind,
    Hose,
    HoseRoute,
    Load,
    Materials,
    Prices,
    Pump,
    PumpSet,
    Reservoir,
    Running,
    WallKind,
)

__all__ = [
    "BedMakeUp",
    "Boundary",
    "Chamber",
    "ChartOf",
    "Climate",
    "Course",
    "Crew",
    "Datum",
    "Earthworks",
    "Edge",
    "ElectricsWork",
    "FillKind",
    "Foundation",
    "GroundKnown",
    "Group",
    "Holds",
    "Hose",
    "HoseRoute",
    "Insulation",
    "Job",
    "Join",
    "Joint",
    "Laid",
    "Layers",
    "Light",
    "LiningWork",
    "LipKind",
    "Load",
    "Machine",
    "Mark",
    "Materials",
    "Measure",
    "MeasuredEdges",
    "MoneyTerms",
    "NamedFlow",
    "OwnTask",
    "Person",
    "Placed",
    "PlantShare",
    "PlantingWork",
    "Pocket",
    "Pool",
    "PriceRow",
    "Prices",
    "Pump",
    "PumpSet",
    "QuotedRow",
    "Reach",
    "Reservoir",
    "Run",
    "Running",
    "Runoff",
    "SeasonWork",
    "Service",
    "Site",
    "Sold",
    "Source",
    "Step",
    "StoneWork",
    "Survey",
    "Three",
    "Title",
    "Tolerances",
    "Tree",
    "ViewPoint",
    "WallKind",
    "Weather",
    "WishedHeap",
    "WorkForce",
]


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
    lining: LiningWork
    flows: tuple[NamedFlow, ...]
    reservoir: Reservoir
    chamber: Chamber
    route: HoseRoute
    pumps: PumpSet
    running: tuple[Running, ...]
    prices: Prices
    money: MoneyTerms
    price_list: tuple[PriceRow, ...]
    quote: tuple[QuotedRow, ...]
    climate: Climate | None
    season: SeasonWork
    people: tuple[Person, ...]
    materials: Materials
    stonework: StoneWork
    earthworks: Earthworks
    tolerances: Tolerances
    force: WorkForce
    own_tasks: tuple[OwnTask, ...]
    planting: PlantingWork
    electrics: ElectricsWork | None
    """None where the job says nothing about it."""
    water_temperature: float
    """Degrees Celsius."""
    doubts: tuple[str, ...]
    """Keys of the job that nobody has measured yet: the doubt list."""
    weather: Weather | None = None
    """Days of real years; None where the months of the climate must do."""
