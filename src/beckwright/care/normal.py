"""What is normal for this job: how far the level goes down in each month, where it stands, when the water comes."""

from dataclasses import fields

import numpy as np

from beckwright.base.quantities import Area, Duration, FloatArray, Flow, Length, Lengths, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.film import Film, film_band
from beckwright.stages.reservoir import Pit
from beckwright.stages.season import Season
from beckwright.tables.care import BY_NIGHT, DAY_TO_DAY

DAY: Duration = 86400.0
NIGHT: Duration = 43200.0


@value
class Drops:
    """What dry weather takes out of the reservoir, and how far that shows on a stick.

    flow        the flow it runs at, by name
    pit         the reservoir and its levels
    free        plan of the water in it: plan by voids at the rest level
    amplified   wet ground of the stream over ``free``: so many times the depth lost up there is missing down here
    evaporates  (3, 12) of a dry day of each month: dull, mean, hot
    sheds       (3, 12) splash, wicking and leak while it runs, of a day of each month
    leaks       lost a second with the pump off, as measured; 0 where nobody measured it
    a_day       time it runs a day, (12,)
    topped      (3, 12) filled up in a week of each month, rain taken off
    season      the year these come from; None without a climate table: then nothing above is known
    """

    flow: str
    pit: Pit
    free: Area
    amplified: Ratio
    evaporates: FloatArray
    sheds: FloatArray
    leaks: Flow
    a_day: FloatArray
    topped: FloatArray
    season: Season | None

    @property
    def rested(self) -> Length:
        """Dip at rest."""
        return self.pit.cover - self.pit.rested

    @property
    def overflow(self) -> Length:
        """Dip at the overflow."""
        return self.pit.cover - self.pit.overflow

    @property
    def least(self) -> Length:
        """Dip at the pump's least."""
        return self.pit.cover - self.pit.pump_minimum

    @property
    def known(self) -> bool:
        """Whether a climate table says what a dry day takes."""
        return self.season is not None

    def dry_days(self, month: int, days: float = 1.0) -> FloatArray:
        """Lost in so many dry days of a month, January 0: (3,) least, middle, most."""
        lost: FloatArray = (self.evaporates[:, month] + self.sheds[:, month] + self.leaks * DAY) * days
        return lost

    def night(self, month: int) -> FloatArray:
        """Lost in a night of a month with the pump off, (3,)."""
        share = np.array([BY_NIGHT.low, BY_NIGHT.amount, BY_NIGHT.high])
        lost: FloatArray = self.evaporates[:, month] * share + self.leaks * NIGHT
        return lost

    def down(self, volume: Volume) -> Length:
        """How far the resting level goes down for a volume."""
        return self.pit.rested - self.pit.level_of(self.pit.held(self.pit.rested) - volume)

    def downs(self, volumes: FloatArray) -> Lengths:
        """The same for each of several."""
        return np.array([self.down(float(each)) for each in volumes])

    @property
    def useful(self) -> Volume:
        """From the rest level to the pump's least."""
        return max(self.pit.held(self.pit.rested) - self.pit.held(self.pit.pump_minimum), 0.0)

    def lasts(self, month: int) -> FloatArray:
        """Time from full, (3,) shortest first, until dry days of a month have brought the running level to the least.

        Infinite in months it does not run, and where nobody said how long it runs.
        """
        return np.full(3, np.inf) if self.season is None else self.season.reserve[::-1, month]

    @property
    def hardest(self) -> int:
        """The month that takes most, January 0."""
        return int(np.argmax(self.evaporates[2] + self.sheds[2]))


