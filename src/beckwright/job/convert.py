"""From the job as written to the Job in SI. Arithmetic only: everything has been checked before."""

from collections.abc import Iterable, Mapping
from math import dist, radians
from typing import Any

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.job.model import (
    BedMakeUp,
    Boundary,
    Climate,
    Course,
    Datum,
    Edge,
    Hose,
    HoseRoute,
    Job,
    Layers,
    Load,
    Materials,
    MeasuredEdges,
    NamedFlow,
    Pool,
    Prices,
    Pump,
    PumpSet,
    Reach,
    Reservoir,
    Run,
    Running,
    Service,
    Site,
    Source,
    Step,
    Survey,
    Title,
    Tree,
)
from beckwright.job.units import HOUR, KILONEWTON, KILOPASCAL, KILOWATT_HOUR, LITRE_PER_HOUR, MILLIMETRE, PERCENT
from beckwright.job.written import Written
from beckwright.job.written.course import BedWritten, CourseWritten, PoolWritten, RunWritten, SourceWritten, StepWritten
from beckwright.job.written.site import BoundaryWritten, ServiceWritten, SiteWritten, TreeWritten
from beckwright.job.written.works import HoseWritten, LoadWritten, PricesWritten, PumpWritten, ReservoirWritten
from beckwright.tables.beds import RETAINED


def job_from(
    written: Written,
    *,
    survey: Survey,
    pumps: tuple[Pump, ...],
    hoses: tuple[Hose, ...],
    climate: Climate | None,
    edges: MeasuredEdges | None,
) -> Job:
    """Turn a checked job into SI."""
    return Job(
        title=_title(written),
        datum=Datum(name=written.datum.name, level=written.datum.level_m),
        site=_site(written.site, written.trees, written.services, written.boundaries),
        survey=survey,
        source=_source(written.source),
        course=_course(written.course, _beds(written.beds), edges),
        layers=_layers(written),
        flows=tuple(NamedFlow(name=name, flow=flow * LITRE_PER_HOUR) for name, flow in written.flows.items()),
        reservoir=_reservoir(written.reservoir),
        route=_route(written.hose, hoses),
        pumps=_pumps(written.pump, pumps),
        running=_running(written),
        prices=_prices(written.prices),
        climate=climate,
        materials=_materials(written),
        water_temperature=written.climate.water_temperature_c,
        doubts=tuple(written.job.doubts),
    )


def line_length(points: Iterable[tuple[float, float]]) -> float:
    """Return the length along the straight lines between points, m."""
    listed = list(points)
    return sum(map(dist, listed, listed[1:]))


def reach_lengths(course: CourseWritten) -> list[float]:
    """Return each reach's length, m: 0 for a step, and for a run that gives none what is left of the line."""
    given = [0.0 if isinstance(reach, StepWritten) else reach.length_m for reach in course.reaches]
    left = line_length(course.line_m) - sum(length for length in given if length is not None)
    return [left if length is None else length for length in given]


def reach_names(course: CourseWritten) -> list[str]:
    """Return each reach's name: its own, or run 1, lip 1, pool 1 in order."""
    words = {"run": "run", "step": "lip", "pool": "pool"}
    counts = dict.fromkeys(words, 0)
    names = []
    for reach in course.reaches:
        counts[reach.kind] += 1
        names.append(reach.name or f"{words[reach.kind]} {counts[reach.kind]}")
    return names


def fill_depth_mm(reservoir: ReservoirWritten) -> float:
    """Return the height of the fill, mm: as given, or layers of crates times the height of one; 0 when neither is."""
    if reservoir.depth_mm is not None:
        return reservoir.depth_mm
    return (reservoir.crate_layers or 0) * (reservoir.crate_mm[2] if reservoir.crate_mm else 0.0)


def _pair(sizes: tuple[float, float]) -> tuple[float, float]:
    return (sizes[0] * MILLIMETRE, sizes[1] * MILLIMETRE)


def _title(written: Written) -> Title:
    job = written.job
    return Title(
        name=job.title,
        client=job.client,
        revision=job.revision,
        date=job.date.isoformat(),
        drawn_by=job.drawn_by,
        invented=job.invented,
    )


