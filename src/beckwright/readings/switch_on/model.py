"""What every reading should have been, for any might-have-been of hose, pump, bed and reservoir."""

from collections.abc import Mapping, Sequence

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length, Ratio
from beckwright.base.tabled import Tabled
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film import FLAT_OUT
from beckwright.film.pump import stays_full
from beckwright.readings.switch_on.loop import DrawDown, Fitted, Loop, draw_down, loop_of
from beckwright.readings.switch_on.read import Reading
from beckwright.readings.switch_on.stream import Arrivals, Held, Stream, arrivals_of, between, stream_of
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables import switch_on as table
from beckwright.tables.hoses import CORRUGATED_FRICTION, LOSS_FACTORS

HOSE, HEAD, FLOW, WATTS, RESTED, VOIDS, BED, HIDDEN, DRAINED, FILM = (
    "hose and fittings",
    "pump's head",
    "pump's flow",
    "pump's watts",
    "rest level",
    "reservoir's voids",
    "bed's resistance",
    "hidden flow",
    "drained share of the stones",
    "film's clock",
)
STARTING = frozenset({"reservoir", "draws air", "arrival", "dry arrival"})
"""Kinds that belong to the start, before the first water is back."""

_END = 1.6449
"""Standard deviations from the middle of a band to its ends (table of the normal distribution, 95 %)."""

_STEP = 1e-3
_ROUNDS = 3
"""Flow and level settle one another: each round takes the error down twentyfold or more."""

_ROUND = 0.5
"""How round a lopsided band is about its middle, in standard deviations."""

_BEYOND = 0.5
"""How far beyond its ends a band is read, in half bands."""


@value
class Upset:
    """What else may be wrong; as it stands, nothing.

    kink   loss of the hose over what it was; worn head and flow of the pump; slow its speed
    cage   chamber below the crates at the flow meant
    behind share of the flow that goes round; lost share that leaves for good
    lip    out of level by ``tilt``
    """

    kink: Ratio = 1.0
    worn: Ratio = 1.0
    slow: Ratio = 1.0
    cage: Length = 0.0
    behind: Ratio = 0.0
    lost: Ratio = 0.0
    lip: str = ""
    tilt: Length = 0.0


@value
class Prior:
    """What is known of one thing before any reading.

    row    its band; ``added`` where it adds instead of multiplying
    grade  of the row
    """

    name: str
    row: Tabled
    added: bool

    def at(self, away: FloatArray) -> FloatArray:
        """The thing itself, standard deviations away from its middle."""
        row = self.row
        if self.added:
            return row.amount + _leaning(away, row.amount - row.low, row.high - row.amount)
        times: FloatArray = row.amount * np.exp(
            _leaning(away, np.log(row.amount / row.low), np.log(row.high / row.amount))
        )
        return times


def _leaning(away: FloatArray, down: Ratio, up: Ratio) -> FloatArray:
    """How far from the middle, so that the ends of a lopsided band are the 5th and 95th of 100, without a corner."""
    lean = (up - down) / 2
    bent = _ROUND if abs(lean) < 0.7 * (up + down) / 2 else 0.02
    bend = (np.sqrt(away**2 + bent**2) - bent) / (np.sqrt(_END**2 + bent**2) - bent)
    moved: FloatArray = (up + down) / (2 * _END) * away + lean * bend
    return moved


