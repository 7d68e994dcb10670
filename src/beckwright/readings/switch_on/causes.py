"""What is most likely wrong, and the next reading that would decide.

Each cause is tried at several strengths, spread evenly over how bad it is when it happens; at each the readings are
explained as well as hose, pump and bed allow. How well, weighed with how often the cause turns up, gives its chance.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio
from beckwright.base.tabled import Tabled
from beckwright.base.values import value
from beckwright.readings.switch_on.fit import Posterior, fit, quantiles, sigmas, supposed
from beckwright.readings.switch_on.model import Model, Upset
from beckwright.readings.switch_on.noise import compared
from beckwright.readings.switch_on.priors import Prior
from beckwright.readings.switch_on.read import Reading
from beckwright.tables import switch_on as table

STRENGTHS = 5
_END = 1.645
"""Standard deviations to the 95th of 100 (table of the normal distribution)."""
NOTHING, KINKED, WORN, SLOW, CAGE, LIP, BEHIND, LOSS = table.CAUSES
_SEVERITY: dict[str, tuple[str, Tabled]] = {
    KINKED: ("kink", table.HOSE_KINKED),
    WORN: ("worn", table.PUMP_WORN),
    SLOW: ("slow", table.PUMP_SLOW),
    CAGE: ("cage", table.CAGE_DROP),
    BEHIND: ("behind", table.BEHIND),
    LOSS: ("lost", table.LOST),
}


@value
class Might:
    """One strength of one cause: its share of the cause before the readings, and the fit under it."""

    upset: Upset
    share: Ratio
    found: Posterior


@value
class Cause:
    """One cause.

    before, chance  of it, before and after the readings
    strength        (3,) low, middle, high of what it would be; empty where it has none
    """

    name: str
    before: Ratio
    chance: Ratio
    strength: FloatArray
    mights: tuple[Might, ...]

    @property
    def best(self) -> Might:
        """The strength that explains the readings best."""
        return self.mights[int(np.argmax(_weights(self.mights)))]


@value
class Next:
    """A reading that could be taken next.

    tells    how often it would tell the leading causes apart, 0 to 1
    means    what each leading cause would show: name, 5th and 95th of 100, in the kind's SI
    decides  the leading causes that no other reading would tell from the rest more often: name and how often
    """

    row: Reading
    tells: Ratio
    means: tuple[tuple[str, float, float], ...]
    decides: tuple[tuple[str, Ratio], ...]


def rank(model: Model, rows: Sequence[Reading]) -> tuple[Cause, ...]:
    """Every cause with its chance, the likeliest first."""
    plain = fit(model, rows)
    tried = {name: _mights(model, rows, name, plain) for name in table.CAUSES}
    total = sum(row.amount for row in table.CAUSES.values())
    logs = {
        name: np.log(table.CAUSES[name].amount / total)
        + _log_mean([(each.share, each.found.evidence) for each in mights])
        for name, mights in tried.items()
    }
    most = max(logs.values())
    weights = {name: float(np.exp(log - most)) for name, log in logs.items()}
    whole = sum(weights.values())
    causes = [
        Cause(
            name=name,
            before=table.CAUSES[name].amount / total,
            chance=weights[name] / whole,
            strength=_strength(name, mights),
            mights=mights,
        )
        for name, mights in tried.items()
    ]
    return tuple(sorted(causes, key=lambda cause: -cause.chance))


def alike(causes: Sequence[Cause]) -> tuple[Cause, ...]:
    """The causes these readings have not told from the likeliest; empty where it stands alone."""
    near = tuple(each for each in causes if each.chance * table.ALIKE.amount >= causes[0].chance)
    return near if len(near) > 1 else ()


def _mights(model: Model, rows: Sequence[Reading], name: str, plain: Posterior) -> tuple[Might, ...]:
    made, start = [], plain.best
    as_it_is = model.predict(plain.best[None], Upset(), rows)
    for upset, share in _upsets(model, rows, name):
        # What shows in none of these readings leaves the fit as it is.
        shows = upset != Upset() and not np.allclose(model.predict(plain.best[None], upset, rows), as_it_is, rtol=1e-12)
        if not shows:
            found = plain
        elif upset.lip:
            found = _tilted(model, rows, plain, upset)
        else:
            found = fit(model, rows, upset, start)
            start = found.best
        made.append(Might(upset=upset, share=share, found=found))
    return tuple(made)


def _tilted(model: Model, rows: Sequence[Reading], plain: Posterior, upset: Upset) -> Posterior:
    """A lip out of level shows in levels alone that hose, pump and bed do not bear on: nothing else moves with it."""
    seen, sure = np.array([compared(row) for row in rows]), sigmas(model, rows)
    off = (seen - model.predict(plain.best[None], upset, rows)[0]) / sure
    return replace(plain, off=off, evidence=plain.evidence - 0.5 * float(off @ off - plain.off @ plain.off))


def _upsets(model: Model, rows: Sequence[Reading], name: str) -> Iterator[tuple[Upset, Ratio]]:
    if name == NOTHING:
        yield Upset(), 1.0
    elif name == LIP:
        yield from _lips(model, rows)
    elif name == LOSS:
        for edge, share in ((table.EDGE_FROM.amount, table.AN_EDGE.amount), (0.0, 1 - table.AN_EDGE.amount)):
            yield from ((Upset(lost=each, edge=edge), share / STRENGTHS) for each in strengths(table.LOST))
    else:
        field, row = _SEVERITY[name]
        yield from ((Upset(**{field: each}), 1 / STRENGTHS) for each in strengths(row))  # type: ignore[arg-type]


def _lips(model: Model, rows: Sequence[Reading]) -> Iterator[tuple[Upset, Ratio]]:
    """Every lip of which some reading tells, to either side; and that it may be one of which none does."""
    lips = [lip.name for lip in model.design.water.lips]
    told = [lip for lip in lips if any(model.tells_of(lip, row) for row in rows)]
    for lip in told:
        for way in (-1.0, 1.0):
            for each in strengths(table.LIP_TILT):
                yield Upset(lip=lip, tilt=way * each), 1 / (2 * STRENGTHS * len(lips))
    if len(told) < len(lips):
        yield Upset(), (len(lips) - len(told)) / len(lips)


def strengths(row: Tabled) -> list[float]:
    """Strengths spread evenly over a band, the mildest first."""
    from scipy.stats import norm

    away = norm.ppf((np.arange(STRENGTHS) + 0.5) / STRENGTHS)
    amounts: list[float] = Prior(name="", row=row, added=False).at(away).tolist()
    return sorted(amounts, reverse=row.high < 1 and row.amount > 0.5)


def _log_mean(weighed: Sequence[tuple[Ratio, Ratio]]) -> Ratio:
    most = max(log for _, log in weighed)
    return most + float(np.log(sum(share * np.exp(log - most) for share, log in weighed)))


def _strength(name: str, mights: Sequence[Might]) -> FloatArray:
    if name not in _SEVERITY:
        return np.array([])
    amounts = np.array([getattr(each.upset, _SEVERITY[name][0]) for each in mights])
    return quantiles(amounts, _weights(mights), (0.05, 0.5, 0.95))


def _weights(mights: Sequence[Might]) -> FloatArray:
    logs = np.array([np.log(each.share) + each.found.evidence for each in mights])
    weights = np.exp(logs - logs.max())
    shares: FloatArray = weights / weights.sum()
    return shares


def candidates(model: Model, rows: Sequence[Reading]) -> tuple[Reading, ...]:
    """Readings that could be taken next: what was read already at that setting and place is not asked again."""
    settings = sorted(model.loop.settings, key=lambda name: -model.loop.settings[name].meant)
    main = model.flows[0] if model.flows else settings[0]
    meant = model.loop.settings[main].meant
    others = [each for each in settings if not 0.85 < model.loop.settings[each].meant / meant < 1.15]
    had = {(each.kind, each.flow) for each in rows}
    wanted = [("watts", main), ("chamber", main), ("dead head", main), ("bucket", main)]
    wanted += [("bucket", others[0])] if others else []
    wanted += [("watts", others[0])] if others else []
    made = [_asked(kind, flow) for kind, flow in wanted if (kind, flow) not in had]
    if not any(each.kind == "reservoir" for each in rows):
        useful = model.design.reservoir.useful
        time = 0.4 * min(float(useful), model.loop.settings[main].meant * 60.0) / model.loop.settings[main].meant
        made.append(_asked("reservoir", main, seconds=round(time)))
    if float(model.design.reservoir.running.min()) > model.loop.least:
        made.append(_asked("steady", main, seconds=1800.0) if ("steady", main) in had else _asked("steady", main))
    if (main, False) in model.arrivals and not any(each.kind in ("arrival", "dry arrival") for each in rows):
        # Water behind the stones keeps the last lip waiting longest.
        made.append(_asked("arrival", main, place=model.design.water.lips[-1].name))
    read = {each.place for each in rows if each.kind == "tilt"}
    made += [_asked("tilt", "", place=lip.name) for lip in model.design.water.lips if lip.name not in read][:1]
    return tuple(made)


def _asked(kind: str, flow: str, *, seconds: float = 0.0, place: str = "") -> Reading:
    amount = 0.01 if kind == "bucket" else 0.0
    return Reading(kind=kind, flow=flow, place=place, amount=amount, seconds=seconds, chainage=0.0, note="", line=0)


def next_readings(model: Model, causes: Sequence[Cause], asked: Sequence[Reading]) -> tuple[Next, ...]:
    """Every reading that could be taken, the one that tells the leading causes apart most often first."""
    leading = [cause for cause in causes if cause.chance >= table.LEADING.amount][:4]
    if len(leading) < 2:
        leading = list(causes[:2])
    wider = model.asking(asked)
    shown = [_shown(wider, cause, asked) for cause in leading]
    # Of what is all but ruled out the readings still show something: no weight is nothing.
    chances = np.maximum([cause.chance for cause in leading], 1e-12)
    taken = [place for place, row in enumerate(asked) if _can_be_taken(row, shown, place)]
    apart = np.array(
        [[[_apart(one[:, place], other[:, place]) for other in shown] for one in shown] for place in taken]
    ).reshape(len(taken), len(shown), len(shown))
    weight = chances * (1 - np.eye(len(leading)))
    # (readings, causes) how often a reading tells a cause from the others, each weighed with its own chance.
    tells = (apart * weight).sum(axis=2) / weight.sum(axis=1)
    best = tells.argmax(axis=0) if taken else np.zeros(0, dtype=int)
    made = [
        Next(
            row=asked[place],
            tells=float(chances @ (tells[number] * weight.sum(axis=1)) / (chances @ weight.sum(axis=1))),
            means=tuple((cause.name, *_ends(each[:, place])) for cause, each in zip(leading, shown, strict=True)),
            decides=tuple(
                (cause.name, float(tells[number, column]))
                for column, cause in enumerate(leading)
                if best[column] == number and tells[number, column] >= table.LEADING.amount
            ),
        )
        for number, place in enumerate(taken)
    ]
    return tuple(sorted(made, key=lambda each: -each.tells))


def _ends(shown: FloatArray) -> tuple[float, float]:
    """5th and 95th of 100."""
    return float(shown[0] - _END * shown[1]), float(shown[0] + _END * shown[1])


def _can_be_taken(row: Reading, shown: Sequence[FloatArray], place: int) -> bool:
    """A bucket cannot where one of the causes would give next to nothing: it never fills."""
    return row.kind != "bucket" or all(_ends(each[:, place])[0] > 0 for each in shown)


def _shown(model: Model, cause: Cause, asked: Sequence[Reading]) -> FloatArray:
    """(2, n) what a cause would show, and its standard deviation: of strength, of the rest, and of the reading."""
    weights = _weights(cause.mights)
    means, spreads = [], []
    for might in cause.mights:
        upset = might.upset
        if cause.name == LIP and not upset.lip:
            upset = Upset(
                lip=next((each.place for each in asked if each.kind == "tilt"), ""), tilt=table.LIP_TILT.amount
            )
        away = np.pad(might.found.best, (0, len(model.names) - len(might.found.best)))
        told, slopes = model.about(away, upset, asked)
        spread = np.eye(len(away))
        spread[: len(might.found.best), : len(might.found.best)] = might.found.spread
        means.append(told)
        spreads.append(np.einsum("np,pq,nq->n", slopes, spread, slopes))
    mean = weights @ np.array(means)
    noise = _noise(model, asked, mean)
    over = weights @ (np.array(spreads) + (np.array(means) - mean) ** 2)
    return np.array([mean, np.sqrt(over + noise**2)])


def _noise(model: Model, asked: Sequence[Reading], mean: FloatArray) -> FloatArray:
    return sigmas(model, supposed(asked, mean))


def _apart(one: FloatArray, two: FloatArray) -> Ratio:
    """How often a reading would tell two apart: 1 less the overlap of what they show (two bells of a common width)."""
    from scipy.special import erf

    width = float(np.sqrt((one[1] ** 2 + two[1] ** 2) / 2))
    return float(erf(abs(one[0] - two[0]) / (2 * np.sqrt(2) * width)))