def _site(
    site: SiteWritten, trees: list[TreeWritten], services: list[ServiceWritten], boundaries: list[BoundaryWritten]
) -> Site:
    return Site(
        soil=site.soil,
        topsoil=site.topsoil_mm * MILLIMETRE,
        groundwater_winter=site.groundwater_winter_m,
        groundwater_summer=site.groundwater_summer_m,
        access_width=site.access_width_m,
        trees=tuple(map(_tree, trees)),
        services=tuple(map(_service, services)),
        boundaries=tuple(map(_boundary, boundaries)),
        notes=tuple(site.notes),
    )


def _tree(tree: TreeWritten) -> Tree:
    stems = tree.stems_mm or [tree.stem_mm or 0.0]
    return Tree(
        name=tree.name,
        species=tree.species,
        at=(tree.x_m, tree.y_m),
        stems=tuple(stem * MILLIMETRE for stem in stems),
        protected=tree.protected,
    )


def _service(service: ServiceWritten) -> Service:
    return Service(
        name=service.name,
        kind=service.kind,
        line=tuple(service.line_m),
        depth=None if service.depth_mm is None else service.depth_mm * MILLIMETRE,
        clearance=service.clearance_mm * MILLIMETRE,
        note=service.note,
    )


def _boundary(boundary: BoundaryWritten) -> Boundary:
    return Boundary(
        name=boundary.name,
        line=tuple(boundary.line_m),
        clearance=boundary.clearance_mm * MILLIMETRE,
        damp_proof=boundary.damp_proof_level_m,
    )


def _source(source: SourceWritten) -> Source:
    return Source(
        lip_level=source.lip_level_m,
        lip_width=source.lip_width_mm * MILLIMETRE,
        lip=source.lip,
        box_depth=source.box_depth_mm * MILLIMETRE,
        box_length=source.box_length_mm * MILLIMETRE,
        hose_outlet=source.lip_level_m + source.hose_outlet_above_lip_mm * MILLIMETRE,
    )


def _beds(beds: Mapping[str, BedWritten]) -> dict[str, BedMakeUp]:
    return {name: _bed(name, bed) for name, bed in beds.items()}


def _bed(name: str, bed: BedWritten) -> BedMakeUp:
    return BedMakeUp(
        name=name,
        depth=bed.depth_mm * MILLIMETRE,
        size=_pair(bed.size_mm),
        voids=bed.voids,
        retained=RETAINED.amount if bed.retained is None else bed.retained,
        laid=bed.laid,
        manning=bed.manning_n,
    )


def _course(course: CourseWritten, beds: dict[str, BedMakeUp], measured: MeasuredEdges | None) -> Course:
    rows = zip(course.reaches, reach_names(course), reach_lengths(course), strict=True)
    return Course(
        line=np.array(course.line_m, dtype=float),
        reaches=tuple(_reach(reach, name, length, beds) for reach, name, length in rows),
        end=course.end_level_m,
        side_slope=course.side_slope,
        edge_above_bed=course.edge_above_bed_mm * MILLIMETRE,
        edges=tuple(
            Edge(start=edge.from_m, end=edge.to_m, side=edge.side, above_bed=edge.above_bed_mm * MILLIMETRE)
            for edge in course.edges
        ),
        measured_edges=measured,
        freeboard_wanted=course.freeboard_wanted_mm * MILLIMETRE,
        settlement=course.settlement_percent * PERCENT,
    )


def _reach(
    reach: RunWritten | StepWritten | PoolWritten, name: str, length: float, beds: dict[str, BedMakeUp]
) -> Reach:
    if isinstance(reach, StepWritten):
        return Step(
            name=name, drop=reach.drop_mm * MILLIMETRE, lip_width=reach.lip_width_mm * MILLIMETRE, lip=reach.lip
        )
    width = reach.width_mm * MILLIMETRE
    if isinstance(reach, PoolWritten):
        return Pool(name=name, length=length, width=width, depth=reach.depth_mm * MILLIMETRE)
    fall, sills = reach.fall_mm * MILLIMETRE, tuple(map(float, reach.sills_m))
    return Run(name=name, length=length, fall=fall, width=width, bed=beds[reach.bed], sills=sills)


