"""Figures of the water: hidden and visible, run by run, lip by lip, pool by pool, and where it is stored."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray
from beckwright.base.words import with_unit
from beckwright.compose import Design
from beckwright.equations.lips import brink_depth, drowned_share, lip_head
from beckwright.equations.open_channel import (
    critical_depth,
    flow_carried,
    hydraulic_radius,
    manning_ratio,
    relative_depth,
    unit_flow,
    velocity_by_ratio,
    wetted_area,
    wetted_perimeter,
)
from beckwright.equations.reservoir import stored_water, water_lent
from beckwright.equations.resistance import rice_riprap_n, strickler_n, variable_power_ratio
from beckwright.equations.stone_layer import ergun_velocity, layer_flow, rough_grain_velocity, share_shown
from beckwright.equations.water import water_viscosity
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.water import LipWater
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.stages.water.hidden import exchange_length, open_stone, sill_spacing
from beckwright.stages.water.runs import RunWater
from beckwright.tables.beds import VISIBLE_SHARE_WANTED
from beckwright.tables.lips import LIP_COEFFICIENTS

HIDDEN_NOTE = "most: smooth middle grains; least: rough smallest grains; middle: their geometric mean"


def water_figures(design: Design) -> Iterator[Figure]:
    """Everything about the steady water."""
    job = design.job
    yield worked(
        job,
        "water.viscosity",
        "Viscosity of the water",
        water_viscosity(job.water_temperature),
        by(water_viscosity, temperature=(job.water_temperature, "job: water_temperature_c")),
    )
    for run in design.water.runs:
        yield from _run(design, run)
    for number in range(len(design.water.names)):
        yield from _lips(design, number)
        yield from _pools(design, number)
        yield from _stored(design, number)


def ends_of(band: FloatArray) -> tuple[float, float]:
    """Least and greatest of three; which law gives which depends on how much of the water each lets hide."""
    return float(band.min()), float(band.max())


def _run(design: Design, run: RunWater) -> Iterator[Figure]:
    job, key, bed = design.job, dotted(run.run.name), run.run.bed
    given = f"job: beds.{bed.name}"
    yield told(
        f"run.{key}.gradient",
        f"Fall along the bed of {run.run.name}",
        run.gradient,
        "1",
        source="fall over length along the bed",
        note="sine of the slope",
    )
    for size, share, grain in (
        (50, "half", run.law.grain50),
        (84, "84 %", run.law.grain84),
        (10, "10 %", run.law.grain10),
    ):
        yield told(
            f"run.{key}.grain{size}",
            f"Stone that {share} of {bed.name} is smaller than",
            grain,
            "m",
            grade=Grade.PRACTICE,
            source=f"{given}.size_mm",
            note="sold by size, read as log-uniform from 10 to 90 % passing",
        )
    if bed.depth > 0:
        for end, law, grain, size in (
            ("most", ergun_velocity, run.law.grain50, 50),
            ("least", rough_grain_velocity, run.law.grain10, 10),
        ):
            yield worked(
                job,
                f"run.{key}.through.{end}",
                f"Flow through a square metre of {bed.name} on {run.run.name}, {end}",
                run.through[LOW if end == "most" else HIGH],
                by(
                    law,
                    size=(grain, f"run.{key}.grain{size}"),
                    voids=(bed.voids, f"{given}.voids"),
                    gradient=(run.gradient, f"run.{key}.gradient"),
                    viscosity=(water_viscosity(job.water_temperature), "water.viscosity"),
                ),
            )
        yield worked(
            job,
            f"run.{key}.first_shows",
            f"Flow at which {run.run.name} first shows water all along",
            layer_flow(float(run.through[MIDDLE]), bed.depth, run.run.width),
            by(
                layer_flow,
                velocity=(float(run.through[MIDDLE]), f"run.{key}.through"),
                depth=(bed.depth, f"{given}.depth_mm"),
                width=(run.run.width, "job: course.reaches"),
            ),
            ends=ends_of(run.through * bed.depth * run.run.width),
            grade=Grade.PUBLISHED,
        )
        yield told(
            f"run.{key}.exchange",
            f"Length in which water sinks in or comes up on {run.run.name}",
            exchange_length(bed.depth, run.stretch.slope),
            "m",
            source="depth of the stones over the slope",
            grade=Grade.PUBLISHED,
        )
        yield told(
            f"run.{key}.through",
            f"Flow through a square metre of {bed.name} on {run.run.name}",
            run.through[MIDDLE],
            "m/s",
            ends=ends_of(run.through),
            source="both bounds",
            note=HIDDEN_NOTE,
            grade=Grade.PUBLISHED,
        )
    yield from _roughness(design, run)
    for number in range(len(design.water.names)):
        yield from _run_at_flow(design, run, number)


def _roughness(design: Design, run: RunWater) -> Iterator[Figure]:
    key = dotted(run.run.name)
    for end, band in (("low", LOW), ("middle", MIDDLE), ("high", HIGH)):
        name, n = run.law.names[band], run.law.manning[band]
        label = f"Roughness of {run.run.name}, for the {end} depth"
        if name == "rice_riprap_n":
            yield worked(
                design.job,
                f"run.{key}.manning.{end}",
                label,
                n,
                by(
                    rice_riprap_n,
                    median_size=(run.law.grain50, f"run.{key}.grain50"),
                    slope=(run.stretch.slope, "job: course.reaches"),
                ),
            )
        elif name == "strickler_n":
            yield worked(
                design.job,
                f"run.{key}.manning.{end}",
                label,
                n,
                by(strickler_n, median_size=(run.law.grain50, f"run.{key}.grain50")),
            )
        elif n > 0:
            yield told(
                f"run.{key}.manning.{end}",
                label,
                n,
                "s/m^(1/3)",
                grade=Grade.PUBLISHED,
                source="job: beds" if run.run.bed.manning else "table: dressed stone in mortar",
            )


class _Spot:
    """Where on a run most of a flow is hidden, half way between two places that force it up: the high end caps last."""

    def __init__(self, design: Design, run: RunWater, number: int) -> None:
        water, at = design.water, design.course.stations
        here = run.stations
        station = here.start + int(np.argmax(water.hidden[HIGH, number, here]))
        self.job, self.run, self.flow, self.total = design.job, run, water.names[number], float(water.flows[number])
        self.key = dotted(run.run.name)
        self.stem = f"water.{dotted(self.flow)}.{self.key}"
        self.where = f"{run.run.name} at {self.flow}, {with_unit(at.chainage[station], 'm'):.2f}"
        self.hidden, self.depth, self.uniform, self.shown, self.velocity, self.froude = (
            values[:, number, station]
            for values in (water.hidden, water.depth, water.uniform, water.shown, water.velocity, water.froude)
        )


def water_answers(design: Design) -> Iterator[Figure]:
    """Of the figures of the water those a person looks at while the line moves; the others take as long again."""
    for run in design.water.runs:
        for number in range(len(design.water.names)):
            spot = _Spot(design, run, number)
            yield from (_shown(spot), _visible_depth(spot))
    for number in range(len(design.water.names)):
        yield _in_motion(design, number)


def _run_at_flow(design: Design, run: RunWater, number: int) -> Iterator[Figure]:
    """The water on a run, told at one spot."""
    spot = _Spot(design, run, number)
    yield _hidden(spot)
    yield _shown(spot)
    yield from _sills(spot)
    yield told(
        f"{spot.stem}.uniform",
        f"Depth on an endless run, {spot.where}",
        spot.uniform[MIDDLE],
        "m",
        ends=ends_of(spot.uniform),
        grade=Grade.PUBLISHED,
        source=run.law.names[MIDDLE],
        note=_depth_note(run),
    )
    if spot.uniform[MIDDLE] > 0:
        depth, visible = float(spot.uniform[MIDDLE]) / run.law.factor[MIDDLE], spot.total - float(spot.hidden[MIDDLE])
        yield from _velocity(design, run, spot.stem, spot.where, depth, visible)
    yield _visible_depth(spot)
    yield told(
        f"{spot.stem}.froude",
        f"Froude number, {spot.where}",
        spot.froude[MIDDLE],
        "1",
        ends=ends_of(spot.froude),
        grade=Grade.PUBLISHED,
        source="velocity over the speed of a small wave",
        note="below 1 calm, above 1 shooting",
    )
    yield told(
        f"{spot.stem}.velocity",
        f"Velocity of the visible water, {spot.where}",
        spot.velocity[MIDDLE],
        "m/s",
        ends=ends_of(spot.velocity),
        grade=Grade.PUBLISHED,
        source="visible flow over its area",
        note="low depth goes with high velocity",
    )


def _hidden(spot: _Spot) -> Figure:
    run, hidden = spot.run, spot.hidden
    if hidden[MIDDLE] >= spot.total:
        return told(
            f"{spot.stem}.hidden",
            f"Hidden between the stones, {spot.where}",
            spot.total,
            "m3/s",
            ends=ends_of(hidden),
            grade=Grade.PUBLISHED,
            source="stone layer",
            note="all of it: the stones could carry more than there is",
        )
    among = hidden[MIDDLE] / (run.through[MIDDLE] * run.run.width) if run.through[MIDDLE] > 0 else 0.0
    return worked(
        spot.job,
        f"{spot.stem}.hidden",
        f"Hidden between the stones, {spot.where}",
        hidden[MIDDLE],
        by(
            layer_flow,
            velocity=(run.through[MIDDLE], f"run.{spot.key}.through"),
            depth=(among, "job: beds depth, sunk share"),
            width=(run.run.width, "job: course.reaches"),
        ),
        ends=ends_of(hidden),
        grade=Grade.PUBLISHED,
        note="depth counts only the part of the layer the water has sunk into",
    )


def _shown(spot: _Spot) -> Figure:
    return worked(
        spot.job,
        f"{spot.stem}.shown",
        f"Share in view, {spot.where}",
        spot.shown[MIDDLE],
        by(
            share_shown,
            flow=(spot.total, f"job: flows.{spot.flow}"),
            hidden=(spot.hidden[MIDDLE], f"{spot.stem}.hidden"),
        ),
        ends=ends_of(spot.shown),
        grade=Grade.PUBLISHED,
    )


def _visible_depth(spot: _Spot) -> Figure:
    return told(
        f"{spot.stem}.depth",
        f"Visible depth, {spot.where}",
        spot.depth[MIDDLE],
        "m",
        ends=ends_of(spot.depth),
        grade=Grade.PUBLISHED,
        source="standard step from the next lip or pool",
        note="energy at this station is energy at the next plus friction on the way; see the table of stations",
    )


def _sills(spot: _Spot) -> Iterator[Figure]:
    """Open stone and spacing of sills that leave the wanted share in view, where stones carry any water."""
    run, wanted = spot.run, VISIBLE_SHARE_WANTED.amount
    if run.through[MIDDLE] <= 0:
        return
    depths = np.array([open_stone(wanted, spot.total, float(each), run.run.width) for each in run.through])
    yield told(
        f"{spot.stem}.open_stone",
        f"Open stone that leaves {wanted:.0%} in view, {run.run.name} at {spot.flow}",
        depths[MIDDLE],
        "m",
        ends=ends_of(depths),
        grade=Grade.PUBLISHED,
        source="the share that may hide over what the layer carries",
    )
    spacings = np.array([sill_spacing(run.run.bed.depth, float(each), run.stretch.slope) for each in depths])
    yield told(
        f"{spot.stem}.sill_spacing",
        f"Sill spacing that leaves {wanted:.0%} in view, {run.run.name} at {spot.flow}",
        spacings[MIDDLE],
        "m",
        ends=ends_of(spacings),
        grade=Grade.PUBLISHED,
        source="twice the way the water may sink before the next sill",
    )


def _depth_note(run: RunWater) -> str:
    low, high = run.law.names[LOW], run.law.names[HIGH]
    factor = run.law.factor[HIGH]
    return f"found by trial so that area times velocity carries the visible flow; low by {low}, high by {high}" + (
        f" times {factor:.2f}" if factor != 1 else ""
    )


def _velocity(design: Design, run: RunWater, stem: str, where: str, depth: float, visible: float) -> Iterator[Figure]:
    """The chain from depth to flow by the middle law, so that the trial depth can be proved by hand."""
    job, slope, width = design.job, design.course.side_slope, run.run.width
    key, comes = dotted(run.run.name), "job: course"
    area, perimeter = wetted_area(width, depth, slope), wetted_perimeter(width, depth, slope)
    radius = hydraulic_radius(area, perimeter)
    section = {
        "width": (width, comes),
        "depth": (depth, f"{stem}.uniform, before its factor"),
        "side_slope": (slope, comes),
    }
    yield worked(job, f"{stem}.area", f"Area, {where}", area, by(wetted_area, **section), grade=Grade.PUBLISHED)
    yield worked(
        job,
        f"{stem}.perimeter",
        f"Perimeter, {where}",
        perimeter,
        by(wetted_perimeter, **section),
        grade=Grade.PUBLISHED,
    )
    yield worked(
        job,
        f"{stem}.radius",
        f"Hydraulic radius, {where}",
        radius,
        by(hydraulic_radius, area=(area, f"{stem}.area"), perimeter=(perimeter, f"{stem}.perimeter")),
        grade=Grade.PUBLISHED,
    )
    n = run.law.manning[MIDDLE]
    if n > 0:
        ratio = manning_ratio(n, radius)
        yield worked(
            job,
            f"{stem}.ratio",
            f"Velocity over shear velocity, {where}",
            ratio,
            by(manning_ratio, manning_n=(n, f"run.{key}.manning.middle"), hydraulic_radius=(radius, f"{stem}.radius")),
        )
    else:
        stones = relative_depth(radius, run.law.grain84)
        ratio = variable_power_ratio(stones)
        yield worked(
            job,
            f"{stem}.relative_depth",
            f"Depth in stones, {where}",
            stones,
            by(
                relative_depth,
                hydraulic_radius=(radius, f"{stem}.radius"),
                grain84=(run.law.grain84, f"run.{key}.grain84"),
            ),
        )
        yield worked(
            job,
            f"{stem}.ratio",
            f"Velocity over shear velocity, {where}",
            ratio,
            by(variable_power_ratio, relative_depth=(stones, f"{stem}.relative_depth")),
        )
    speed = velocity_by_ratio(ratio, radius, run.gradient)
    yield worked(
        job,
        f"{stem}.lawful_velocity",
        f"Velocity by the middle law, {where}",
        speed,
        by(
            velocity_by_ratio,
            velocity_ratio=(ratio, f"{stem}.ratio"),
            hydraulic_radius=(radius, f"{stem}.radius"),
            slope=(run.gradient, f"run.{key}.gradient"),
        ),
    )
    yield worked(
        job,
        f"{stem}.visible",
        f"Flow over the stones, {where}",
        visible,
        by(flow_carried, area=(area, f"{stem}.area"), velocity=(speed, f"{stem}.lawful_velocity")),
        note="proves the depth",
    )


def _lips(design: Design, number: int) -> Iterator[Figure]:
    flow, total, job = design.water.names[number], float(design.water.flows[number]), design.job
    for lip in design.water.lips:
        stem, where = f"lip.{dotted(lip.name)}.{dotted(flow)}", f"{lip.name} at {flow}"
        across = float(lip.unit_flow[number])
        yield worked(
            job,
            f"{stem}.unit_flow",
            f"Flow for each metre of {where}",
            across,
            by(unit_flow, flow=(total, f"job: flows.{flow}"), width=(lip.width, "job: lip_width_mm")),
        )
        if lip.head[MIDDLE, number] > 0:
            yield _head(job, lip, number, stem, where)
        critical = critical_depth(across)
        yield worked(
            job,
            f"{stem}.critical",
            f"Critical depth on {where}",
            critical,
            by(critical_depth, unit_flow=(across, f"{stem}.unit_flow")),
        )
        yield worked(
            job,
            f"{stem}.brink",
            f"Depth at the very edge of {where}",
            lip.brink[number],
            by(brink_depth, critical_depth=(critical, f"{stem}.critical")),
        )


def _head(job: Job, lip: LipWater, number: int, stem: str, where: str) -> Figure:
    """Head on a lip: by its law where free, by trial where the middle of its band is drowned."""
    row, head = LIP_COEFFICIENTS[lip.kind], lip.head[:, number]
    label = f"Water over the crest a little upstream of {where}"
    if lip.tailwater[MIDDLE, number] > 0:
        return told(
            f"{stem}.head",
            label,
            float(head[MIDDLE]),
            "m",
            ends=ends_of(head),
            source=f"{drowned_share.source}, {drowned_share.place}",
            note="drowned: found by trial, so that the lip's law and the share left to it pass the flow",
            grade=row.grade,
        )
    return worked(
        job,
        f"{stem}.head",
        label,
        head[MIDDLE],
        by(
            lip_head,
            unit_flow=(float(lip.unit_flow[number]), f"{stem}.unit_flow"),
            coefficient=(row.amount, f"table: lips, {lip.kind}"),
        ),
        ends=ends_of(head),
        grade=row.grade,
        note=row.place,
    )


def _pools(design: Design, number: int) -> Iterator[Figure]:
    flow = design.water.names[number]
    for pool in design.water.pools:
        rise = pool.level[:, number] - pool.rim
        stem = f"pool.{dotted(pool.name)}.{dotted(flow)}"
        yield told(
            f"{stem}.rise",
            f"Rise of {pool.name} over its rim at {flow}",
            rise[MIDDLE],
            "m",
            ends=ends_of(rise),
            grade=Grade.PUBLISHED,
            source="head over the rim's stones, or the energy the next run needs",
            note="the greater of the two; over a lip, that lip's head",
        )
        yield worked(
            design.job,
            f"{stem}.lent",
            f"Water lent to {pool.name} at {flow}",
            pool.plan * rise[MIDDLE],
            by(
                stored_water,
                plan=(pool.plan, "job: pool length and width"),
                depth=(float(rise[MIDDLE]), f"{stem}.rise"),
                voids=(1.0, "open water"),
            ),
            ends=ends_of(pool.plan * rise),
            grade=Grade.PUBLISHED,
        )


_PARTS = (
    ("film", "Visible water over the beds", "area of every station times its share of the length"),
    ("pools", "Rise of all pools", "sum of the pools"),
    ("pores", "Water between the stones, less what stays at rest", "drainable voids times layer, station by station"),
    ("box", "Rise in the outlet box", "plan of the box times the head over its lip"),
)
"""Parts of the water in motion, each with its label and how it is summed up."""


def _stored(design: Design, number: int) -> Iterator[Figure]:
    stored, flow = design.water.stored, design.water.names[number]
    stem = f"stored.{dotted(flow)}"
    for part, label, note in _PARTS:
        volumes = getattr(stored, part)[:, number]
        yield told(
            f"{stem}.{part}",
            f"{label} at {flow}",
            volumes[MIDDLE],
            "m3",
            ends=ends_of(volumes),
            source="sum over stations",
            note=note,
            grade=Grade.PUBLISHED,
        )
    yield _in_motion(design, number)
    kept = stored.kept[:, number]
    yield told(
        f"{stem}.kept",
        f"Taken up once when dry, at {flow}",
        kept[MIDDLE],
        "m3",
        ends=ends_of(kept),
        source="sum over stations",
        note="pools to their rims, held and clinging water among the stones, the box",
        grade=Grade.PUBLISHED,
    )


def _in_motion(design: Design, number: int) -> Figure:
    stored, flow = design.water.stored, design.water.names[number]
    stem, lent = f"stored.{dotted(flow)}", design.reservoir.lent[:, number]
    parts = {part: (float(getattr(stored, part)[MIDDLE, number]), f"{stem}.{part}") for part, *_ in _PARTS}
    hose = float(lent[MIDDLE] - stored.in_motion[MIDDLE, number])
    return worked(
        design.job,
        f"{stem}.in_motion",
        f"Water in motion at {flow}",
        lent[MIDDLE],
        by(water_lent, hose=(hose, "supply.hose_volume, where it drains back"), **parts),
        ends=ends_of(lent),
        grade=Grade.PUBLISHED,
    )
