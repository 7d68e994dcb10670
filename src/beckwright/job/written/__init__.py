"""job.toml as a person writes it: every key with its meaning, its unit and the bounds a sane job keeps within."""

from typing import Annotated

from pydantic import Field

from beckwright.job.written.course import BedWritten, CourseWritten, LayersWritten, SourceWritten
from beckwright.job.written.fields import Name, Section, told
from beckwright.job.written.site import (
    BoundaryWritten,
    ClimateWritten,
    DatumWritten,
    ServiceWritten,
    SiteWritten,
    TitleWritten,
    TreeWritten,
)
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
    climate: ClimateWritten = told("which rows of climate.csv hold here", default=ClimateWritten())
    source: SourceWritten = told("the outlet box at the top")
    course: CourseWritten = told("the stream from the source to the reservoir")
    beds: dict[Name, BedWritten] = told("make-ups of the bed by name", min_length=1, max_length=50)
    layers: LayersWritten = told("what lies between the stones and the dug ground")
    flows: dict[Name, LitresPerHour] = told(
        "flows by name, in the order they should be shown",
        min_length=1,
        max_length=20,
        json_schema_extra={"unit": "l/h"},
    )
    reservoir: ReservoirWritten = told("the covered pit")
    hose: HoseWritten = told("how the water gets back up")
    pump: PumpWritten = told("which pump, and how many side by side")
    running: list[RunningWritten] = told("how long each flow runs", default=[], max_length=100)
    prices: PricesWritten = told("what the person pays")
    materials: MaterialsWritten = told("weights the quantities need")
