"""The steady water at every station for every named flow, as a band between the laws."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, Flows, Levels
from beckwright.base.values import value
from beckwright.equations.open_channel import (
    froude_number,
    hydraulic_radius,
    relative_depth,
    surface_width,
    wetted_perimeter,
)
from beckwright.equations.stone_layer import share_shown
from beckwright.job.model import NamedFlow, Pool, Run, Source, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water.bed import Bed
from beckwright.stages.water.controls import (
    LipWater,
    PoolWater,
    lip_of,
    lips_of,
    pools_of,
    rise_over_rim,
    with_tailwater,
)
from beckwright.stages.water.depth import normal_depth
from beckwright.stages.water.hidden import level_held
from beckwright.stages.water.profile import critical_depths, profiles
from beckwright.stages.water.runs import RunWater
from beckwright.stages.water.stored import Stored, water_stored
from beckwright.stages.water.way import Waterway, waterway
from beckwright.tables.beds import SHEET_BREAKS


@value
class Water:
    """Steady water; n stations, k flows; bands come first: low, middle and high depth.

    depth     (3, k, n) visible water square above the stones; in pools, above the rim
    uniform   (3, k, n) depth the visible flow would have on an endless run; 0 in pools
    froude    (3, k, n) below 1 calm, above 1 shooting; 0 where nothing flows over the stones
    sheet     (3, k, n) whether it lies over the stones as a sheet rather than threading between them
    hidden    (3, k, n) flow between the stones
    shown     (3, k, n) share of the flow that is in view
    velocity  (3, k, n) of the visible water in runs; 0 where none shows
    level     (3, k, n) running water level; among the stones where none shows
    still     (n,) level at rest; the lining's own level where nothing is held
    held      (n,) whether water stands there at rest
    wet_area  plan area of stones and water that evaporates while running
    """

    names: tuple[str, ...]
    flows: Flows
    depth: FloatArray
    uniform: FloatArray
    froude: FloatArray
    sheet: BoolArray
    hidden: FloatArray
    shown: FloatArray
    velocity: FloatArray
    level: FloatArray
    still: Levels
    held: BoolArray
    runs: tuple[RunWater, ...]
    lips: tuple[LipWater, ...]
    pools: tuple[PoolWater, ...]
    stored: Stored
    wet_area: Area

    def number(self, flow: str) -> int:
        """Place of a named flow in the arrays."""
        return self.names.index(flow)


def run_water(course: SetOutCourse, source: Source, flows: tuple[NamedFlow, ...], temperature: float) -> Water:
    """Let each named flow run steadily down the course. ``temperature`` of the water in degrees Celsius."""
    amounts = np.array([flow.flow for flow in flows])
    way = waterway(course, temperature)
    runs, hidden = way.runs, _hidden(course, way, amounts)
    bed = _bed(course, way, amounts, hidden)
    lips, depth = _lips_and_depth(course, runs, lips_of(course, source, amounts), bed, amounts)
    velocity = np.where(depth > 0, bed.flow / bed.area(depth), 0.0)
    pools = pools_of(course, way.full, lips, amounts, depth, velocity)
    still = _still(course, runs, pools)
    among = _among_stones(course, way, amounts, hidden, still)
    level = _levels(course, way, pools, depth, among)
    for pool in pools:
        depth[:, :, course.stations.of(pool.number)] = (pool.level - pool.rim)[:, :, None]
    return Water(
        names=tuple(flow.name for flow in flows),
        flows=amounts,
        depth=depth,
        uniform=bed.normal,
        froude=_froude(bed, depth, velocity),
        sheet=_sheet(bed, depth),
        hidden=hidden,
        shown=share_shown.over(amounts[:, None], hidden),
        velocity=velocity,
        level=level,
        still=still,
        held=still > course.stations.liner,
        runs=runs,
        lips=lips,
        pools=pools,
        stored=water_stored(course, source, runs, lips[0], pools, depth, among, still),
        wet_area=way.wet_area,
    )


def _hidden(course: SetOutCourse, way: Waterway, flows: Flows) -> FloatArray:
    """Flow between the stones at every station, (3, k, n); 0 in pools."""
    at = course.stations
    layer = (at.stone * at.width * way.sunk)[None, None, :]
    return np.minimum(way.through * layer, flows[:, None])


def _bed(course: SetOutCourse, way: Waterway, flows: Flows, hidden: FloatArray) -> Bed:
    visible = np.where(way.in_run, flows[:, None] - hidden, 0.0)
    return Bed(
        channel=way.channel,
        upright=way.upright,
        factor=way.factor,
        level=course.stations.bed,
        flow=visible,
        normal=way.factor * normal_depth(way.channel, visible),
        critical=critical_depths(way.channel, visible),
    )


def _lips_and_depth(
    course: SetOutCourse, runs: tuple[RunWater, ...], lips: tuple[LipWater, ...], bed: Bed, flows: Flows
) -> tuple[tuple[LipWater, ...], FloatArray]:
    """Lips, and depth along all runs (3, k, n), that agree: a lip backs up the run above it, a level below drowns it.

    No level hangs on anything upstream of it, so each turn settles one more lip for good, the lowest first; where no
    lip is drowned the first turn is the last.
    """
    depth = _profile(course, runs, lips, bed, flows)
    steps = (number for number, stretch in enumerate(course.stretches) if isinstance(stretch.reach, Step))
    below = [_level_below(course, number, lips, bed, flows, depth) for number in steps]
    settled = (lips[0], *map(with_tailwater, lips[1:], below))
    if all(np.array_equal(after.head, before.head) for after, before in zip(settled, lips, strict=True)):
        return settled, depth
    return _lips_and_depth(course, runs, settled, bed, flows)


def _level_below(
    course: SetOutCourse, number: int, lips: tuple[LipWater, ...], bed: Bed, flows: Flows, depth: FloatArray
) -> FloatArray:
    """Water level below a step, (3, k): of its pool or at the head of its run; under the last one the bed's own end."""
    stretch = course.stretches[number]
    if number + 1 == len(course.stretches):
        return np.full(depth.shape[:2], stretch.bed_end)
    below = course.stretches[number + 1]
    if isinstance(below.reach, Pool):
        velocity = bed.flow / bed.area(depth)
        return below.bed_start + rise_over_rim(course, number + 1, below.reach, lips, flows, depth, velocity)
    first = course.stations.of(number + 1).start
    level: FloatArray = bed.level[first] + depth[:, :, first] * np.hypot(1.0, below.slope)
    return level


