"""Pockets placed and counted."""

from collections.abc import Iterator
from itertools import combinations
from string import ascii_uppercase

import numpy as np

from beckwright.base.quantities import Area, Ratio
from beckwright.equations.planting import (
    barrier_area,
    ground_area,
    ordered,
    planted_in_squares,
    planted_in_triangles,
)
from beckwright.job.model import Job
from beckwright.job.model.planting import PlantingWork, PlantShare, Pocket
from beckwright.stages.course import SetOutCourse
from beckwright.stages.ground import Ground
from beckwright.stages.planting.choke import choke, in_pools
from beckwright.stages.planting.ground import (
    from_lining,
    from_water,
    ground_taken,
    over_water,
    roots_entered,
    sides_of,
    slope_of,
    strip_of,
    zone_of,
)
from beckwright.stages.planting.names import look_up
from beckwright.stages.planting.values import Ordered, PlacedPocket, Planted, Planting
from beckwright.stages.water import Water
from beckwright.tables.planting import COMPOST_DEPTH, LOSS, SOIL_DEPTH

_SHARED: Area = 0.01
"""Two pockets that share less than a hand's breadth square only touch."""
_WHOLE = 1e-9
"""A count this little over a whole number is that number."""

DENSITY = {"triangles": planted_in_triangles, "squares": planted_in_squares}


def plant(job: Job, course: SetOutCourse, ground: Ground, water: Water) -> Planting:
    """Place every pocket, count what grows in it, and tell what it does to the water."""
    usual = usual_flow(job, water)
    pockets = tuple(
        _placed(job, course, ground, water, pocket, letter_of(number), usual)
        for number, pocket in enumerate(job.planting.pockets)
    )
    return Planting(
        place=job.planting.place,
        pattern=job.planting.pattern,
        loss=job.planting.loss,
        usual=water.names[usual],
        pockets=pockets,
        choked=choke(course, water, pockets, job.course.freeboard_wanted),
        in_pools=tuple(in_pools(course, pockets)),
        over=tuple(_over(pockets)),
        orders=_orders(pockets),
    )


def letter_of(number: int) -> str:
    """A to Z, then AA, AB and so on."""
    more, last = divmod(number, len(ascii_uppercase))
    return (letter_of(more - 1) if more else "") + ascii_uppercase[last]


def usual_flow(job: Job, water: Water) -> int:
    """Place of the flow that runs longest in a year; of the largest where nobody said how long any runs."""
    times = np.zeros(len(water.names))
    for running in job.running:
        times[water.number(running.flow)] += running.time
    return int(np.argmax(times if times.any() else water.flows))


def _placed(
    job: Job, course: SetOutCourse, ground: Ground, water: Water, pocket: Pocket, letter: str, usual: int
) -> PlacedPocket:
    strip = strip_of(course, pocket)
    near, far = sides_of(course, pocket, strip)
    shape = ground_taken(near, far)
    slope, surveyed = slope_of(ground, course, pocket, strip)
    area = float(ground_area(float(shape.area), slope))
    over = over_water(course, water, pocket, usual) if pocket.inside else None
    depth = (SOIL_DEPTH if pocket.inside else COMPOST_DEPTH).amount if pocket.soil is None else pocket.soil
    return PlacedPocket(
        pocket=pocket,
        letter=letter,
        near=near,
        far=far,
        outline=np.array(shape.exterior.coords)[:-1],
        plan=float(shape.area),
        slope=slope,
        surveyed=surveyed,
        ground=area,
        round_it=float(shape.length),
        zone=zone_of(job, pocket, over),
        over_water=over,
        from_water=from_water(course, water, pocket) if pocket.inside else None,
        from_lining=from_lining(job, pocket, shape),
        beyond=float(np.maximum(strip.far - strip.lining, 0.0).max()) if pocket.inside else 0.0,
        reach=float(np.minimum(np.minimum(-pocket.gap, pocket.width), 2 * strip.bed).max())
        if pocket.inside and pocket.gap < 0
        else 0.0,
        soil_depth=depth,
        soil=area * depth,
        fleece=float(barrier_area(area, float(shape.length), depth)) if pocket.inside else 0.0,
        roots=roots_entered(job, shape),
        plants=tuple(_planted(job.planting, each, area) for each in pocket.plants),
    )


def _planted(work: PlantingWork, given: PlantShare, ground: Area) -> Planted:
    named = look_up(given.plant)
    spacing = given.spacing if given.spacing is not None else named.plant.spacing if named.plant else None
    area = ground * given.share
    covers = 0.0 if spacing is None else float(DENSITY[work.pattern](area, spacing))
    return Planted(
        named=named,
        share=given.share,
        area=area,
        spacing=spacing,
        covers=covers,
        number=whole(covers, work.loss),
        low=whole(covers, 0.0),
        high=whole(covers, max(work.loss, LOSS.high)),
    )


def whole(covers: Ratio, loss: Ratio) -> int:
    """Whole plants that leave enough after losses."""
    return int(np.ceil(ordered(covers, loss) - _WHOLE))


def _over(pockets: tuple[PlacedPocket, ...]) -> Iterator[tuple[str, str, Area]]:
    from shapely import Polygon

    shapes = [(placed.letter, Polygon(placed.outline)) for placed in pockets]
    for (one, shape), (other, second) in combinations(shapes, 2):
        shared = float(shape.intersection(second).area)
        if shared > _SHARED:
            yield one, other, shared


def _orders(pockets: tuple[PlacedPocket, ...]) -> tuple[Ordered, ...]:
    """One row a plant, in the order they are met downstream of the job's list."""
    met: dict[str, list[tuple[PlacedPocket, Planted]]] = {}
    for placed in pockets:
        for planted in placed.plants:
            met.setdefault(planted.named.name, []).append((placed, planted))
    return tuple(
        Ordered(
            named=rows[0][1].named,
            letters=tuple(dict.fromkeys(placed.letter for placed, _ in rows)),
            area=sum(planted.area for _, planted in rows),
            spacings=tuple(sorted({planted.spacing for _, planted in rows if planted.spacing is not None})),
            number=sum(planted.number for _, planted in rows),
            low=sum(planted.low for _, planted in rows),
            high=sum(planted.high for _, planted in rows),
        )
        for rows in met.values()
    )
