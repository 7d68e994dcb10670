"""Stone by class: edge courses, beds, lips, cheeks, and the larger stones that stay where small ones go."""

import math

import numpy as np

from beckwright.base.quantities import Area, Length, Mass, Ratio
from beckwright.base.words import METRIC, band, millimetres, reads, share, with_unit
from beckwright.equations.stability import ball_mass
from beckwright.equations.stone import stone_mass
from beckwright.equations.stonework import block_mass, courses_mass, ordered_mass
from beckwright.job.model import BedMakeUp, Job, Pool, Run, Step
from beckwright.stages.course import SetOutCourse, Stretch
from beckwright.stages.falls import Fall
from beckwright.stages.stones import Fix, Stability, make_up_of
from beckwright.stages.stonework.values import BedStone, EdgeStone, FixedStones, LipStone, Sizes, Tonnage
from beckwright.tables.gravels import VOIDS
from beckwright.tables.stonework import EDGE_VOIDS, LARGEST_SHARE, MIDDLE_AXIS, SAWN, SHAPE, SHORT_AXIS, WASTE

_BROKEN = f"waste of {band(WASTE.low, WASTE.high, 1, '%', scale=100)}"


def edge_stone(job: Job, course: SetOutCourse) -> EdgeStone:
    """Both banks at the mass told, and from the courses themselves: what lies between is the band."""
    bank = 2 * sum(stretch.end - stretch.start for stretch in course.stretches)
    given, work = job.materials.edge_stone_per_bank, job.stonework
    told = given * bank if given > 0 else None

    def stacked(voids: Ratio) -> Mass:
        return courses_mass(work.courses, work.height, work.depth, voids, job.materials.stone, bank)

    around = (EDGE_VOIDS.high - EDGE_VOIDS.amount, EDGE_VOIDS.amount - EDGE_VOIDS.low)
    worked = stacked(work.voids) if work.courses else None
    ends = (stacked(min(work.voids + around[0], 1.0)), stacked(max(work.voids - around[1], 0.0)))
    known = [mass for mass in (told, worked) if mass is not None]
    low, high = min([*known, ends[0]]) if known else 0.0, max([*known, ends[1]]) if known else 0.0
    return EdgeStone(
        bank=bank,
        told=told,
        worked=worked,
        ends=ends,
        order=Tonnage(likely=known[0] if known else 0.0, low=low, high=high, reasons=_edge_reasons(job, told, worked)),
    )


def _edge_reasons(job: Job, told: Mass | None, worked: Mass | None) -> tuple[str, ...]:
    work, reasons = job.stonework, []
    seen = band(EDGE_VOIDS.low, EDGE_VOIDS.high, 1, "%", scale=100)
    if told is not None:
        reasons.append(f"{_a_metre(job.materials.edge_stone_per_bank)} as told")
    if worked is not None:
        sizes = f"{millimetres(work.height)} high and {millimetres(work.depth)} deep"
        reasons.append(f"{work.courses} x {sizes}, {share(work.voids)} gaps; {seen} seen")
    return tuple(reasons)


def bed_stone(job: Job, course: SetOutCourse, bed: BedMakeUp) -> BedStone:
    """A bed's stone by its area along the slope; pools' floors too where the job covers them with it."""
    runs = sum(
        math.hypot(s.reach.length, s.reach.fall) * s.reach.width
        for s in course.stretches
        if isinstance(s.reach, Run) and s.reach.bed.name == bed.name
    )
    covers = job.stonework.pools_bed == bed.name
    pools = (
        sum(_floor(course, n) for n, s in enumerate(course.stretches) if isinstance(s.reach, Pool)) if covers else 0.0
    )
    volume = (runs + pools) * bed.depth
    drawn = stone_mass(job.materials.stone, volume, bed.voids)
    row, off = VOIDS["washed"], job.tolerances.stone
    looser, tighter = (bed.voids + row.high - row.amount, bed.voids + row.low - row.amount)
    kind = make_up_of(bed).name
    return BedStone(
        name=bed.name,
        depth=bed.depth,
        runs=runs,
        pools=pools,
        volume=volume,
        drawn=drawn,
        order=Tonnage(
            likely=ordered_mass(drawn, job.stonework.waste),
            low=min(drawn, stone_mass(job.materials.stone, volume, min(looser, 1.0))),
            high=ordered_mass(
                stone_mass(job.materials.stone, volume * (1 + off / bed.depth), max(tighter, 0.0)),
                max(job.stonework.waste, WASTE.high),
            ),
            reasons=(
                f"voids of {share(bed.voids)} told; {kind} packs 5 % looser or tighter",
                f"laid {millimetres(off)} deeper than drawn",
                _BROKEN,
            ),
        ),
    )


def _floor(course: SetOutCourse, number: int) -> Area:
    """Floor of a pool along its slopes."""
    at, here = course.stations, course.stations.of(number)
    along = np.hypot(np.diff(at.chainage[here]), np.diff(at.bed[here]))
    return float((along * (at.width[here][1:] + at.width[here][:-1]) / 2).sum())