@value
class Normal(Drops):
    """What the owner may expect. Dips are told from the lid down to the water: a stick is read there, not a datum.

    rate        the flow it runs at
    gentle      the least flow named, ``gentle_rate`` how much, ``gentle_runs`` whether the reservoir lends so much
    lowest      (3,) dip at the start; running (3,) once all is steady; both the highest water first
    back        (3,) until half of the flow comes back; infinite where it never does
    settles     time after switching off until the level is that of rest
    lent        (3,) water in motion that comes back at a stop
    cuts_out    time at which the pump first ran out of water; None where it did not
    storm       rain in one go that fills it to the overflow
    """

    rate: Flow
    gentle: str
    gentle_rate: Flow
    gentle_runs: bool
    lowest: Lengths
    running: Lengths
    back: FloatArray
    settles: Duration
    lent: FloatArray
    cuts_out: Duration | None
    storm: Length


def normal(design: Design, works: Works, films: tuple[Film, ...] | None = None) -> Normal:
    """Work out what is normal.

    films  a restart and a stop at the flow it runs at, each a band; taken here where they are not handed over
    """
    pit, dropped = design.reservoir.pit, drops(design, works)
    flow, season = dropped.flow, dropped.season
    films = care_films(design, flow) if films is None else films
    starts = _ordered(films, "restart", flow)
    stops = _ordered(films, "stop", flow)
    number = design.water.number(flow)
    gentle = int(np.argmin(design.water.flows))
    return Normal(
        **{each.name: getattr(dropped, each.name) for each in fields(Drops)},
        rate=float(design.water.flows[number]),
        gentle=design.water.names[gentle],
        gentle_rate=float(design.water.flows[gentle]),
        gentle_runs=bool(design.reservoir.running[:, gentle].min() > pit.pump_minimum),
        lowest=np.sort([pit.cover - each.lowest for each in starts]),
        running=np.sort(pit.cover - design.reservoir.running[:, number]),
        back=np.sort([each.back_half for each in starts]),
        settles=max(each.steady for each in stops),
        lent=np.sort(design.reservoir.lent[:, number]),
        cuts_out=min((each.cut_outs[0] for each in starts if each.runs_dry), default=None),
        storm=0.0 if season is None else season.storm,
    )


def drops(design: Design, works: Works) -> Drops:
    """Work out what dry weather takes: no film is needed for it."""
    job, pit, season = design.job, design.reservoir.pit, works.season
    free = _free(pit)
    spread = np.array([DAY_TO_DAY.low, DAY_TO_DAY.amount, DAY_TO_DAY.high])[:, np.newaxis]
    none = np.zeros((3, 12))
    return Drops(
        flow=season.flow if season is not None and season.flow else job.flows[0].name,
        pit=pit,
        free=free,
        amplified=design.water.wet_area / free,
        evaporates=none if season is None else season.evaporation / season.days * spread,
        sheds=none if season is None else (season.splash + season.wicking) / season.days + _running_leak(works),
        leaks=job.season.leak_resting or 0.0,
        a_day=np.zeros(12) if season is None else season.running / season.days,
        topped=none if season is None else season.topped / season.days * 7.0,
        season=season,
    )


def care_films(design: Design, flow: str) -> tuple[Film, ...]:
    """The films an owner's numbers come from: a morning's start and a stop at the flow it runs at."""
    return (*film_band(design, "restart", flow), *film_band(design, "stop", flow))


def _ordered(films: tuple[Film, ...], story: str, flow: str) -> tuple[Film, ...]:
    return tuple(each for each in films if each.story == story and each.flow == flow and not each.topped_up)


def _free(pit: Pit) -> Area:
    """Plan of the water just below the rest level: what a litre taken out there is spread over."""
    step = 1e-4
    return (pit.held(pit.rested) - pit.held(pit.rested - step)) / step


def _running_leak(works: Works) -> FloatArray:
    """What it loses more while it runs than at rest, of a day of each month, (12,)."""
    given, season = works.design.job.season, works.season
    if season is None or given.leak_running is None:
        return np.zeros(12)
    more: FloatArray = (given.leak_running - (given.leak_resting or 0.0)) * season.running / season.days
    return more
