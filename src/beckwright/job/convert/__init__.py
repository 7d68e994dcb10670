"""From the job as written to the Job in SI. Arithmetic only: everything has been checked before."""

from beckwright.job.convert.course import (
    beds_from,
    course_from,
    layers_from,
    line_length,
    reach_lengths,
    reach_names,
    source_from,
)
from beckwright.job.convert.electrics import electrics_from
from beckwright.job.convert.ground import earthworks_from, tolerances_from
from beckwright.job.convert.lining import lining_from
from beckwright.job.convert.money import money_from
from beckwright.job.convert.people import people_from
from beckwright.job.convert.planting import planting_from
from beckwright.job.convert.programme import force_from
from beckwright.job.convert.season import season_from
from beckwright.job.convert.site import site_from, title_from
from beckwright.job.convert.stonework import chamber_from, stonework_from
from beckwright.job.convert.works import (
    fill_depth_mm,
    materials_from,
    prices_from,
    pumps_from,
    reservoir_from,
    route_from,
    running_from,
)
from beckwright.job.model import (
    Climate,
    Datum,
    Hose,
    Job,
    MeasuredEdges,
    NamedFlow,
    OwnTask,
    PriceRow,
    Pump,
    QuotedRow,
    Survey,
    Weather,
)
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.job.written import Written

__all__ = ["fill_depth_mm", "job_from", "line_length", "reach_lengths", "reach_names"]


def job_from(
    written: Written,
    *,
    survey: Survey,
    pumps: tuple[Pump, ...],
    hoses: tuple[Hose, ...],
    climate: Climate | None,
    edges: MeasuredEdges | None,
    own_tasks: tuple[OwnTask, ...],
    price_list: tuple[PriceRow, ...],
    quote: tuple[QuotedRow, ...],
    weather: Weather | None = None,
) -> Job:
    """Turn a checked job into SI."""
    return Job(
        title=title_from(written),
        datum=Datum(name=written.datum.name, level=written.datum.level_m),
        site=site_from(written),
        survey=survey,
        source=source_from(written.source),
        course=course_from(written.course, beds_from(written.beds), edges),
        layers=layers_from(written),
        lining=lining_from(written),
        flows=tuple(NamedFlow(name=name, flow=flow * LITRE_PER_HOUR) for name, flow in written.flows.items()),
        reservoir=reservoir_from(written.reservoir),
        chamber=chamber_from(written),
        route=route_from(written.hose, hoses),
        pumps=pumps_from(written.pump, pumps),
        running=running_from(written),
        prices=prices_from(written.prices),
        money=money_from(written),
        price_list=price_list,
        quote=quote,
        climate=climate,
        weather=weather,
        season=season_from(written),
        people=people_from(written),
        materials=materials_from(written),
        stonework=stonework_from(written),
        earthworks=earthworks_from(written),
        tolerances=tolerances_from(written),
        force=force_from(written),
        own_tasks=own_tasks,
        planting=planting_from(written),
        electrics=electrics_from(written),
        water_temperature=written.climate.water_temperature_c,
        doubts=tuple(written.job.doubts),
    )
