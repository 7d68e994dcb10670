"""job.toml as a person writes it: every key with its meaning, its unit and the bounds a sane job keeps within."""

from functools import cache
from typing import Annotated, Any

from pydantic import Field, ValidationError

from beckwright.base.lately import lately
from beckwright.job.written.course import BedWritten, CourseWritten, LayersWritten, SourceWritten
from beckwright.job.written.electrics import ElectricsWritten, LightWritten, ViewWritten
from beckwright.job.written.fields import Name, Section, told
from beckwright.job.written.ground import (
    EarthworksWritten,
    FoundationWritten,
    HeapWritten,
    MarkWritten,
    RunoffWritten,
    TolerancesWritten,
)
from beckwright.job.written.lining import LiningWritten
from beckwright.job.written.money import MoneyWritten
from beckwright.job.written.people import PersonWritten
from beckwright.job.written.planting import PlantingWritten, PocketWritten
from beckwright.job.written.programme import ProgrammeWritten
from beckwright.job.written.season import SeasonWritten
from beckwright.job.written.site import (
    BoundaryWritten,
    ClimateWritten,
    DatumWritten,
    ServiceWritten,
    SiteWritten,
    TitleWritten,
    TreeWritten,
)
from beckwright.job.written.stonework import ChamberWritten, StoneWorkWritten
from beckwright.job.written.works import (
    HoseWritten,
    MaterialsWritten,
    PricesWritten,
    PumpWritten,
    ReservoirWritten,
    RunningWritten,
)

LitresPerHour = Annotated[float, Field(ge=1, le=1e6, json_schema_extra={"unit": "l/h"})]


class Written(Section):
    """A stream with a covered reservoir, as its designer writes it down."""

    job: TitleWritten = told("what the sheets say about the job")
    datum: DatumWritten = told("the one fixed mark all levels are told from")
    site: SiteWritten = told("the ground and the way to it")
    trees: list[TreeWritten] = told("trees that stay", default=[], max_length=500)
    services: list[ServiceWritten] = told("pipes and cables in the ground", default=[], max_length=200)
    boundaries: list[BoundaryWritten] = told("fences, walls and building lines", default=[], max_length=200)
    marks: list[MarkWritten] = told("fixed marks that tapes are held to", default=[], max_length=200)
    foundations: list[FoundationWritten] = told("footings that a dig could undermine", default=[], max_length=200)
    runoff: list[RunoffWritten] = told("where water was seen to run in rain", default=[], max_length=200)
    earthworks: EarthworksWritten = told("how the ground is dug and filled", default=EarthworksWritten())
    heaps: list[HeapWritten] = told("where heaps of soil are to lie", default=[], max_length=20)
    tolerances: TolerancesWritten = told("how far off each level may be", default=TolerancesWritten())
    programme: ProgrammeWritten = told("who does the work, and when", default=ProgrammeWritten())
    planting: PlantingWritten = told("how it is planted", default=PlantingWritten())
    pockets: list[PocketWritten] = told("planting holes along the course", default=[], max_length=200)
    climate: ClimateWritten = told("which rows of climate.csv hold here", default=ClimateWritten())
    season: SeasonWritten = told("when it runs, and where its water comes from", default=SeasonWritten())
    people: list[PersonWritten] = told("whom the owner rings", default=[], max_length=20)
    source: SourceWritten = told("the outlet box at the top")
    course: CourseWritten = told("the stream from the source to the reservoir")
    beds: dict[Name, BedWritten] = told("make-ups of the bed by name", min_length=1, max_length=50)
    layers: LayersWritten = told("what lies between the stones and the dug ground")
    lining: LiningWritten = told("how the lining is sold, joined and laid", default=LiningWritten())
    flows: dict[Name, LitresPerHour] = told(
        "flows by name, in the order they should be shown",
        min_length=1,
        max_length=20,
        json_schema_extra={"unit": "l/h"},
    )
    reservoir: ReservoirWritten = told("the covered pit")
    chamber: ChamberWritten = told("the lidded shaft that holds the pump", default=ChamberWritten())
    hose: HoseWritten = told("how the water gets back up")
    pump: PumpWritten = told("which pump, and how many side by side")
    running: list[RunningWritten] = told("how long each flow runs", default=[], max_length=100)
    electrics: ElectricsWritten | None = told("the supply to pump and lights", default=None)
    lights: list[LightWritten] = told("lamps, in the order of their cable", default=[], max_length=100)
    views: list[ViewWritten] = told("places that should see no lamp", default=[], max_length=50)
    prices: PricesWritten = told("what the person pays")
    money: MoneyWritten = told("how the sums are made", default=MoneyWritten())
    materials: MaterialsWritten = told("weights the quantities need")
    stonework: StoneWorkWritten = told("how stone is set, lifted and brought", default=StoneWorkWritten())


@lately
def held_to_form(given: dict[str, Any]) -> Written | ValidationError:
    """What a parsed job.toml says, or all that breaks its form; worked out once of the same parsed text."""
    try:
        return Written.model_validate(given)
    except ValidationError as error:
        return error


@cache
def meanings() -> dict[str, Any]:
    """JSON Schema of job.toml: what each key means. Made once: it takes as long as twenty jobs to read."""
    return Written.model_json_schema()
