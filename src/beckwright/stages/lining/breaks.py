"""Where one sheet may end and the next begin.

Upstream over downstream. A loose lap has to climb: the hidden end of the lower sheet stands over the water that could
creep in under the upper one. No lap lies in a pool or at the foot of a fall.
"""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import BoolArray, IntArray, Length, Lengths
from beckwright.job.model import Job, Pool, Run, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Fall
from beckwright.stages.lining.flat import read
from beckwright.stages.lining.values import Lap, Strip
from beckwright.tables.lining import LEAST_OVER_FALL, LOOSE_SLOPE
from beckwright.tables.practice import LAP_HEIGHT

SPACING: Length = 0.25
"""Nearest two break stations along a run, m: a peg's worth of detail."""
MOST = 160
"""More break stations than this are thinned along the runs."""


def break_places(job: Job, course: SetOutCourse, falls: tuple[Fall, ...], strip: Strip) -> tuple[Lap, ...]:
    """Every lap that may be, in order downstream."""
    laps = [
        *_at_steps(job, course, strip),
        *_along_runs(job, course, strip, _foot_zones(course, falls)),
    ]
    laps.sort(key=lambda lap: (lap.start, lap.end))
    return _thinned(tuple(laps))


def _thinned(laps: tuple[Lap, ...]) -> tuple[Lap, ...]:
    """All laps at steps, and every so manieth along the runs."""
    steps = sum(lap.at_step for lap in laps)
    every = int(np.ceil((len(laps) - steps) / max(MOST - steps, 1)))
    runs = [lap for lap in laps if not lap.at_step][:: max(every, 1)]
    return tuple(sorted([*(lap for lap in laps if lap.at_step), *runs], key=lambda lap: (lap.start, lap.end)))


def _at_steps(job: Job, course: SetOutCourse, strip: Strip) -> Iterator[Lap]:
    """The upper sheet hangs down the face as far as the water below; the lower one comes up behind it, over the lip."""
    for number, stretch in enumerate(course.stretches[:-1]):
        if not isinstance(stretch.reach, Step) or number == 0:
            continue
        lip, foot = _rows_at(strip, number - 1)[-1], _rows_at(strip, number + 1)
        if not len(foot) or not isinstance(course.stretches[number - 1].reach, Run):
            continue
        top, bottom = strip.level[lip], strip.level[foot[0]]
        shown = float(np.clip((top - strip.water[foot[0]]) / (top - bottom), 0.0, 1.0))
        end = strip.along[lip] + shown * (strip.along[foot[0]] - strip.along[lip])
        start = min(strip.along[lip], end - job.layers.lap)
        if strip.along[lip] - start <= course.stretches[number - 1].end - course.stretches[number - 1].start:
            yield _lap(job, strip, stretch.reach.name, float(start), float(end), at_step=True)


def _along_runs(job: Job, course: SetOutCourse, strip: Strip, zones: list[tuple[Length, Length]]) -> Iterator[Lap]:
    """Within one run, clear of the feet of falls and of what follows it."""
    for number, stretch in enumerate(course.stretches):
        if not isinstance(stretch.reach, Run):
            continue
        rows = _rows_at(strip, number)
        first, last = strip.along[rows[0]], strip.along[rows[-1]] - job.layers.lap
        below = course.stretches[number + 1].reach if number + 1 < len(course.stretches) else None
        if isinstance(below, Pool):
            last -= LEAST_OVER_FALL.amount
        starts = strip.along[rows]
        starts = starts[(starts >= first) & (starts <= last + 1e-9)]
        chainages = read(strip, strip.chainage, np.stack([starts, starts + job.layers.lap]))
        clear = _clear(chainages, zones)
        for start in _apart(starts[clear]):
            yield _lap(job, strip, stretch.reach.name, start, start + job.layers.lap, at_step=False)


def _clear(chainages: Lengths, zones: list[tuple[Length, Length]]) -> BoolArray:
    clear = np.ones(chainages.shape[1], dtype=bool)
    for start, end in zones:
        clear &= (chainages[1] <= start) | (chainages[0] >= end)
    return clear


def _apart(starts: Lengths) -> Iterator[Length]:
    last = -np.inf
    for start in starts.tolist():
        if start - last >= SPACING - 1e-6:
            last = start
            yield start


def _foot_zones(course: SetOutCourse, falls: tuple[Fall, ...]) -> list[tuple[Length, Length]]:
    """From each lip to where its sheet has landed at the farthest, and no seam near it."""
    zones = [(0.0, LEAST_OVER_FALL.amount)]
    for fall in falls:
        if fall.sheet is not None:
            far = float(np.max(fall.sheet.landed.far, initial=0.0))
            zones.append((fall.lip.chainage, fall.lip.chainage + far + LEAST_OVER_FALL.amount))
    return zones


def _rows_at(strip: Strip, number: int) -> IntArray:
    return np.flatnonzero(strip.reach == number)


def _lap(job: Job, strip: Strip, place: str, start: Length, end: Length, *, at_step: bool) -> Lap:
    ends = np.array([start, end])
    levels, chainages = read(strip, strip.level, ends), read(strip, strip.chainage, ends)
    water = float(read(strip, strip.water, ends)[1])
    if at_step:
        foot = int(np.searchsorted(strip.along, end, side="right"))
        water = float(strip.water[min(foot, len(strip.water) - 1)])
    height = float(levels[0]) - water
    slope = float(levels[0] - levels[1]) / max(end - start, 1e-9)
    climbs = height >= LAP_HEIGHT.amount and slope >= LOOSE_SLOPE.amount
    girths = strip.girths()
    here = (strip.along >= start - 1e-9) & (strip.along <= end + 1e-9)
    across = max(read(strip, girths, ends).max(), girths[here].max(initial=0.0))
    return Lap(
        place=place,
        start=start,
        end=end,
        chainage=(float(chainages[0]), float(chainages[1])),
        level=float(levels[0]),
        height=height,
        depth=max(water - float(levels[1]), 0.0),
        across=float(across),
        bonded=job.lining.join == "bonded" or not climbs,
        at_step=at_step,
    )
