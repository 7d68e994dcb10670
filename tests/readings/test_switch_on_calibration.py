"""Switch-on against truths that are known, because the readings were made from them: coverage, and causes found.

The truth of each try is drawn from the very bands the fit starts from, so an interval must hold it as often as it says:
scipy.stats.binomtest is the judge. Half the might-have-beens of a morning are enough for that.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy import stats

from beckwright.readings.switch_on import Reading, causes
from beckwright.readings.switch_on.causes import (
    BEHIND,
    CAGE,
    KINKED,
    LIP,
    LOSS,
    NOTHING,
    SLOW,
    WORN,
    Cause,
    alike,
    candidates,
    next_readings,
    rank,
)
from beckwright.readings.switch_on.fit import after, before, fit, sigmas
from beckwright.readings.switch_on.model import Model, Upset
from beckwright.readings.switch_on.noise import compared
from beckwright.tables import switch_on as table
from tests.readings.test_switch_on import designed, films, reading

_TIMES = ("bucket", "arrival", "dry arrival", "draws air")
MORNING = (
    *[reading("bucket", "flat out", amount=0.02)] * 3,
    *[reading("bucket", "everyday", amount=0.02)] * 3,
    *[reading("reservoir", "flat out", seconds=each) for each in (0.0, 30.0, 60.0, 90.0)],
    reading("rest"),
    reading("watts", "flat out"),
    reading("steady", "flat out"),
    reading("arrival", "flat out", place="lip 2"),
)
CHECKED = (
    *MORNING,
    reading("dead head", "flat out"),
    reading("chamber", "flat out"),
    reading("steady", "flat out", seconds=1800.0),
    reading("steady", "trickle"),
    *[reading("tilt", place=f"lip {each}") for each in (1, 2, 3)],
)


def made(
    model: Model, rows: Sequence[Reading], away: np.ndarray, upset: Upset, chance: np.random.Generator
) -> list[Reading]:
    """Readings of one morning: the truth, and on it the scatter each reading has."""

    def put(row: Reading, amount: float) -> Reading:
        return replace(row, seconds=amount) if row.kind in _TIMES else replace(row, amount=amount)

    true = model.predict(away[None], upset, rows)[0]
    exact = [put(row, float(each)) for row, each in zip(rows, true, strict=True)]
    return [
        put(row, compared(row) + each * chance.standard_normal())
        for row, each in zip(exact, sigmas(model, exact), strict=True)
    ]


@cache
def model_of(*, checked: bool) -> Model:
    return Model(designed("hazel_bank"), CHECKED if checked else MORNING, films("hazel_bank"))


TRIES = 40
HOSE, WEAR = "hose and fittings", ("pump's head", "pump's flow")
UNLIKELY = 1e-3
"""A sound interval is called unsound once in so many looks; ten looks are taken."""


@pytest.fixture(scope="module")
def below() -> dict[str, np.ndarray]:
    """By figure, the share of what is thought possible after the readings that lies below the truth, for every try."""
    chance, model = np.random.default_rng(2026), model_of(checked=False)
    shares: dict[str, list[float]] = {}
    for _ in range(TRIES):
        away = chance.standard_normal(len(model.names))
        told = after(model, made(model, MORNING, away, Upset(), chance), count=512)
        things, true = model.things(told), model.things(away[None])
        now, truly = (model.steady(each, "flat out", Upset()) for each in (things, true))
        pairs = {name: (now[name], truly[name]) for name in ("flow", "in motion")}
        pairs |= {name: (things[name], true[name]) for name in (HOSE, *WEAR)}
        for name, (each, truth) in pairs.items():
            shares.setdefault(name, []).append(float((each < truth[0]).mean()))
    return {name: np.array(each) for name, each in shares.items()}


def held(shares: np.ndarray, wide: float) -> int:
    """How often the middle part, so wide, of what is thought possible holds the truth."""
    return int((np.abs(shares - 0.5) <= wide / 2).sum())


@pytest.mark.parametrize("says", [0.90, 0.95])
def test_intervals_hold_the_truth_as_often_as_they_say(below: dict[str, np.ndarray], says: float) -> None:
    for name, shares in below.items():
        count = held(shares, says)
        assert stats.binomtest(count, TRIES, says).pvalue > UNLIKELY, (name, count)


def test_intervals_half_as_wide_would_be_found_out(below: dict[str, np.ndarray]) -> None:
    """Half the width of a normal 90 % interval holds 59 % of it (table of the normal distribution)."""
    narrower = 2 * stats.norm.cdf(stats.norm.ppf(0.95) / 2) - 1
    assert narrower == pytest.approx(0.589, abs=0.001)
    for shares in below.values():
        assert stats.binomtest(held(shares, narrower), TRIES, 0.90).pvalue < UNLIKELY


def test_readings_narrow_what_they_bear_on() -> None:
    model, chance = model_of(checked=False), np.random.default_rng(3)
    rows = made(model, MORNING, np.zeros(len(model.names)), Upset(), chance)
    flow = [
        model.steady(model.things(each), "flat out", Upset())["flow"] for each in (before(model), after(model, rows))
    ]
    assert np.ptp(np.quantile(flow[1], (0.05, 0.95))) < 0.35 * np.ptp(np.quantile(flow[0], (0.05, 0.95)))


FAULTS = {
    NOTHING: Upset(),
    KINKED: Upset(kink=3.0),
    WORN: Upset(worn=0.78),
    SLOW: Upset(slow=0.80),
    CAGE: Upset(cage=0.15),
    LIP: Upset(lip="lip 2", tilt=0.011),
    BEHIND: Upset(behind=0.35),
    LOSS: Upset(lost=0.04),
}


def test_causes_come_first_when_they_are_what_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eleven mornings with every reading taken, a cause in each: at least 9 times it comes first."""
    monkeypatch.setattr(causes, "STRENGTHS", 3)
    model, chance = model_of(checked=True), np.random.default_rng(7)
    found = []
    for name in (*FAULTS, BEHIND, LOSS, LIP):
        away = 0.7 * chance.standard_normal(len(model.names))
        found.append((name, rank(model, made(model, CHECKED, away, FAULTS[name], chance))[0].name))
    assert sum(name == first for name, first in found) >= 9, found


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_causes_that_buckets_cannot_tell_apart_are_told_as_tied(seed: int) -> None:
    """Less water alone may be the hose, the pump or its cage; the watts would part them."""
    wanted = [reading("bucket", "flat out", amount=0.02)] * 3
    model = Model(designed("hazel_bank"), wanted, films("hazel_bank"))
    chance, upset = np.random.default_rng(seed), Upset(kink=4.0)
    rows = made(model, wanted, 0.3 * chance.standard_normal(len(model.names)), upset, chance)
    tied = {each.name for each in alike(rank(model, rows))}
    assert KINKED in tied
    assert tied & {WORN, SLOW, CAGE}


