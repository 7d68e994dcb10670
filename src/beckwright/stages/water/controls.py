"""Where something other than the bed sets the water's level: lips, sills and pools."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Flows, Length, Level, Volume
from beckwright.base.values import value
from beckwright.equations.lips import DROWNED_POWER, HEAD_ADDITION, brink_depth, lip_head
from beckwright.equations.open_channel import critical_depth, specific_energy, unit_flow, wetted_area
from beckwright.job.model import LipKind, Pool, Run, Source, Step
from beckwright.stages.course import SetOutCourse, pool_depths
from beckwright.tables.lips import LIP_COEFFICIENTS

_CLOSE = 1e-13
_TURNS = 60


@value
class LipWater:
    """Water at one lip.

    crest, chainage, width  of the lip
    unit_flow               (k,) flow for each metre of lip
    free                    (3, k) head with nothing below in its way: low, middle, high
    tailwater               (3, k) level below over the crest: less than 0 where the water falls, more where the lip is
                            drowned; 0 for the source's lip, which lies level with what follows and counts as free
    head                    (3, k) water above the crest a little upstream, drowned or free
    brink                   (k,) depth where the water leaves the edge of a free lip
    """

    name: str
    kind: LipKind
    chainage: Length
    crest: Level
    drop: Length
    width: Length
    unit_flow: FloatArray
    free: FloatArray
    tailwater: FloatArray
    head: FloatArray
    brink: FloatArray


@value
class PoolWater:
    """Water in one pool.

    number  of its stretch
    rim     level at rest
    plan    area at the rim
    full    volume below the rim
    level   (3, k) while running
    """

    name: str
    number: int
    chainage: Length
    rim: Level
    plan: Area
    full: Volume
    level: FloatArray


def lips_of(course: SetOutCourse, source: Source, flows: Flows) -> tuple[LipWater, ...]:
    """The source's lip and the lip of every step, in order downstream, as if all were free."""
    lips = [_over_lip("source", source.lip, 0.0, source.lip_level, 0.0, source.lip_width, flows)]
    for stretch in course.stretches:
        step = stretch.reach
        if isinstance(step, Step):
            lips.append(
                _over_lip(step.name, step.lip, stretch.start, stretch.bed_start, step.drop, step.lip_width, flows)
            )
    return tuple(lips)


def _over_lip(
    name: str, kind: LipKind, chainage: Length, crest: Level, drop: Length, width: Length, flows: Flows
) -> LipWater:
    across = unit_flow.over(flows, width)
    free = heads_over(kind, across)
    return LipWater(
        name=name,
        kind=kind,
        chainage=chainage,
        crest=crest,
        drop=drop,
        width=width,
        unit_flow=across,
        free=free,
        tailwater=np.full_like(free, -drop),
        head=free,
        brink=brink_depth.over(critical_depth.over(across)),
    )


def heads_over(kind: LipKind, across: FloatArray) -> FloatArray:
    """Low, middle and high head over a free lip of a kind, (3, k). A head cannot be below the bed: least 0."""
    row = LIP_COEFFICIENTS[kind]
    coefficients = np.array([[row.high], [row.amount], [row.low]])
    return np.maximum(lip_head.over(across, coefficients), 0.0)


def with_tailwater(lip: LipWater, level: FloatArray) -> LipWater:
    """The lip with the water below it at ``level``, (3, k): each end of its band meets the same end of that one."""
    tailwater = level - lip.crest
    drowned = tailwater > 0
    head = lip.free.copy()
    head[drowned] = drowned_head(lip.free[drowned], tailwater[drowned])
    return replace(lip, tailwater=tailwater, head=head)


def drowned_head(free: FloatArray, tailwater: FloatArray) -> FloatArray:
    """Head at which a drowned lip passes what ``free`` drives over it freely; arrays alike, ``tailwater`` above 0.

    The share that the lip's own law wants, ``((Hf + 1 mm) / (H + 1 mm))**1.5``, is the one that Villemonte leaves it.
    With his exponent taken off both sides their difference is concave in the head: Newton's method climbs on its root
    from below, from the larger of the two heads, and never oversteps. Raises ArithmeticError if it does not close.
    """
    power, bare = 1.5 / DROWNED_POWER, free + HEAD_ADDITION
    head = np.maximum(free, tailwater)
    for _ in range(_TURNS):
        held, wanted = (tailwater / head) ** 1.5, (bare / (head + HEAD_ADDITION)) ** power
        step = (wanted + held - 1.0) / (1.5 * held / head + power * wanted / (head + HEAD_ADDITION))
        head = head + np.maximum(step, 0.0)
        if np.all(step <= _CLOSE * head):
            return head
    message = "the head over a drowned lip was not found"
    raise ArithmeticError(message)


def lip_of(lips: tuple[LipWater, ...], step: Step) -> LipWater:
    """The lip of a step; the source's is none."""
    return next(lip for lip in lips[1:] if lip.name == step.name)


def pools_of(
    course: SetOutCourse,
    full: tuple[Volume, ...],
    lips: tuple[LipWater, ...],
    flows: Flows,
    depth: FloatArray,
    velocity: FloatArray,
) -> tuple[PoolWater, ...]:
    """Every pool, its level set by what stands below it; ``depth`` and ``velocity`` are those of the runs (3, k, n).

    full  volume of each below its rim, in order downstream
    """
    volumes = iter(full)
    return tuple(
        PoolWater(
            name=stretch.reach.name,
            number=number,
            chainage=stretch.start,
            rim=stretch.bed_start,
            plan=stretch.reach.length * stretch.reach.width,
            full=next(volumes),
            level=stretch.bed_start + rise_over_rim(course, number, stretch.reach, lips, flows, depth, velocity),
        )
        for number, stretch in enumerate(course.stretches)
        if isinstance(stretch.reach, Pool)
    )


def volume_of(course: SetOutCourse, number: int, pool: Pool) -> Volume:
    """Volume of a pool below its rim; ``number`` of its stretch."""
    along = course.stations.chainage[course.stations.of(number)] - course.stretches[number].start
    depths = pool_depths(pool, along)
    floor = pool.width - 2 * course.side_slope * depths
    return float(np.trapezoid(wetted_area.over(floor, depths, course.side_slope), along))


def rise_over_rim(
    course: SetOutCourse,
    number: int,
    pool: Pool,
    lips: tuple[LipWater, ...],
    flows: Flows,
    depth: FloatArray,
    velocity: FloatArray,
) -> FloatArray:
    """Rise above the rim, (3, k): the head over the stones of the rim, or the energy the next run needs if more.

    A pool that ends at a lip rises by the head over that lip.
    """
    below = course.stretches[number + 1].reach if number + 1 < len(course.stretches) else None
    if isinstance(below, Step):
        return lip_of(lips, below).head
    if not isinstance(below, Run):
        return heads_over("boulders", flows / pool.width)
    first = course.stations.of(number + 1).start
    needed = specific_energy.over(depth[:, :, first], velocity[:, :, first])
    return np.maximum(heads_over("boulders", flows / below.width), needed)
