"""BS 7671:2018, Appendix 4: drop by mV/A/m, its limits, and its tables, as quoted on tables and trade pages.

Provenance: stored pages. (a) Worked example of a training lesson: 2.5 mm2 twin cable, 18 mV/A/m, 16 A, 18 m: 5184 mV,
printed as 5.18 V, limit 11.5 V. (b) Worked example by resistivity: 32 A, 30 m, 6 mm2, 0.0225: 7.2 V, 3.13 % of 230 V.
(c) Drops on a cable maker's page: what a cable may lose at most, 10.5 V at 100 A over 150 m, asks for 0.7 mV/A/m; a
cable of 1.1 mV/A/m loses 16.5 V (three-phase values: the arithmetic is the same). (d) Table 4E4B, two-core armoured;
a second maker prints 30.9, 18.9, 11.8, 7.9, 4.7, 2.9 V/A/km for its own. (e) Limits 3 % = 6.9 V and 5 % = 11.5 V at
230 V; 0.005 % more for each metre beyond 100 m, 0.5 % at most.
"""

import pytest

from beckwright.equations.electrics import (
    drop_rate_allowed,
    drop_share,
    long_run_share,
    supply_current,
    voltage_drop,
)
from beckwright.stages.electrics.loads import limit_of
from beckwright.tables.electrics import (
    DROP_RATES,
    LIGHTING_DROP,
    LONG_RUN_FROM,
    LONG_RUN_MORE,
    OTHER_DROP,
)


def test_drop_of_the_lesson() -> None:
    assert voltage_drop(DROP_RATES["PVC", 2.5].amount, 16, 18) == pytest.approx(5.18, abs=0.005)


def test_drop_by_resistivity_is_near_the_table() -> None:
    """2 I L rho / A gives 7.2 V; the table's 7.3 mV/A/m gives 7.008 V, 2.7 % less."""
    by_resistivity = 2 * 32 * 30 * 0.0225 / 6
    assert by_resistivity == pytest.approx(7.2)
    by_table = voltage_drop(DROP_RATES["PVC", 6.0].amount, 32, 30)
    assert by_table == pytest.approx(7.008, rel=1e-9)
    assert by_table / by_resistivity == pytest.approx(1 - 0.0267, abs=1e-3)
    assert 100 * drop_share(by_resistivity, 230) == pytest.approx(3.13, abs=0.005)


def test_pump_supply_by_hand() -> None:
    """300 W at a power factor of 0.85 and 230 V: 1.5345 A; 40 m of 1.5 mm2 lose 1.780 V, 0.774 %."""
    current = supply_current(300, 230, 0.85)
    assert current == pytest.approx(1.5345, abs=5e-5)
    drop = voltage_drop(DROP_RATES["PVC", 1.5].amount, current, 40)
    assert drop == pytest.approx(1.7801, abs=5e-5)
    assert 100 * drop_share(drop, 230) == pytest.approx(0.7739, abs=1e-3)


def test_rate_for_a_drop_allowed() -> None:
    assert drop_rate_allowed(10.5, 100, 150) == pytest.approx(0.7e-3, rel=1e-9)
    assert voltage_drop(1.1e-3, 100, 150) == pytest.approx(16.5, rel=1e-9)


@pytest.mark.parametrize(
    ("size", "maker"), [(1.5, 30.9), (2.5, 18.9), (4.0, 11.8), (6.0, 7.9), (10.0, 4.7), (16.0, 2.9)]
)
def test_armoured_table_against_a_maker(size: float, maker: float) -> None:
    assert DROP_RATES["XLPE", size].amount * 1000 == pytest.approx(maker, abs=0.21)


@pytest.mark.parametrize("insulation", ["PVC", "XLPE"])
def test_hotter_and_thinner_cables_lose_more(insulation: str) -> None:
    rates = [row.amount for (kind, _), row in DROP_RATES.items() if kind == insulation]
    assert rates == sorted(rates, reverse=True)
    for (kind, size), row in DROP_RATES.items():
        if kind == "XLPE" and ("PVC", size) in DROP_RATES:
            assert row.amount > DROP_RATES["PVC", size].amount


def test_limits() -> None:
    assert LIGHTING_DROP.amount * 230 == pytest.approx(6.9)
    assert OTHER_DROP.amount * 230 == pytest.approx(11.5)


@pytest.mark.parametrize(
    ("length", "limit", "raised"),
    [(99, 0.05, False), (100, 0.05, False), (160, 0.053, True), (200, 0.055, True), (400, 0.055, True)],
)
def test_long_runs(length: float, limit: float, raised: bool) -> None:
    """160 m: 5 % and 60 times 0.005 %; the most is reached at 200 m."""
    share, longer = limit_of(0.05, length)
    assert share == pytest.approx(limit, abs=1e-12)
    assert longer == raised
    if raised and length <= 200:
        added = long_run_share(0.05, LONG_RUN_MORE.amount, length, LONG_RUN_FROM.amount)
        assert added == pytest.approx(limit, abs=1e-12)