class Model:
    """A design as a forward model; might-have-beens (s, p) in standard deviations from the middle of each prior."""

    def __init__(
        self, design: Design, rows: Sequence[Reading], films: dict[tuple[str, bool], Arrivals] | None = None
    ) -> None:
        """``films`` are those of the same design taken before; new ones are put there."""
        self.design, self.rows = design, tuple(rows)
        self.loop, self.stream = loop_of(design), stream_of(design)
        used = dict.fromkeys(each.flow for each in rows if each.flow)
        self.flows = tuple(used)
        self.priors = priors_of(design, self.loop, self.stream, [flow for flow in used if flow != FLAT_OUT])
        self.names = tuple(self.priors)
        self.arrivals = _arrivals(design, rows, {} if films is None else films)
        self.reference = max(setting.meant for setting in self.loop.settings.values())
        self.hose = 0.0 if stays_full(design) else self.loop.hose

    def things(self, away: FloatArray) -> dict[str, FloatArray]:
        """Every parameter itself, by name, (s,)."""
        return {name: self.priors[name].at(away[:, place]) for place, name in enumerate(self.names)}

    def fitted(self, things: Mapping[str, FloatArray], flow: str, upset: Upset) -> Fitted:
        """Pump, hose and pit at one setting."""
        setting = self.loop.settings[flow]
        one = np.ones_like(things[HOSE])
        dial = things.get(setting_of(flow), one)
        chamber = one * upset.cage / self.reference**2
        return Fitted(
            speed=np.minimum(setting.speed * dial, 1.0) * upset.slow,
            head=things[HEAD] * upset.worn,
            flow=things[FLOW] * upset.worn,
            watts=things[WATTS],
            hose=things[HOSE] * upset.kink,
            held_back=setting.held_back + chamber,
            chamber=chamber,
            voids=things[VOIDS],
            rested=np.minimum(self.design.reservoir.pit.rested + things[RESTED], self.loop.overflow),
        )

    def held(self, things: Mapping[str, FloatArray]) -> Held:
        """The stream."""
        return Held(band=np.clip(things[BED], -_BEYOND, 2 + _BEYOND), hidden=things[HIDDEN], drained=things[DRAINED])

    def steady(self, things: Mapping[str, FloatArray], flow: str, upset: Upset) -> dict[str, FloatArray]:
        """Flow, level in the crates, and water lent once all runs steadily, (s,) each."""
        fitted, held, loop = self.fitted(things, flow, upset), self.held(things), self.loop
        at, full = loop.given(fitted), loop.holds(fitted.rested, fitted)
        level = fitted.rested
        for _ in range(_ROUNDS):
            given = at(np.maximum(level, loop.least))
            lent = self.stream.in_motion(given * (1 - upset.lost), held) * (
                1 + upset.behind * table.BEHIND_HOLDS.amount
            )
            level = loop.level_of(full - lent - self.hose, fitted)
        given = at(np.maximum(level, loop.least))
        return {
            "flow": given,
            "level": level - loop.floor,
            "in motion": lent,
            "lent": lent + self.hose,
            "watts": loop.drawn(given, fitted),
            "chamber": fitted.chamber * given**2,
            "shown": self.stream.shown(given, held) * (1 - upset.behind),
        }

    def predict(self, away: FloatArray, upset: Upset, rows: Sequence[Reading] | None = None) -> FloatArray:
        """What every row should read, (s, n): seconds for a bucket, an arrival and air, else its own unit in SI."""
        things = self.things(away)
        every = self.rows if rows is None else rows
        running = dict.fromkeys(each.flow for each in every if each.flow and each.kind not in STARTING)
        starting = dict.fromkeys(each.flow for each in every if each.kind in STARTING)
        steady = {flow: self.steady(things, flow, upset) for flow in running}
        fitted = {flow: self.fitted(things, flow, upset) for flow in (*running, *starting)}
        starts = {flow: draw_down(self.loop, fitted[flow]) for flow in starting}
        return np.stack([self._one(each, things, upset, steady, starts, fitted) for each in every], axis=1)

    def _one(
        self,
        row: Reading,
        things: Mapping[str, FloatArray],
        upset: Upset,
        steady: Mapping[str, Mapping[str, FloatArray]],
        starts: Mapping[str, DrawDown],
        every: Mapping[str, Fitted],
    ) -> FloatArray:
        if not row.flow:
            return self._at_rest(row, things, upset)
        fitted = every[row.flow]
        if row.kind in STARTING:
            return self._starting(row, things, upset, fitted, starts[row.flow])
        return self._running(row, things, upset, fitted, steady[row.flow])

    def _at_rest(self, row: Reading, things: Mapping[str, FloatArray], upset: Upset) -> FloatArray:
        one = np.ones_like(things[HOSE])
        if row.kind == "tilt":
            return one * (upset.tilt if row.place == upset.lip else 0.0)
        if row.kind == "rest":
            rested = self.design.reservoir.pit.rested + things[RESTED]
            return np.minimum(rested, self.loop.overflow) - self.loop.floor
        return one * float(self.stream.still[self.stream.station(row.chainage)])

    def _running(
        self,
        row: Reading,
        things: Mapping[str, FloatArray],
        upset: Upset,
        fitted: Fitted,
        now: Mapping[str, FloatArray],
    ) -> FloatArray:
        loop = self.loop
        if row.kind == "bucket":
            return row.amount / now["flow"]
        if row.kind == "dead head":
            return fitted.head * fitted.speed**2 * float(loop.heads[0])
        if row.kind == "steady":
            gone = upset.lost * now["flow"] * row.seconds
            held = loop.holds(now["level"] + loop.floor, fitted) - gone
            return loop.level_of(held, fitted) - loop.floor - now["chamber"]
        if row.kind == "water level":
            flow = now["flow"] * (1 - upset.behind) * (1 - upset.lost)
            return self.stream.water_level(row.chainage, flow, self.held(things))
        return now[row.kind]

    def _starting(
        self, row: Reading, things: Mapping[str, FloatArray], upset: Upset, fitted: Fitted, start: DrawDown
    ) -> FloatArray:
        if row.kind == "reservoir":
            sunk = fitted.chamber * start.flow**2 if row.seconds > 0 else 0.0
            return self.loop.level_of(start.full - start.out(row.seconds), fitted) - self.loop.floor - sunk
        if row.kind == "draws air":
            return start.time(np.maximum(start.useful - self._sunk(start, fitted), 1e-6))
        return self._arrival(row, things, upset, start)

    def _sunk(self, start: DrawDown, fitted: Fitted) -> FloatArray:
        """Water that stands in the crates when the chamber behind a blocked cage is at the pump's least."""
        least = np.full_like(start.flow, self.loop.least)
        up = fitted.chamber * start.flow**2
        return self.loop.holds(least + up, fitted) - self.loop.holds(least, fitted)

    def _arrival(self, row: Reading, things: Mapping[str, FloatArray], upset: Upset, start: DrawDown) -> FloatArray:
        half = self.arrivals[row.flow, row.kind == "dry arrival"].half[row.place]
        wanted = between(np.repeat(half[:, None], len(start.flow), axis=1), self.held(things).band) * things[FILM]
        wanted = wanted * (1 + upset.behind * table.BEHIND_HOLDS.amount) / (1 - upset.lost)
        return start.time(np.minimum(wanted, start.useful)) + np.maximum(wanted - start.useful, 0.0) / (
            start.flow + start.fades * start.useful
        )

    def asking(self, asked: Sequence[Reading]) -> "Model":
        """The same, ready for readings that were not taken: their settings come last among the parameters."""
        flows = (*self.flows, *(each.flow for each in asked if each.flow))
        wider: Model = object.__new__(Model)
        wider.__dict__.update(self.__dict__)
        wider.flows = tuple(dict.fromkeys(flows))
        more = [flow for flow in wider.flows if flow != FLAT_OUT and flow not in self.flows]
        wider.priors = {
            **self.priors,
            **{setting_of(flow): Prior(name=setting_of(flow), row=dial(self.loop, flow), added=False) for flow in more},
        }
        wider.names = tuple(wider.priors)
        return wider

    def about(self, away: FloatArray, upset: Upset, rows: Sequence[Reading]) -> tuple[FloatArray, FloatArray]:
        """What rows should read at a might-have-been (p,), (n,), and how that changes with it, (n, p)."""
        steps = _STEP * np.eye(len(away))
        told = self.predict(np.vstack([away[None], away + steps, away - steps]), upset, rows)
        half = len(away)
        return told[0], (told[1 : half + 1] - told[half + 1 :]).T / (2 * _STEP)

    def soonest(self, flow: str) -> Duration:
        """Seconds until the very first water can come back."""
        return min((each.soonest for (name, _), each in self.arrivals.items() if name == flow), default=float("inf"))