def lip_stones(job: Job, course: SetOutCourse) -> tuple[LipStone, ...]:
    """One stone for each step: as wide as its water and its bearing on both sides."""
    return tuple(_lip(job, stretch) for stretch in course.of_kind(Step))


def _lip(job: Job, stretch: Stretch) -> LipStone:
    step, (bearing, depth, thickness) = stretch.reach, job.stonework.lip
    if not isinstance(step, Step):
        message = f"{step.name} is no step"
        raise TypeError(message)
    size = (step.lip_width + 2 * bearing, depth, thickness)
    shape = job.stonework.shape if step.lip == "boulders" else SAWN.amount
    return LipStone(
        name=step.name,
        kind=step.lip,
        chainage=stretch.start,
        size=size,
        mass=block_mass(shape, *size, job.materials.stone),
    )


def lips_order(job: Job, lips: tuple[LipStone, ...]) -> Tonnage:
    """All lip stones. They are bought one by one: no waste, but a slab is as thick as it is split."""
    net = sum(lip.mass for lip in lips)
    shapes = [(SHAPE if lip.kind == "boulders" else SAWN) for lip in lips]
    ends = [
        sum(lip.mass * (1 + (end - row.amount) / row.amount) for lip, row, end in zip(lips, shapes, ends, strict=True))
        for ends in ([row.low for row in shapes], [row.high for row in shapes])
    ]
    thick = millimetres(job.stonework.lip[2])
    return Tonnage(likely=net, low=ends[0], high=ends[1], reasons=(f"share of the box that is stone; {thick} thick",))


def boulder(job: Job, size: Sizes) -> Mass:
    """Mass of one boulder."""
    return block_mass(job.stonework.shape, *size, job.materials.stone)


def largest_edge(job: Job, edge: Mass) -> tuple[Mass, int]:
    """Mass of the largest edge stone, and about how many of the largest third of sizes there are."""
    small, large = job.materials.edge_stone_sizes
    usual = large - (large - small) / 6
    heavy, mean = (boulder(job, (size, MIDDLE_AXIS.amount * size, SHORT_AXIS.amount * size)) for size in (large, usual))
    return heavy, math.ceil(LARGEST_SHARE.amount * edge / mean - 1e-9)


def cheeks_order(job: Job, cheek: Mass, count: int) -> Tonnage:
    """Two stones beside each lip."""
    work, net = job.stonework, count * cheek
    low, high = (net * shape / SHAPE.amount for shape in (SHAPE.low, SHAPE.high))
    return Tonnage(
        likely=ordered_mass(net, work.waste),
        low=low,
        high=ordered_mass(high, max(work.waste, WASTE.high)),
        reasons=(f"{band(SHAPE.low, SHAPE.high, 1, '%', scale=100)} of its box is stone", _BROKEN),
    )


def fixed_stones(
    job: Job, course: SetOutCourse, stability: Stability, falls: tuple[Fall, ...]
) -> tuple[FixedStones, ...]:
    """One layer of the stones that stay, at every place where smaller ones go."""
    widths = {fall.lip.name: fall.sheet.width for fall in falls if fall.sheet is not None}
    return tuple(_fixed(job, course, fix, widths) for fix in stability.fixes)


def _fixed(job: Job, course: SetOutCourse, fix: Fix, widths: dict[str, Length]) -> FixedStones:
    (start, end), (small, large) = fix.span, fix.wanted
    run = next((s for s in course.of_kind(Run) if s.reach.name == fix.place), None)
    if run is None:
        # A landing stretches at least over one stone.
        width = next(width for name, width in widths.items() if fix.place.endswith(name))
        area = max(end - start, large) * width
    else:
        area = math.hypot(end - start, run.bed_start - run.bed_end) * (
            run.reach.width if isinstance(run.reach, Run) else 0.0
        )
    count = math.ceil(area / large**2 - 1e-9)
    density, voids = job.materials.stone, job.stonework.voids
    layer = stone_mass(density, area * large, voids)
    return FixedStones(
        place=fix.place,
        span=fix.span,
        area=area,
        size=(small, large),
        each=(ball_mass(density, small), ball_mass(density, large)),
        count=count,
        order=Tonnage(
            likely=layer,
            low=0.0,
            high=ordered_mass(layer, max(job.stonework.waste, WASTE.high)),
            reasons=("none where the bed's own stones are set in mortar instead", _BROKEN),
        ),
    )


def added(parts: list[Tonnage]) -> Tonnage:
    """The sum. Ends are added as if all ran the same way: the widest it can be."""
    return Tonnage(
        likely=sum(part.likely for part in parts),
        low=sum(part.low for part in parts),
        high=sum(part.high for part in parts),
        reasons=("every class at its low end, or every one at its high end",),
    )


def _a_metre(mass: float) -> str:
    return f"{mass:.0f} kg a metre" if reads() is METRIC else f"{with_unit(mass, 'kg/m'):.0f}"