def test_a_way_round_takes_as_much_of_every_flow_and_a_low_edge_only_of_large_ones() -> None:
    """By hand: 0.2 of the largest is all but the most a way round may take of a tenth of it, 0.4 of half of it."""
    model = model_of(checked=True)
    flows = model.reference * np.array([0.1, 0.5, 1.0])
    assert model.round(flows, Upset(behind=0.2)) == pytest.approx([0.95, 0.4, 0.2])
    assert model.leaves(flows, Upset(lost=0.04)) == pytest.approx([0.4, 0.08, 0.04])
    assert model.leaves(flows, Upset(lost=0.04, edge=0.6)) == pytest.approx([0.0, 0.0, 0.04])


def test_the_water_at_rest_stands_at_the_lower_end_of_a_lip_out_of_level() -> None:
    """By hand: a lip 12 mm out holds 6 mm less than its middle; at a lip that is level nothing moves."""
    model = model_of(checked=True)
    chainage = next(lip.chainage for lip in model.design.water.lips if lip.name == "lip 2") - 0.01
    rows = [reading("still level", chainage=chainage)]
    level = [
        float(model.predict(np.zeros((1, len(model.names))), upset, rows)[0, 0])
        for upset in (Upset(), Upset(lip="lip 2", tilt=-0.012), Upset(lip="lip 1", tilt=0.012))
    ]
    assert level[0] - level[1] == pytest.approx(0.006)
    assert level[0] == level[2]


def test_the_odds_are_those_of_plain_simulation() -> None:
    """40 000 mornings drawn from the bands, each weighed by how well it gives one bucket and the watts."""
    wanted = [reading("bucket", "flat out", amount=0.02), reading("watts", "flat out")]
    model = Model(designed("hazel_bank"), wanted, films("hazel_bank"))
    rows = made(model, wanted, np.zeros(len(model.names)), Upset(kink=2.0), np.random.default_rng(1))
    seen, sure = np.array([compared(row) for row in rows]), sigmas(model, rows)
    chance = np.random.default_rng(9)

    def plain(upset: Upset) -> float:
        told = model.predict(chance.standard_normal((20_000, len(model.names))), upset, rows)
        return float(np.exp(-0.5 * (((told - seen) / sure) ** 2).sum(axis=1)).mean())

    odds = plain(Upset(kink=2.0)) / plain(Upset())
    ours = float(np.exp(fit(model, rows, Upset(kink=2.0)).evidence - fit(model, rows).evidence))
    assert ours == pytest.approx(odds, rel=0.15)


def leading_of(ranked: Sequence[Cause]) -> list[Cause]:
    return [each for each in ranked if each.chance >= table.LEADING.amount][:4]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_next_reading_decides_more_often_than_not(seed: int) -> None:
    """Buckets alone leave a hose, a pump and a cage: the reading asked for lifts the chance of what is true."""
    rows_wanted = [*[reading("bucket", "flat out", amount=0.02)] * 3]
    model = Model(designed("hazel_bank"), rows_wanted, films("hazel_bank"))
    chance, upset = np.random.default_rng(seed), Upset(cage=0.4)
    away = 0.3 * chance.standard_normal(len(model.names))
    rows = made(model, rows_wanted, away, upset, chance)
    ranked = rank(model, rows)
    first = next_readings(model, ranked, candidates(model, rows))[0]
    assert first.tells > 0.3
    decided = [name for each in next_readings(model, ranked, candidates(model, rows)) for name, _ in each.decides]
    assert sorted(decided) == sorted(each.name for each in leading_of(ranked))
    wider = model.asking([first.row])
    more = made(wider, [first.row], np.pad(away, (0, len(wider.names) - len(away))), upset, chance)
    after_all = rank(wider, [*rows, *more])
    was, now = (next(each.chance for each in those if each.name == CAGE) for those in (ranked, after_all))
    assert now > was
