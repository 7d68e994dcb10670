"""What a course says of the water in it, whatever flows: its channel, its laws, what its stones let through."""

import numpy as np

from beckwright.base.lately import lately
from beckwright.base.quantities import Area, BoolArray, FloatArray, Lengths, Ratios, Volume
from beckwright.base.values import value
from beckwright.equations.water import water_viscosity
from beckwright.job.model import Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water.controls import volume_of
from beckwright.stages.water.depth import Channel
from beckwright.stages.water.hidden import controls_of, exchange_length, share_sunk
from beckwright.stages.water.runs import RunWater, runs_of


@value
class Waterway:
    """A course as water finds it, n stations; stations of pools have the first run's numbers, and are not used.

    in_run    (n,) whether a station lies in a run
    slope     (n,) fall for each metre of plan length
    factor    (3, 1, n) the lawful depth is the depth over this
    through   (3, 1, n) flow for each square metre of a full stone layer
    sunk      (n,) share of what the stones could carry that has sunk in; 0 in pools
    full      volume of each pool below its rim, in order downstream
    wet_area  plan area between the sides, over runs and pools
    """

    runs: tuple[RunWater, ...]
    in_run: BoolArray
    channel: Channel
    upright: FloatArray
    slope: Ratios
    factor: FloatArray
    through: FloatArray
    sunk: Ratios
    full: tuple[Volume, ...]
    wet_area: Area


@lately
def waterway(course: SetOutCourse, temperature: float) -> Waterway:
    """Read a course for water of a temperature in degrees Celsius. Asked twice for each design: flat out too."""
    at, runs = course.stations, runs_of(course, water_viscosity(temperature))
    gradient = _spread(course, runs, [run.gradient for run in runs])
    return Waterway(
        runs=runs,
        in_run=np.isin(at.reach, [run.number for run in runs]),
        channel=Channel(
            width=at.width,
            side_slope=course.side_slope,
            gradient=gradient,
            manning=_spread(course, runs, [np.array(run.law.manning) for run in runs])[:, None, :],
            grain84=_spread(course, runs, [run.law.grain84 for run in runs]),
        ),
        upright=np.sqrt(1.0 - gradient**2),
        slope=_spread(course, runs, [run.stretch.slope for run in runs]),
        factor=_spread(course, runs, [np.array(run.law.factor) for run in runs])[:, None, :],
        through=_spread(course, runs, [run.through for run in runs])[:, None, :],
        sunk=_sunk(course, runs),
        full=tuple(
            volume_of(course, number, stretch.reach)
            for number, stretch in enumerate(course.stretches)
            if isinstance(stretch.reach, Pool)
        ),
        wet_area=_wet_area(course),
    )


def _spread(course: SetOutCourse, runs: tuple[RunWater, ...], of: list[float] | list[FloatArray]) -> FloatArray:
    """Give every station its run's value, station last; stations of pools get the first run's."""
    rows = np.broadcast_to(of[0], (len(course.stretches), *np.shape(of[0]))).astype(float)
    rows[[run.number for run in runs]] = of
    return np.moveaxis(rows[course.stations.reach], 0, -1)


def _sunk(course: SetOutCourse, runs: tuple[RunWater, ...]) -> Lengths:
    chainage = course.stations.chainage
    sunk = np.zeros_like(chainage)
    for run in runs:
        exchange = exchange_length(run.run.bed.depth, run.stretch.slope)
        sunk[run.stations] = share_sunk(chainage[run.stations], controls_of(course, run.stretch), exchange)
    return sunk


def _wet_area(course: SetOutCourse) -> Area:
    at = course.stations
    return float(
        sum(np.trapezoid(at.width[here], at.chainage[here]) for here in map(at.of, range(len(course.stretches))))
    )
