"""What raises and lowers the level beside a leak: sun and wind, rain, a watering can, water that warms and shrinks."""

from datetime import date

import numpy as np

from beckwright.base.quantities import Area, FloatArray, Volume
from beckwright.compose import Design
from beckwright.equations.water import water_density
from beckwright.job.model import Job
from beckwright.readings.leak.read import Series
from beckwright.stages.season import weather
from beckwright.stages.season.values import LENGTHS
from beckwright.stages.surroundings.works import footprint
from beckwright.tables.leak import DAILY_EVAPORATION
from beckwright.tables.season import CASCADING, SPLASH_AT_A_FALL

DAY = 86400.0
ENDS = ("low", "amount", "high")


def wet_plan(design: Design, series: Series) -> Area:
    """Plan that evaporates: the pools at rest, and at a flow everything below where the water comes in."""
    if not series.running:
        return float(sum(float(np.max(pool.plan)) for pool in design.water.pools))
    at = design.course.stations
    wetted = float(np.trapezoid(at.width, at.chainage))
    here = at.chainage >= series.below
    return design.water.wet_area * float(np.trapezoid(at.width[here], at.chainage[here])) / wetted


def evaporated(design: Design, series: Series, wet: Area, day: date) -> FloatArray:
    """Volume a time, (3,): off the pan beside it, else by the weather of the day, else the month's; or nothing."""
    return _depth(design, series, day) * wet * _livelier(series)


def rained(design: Design, series: Series) -> FloatArray:
    """Volume of rain in the water at each reading, (n,), since the first: it is given back where it fell."""
    return np.cumsum(np.append(0.0, series.rain[1:])) * _catch(design)


def filled_up(series: Series) -> FloatArray:
    """Volume filled up by each reading, (n,), since the first."""
    return np.cumsum(np.append(0.0, series.added[1:]))


def swelled(design: Design, series: Series, held: FloatArray) -> FloatArray:
    """Volume that warming has added by each reading, (n,); none where no thermometer was read.

    All the water warms, and the level of the reservoir shows it all: at a flow what lies and runs in the course too.
    """
    if series.warmth is None:
        return np.zeros(len(held))
    density = np.array([water_density(float(each)) for each in series.warmth])
    swollen: FloatArray = (held + _in_course(design, series)) * (density[0] / density - 1)
    return swollen


def splashed(design: Design, series: Series) -> FloatArray:
    """Volume a time, (3,), that may land off the lining at the falls below where the water comes in; none at rest.

    No level tells it from a leak, so it is told beside the loss and not taken off it.
    """
    if not series.running:
        return np.zeros(3)
    flow = float(design.water.flows[design.water.number(series.flow)])
    falls = sum(1 for lip in design.water.lips if lip.drop > 0 and lip.chainage > series.below)
    share = np.array([getattr(SPLASH_AT_A_FALL, end) for end in ENDS])
    return share * falls * flow


def cooled(design: Design, series: Series, held: FloatArray) -> Volume:
    """Volume that a kelvin of cooling from the job's temperature takes out of the level."""
    t = design.job.water_temperature
    shrinks = (water_density(t - 0.5) - water_density(t + 0.5)) / water_density(t)
    return float((held.mean() + _in_course(design, series)) * shrinks)


def _in_course(design: Design, series: Series) -> Volume:
    """Water that lies and runs in the course; at rest the level of the reservoir does not show what lies there."""
    if not series.running:
        return 0.0
    flow, stored = design.water.number(series.flow), design.water.stored
    return float(stored.in_motion[1, flow] + stored.kept[1, flow])


def _catch(design: Design) -> Area:
    """Plan whose rain runs to the reservoir: all of the lining, wherever the water comes in."""
    laid, reservoir = footprint(design.job, design.course), design.job.reservoir
    lined = float(np.trapezoid(laid.edge.sum(axis=0), laid.chainage * laid.stretch))
    return lined + reservoir.length * reservoir.width


def _livelier(series: Series) -> FloatArray:
    """Running down steps, water gives more to the air than lying still: its wet sides and spray count as this share."""
    return np.array([getattr(CASCADING, end) for end in ENDS]) if series.running else np.ones(3)


def _depth(design: Design, series: Series, day: date) -> FloatArray:
    if series.evaporation is not None:
        depth = float(series.evaporation.sum() / (series.times[-1] - series.times[0]))
        return np.full(3, depth)
    hours = np.array([getattr(DAILY_EVAPORATION, end) for end in ENDS])
    depths: FloatArray = _of_the_day(design.job, series, day) * hours
    return depths


def _of_the_day(job: Job, series: Series, day: date) -> FloatArray:
    """Depth a time, (3,): of the days of the test where the job has their weather, else of a mean day of the month."""
    if job.weather is not None:
        last = day.toordinal() + int((series.times[-1] - series.times[0]) // DAY)
        here = (job.weather.days >= day.toordinal()) & (job.weather.days <= last)
        if here.any():
            gone = weather.evaporated(job.weather, job.season.wind_height, job.site.latitude, job.site.altitude)
            depth: FloatArray = gone.depth[:, here].mean(axis=1) / DAY
            return depth
    if job.climate is None:
        return np.zeros(3)
    mean = float(job.climate.evaporation[day.month - 1]) / LENGTHS[day.month - 1] / DAY
    return np.full(3, mean)