def setting_of(flow: str) -> str:
    """Name of the parameter that stands for how a named flow was set."""
    return f"setting of {flow}"


def dial(loop: Loop, flow: str) -> Tabled:
    """Band of a setting: as wide as a dial is, but no pump runs faster than full speed."""
    row = table.SETTING
    top = max(min(row.high, 1.0 / loop.settings[flow].speed), 1.0 + 0.2 * (1.0 - row.low))
    return _times(row.low, top, row.place)


def priors_of(design: Design, loop: Loop, stream: Stream, dialled: Sequence[str]) -> dict[str, Prior]:
    """What is known before any reading, from the bands the design itself stands on."""
    hose = design.job.route.chosen
    wall = CORRUGATED_FRICTION if hose.wall == "corrugated" else LOSS_FACTORS[hose.wall]
    laid = table.HOSE_AS_LAID
    both = {
        end: float(np.exp(sign * np.hypot(*(np.log(getattr(row, end) / row.amount) for row in (wall, laid)))))
        for end, sign in (("low", -1.0), ("high", 1.0))
    }
    carried = stream.carried
    hides = carried[MIDDLE] > 0
    rows = {
        HOSE: _times(both["low"], both["high"], wall.place),
        HEAD: table.PUMP_HEAD,
        FLOW: table.PUMP_FLOW,
        WATTS: table.PUMP_WATTS,
        RESTED: table.RESTED,
        VOIDS: table.VOIDS[design.job.reservoir.fill],
        BED: Tabled(
            amount=1.0, low=0.0, high=2.0, unit="1", grade=_GRADE, source="", place="between the laws of the bed"
        ),
        HIDDEN: _times(
            float(carried[HIGH] / carried[MIDDLE]),
            float(carried[LOW] / carried[MIDDLE]),
            "between the laws of the layer",
        )
        if hides
        else None,
        DRAINED: table.DRAINED,
        FILM: table.FILM_CLOSE,
        **{setting_of(flow): dial(loop, flow) for flow in dialled},
    }
    fixed = _times(1.0, 1.0, "no water is hidden in a bare bed")
    return {name: Prior(name=name, row=row or fixed, added=name in (RESTED, BED)) for name, row in rows.items()}


_GRADE = table.CAUSES["nothing out of the ordinary"].grade


def _times(low: float, high: float, place: str) -> Tabled:
    return Tabled(amount=1.0, low=low, high=high, unit="1", grade=_GRADE, source="", place=place)


def _arrivals(
    design: Design, rows: Sequence[Reading], films: dict[tuple[str, bool], Arrivals]
) -> dict[tuple[str, bool], Arrivals]:
    """Films of every flow whose water was waited for; a morning start stands for any whose level was read."""
    wanted = dict.fromkeys((each.flow, each.kind == "dry arrival") for each in rows if each.kind in STARTING)
    for flow, dry in wanted:
        if (flow, dry) not in films:
            films[flow, dry] = arrivals_of(design, flow, dry=dry)
    return {key: films[key] for key in wanted}