def _layers(written: Written) -> Layers:
    layers = written.layers
    return Layers(
        fleece_over=layers.fleece_over_mm * MILLIMETRE,
        lining=layers.lining_mm * MILLIMETRE,
        fleece_under=layers.fleece_under_mm * MILLIMETRE,
        blinding=layers.blinding_mm * MILLIMETRE,
        lining_mass=layers.lining_kg_m2,
        edge_allowance=layers.edge_allowance_mm * MILLIMETRE,
        lap=layers.lap_mm * MILLIMETRE,
    )


def _reservoir(given: ReservoirWritten) -> Reservoir:
    overflow = given.cover_level_m - given.overflow_below_cover_mm * MILLIMETRE
    crate = given.crate_mm
    return Reservoir(
        cover=given.cover_level_m,
        centre=given.centre_m,
        length=given.length_m,
        width=given.width_m,
        turned=radians(given.turned_deg),
        fill=given.fill,
        fill_depth=fill_depth_mm(given) * MILLIMETRE,
        voids=given.voids,
        cover_depth=given.cover_mm * MILLIMETRE,
        cover_voids=given.cover_voids,
        cover_weight=given.cover_kn_m3 * KILONEWTON,
        sump=given.sump_mm * MILLIMETRE,
        pump_depth=given.pump_depth_mm * MILLIMETRE,
        overflow=overflow,
        overflow_bore=given.overflow_mm * MILLIMETRE,
        overflow_to=given.overflow_to,
        rested=overflow - given.rested_below_overflow_mm * MILLIMETRE,
        crate=None if crate is None else (crate[0] * MILLIMETRE, crate[1] * MILLIMETRE, crate[2] * MILLIMETRE),
        crate_weight=given.crate_weight_kn_m3 * KILONEWTON,
        strength_vertical=_pressure(given.strength_vertical_kpa),
        strength_long_term=_pressure(given.strength_long_term_kpa),
        strength_lateral=_pressure(given.strength_lateral_kpa),
        loads=tuple(map(_load, given.loads)),
    )


def _pressure(given: float | None) -> float | None:
    return None if given is None else given * KILOPASCAL


def _load(load: LoadWritten) -> Load:
    force = (load.wheel_kn or 0) * KILONEWTON + (load.person_kg or 0) * STANDARD_GRAVITY
    return Load(name=load.name, force=force, contact=_pair(load.contact_mm), dynamic=load.dynamic)


def _named(wanted: str, offered: Iterable[Any]) -> Any:
    return next(one for one in offered if one.name == wanted)


def _route(hose: HoseWritten, offered: tuple[Hose, ...]) -> HoseRoute:
    return HoseRoute(
        length=hose.length_m,
        fittings=tuple(hose.fittings.items()),
        line=tuple(hose.line_m or ()),
        chosen=_named(hose.chosen, offered),
        offered=offered,
    )


def _pumps(pump: PumpWritten, offered: tuple[Pump, ...]) -> PumpSet:
    return PumpSet(chosen=_named(pump.chosen, offered), together=pump.together, offered=offered)


def _running(written: Written) -> tuple[Running, ...]:
    return tuple(
        Running(flow=row.flow, time=row.hours_per_day * row.days_per_year * HOUR, when=row.when)
        for row in written.running
    )


def _prices(prices: PricesWritten) -> Prices:
    price = prices.energy_per_kwh
    return Prices(
        currency=prices.currency,
        energy=None if price is None else price / KILOWATT_HOUR,
        energy_source=prices.energy_source,
        running_limit=prices.running_limit_per_year,
    )


def _materials(written: Written) -> Materials:
    given = written.materials
    return Materials(
        stone=given.stone_kg_m3,
        edge_stone_per_bank=given.edge_stone_kg_m,
        edge_stone_sizes=_pair(given.edge_stone_mm),
    )
