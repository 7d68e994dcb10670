"""What the frames of a film tell: where the water is, when it comes, how low the reservoir goes."""

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Flow, IntArray, Volume
from beckwright.compose import Design
from beckwright.equations.open_channel import froude_number, surface_width, wetted_area
from beckwright.equations.unsteady import kinematic_wave_number
from beckwright.film.asked import Asked
from beckwright.film.nodes import Nodes
from beckwright.film.pump import FLAT_OUT, Pumping
from beckwright.film.reel import Taken
from beckwright.film.values import NEVER, Film, LipTime, RunWave

FIRST, HALF, LAST = 0.01, 0.5, 0.9
STEADY, SUNK = 0.95, 0.99

_CREEPS = 1e-6
"""Water slower than this is not running, m/s."""

_STAYS = 1e-4
"""A level that changes by less than this stays, m."""

_NO_FLOW = 1e-12
_RESERVOIR, _SPILT = -2, -1


def read_film(
    design: Design, nodes: Nodes, pumping: Pumping, taken: Taken, asked: Asked, flow: str, added: Volume
) -> Film:
    """Read a film off its frames."""
    held, seconds = taken.held, taken.seconds
    over, under = np.maximum(held - nodes.full, 0.0), np.minimum(held, nodes.full)
    runs, reservoir, back = nodes.in_runs, held[:, _RESERVOIR], taken.flow[:, nodes.foot]
    level = pumping.level(reservoir)
    change = _change(nodes, taken, pumping)
    faces = np.arange(1, nodes.foot + 1)
    reached = passing(taken, faces, change, LAST if asked.story == "stop" else HALF)
    firsts, halves = (passing(taken, faces, change, share) for share in (FIRST, HALF))
    return Film(
        story=asked.story,
        flow=flow,
        then=asked.then,
        end=asked.end,
        pools_filled=asked.pools_filled,
        topped_up=asked.topped_up,
        missing=asked.missing,
        larger=asked.larger,
        cell=asked.cell,
        seconds=seconds,
        level=level,
        pumped=taken.pumped,
        back=back,
        film=over[:, runs].sum(axis=1),
        pools=held[:, nodes.of("pool")].sum(axis=1),
        pores=under[:, runs].sum(axis=1),
        box=held[:, 1],
        hose=held[:, 0],
        spilt=held[:, _SPILT],
        chainage=nodes.chainage[faces],
        reached=reached,
        lips=tuple(
            LipTime(
                name=lip.name,
                chainage=lip.chainage,
                first=float(firsts[lip.node - 1]),
                half=float(halves[lip.node - 1]),
            )
            for lip in nodes.lips
        ),
        back_first=float(firsts[-1]),
        back_half=float(halves[-1]),
        steady=_drained(seconds, held) if asked.story == "stop" else _steady(taken, back),
        lowest=float(level.min()),
        lowest_at=_sunk(seconds, level[0] - level),
        highest=float(level.max()),
        highest_at=_sunk(seconds, level - level[0]),
        borrowed=float(reservoir[0] - reservoir.min()),
        cut_outs=taken.cut_outs,
        stall=pumping.stall,
        added=added,
        turnover=float(np.trapezoid(taken.pumped, seconds)),
        lost=float(held[0].sum() - held[-1].sum()),
        ended=taken.ended,
        waves=waves_of(design, pumping.name, asked.end),
    )


def passing(taken: Taken, faces: IntArray, change: tuple[FloatArray, Flow], share: float) -> FloatArray:
    """Seconds at which ``share`` of a change of flow has come past each face (f,); never is infinite."""
    before, after = change
    part = (taken.flow[:, faces] - before[faces]) / np.where(after == before[faces], 1.0, after - before[faces])
    there = (part >= share) & (after != before[faces])
    number = there.argmax(axis=0)
    found = there.any(axis=0)
    earlier, columns = np.maximum(number - 1, 0), np.arange(len(faces))
    low, high = part[earlier, columns], part[number, columns]
    way = np.where(high > low, (share - low) / np.where(high > low, high - low, 1.0), 0.0)
    start, stop = taken.seconds[earlier], taken.seconds[number]
    return np.where(found, start + np.clip(way, 0.0, 1.0) * (stop - start), NEVER)


def _change(nodes: Nodes, taken: Taken, pumping: Pumping) -> tuple[FloatArray, Flow]:
    """Flow past every face before, and after: what the pump gives in the end, or gave first where it ran dry."""
    pumped = taken.pumped[taken.pumped > 0.0]
    if not len(pumped):
        return taken.flow[0], 0.0
    ran_on = not taken.cut_outs and taken.ended != "stalls"
    return taken.flow[0], float(pumped[-1] if ran_on else pumped[0])


def _steady(taken: Taken, back: FloatArray) -> Duration:
    """When 95 % of what is pumped comes back (or no more than 105 %), and goes on doing so to the end."""
    off = np.abs(back / np.maximum(taken.pumped, _NO_FLOW) - 1.0) / (1.0 - STEADY)
    if taken.ended != "steady" or off[-1] > 1.0:
        return NEVER
    if not (off > 1.0).any():
        return 0.0
    last = int(np.flatnonzero(off > 1.0)[-1])
    way = (off[last] - 1.0) / (off[last] - off[last + 1])
    return float(taken.seconds[last] + way * (taken.seconds[last + 1] - taken.seconds[last]))


def _sunk(seconds: FloatArray, change: FloatArray) -> Duration:
    """When a level has come all but a hundredth of the most it changes; at once where it stays as it is.

    The last hundredth is crept to, and says more of the march than of the water.
    """
    wanted = SUNK * float(change.max())
    if wanted <= SUNK * _STAYS:
        return 0.0
    number = int((change >= wanted).argmax())
    part = (wanted - change[number - 1]) / (change[number] - change[number - 1])
    return float(seconds[number - 1] + part * (seconds[number] - seconds[number - 1]))


def _drained(seconds: FloatArray, held: FloatArray) -> Duration:
    """When nine tenths of all that comes back have come; at once where nothing does."""
    returned = held[:, [_RESERVOIR, _SPILT]].sum(axis=1)
    returned = returned - returned[0]
    return float(np.interp(LAST * returned[-1], np.maximum.accumulate(returned), seconds))


def waves_of(design: Design, flow: str, end: int) -> tuple[RunWave, ...]:
    """The kinematic wave number of every run where it is least, at the uniform flow of the steady water."""
    water = design.flat_out if flow == FLAT_OUT else design.water
    if not len(water.flows):
        return ()
    number, side = water.number(flow), design.course.side_slope
    waves = []
    for run in water.runs:
        here = design.course.stations.of(run.number)
        depth, velocity = water.depth[end, number, here], water.velocity[end, number, here]
        shows = velocity > _CREEPS
        depth, velocity = depth[shows], velocity[shows]
        mean = wetted_area.over(run.run.width, depth, side) / surface_width.over(run.run.width, depth, side)
        length = run.stretch.end - run.stretch.start
        numbers = kinematic_wave_number.over(run.gradient, length, depth, froude_number.over(velocity, mean))
        waves.append(RunWave(name=run.run.name, number=float(numbers.min(initial=NEVER))))
    return tuple(waves)
