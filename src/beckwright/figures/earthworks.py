"""Figures of the ground work: volumes part by part, each soil's balance, heaps, fill, and the pit."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled
from beckwright.base.words import with_unit
from beckwright.equations.earthworks import (
    bank_volume,
    cone_radius,
    flat_heap_radius,
    loose_volume,
    overbuild,
    soil_mass,
)
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.earthworks.balance import placed_factor
from beckwright.stages.earthworks.values import Groundwork, Heap, SoilBalance
from beckwright.tables.soils import BULKING, DENSITY, REPOSE, TOPSOIL_SPREAD

STEM = "earthworks"


def earthworks_figures(job: Job, groundwork: Groundwork) -> tuple[Figure, ...]:
    """Every figure of the ground work."""
    return (
        *_parts(groundwork),
        *(figure for balance in groundwork.balances for figure in _balance(job, balance)),
        *(_heap(job, groundwork, heap) for heap in groundwork.heaps),
        *_fill(job, groundwork),
        *_pit(groundwork),
    )


def _parts(groundwork: Groundwork) -> Iterator[Figure]:
    for part in groundwork.parts:
        name, what = dotted(STEM, "parts", part.name), "topsoil stripped" if part.kind == "strip" else part.name
        for key, label, amount, unit in (
            ("plan", "Plan of", part.plan, "m2"),
            ("cut", "Dug,", part.cut, "m3"),
            ("fill", "Filled, as it stands,", part.fill, "m3"),
        ):
            yield told(
                f"{name}.{key}",
                f"{label} {what}",
                amount,
                unit,
                source="formation against the surveyed ground",
                note="triangle by triangle along the zero line; cut as it stood in the ground",
            )


def _balance(job: Job, balance: SoilBalance) -> Iterator[Figure]:
    name, soil = f"{STEM}.balance.{balance.holds}", balance.soil
    factor = TOPSOIL_SPREAD if balance.holds == "topsoil" else placed_factor(job)
    label = balance.holds if soil == balance.holds else f"{balance.holds} ({soil})"
    yield told(f"{name}.dug", f"Dug, {label}", balance.dug, "m3", source="sum of the parts")
    yield told(f"{name}.placed", f"Filled, {label}, as it stands", balance.placed, "m3", source="sum of the parts")
    yield worked(
        job,
        f"{name}.wanted",
        f"Wanted for what is filled, {label}, as in the ground",
        balance.wanted,
        by(
            bank_volume,
            placed=(balance.placed, f"{name}.placed"),
            factor=(factor.amount, f"table: soils, {factor.place}"),
        ),
        ends=(bank_volume(balance.placed, factor.high), bank_volume(balance.placed, factor.low)),
        grade=factor.grade,
    )
    yield told(
        f"{name}.left",
        f"Left over, or below 0 short, {label}, as in the ground",
        balance.left,
        "m3",
        ends=(balance.lefts[0], balance.lefts[2]),
        source="dug less wanted",
        grade=factor.grade,
    )
    yield from _left(job, balance, name, label)


def _left(job: Job, balance: SoilBalance, name: str, label: str) -> Iterator[Figure]:
    grows, density = BULKING[balance.soil], DENSITY[balance.soil]
    left = (balance.left, f"{name}.left")
    yield worked(
        job,
        f"{name}.loose",
        f"The same loose, {label}",
        balance.loose[1],
        by(loose_volume, bank=left, bulking=(grows.amount, f"table: soils, bulking, {grows.place}")),
        ends=(balance.loose[0], balance.loose[2]),
        grade=_weaker(grows),
    )
    yield worked(
        job,
        f"{name}.mass",
        f"Its mass, {label}",
        balance.mass,
        by(soil_mass, bank=left, density=(density.amount, f"table: soils, density, {density.place}")),
        ends=(balance.masses[0], balance.masses[2]),
        grade=_weaker(density),
    )
    if balance.loads is not None and job.earthworks.load is not None:
        yield told(
            f"{name}.loads",
            f"Loads of {with_unit(job.earthworks.load / 1000, 't'):g}, {label}",
            balance.loads,
            "1",
            source="mass over job: earthworks.load_t, rounded up",
            grade=_weaker(density),
        )
    if balance.price is not None:
        yield told(
            f"{name}.price",
            f"Price of taking it away, {label}",
            balance.price,
            "currency",
            source="loads times job: earthworks.load_price",
            grade=_weaker(density),
        )


def _weaker(row: Tabled) -> Grade:
    """No volume of soil that nobody has tried is surer than habit."""
    return Grade.PRACTICE if row.grade is Grade.PUBLISHED else row.grade


def _heap(job: Job, groundwork: Groundwork, heap: Heap) -> Figure:
    soil = next(balance.soil for balance in groundwork.balances if balance.holds == heap.holds)
    slope, loose = REPOSE[soil], (heap.loose, "dug, loose, parted among its heaps")
    side = (slope.amount, f"table: soils, repose, {slope.place}")
    flat = heap.height >= job.earthworks.heap_height
    return worked(
        job,
        dotted(STEM, "heaps", heap.name, "radius"),
        f"Radius at the foot of {heap.name}",
        heap.radius,
        by(flat_heap_radius, volume=loose, height=(heap.height, "job: earthworks.heap_height_mm"), slope=side)
        if flat
        else by(cone_radius, volume=loose, slope=side),
        grade=slope.grade,
        note="round, on level ground; as if all of it was dug before any is put back",
    )


def _fill(job: Job, groundwork: Groundwork) -> Iterator[Figure]:
    settling, share = groundwork.settling, (job.course.settlement, "job: course.settlement_percent")
    deepest = float(max(settling.fill_left.max(), settling.fill_right.max()))
    yield told(
        f"{STEM}.fill.deepest",
        "Deepest made ground under an edge",
        deepest,
        "m",
        source="edge less stripped ground",
    )
    yield worked(
        job,
        f"{STEM}.fill.higher",
        "How much higher to build it there so that it sinks to level",
        overbuild(deepest, share[0]),
        by(overbuild, wanted=(deepest, f"{STEM}.fill.deepest"), share=share),
        grade=Grade.PRACTICE,
    )
    for lip in settling.lips:
        yield told(
            dotted(STEM, "lips", lip.name, "fill"),
            f"Made ground under {lip.name}",
            lip.fill,
            "m",
            source="dug level less stripped ground, where it is most across the floor",
        )


def _pit(groundwork: Groundwork) -> Iterator[Figure]:
    pit = groundwork.pit
    yield told(
        f"{STEM}.pit.depth",
        "Depth of the pit's floor below the ground, where it is most",
        pit.depth,
        "m",
        source="ground less floor as dug",
    )
    yield told(
        f"{STEM}.pit.floor", "Floor of the pit as dug", pit.floor_level, "m", source="floor of the fill less the layers"
    )


def raised_figures(groundwork: Groundwork) -> Iterator[Figure]:
    """The level that balances, where it was looked for and found."""
    if groundwork.raised is not None:
        yield told(
            f"{STEM}.raised",
            "Course raised, or below 0 lowered, by this: as much subsoil wanted as dug",
            groundwork.raised,
            "m",
            source="all volumes again at other levels, closed in on by secants",
            grade=Grade.PRACTICE,
        )
