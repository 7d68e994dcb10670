"""Figures of the crates and of the chamber."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.equations.reservoir import (
    cover_pressure,
    design_pressure,
    lateral_pressure,
    patch_pressure,
    slot_area,
    slot_velocity,
    spread_pressure,
    uplift_pressure,
    wrap_area,
)
from beckwright.figures.make import Came, by, told, worked
from beckwright.job.model import Job
from beckwright.stages.crates.values import ChamberFit, CrateLayout, Screened
from beckwright.tables.crates import SLOT_VELOCITY, WRAP_LAP
from beckwright.tables.partial_factors import REST_COEFFICIENT, SOIL_UNIT_WEIGHT

STEM = "crates"
PRACTICE, ASSUMED = Grade.PRACTICE, Grade.ASSUMED
SCREENING = "screening only, ask the supplier's engineer"


def crate_figures(job: Job, layout: CrateLayout | None, chamber: ChamberFit) -> Iterator[Figure]:
    """Every figure of crates and chamber."""
    if layout is not None:
        yield from _layout(job, layout)
        yield from _standing(job, layout)
        for load in layout.loads:
            yield from _load(job, load)
        yield from _side(job, layout)
    yield from _chamber(chamber, job)


def _layout(job: Job, layout: CrateLayout) -> Iterator[Figure]:
    pit = job.reservoir
    for name, label, amount, unit, note in (
        ("places", "Crates that the pit takes", layout.places, "1", "most of all arrangements cut straight through"),
        ("taken", "Crates that give way to the chamber", layout.taken, "1", "in the corner where fewest do"),
        ("count", "Crates to buy", layout.count, "1", "none cut"),
        ("gap", "Plan of the pit that no crate covers", layout.gap, "m2", "filled with washed stone"),
        (
            "gap_fill",
            "Washed stone round the crates, as laid",
            layout.gap_fill,
            "m3",
            "gap and what is round the chamber",
        ),
        ("lost", "Water that crates all over would hold and this stone does not", layout.lost, "m3", "by their voids"),
        ("stacked", "Share of upper joints that stand over joints", layout.stacked, "1", "by length, layers in turn"),
    ):
        yield told(f"{STEM}.{name}", label, amount, unit, source="sizes of pit and crate", note=note)
    low, likely, high = layout.clips
    yield told(
        f"{STEM}.clips",
        "Clips",
        likely,
        "1",
        ends=(low, high),
        source="joints between neighbours and layers",
        note="the maker's rule goes first",
        grade=ASSUMED,
    )
    yield worked(
        job,
        f"{STEM}.wrap",
        "Geotextile round the crates",
        layout.wrap,
        by(
            wrap_area,
            length=(pit.length, "job: reservoir.length_m"),
            width=(pit.width, "job: reservoir.width_m"),
            height=(pit.fill_depth, "job: reservoir.crate_layers"),
            lap=(WRAP_LAP.amount, f"table: crates, {WRAP_LAP.place}"),
        ),
        grade=PRACTICE,
    )


def _standing(job: Job, layout: CrateLayout) -> Iterator[Figure]:
    creep, pit = layout.creep, job.reservoir
    yield worked(
        job,
        f"{STEM}.cover",
        "Pressure of the cover",
        cover_pressure(pit.cover_weight, pit.cover_depth),
        by(
            cover_pressure,
            unit_weight=(pit.cover_weight, "job: reservoir.cover_kn_m3"),
            depth=(pit.cover_depth, "job: reservoir.cover_mm"),
        ),
    )
    yield told(
        f"{STEM}.standing",
        "Design pressure that stands for decades",
        creep.standing,
        "Pa",
        source="cover and what stands on it, with the factor for permanent loads",
        grade=PRACTICE,
        note=SCREENING,
    )
    if creep.strength is not None:
        low, high = creep.strength
        yield told(
            f"{STEM}.long_term",
            "Strength for decades",
            (low + high) / 2,
            "Pa",
            ends=creep.strength,
            source="job: reservoir.strength_long_term_kpa" if creep.given else "short-term strength by a share of it",
            grade=Grade.MEASURED if creep.given else ASSUMED,
        )


def _load(job: Job, load: Screened) -> Iterator[Figure]:
    """What the person says stands there is worked with the reservoir; here only what is not told there."""
    name, depth = dotted(STEM, "load", load.comes, load.name), job.reservoir.cover_depth
    came = "job: reservoir.loads" if load.comes == "told" else f"table: crates, {load.comes}"
    grade = PRACTICE if load.comes == "told" else ASSUMED
    inputs = {
        "force": (load.force, came),
        "contact_length": (load.contact[0], came),
        "contact_width": (load.contact[1], came),
        "cover": (depth, "job: reservoir.cover_mm"),
    }
    if load.comes != "told":
        yield from _pressed(job, load, inputs, grade)
    if depth > 0:
        yield worked(
            job,
            f"{name}.peak",
            f"Pressure under the very middle of {load.name}, in elastic ground, standing",
            load.peak / load.dynamic,
            by(patch_pressure, **inputs),
            grade=grade,
            note="beside the spread: a crate is wider than this peak",
        )
    yield told(
        f"{name}.wanted",
        f"Short-term strength that {load.name} would need",
        load.wanted,
        "Pa",
        source="design pressure times the factor for material, creep and site",
        grade=grade,
        note=SCREENING,
    )


def _pressed(job: Job, load: Screened, inputs: dict[str, Came], grade: Grade) -> Iterator[Figure]:
    name, depth = dotted(STEM, "load", load.comes, load.name), job.reservoir.cover_depth
    yield worked(
        job,
        f"{name}.spread",
        f"Pressure of {load.name} through the cover, standing",
        spread_pressure(load.force, *load.contact, depth),
        by(spread_pressure, **inputs),
        grade=grade,
    )
    weight = cover_pressure(job.reservoir.cover_weight, depth)
    for_good = load.comes == "stone"
    permanent = (weight + load.spread, f"{STEM}.cover and {name}.spread") if for_good else (weight, f"{STEM}.cover")
    variable = (0.0, "counted as permanent") if for_good else (load.spread, f"{name}.spread times {load.dynamic:g}")
    yield worked(
        job,
        name,
        f"Design pressure under {load.name}",
        load.design,
        by(design_pressure, permanent=permanent, variable=variable),
        grade=grade,
        note=SCREENING,
    )
    if load.use is not None:
        yield told(
            f"{name}.use",
            f"Share of the crates' strength under {load.name}",
            load.use,
            "1",
            source="design pressure over the strength given, long-term or over its factor",
            grade=grade,
            note=SCREENING,
        )


def _side(job: Job, layout: CrateLayout) -> Iterator[Figure]:
    side, rest, soil = layout.side, REST_COEFFICIENT, SOIL_UNIT_WEIGHT
    ground = (rest.amount, f"table: partial factors, {rest.place}")
    weight = (soil.amount, f"table: partial factors, {soil.place}")
    earth = lateral_pressure(rest.amount, soil.amount, side.depth, 0.0)
    water, beside = uplift_pressure(side.head), lateral_pressure(rest.amount, soil.amount, 0.0, side.beside)
    depth = (side.depth, "cover and fill")
    for key, label, amount, down, above in (
        ("earth", "Ground against the foot of the crates", earth, depth, (0.0, "apart")),
        (
            "beside",
            "What stands beside the pit, against their side",
            beside,
            (0.0, "apart"),
            (side.beside, "table: crates"),
        ),
    ):
        yield worked(
            job,
            f"{STEM}.side.{key}",
            label,
            amount,
            by(lateral_pressure, rest_coefficient=ground, unit_weight=weight, depth=down, surcharge=above),
            grade=ASSUMED,
        )
    yield worked(
        job,
        f"{STEM}.side.water",
        "Winter water outside, against the foot of empty crates",
        water,
        by(uplift_pressure, head=(side.head, "job: site.groundwater_winter_m")),
    )
    yield worked(
        job,
        f"{STEM}.side",
        "Design pressure on the side of the crates",
        float(side.design[1]),
        by(
            design_pressure,
            permanent=(earth + water, f"{STEM}.side.earth and {STEM}.side.water"),
            variable=(beside, f"{STEM}.side.beside"),
        ),
        ends=(float(side.design[0]), float(side.design[-1])),
        grade=ASSUMED,
        note=SCREENING,
    )
    if side.use is not None:
        yield told(
            f"{STEM}.side.use",
            "Share of the side strength",
            float(side.use[1]),
            "1",
            ends=(float(side.use[0]), float(side.use[-1])),
            source="design pressure over job: reservoir.strength_lateral_kpa with its factor",
            grade=ASSUMED,
            note=SCREENING,
        )


def _chamber(chamber: ChamberFit, job: Job) -> Iterator[Figure]:
    yield told(
        "chamber.depth", "Depth of the chamber under the cover", chamber.depth, "m", source="cover, fill and sump"
    )
    if chamber.room is not None:
        yield told("chamber.room", "Room beside the pump, each side", chamber.room, "m", source="job: chamber")
    if chamber.piece is not None:
        yield told("chamber.lid_piece", "One piece of the lid", chamber.piece, "kg", source="job: chamber.lid_kg")
    slots, flow = chamber.slots, "the largest flow there is"
    amount = slots.wanted[1] * SLOT_VELOCITY.low
    yield worked(
        job,
        "chamber.slots.wanted",
        f"Slots wanted under the least level at {slots.flow}",
        slots.wanted[1],
        by(slot_area, flow=(amount, flow), velocity=(SLOT_VELOCITY.low, f"table: crates, {SLOT_VELOCITY.place}")),
        ends=slots.wanted,
        grade=PRACTICE,
    )
    if slots.velocity is not None and slots.area is not None:
        yield worked(
            job,
            "chamber.slots.velocity",
            f"Velocity through the slots at {slots.flow}",
            slots.velocity,
            by(slot_velocity, flow=(slots.velocity * slots.area, flow), area=(slots.area, "job: chamber.slots_cm2")),
        )
