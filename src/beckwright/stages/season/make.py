"""A year of one design: what each day takes, and what is made of it."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, Volume
from beckwright.base.values import value
from beckwright.equations.energy import energy_used
from beckwright.equations.reservoir import reserve_time
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.season.days import LENGTHS, Days, typical_year
from beckwright.stages.season.march import go_through, tank_wanted
from beckwright.stages.season.values import Season
from beckwright.stages.supply import Supply
from beckwright.stages.surroundings.works import footprint
from beckwright.stages.water import Water
from beckwright.tables.season import CASCADING, ROOF_YIELD, SPLASH_AT_A_FALL, WICKING

DAY = 86400.0
SPREAD = ("low", "amount", "high")


def go_through_year(
    job: Job, course: SetOutCourse, water: Water, filled: FilledReservoir, supply: Supply
) -> Season | None:
    """Go through a typical year; None without a climate table."""
    if job.climate is None:
        return None
    days = typical_year(job.climate)
    runs = _Runs(
        flows=tuple(each.name for each in job.flows),
        times=np.array([sum(row.time for row in job.running if row.flow == each.name) for each in job.flows]),
        months=np.isin(np.arange(12), job.season.months),
    )
    sheds = _Sheds.of(job, course, water)
    parts = sheds.each_day(job, days, runs)
    lost = sum(parts.values(), np.zeros((3, len(days.month))))
    pit = filled.pit
    room = max(pit.held(pit.overflow) - pit.held(pit.rested), 0.0)
    roof = job.season.roof * np.array([getattr(ROOF_YIELD, end) for end in reversed(SPREAD)])
    passed = go_through(lost, days.rain, sheds.catch, room, roof, job.season.tank)
    dry = np.array([lost[:, days.month == month].mean(axis=1) for month in range(12)]).T
    return Season(
        flow=runs.main,
        running=runs.times.sum() * runs.share_of_months,
        energy=_energy(supply, runs),
        catch=sheds.catch,
        **{name: _months(part, days) for name, part in parts.items()},
        rain=np.tile(_months(days.rain[np.newaxis] * sheds.catch, days), (3, 1)),
        over=_months(passed.over, days),
        from_tank=_months(passed.from_tank, days),
        topped=_months(passed.topped, days),
        daily=dry,
        reserve=_reserve(filled, water, runs, dry),
        storm=room / sheds.catch,
        tank_wanted=None
        if job.season.roof <= 0
        else tank_wanted(passed.topped + passed.from_tank, roof[:, np.newaxis] * days.rain),
        frost_days=job.climate.frost_days,
    )


@value
class _Runs:
    """How long each flow runs in a year, spread evenly over the days of the months it runs in."""

    flows: tuple[str, ...]
    times: FloatArray
    months: BoolArray

    @property
    def main(self) -> str:
        """The flow that runs longest."""
        return self.flows[int(np.argmax(self.times))] if self.times.sum() > 0 else ""

    @property
    def share_of_months(self) -> FloatArray:
        """Of all hours, how many fall into each month, (12,)."""
        days = np.where(self.months, LENGTHS, 0.0)
        share: FloatArray = days / days.sum()
        return share

    def of_a_day(self, days: Days) -> FloatArray:
        """Share of each day that each flow runs, (flows, 365); never more than the whole day together."""
        a_day = self.times.sum() * self.share_of_months / np.array(LENGTHS) / DAY
        each = self.times / max(self.times.sum(), 1.0)
        shares: FloatArray = each[:, np.newaxis] * np.minimum(a_day, 1.0)[days.month]
        return shares


@value
class _Sheds:
    """Where the stream loses water.

    wet    (3,) plan of water and wet stones while it runs; resting (3,) the same with the pump off
    edges  metres of edge, both sides
    falls  how many
    """

    catch: Area
    wet: FloatArray
    resting: FloatArray
    edges: float
    falls: int
    flows: FloatArray

    @classmethod
    def of(cls, job: Job, course: SetOutCourse, water: Water) -> "_Sheds":
        at, laid = course.stations, footprint(job, course)
        along = at.chainage * laid.stretch
        pit = job.reservoir.length * job.reservoir.width
        pools = float(sum(float(np.max(pool.plan)) for pool in water.pools))
        return cls(
            catch=float(np.trapezoid(laid.edge.sum(axis=0), along)) + pit,
            wet=np.full(3, water.wet_area),
            # At rest the pools stay, and stones dry off in hours or stay damp for days.
            resting=np.array([pools, (pools + water.wet_area) / 2, water.wet_area]),
            edges=2.0 * float(along[-1]),
            falls=sum(1 for lip in water.lips if lip.drop > 0),
            flows=water.flows,
        )

    def each_day(self, job: Job, days: Days, runs: _Runs) -> dict[str, FloatArray]:
        """What each day takes, (3, 365) by what takes it."""
        share = runs.of_a_day(days)
        on = share.sum(axis=0)
        open_air = np.outer(self.wet, on) + np.outer(self.resting, 1.0 - on)
        splash = _spread(SPLASH_AT_A_FALL) if job.season.splash is None else np.full(3, job.season.splash)
        resting, running = job.season.leak_resting or 0.0, job.season.leak_running or 0.0
        return {
            "evaporation": _spread(CASCADING)[:, np.newaxis] * open_air * days.evaporation,
            "splash": np.outer(splash * self.falls, self.flows @ share * DAY),
            "wicking": np.outer(_spread(WICKING) * self.edges * DAY, on),
            "leak": np.tile((running * on + resting * (1.0 - on)) * DAY, (3, 1)),
        }


def _spread(row: object) -> FloatArray:
    return np.array([getattr(row, end) for end in SPREAD])


def _months(daily: FloatArray, days: Days) -> FloatArray:
    """Sums by month, (…, 365) to (…, 12)."""
    return np.stack([daily[..., days.month == month].sum(axis=-1) for month in range(12)], axis=-1)


def _energy(supply: Supply, runs: _Runs) -> FloatArray | None:
    """Energy of each month at all flows, (12,)."""
    year = 0.0
    for given, time in zip(supply.chosen.flows, runs.times, strict=True):
        if time > 0 and given.duty is None:
            return None
        if given.duty is not None:
            year += energy_used(given.duty.watts, time)
    return year * runs.share_of_months


def _reserve(filled: FilledReservoir, water: Water, runs: _Runs, dry: FloatArray) -> FloatArray:
    """How long the reservoir lasts, (3, 12), the longest first."""
    reserve = np.full((3, 12), np.inf)
    if not runs.main:
        return reserve
    flow, pit = water.number(runs.main), filled.pit
    least: Volume = pit.held(pit.pump_minimum)
    spare = np.array([max(pit.held(float(level)) - least, 0.0) for level in filled.running[:, flow]])
    for month in np.flatnonzero(runs.months & (dry.min(axis=0) > 0.0)):
        reserve[:, month] = reserve_time.over(spare, dry[:, month] / DAY, 1.0)
    return reserve