def _profile(
    course: SetOutCourse, runs: tuple[RunWater, ...], lips: tuple[LipWater, ...], bed: Bed, flows: Flows
) -> FloatArray:
    """Depth along all runs, (3, k, n), from the foot of the course up.

    Runs that end at a lip or in the open need nothing from below and march together; one that ends in a pool or on
    another run waits for the run below.
    """
    depth = np.zeros(bed.flow.shape)
    waiting = list(runs)
    while waiting:
        unknown = {run.number for run in waiting}
        ready = [run for run in waiting if _needs(course, run.number) not in unknown]
        foot = np.stack([_foot(course, run, lips, bed, flows, depth) for run in ready], axis=-1)
        depth = depth + profiles(bed, tuple(run.stations for run in ready), foot)
        waiting = [run for run in waiting if run not in ready]
    return depth


def _needs(course: SetOutCourse, number: int) -> int | None:
    """Number of the run whose head sets the level at the foot of this one, if any does."""
    below = course.stretches[number + 1 :]
    if below and isinstance(below[0].reach, Pool):
        return number + 2 if len(below) > 1 and isinstance(below[1].reach, Run) else None
    return number + 1 if below and isinstance(below[0].reach, Run) else None


def _foot(
    course: SetOutCourse, run: RunWater, lips: tuple[LipWater, ...], bed: Bed, flows: Flows, depth: FloatArray
) -> FloatArray:
    """Depth at the foot of a run, (3, k): head over its lip, rise of its pool, depth of the next run; 0 in the open."""
    upright = float(np.hypot(1.0, run.stretch.slope))
    below = run.number + 1
    reach = course.stretches[below].reach if below < len(course.stretches) else None
    if isinstance(reach, Step):
        return lip_of(lips, reach).head / upright
    if isinstance(reach, Pool):
        return rise_over_rim(course, below, reach, lips, flows, depth, bed.flow / bed.area(depth)) / upright
    if isinstance(reach, Run):
        return depth[:, :, course.stations.of(below).start]
    return np.zeros(depth.shape[:2])


def _still(course: SetOutCourse, runs: tuple[RunWater, ...], pools: tuple[PoolWater, ...]) -> Levels:
    """Level at rest: pools at their rims, wedges behind lips and sills, else the lining."""
    at = course.stations
    still = at.liner.copy()
    for run in runs:
        here = run.stations
        held = np.minimum(level_held(course, run.stretch, at.chainage[here]), at.bed[here])
        still[here] = np.maximum(held, at.liner[here])
    for pool in pools:
        still[at.of(pool.number)] = pool.rim
    return still


def _among_stones(course: SetOutCourse, way: Waterway, flows: Flows, hidden: FloatArray, still: Levels) -> FloatArray:
    """Depth of water in the stone layer while running, (3, k, n): full where water shows, else what the flow needs."""
    at = course.stations
    carries = way.through * at.width * way.sunk
    needed = np.where(carries > 0, flows[:, None] / np.where(carries > 0, carries, 1.0), 0.0)
    some_shows = hidden < flows[:, None]
    depth = np.where(some_shows, at.stone, np.minimum(needed, at.stone))
    return np.maximum(depth, np.minimum(still - at.liner, at.stone))


def _levels(
    course: SetOutCourse, way: Waterway, pools: tuple[PoolWater, ...], depth: FloatArray, among: FloatArray
) -> FloatArray:
    """Running water level, (3, k, n): over the stones, or among them where none shows."""
    at = course.stations
    level = np.where(depth > 0, at.bed + depth * np.hypot(1.0, way.slope), at.bed - at.stone + among)
    for pool in pools:
        level[:, :, at.of(pool.number)] = pool.level[:, :, None]
    return level


def _froude(bed: Bed, depth: FloatArray, velocity: FloatArray) -> FloatArray:
    """Froude number with the mean depth of the section; 0 where nothing flows over the stones."""
    mean = bed.area(depth) / surface_width.over(bed.channel.width, depth, bed.channel.side_slope)
    return np.where(velocity > 0, froude_number.over(velocity, np.maximum(mean, 1e-9)), 0.0)


def _sheet(bed: Bed, depth: FloatArray) -> BoolArray:
    """Whether the stones lie deep enough under water for a sheet; below, water threads between them."""
    radius = hydraulic_radius.over(
        bed.area(depth), wetted_perimeter.over(bed.channel.width, depth, bed.channel.side_slope)
    )
    sheet: BoolArray = (bed.flow > 0) & (relative_depth.over(radius, bed.channel.grain84) >= SHEET_BREAKS.amount)
    return sheet
