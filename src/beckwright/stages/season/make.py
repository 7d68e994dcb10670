"""A year of one design: what each day takes, and what is made of it."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, IntArray, Volume
from beckwright.base.values import value
from beckwright.equations.energy import energy_used
from beckwright.equations.reservoir import reserve_time
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.season.days import Days, Span, days_of
from beckwright.stages.season.march import Passed, go_through, left_alone, tank_wanted
from beckwright.stages.season.values import LENGTHS, DayByDay, RealYears, Season
from beckwright.stages.season.years import real_years_told
from beckwright.stages.supply import Supply
from beckwright.stages.surroundings.works import footprint
from beckwright.stages.water import Water
from beckwright.tables.season import CASCADING, ROOF_YIELD, SPLASH_AT_A_FALL, WICKING

DAY = 86400.0
SPREAD = ("low", "amount", "high")


def go_through_year(
    job: Job, course: SetOutCourse, water: Water, filled: FilledReservoir, supply: Supply, year: str = ""
) -> Season | None:
    """Go through the days of real years where the job has them, else through a typical one; None without either.

    year  one of the real ones by its name; the middle one where it is not said
    """
    days = days_of(job)
    if days is None:
        return None
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
    spare = _spare(filled, water, runs)
    roof = job.season.roof * np.array([getattr(ROOF_YIELD, end) for end in reversed(SPREAD)])
    passed = go_through(lost, days.rain, sheds.catch, room, roof, job.season.tank)
    real = None
    if days.coldest is not None:
        real = real_years_told(days, lost, passed, sheds.catch, spare, runs.months & (runs.times.sum() > 0))
    chosen = _chosen(days, real, year)
    whole, here = slice(chosen.start, chosen.stop), days.month[chosen.start : chosen.stop]
    dry = np.array([lost[:, whole][:, here == month].mean(axis=1) for month in range(12)]).T
    return Season(
        flow=runs.main,
        running=runs.times.sum() * runs.share_of_months,
        energy=_energy(supply, runs),
        catch=sheds.catch,
        **{name: _months(part[:, whole], here) for name, part in parts.items()},
        rain=np.tile(_months(days.rain[np.newaxis, whole] * sheds.catch, here), (3, 1)),
        over=_months(passed.over[:, whole], here),
        from_tank=_months(passed.from_tank[:, whole], here),
        topped=_months(passed.topped[:, whole], here),
        daily=dry,
        reserve=_reserve(spare, runs, dry),
        storm=room / sheds.catch,
        tank_wanted=None
        if job.season.roof <= 0
        else tank_wanted(passed.topped + passed.from_tank, roof[:, np.newaxis] * days.rain),
        frost_days=real.at(chosen.name).frost.days if real else job.climate.frost_days if job.climate else None,
        name=chosen.name,
        by_day=_by_day(days, lost, passed, whole, left_alone(lost, days.rain, sheds.catch, room, spare), spare),
        real=real,
    )


def _chosen(days: Days, real: RealYears | None, year: str) -> Span:
    wanted = year or (real.years[real.middle].name if real else "")
    return next(each for each in days.spans if each.name == wanted)


def _by_day(
    days: Days, lost: FloatArray, passed: Passed, whole: slice, alone: FloatArray, spare: FloatArray
) -> DayByDay:
    return DayByDay(
        numbers=days.numbers[whole],
        rain=days.rain[whole],
        lost=lost[:, whole],
        kept=passed.above[:, whole],
        alone=alone[:, whole],
        spare=spare,
        over=passed.over[:, whole],
        from_tank=passed.from_tank[:, whole],
        topped=passed.topped[:, whole],
        begun=passed.begun if whole.start == 0 else passed.above[:, whole.start - 1],
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
        """Share of each day that each flow runs, (flows, n); never more than the whole day together."""
        a_day = self.times.sum() * self.share_of_months[days.month] / days.long / DAY
        each = self.times / max(self.times.sum(), 1.0)
        shares: FloatArray = each[:, np.newaxis] * np.minimum(a_day, 1.0)
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
        """What each day takes, (3, n) by what takes it."""
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


def _months(daily: FloatArray, month: IntArray) -> FloatArray:
    """Sums by month, (…, n) to (…, 12); ``month`` of each day, (n,)."""
    return np.stack([daily[..., month == each].sum(axis=-1) for each in range(12)], axis=-1)


def _energy(supply: Supply, runs: _Runs) -> FloatArray | None:
    """Energy of each month at all flows, (12,)."""
    year = 0.0
    for given, time in zip(supply.chosen.flows, runs.times, strict=True):
        if time > 0 and given.duty is None:
            return None
        if given.duty is not None:
            year += energy_used(given.duty.watts, time)
    return year * runs.share_of_months


def _spare(filled: FilledReservoir, water: Water, runs: _Runs) -> FloatArray:
    """What can be lost from a full reservoir before the pump draws air, (3,).

    Lent to the running stream before; of a resting one where nobody said how long it runs.
    """
    pit = filled.pit
    least: Volume = pit.held(pit.pump_minimum)
    if not runs.main:
        return np.full(3, max(pit.held(pit.rested) - least, 0.0))
    flow = water.number(runs.main)
    return np.array([max(pit.held(float(level)) - least, 0.0) for level in filled.running[:, flow]])


def _reserve(spare: FloatArray, runs: _Runs, dry: FloatArray) -> FloatArray:
    """How long the reservoir lasts, (3, 12), the longest first."""
    reserve = np.full((3, 12), np.inf)
    if not runs.main:
        return reserve
    for month in np.flatnonzero(runs.months & (dry.min(axis=0) > 0.0)):
        reserve[:, month] = reserve_time.over(spare, dry[:, month] / DAY)
    return reserve
