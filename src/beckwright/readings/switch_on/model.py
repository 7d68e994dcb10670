"""What every reading should have been, for any might-have-been of hose, pump, bed and reservoir."""

from collections.abc import Mapping, Sequence

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length, Ratio
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film import FLAT_OUT
from beckwright.film.pump import stays_full
from beckwright.job.model import Step
from beckwright.readings.switch_on.loop import DrawDown, Fitted, Gives, draw_down, loop_of
from beckwright.readings.switch_on.priors import (
    BED,
    DRAINED,
    FILM,
    FLOW,
    HEAD,
    HIDDEN,
    HOSE,
    RESTED,
    STANDS,
    VOIDS,
    WATTS,
    Prior,
    dial,
    priors_of,
    setting_of,
)
from beckwright.readings.switch_on.read import Reading
from beckwright.readings.switch_on.stream import Arrivals, Held, arrivals_of, between, stream_of
from beckwright.tables import switch_on as table

STARTING = frozenset({"reservoir", "draws air", "arrival", "dry arrival"})
"""Kinds that belong to the start, before the first water is back."""

_STEP = 1e-3
_ROUNDS = 3
"""Flow and level settle one another: each round takes the error down twentyfold or more."""

_AT_CREST: Length = 1e-3
_BEYOND = 0.5
"""How far beyond its ends a band is read, in half bands."""


@value
class Upset:
    """What else may be wrong; as it stands, nothing.

    kink   loss of the hose over what it was; worn head and flow of the pump; slow its speed
    cage   chamber below the crates at the flow meant
    behind share of the largest flow that goes round, and as much at every other: a gap under the same head takes it
    lost   share of the largest flow that leaves for good: as much at every flow, or over an ``edge`` that loses what
           exceeds that share of the largest flow, more with every litre
    lip    out of level by ``tilt``: the water at rest stands no higher than its lower end
    """

    kink: Ratio = 1.0
    worn: Ratio = 1.0
    slow: Ratio = 1.0
    cage: Length = 0.0
    behind: Ratio = 0.0
    lost: Ratio = 0.0
    edge: Ratio = 0.0
    lip: str = ""
    tilt: Length = 0.0


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
        self.held_by = _held_by(design)

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

    def _gives(self, things: Mapping[str, FloatArray], flow: str, upset: Upset) -> tuple[Fitted, Gives]:
        fitted = self.fitted(things, flow, upset)
        return fitted, self.loop.given(fitted)

    def held(self, things: Mapping[str, FloatArray]) -> Held:
        """The stream."""
        return Held(band=np.clip(things[BED], -_BEYOND, 2 + _BEYOND), hidden=things[HIDDEN], drained=things[DRAINED])

    def steady(
        self, things: Mapping[str, FloatArray], flow: str, upset: Upset, known: tuple[Fitted, Gives] | None = None
    ) -> dict[str, FloatArray]:
        """Flow, level in the crates, and water lent once all runs steadily, (s,) each; ``known`` if worked before."""
        held, loop = self.held(things), self.loop
        fitted, at = known or self._gives(things, flow, upset)
        full = loop.holds(fitted.rested, fitted)
        level = fitted.rested
        for _ in range(_ROUNDS):
            given = at(np.maximum(level, loop.least))
            lent = self.stream.in_motion(given * (1 - self.leaves(given, upset)), held)
            lent = lent * (1 + self.round(given, upset) * things[STANDS])
            level = loop.level_of(full - lent - self.hose, fitted)
        given = at(np.maximum(level, loop.least))
        return {
            "flow": given,
            "level": level - loop.floor,
            "in motion": lent,
            "lent": lent + self.hose,
            "watts": loop.drawn(given, fitted),
            "chamber": fitted.chamber * given**2,
            "shown": self.stream.shown(given, held) * (1 - self.round(given, upset)),
        }

    def round(self, flow: FloatArray, upset: Upset) -> FloatArray:
        """Share of a flow that goes round unseen, (s,)."""
        share: FloatArray = np.minimum(upset.behind * self.reference / flow, table.ROUND_MOST.amount)
        return share

    def leaves(self, flow: FloatArray, upset: Upset) -> FloatArray:
        """Share of a flow that leaves for good, (s,)."""
        over = np.maximum(flow / self.reference - upset.edge, 0.0) / (1.0 - upset.edge) if upset.edge else 1.0
        share: FloatArray = np.minimum(upset.lost * over * self.reference / flow, table.ROUND_MOST.amount)
        return share

    def predict(self, away: FloatArray, upset: Upset, rows: Sequence[Reading] | None = None) -> FloatArray:
        """What every row should read, (s, n): seconds for a bucket, an arrival and air, else its own unit in SI."""
        things = self.things(away)
        every = self.rows if rows is None else rows
        running = dict.fromkeys(each.flow for each in every if each.flow and each.kind not in STARTING)
        starting = dict.fromkeys(each.flow for each in every if each.kind in STARTING)
        known = {flow: self._gives(things, flow, upset) for flow in {**running, **starting}}
        steady = {flow: self.steady(things, flow, upset, known[flow]) for flow in running}
        fitted = {flow: each for flow, (each, _) in known.items()}
        starts = {flow: draw_down(self.loop, *known[flow]) for flow in starting}
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
        station = self.stream.station(row.chainage)
        sunk = abs(upset.tilt) / 2 if upset.lip and self.held_by[station] == upset.lip else 0.0
        return one * (float(self.stream.still[station]) - sunk)

    def tells_of(self, lip: str, row: Reading) -> bool:
        """Whether a reading can show that a lip is out of level."""
        if row.kind == "still level":
            return self.held_by[self.stream.station(row.chainage)] == lip
        return row.kind == "tilt" and row.place == lip

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
            gone = self.leaves(now["flow"], upset) * now["flow"] * row.seconds
            held = loop.holds(now["level"] + loop.floor, fitted) - gone
            return loop.level_of(held, fitted) - loop.floor - now["chamber"]
        if row.kind == "water level":
            flow = now["flow"] * (1 - self.round(now["flow"], upset)) * (1 - self.leaves(now["flow"], upset))
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
        wanted = wanted * (1 + self.round(start.flow, upset) * things[STANDS]) / (1 - self.leaves(start.flow, upset))
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


def _held_by(design: Design) -> tuple[str, ...]:
    """Name of the lip that holds the water at rest at each station; empty where none does."""
    stations, still = design.course.stations, design.water.still
    held = [""] * len(still)
    for number, stretch in enumerate(design.course.stretches):
        if isinstance(stretch.reach, Step) and number:
            for place in range(*design.course.stations.of(number - 1).indices(len(still))):
                if still[place] > stations.liner[place] and abs(still[place] - stretch.bed_start) < _AT_CREST:
                    held[place] = stretch.reach.name
    return tuple(held)


def _arrivals(
    design: Design, rows: Sequence[Reading], films: dict[tuple[str, bool], Arrivals]
) -> dict[tuple[str, bool], Arrivals]:
    """Films of every flow whose water was waited for; a morning start stands for any whose level was read."""
    wanted = dict.fromkeys((each.flow, each.kind == "dry arrival") for each in rows if each.kind in STARTING)
    for flow, dry in wanted:
        if (flow, dry) not in films:
            films[flow, dry] = arrivals_of(design, flow, dry=dry)
    return {key: films[key] for key in wanted}
