"""The whole morning: every reading beside what was expected, what they make of the design, what is likely wrong."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from beckwright.base.published import Grade
from beckwright.base.quantities import FloatArray, Ratio
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.switch_on.causes import NOTHING, Cause, Next, candidates, next_readings, rank
from beckwright.readings.switch_on.fit import Posterior, after, before, sigmas, supposed
from beckwright.readings.switch_on.loop import draw_down
from beckwright.readings.switch_on.model import Model, Upset
from beckwright.readings.switch_on.noise import compared
from beckwright.readings.switch_on.priors import FLOW, HEAD, HOSE
from beckwright.readings.switch_on.read import Doubt, Reading, Readings
from beckwright.readings.switch_on.stream import Arrivals
from beckwright.tables import switch_on as table

_SHARES = ((1 - table.CONFIDENCE.amount) / 2, 0.5, (1 + table.CONFIDENCE.amount) / 2)
_STEADY = ("flow", "level", "in motion", "watts", "shown")


@value
class Beside:
    """One reading beside what was expected of it.

    expected  (3,) before any reading, its own scatter included; fitted what it should read once all are weighed
    seen      what it is compared by: seconds of a time, else its amount
    counts    whether it pulls; why_not says why it does not
    """

    row: Reading
    expected: FloatArray
    seen: float
    fitted: float
    counts: bool
    why_not: str

    @property
    def outside(self) -> bool:
        """Whether it lies outside what was expected."""
        return not self.expected[0] <= self.seen <= self.expected[2]


@value
class Running:
    """One setting, each (2, 3): before and after the readings, low, middle, high.

    empty  seconds from a start until the pump is at its least level, if no water came back before
    read   whether it was run
    """

    name: str
    read: bool
    flow: FloatArray
    level: FloatArray
    in_motion: FloatArray
    watts: FloatArray
    shown: FloatArray
    empty: FloatArray


@value
class Learned:
    """One thing of the model, (2, 3) before and after; ``left`` of its width in standard deviations."""

    name: str
    grade: Grade
    band: FloatArray
    left: Ratio
    adds: bool


@value
class Tie:
    """Two things these readings cannot tell apart, and the readings that would."""

    one: str
    other: str
    correlation: Ratio
    told_by: tuple[Reading, ...]


@value
class Morning:
    """All of it."""

    beside: tuple[Beside, ...]
    running: tuple[Running, ...]
    learned: tuple[Learned, ...]
    ties: tuple[Tie, ...]
    causes: tuple[Cause, ...]
    nexts: tuple[Next, ...]
    doubts: tuple[Doubt, ...]
    digest: str

    @property
    def wrong(self) -> bool:
        """Whether something out of the ordinary is the likelier."""
        return next(each.chance for each in self.causes if each.name == NOTHING) < table.LIKELY_WRONG.amount


Films = dict[tuple[str, bool], Arrivals]
"""Films taken of one design, kept by whoever asks again."""


def expectations(design: Design, readings: Readings, films: Films | None = None) -> tuple[Beside, ...]:
    """Every reading beside what was expected of it: at once, before anything is fitted.

    Raises JobError where a run has no fall and water was waited for.
    """
    model = Model(design, readings.rows, films)
    nothing = Posterior(
        best=np.zeros(len(model.names)),
        spread=np.eye(len(model.names)),
        slopes=np.zeros((0, len(model.names))),
        off=np.zeros(0),
        evidence=0.0,
    )
    return tuple(_beside(model, readings, _why_not(model, readings), nothing, Upset()))


def switch_on(design: Design, readings: Readings, films: Films | None = None) -> Morning:
    """Work a morning out; ``films`` as taken before of the same design.

    Raises JobError where a run has no fall and water was waited for.
    """
    model = Model(design, readings.rows, films)
    doubts, why = list(readings.doubts), _why_not(model, readings)
    causes = rank(model, _that_count(readings, why))
    far = list(_far_off(model, readings, why, causes[0]))
    if far:
        doubts += far
        why = _why_not(model, replace(readings, doubts=tuple(doubts)))
        causes = rank(model, _that_count(readings, why))
    rows = _that_count(readings, why)
    leading = causes[0].best
    told = after(model, rows, leading.upset)
    asked = candidates(model, rows)
    return Morning(
        beside=tuple(_beside(model, readings, why, leading.found, leading.upset)),
        running=tuple(_running(model, told, leading.upset)),
        learned=tuple(_learned(model, told, rows, leading.upset)),
        ties=tuple(_ties(model, leading.found, leading.upset, asked)) if rows else (),
        causes=causes,
        nexts=next_readings(model, causes, asked),
        doubts=tuple(doubts),
        digest=readings.digest,
    )


def _that_count(readings: Readings, why: Sequence[str]) -> tuple[Reading, ...]:
    return tuple(row for row, said in zip(readings.rows, why, strict=True) if not said)


def _why_not(model: Model, readings: Readings) -> list[str]:
    """Why each row does not pull; empty where it does."""
    asked = {doubt.line for doubt in readings.doubts}
    least = model.loop.least - model.loop.floor
    air = {row.flow: row.seconds for row in readings.rows if row.kind == "draws air"}

    def why(row: Reading) -> str:
        if row.line in asked and not row.checked:
            return "asked about"
        if row.kind == "reservoir" and row.seconds > 0:
            if row.amount <= least + 0.005:
                return "the pump draws air by then"
            if row.seconds > 0.9 * model.soonest(row.flow):
                return "water is coming back by then"
        if row.kind in ("arrival", "dry arrival") and row.seconds > air.get(row.flow, np.inf):
            return "the pump had drawn air before"
        return ""

    return [why(row) for row in readings.rows]


def _far_off(model: Model, readings: Readings, why: Sequence[str], leading: Cause) -> Iterator[Doubt]:
    """Rows that neither the bands nor the likeliest cause explain."""
    rows = [row for row in _that_count(readings, why) if not row.checked]
    if not rows:
        return
    told = model.predict(leading.best.found.best[None], leading.best.upset, rows)[0]
    for row, should, sure in zip(rows, told, sigmas(model, rows), strict=True):
        if abs(compared(row) - should) > table.FAR_OFF.amount * sure:
            found = f"{row.kind} reads {compared(row):.4g}, where all the others make it {should:.4g}"
            yield Doubt(line=row.line, found=found, asks="A slip of the pen, or did something happen then?")


def _beside(model: Model, readings: Readings, why: Sequence[str], found: Posterior, upset: Upset) -> Iterator[Beside]:
    rows = readings.rows
    if not rows:
        return
    known = model.predict(before(model), Upset(), rows)
    fitted = model.predict(found.best[None], upset, rows)[0]
    sure = sigmas(model, supposed(rows, np.median(known, axis=0)))
    for place, (row, said) in enumerate(zip(rows, why, strict=True)):
        low, middle, high = np.quantile(known[:, place], _SHARES)
        # Two spreads that have nothing to do with each other add in squares.
        noise = 1.645 * sure[place]
        expected = np.array([middle - np.hypot(middle - low, noise), middle, middle + np.hypot(high - middle, noise)])
        yield Beside(
            row=row, expected=expected, seen=compared(row), fitted=float(fitted[place]), counts=not said, why_not=said
        )


def _running(model: Model, after_all: FloatArray, upset: Upset) -> Iterator[Running]:
    """Every setting there is, those that were run and those that were not."""
    settings = list(model.loop.settings)
    wider = model.asking([replace(_NO_ROW, flow=flow) for flow in settings])
    known = before(wider, len(after_all))
    # Of a setting that was not run nothing was told.
    told = np.hstack([after_all, known[:, len(model.names) :]])
    for flow in settings:
        both = [_steady(wider, known, flow, Upset()), _steady(wider, told, flow, upset)]
        made = {name: np.array([each[name] for each in both]) for name in both[0]}
        yield Running(
            name=flow,
            read=flow in model.flows,
            flow=made["flow"],
            level=made["level"],
            in_motion=made["in motion"],
            watts=made["watts"],
            shown=made["shown"],
            empty=made["empty"],
        )


_NO_ROW = Reading(kind="bucket", flow="", place="", amount=0.01, seconds=0.0, chainage=0.0, note="", line=0)


def _steady(model: Model, away: FloatArray, flow: str, upset: Upset) -> dict[str, FloatArray]:
    things = model.things(away)
    now = model.steady(things, flow, upset)
    start = draw_down(model.loop, model.fitted(things, flow, upset))
    told = {**{name: now[name] for name in _STEADY}, "empty": start.time(start.useful)}
    return {name: np.quantile(each, _SHARES) for name, each in told.items()}


def _learned(model: Model, told: FloatArray, rows: Sequence[Reading], upset: Upset) -> Iterator[Learned]:
    """What was learned, as it runs now: with whatever is likeliest to be wrong."""
    now = {HOSE: upset.kink, HEAD: upset.worn, FLOW: upset.worn}
    things, known = model.things(told), model.things(before(model))
    left = told.std(axis=0)
    for place, name in enumerate(model.names):
        prior = model.priors[name]
        band = np.array([np.quantile(known[name], _SHARES), now.get(name, 1.0) * np.quantile(things[name], _SHARES)])
        yield Learned(
            name=name, grade=prior.row.grade, band=band, left=float(left[place]) if rows else 1.0, adds=prior.added
        )


def _ties(model: Model, found: Posterior, upset: Upset, asked: Sequence[Reading]) -> Iterator[Tie]:
    """Pairs that answer for one another, each with the two readings that would narrow it most."""
    tied = found.tied
    for one in range(len(model.names)):
        for other in range(one):
            if abs(tied[one, other]) > table.TIED.amount:
                told = _telling(model, found, upset, asked, (one, other))
                yield Tie(
                    one=model.names[other],
                    other=model.names[one],
                    correlation=float(tied[one, other]),
                    told_by=told,
                )


def _telling(
    model: Model, found: Posterior, upset: Upset, asked: Sequence[Reading], pair: tuple[int, int]
) -> tuple[Reading, ...]:
    wider = model.asking(asked)
    count, many = len(found.best), len(wider.names)
    spread = np.eye(many)
    spread[:count, :count] = found.spread
    told, slopes = wider.about(np.pad(found.best, (0, many - count)), upset, asked)
    sure = sigmas(wider, supposed(asked, told))
    left = []
    for row, slope, noise in zip(asked, slopes, sure, strict=True):
        gain = spread @ slope
        narrowed = np.diag(spread) - gain**2 / (slope @ gain + noise**2)
        left.append((float(sum(narrowed[place] for place in pair)), row))
    now = float(sum(spread[place, place] for place in pair))
    return tuple(row for size, row in sorted(left, key=lambda each: each[0])[:2] if size < 0.9 * now)
