"""What hangs on the supply cable, and what its length loses."""

from collections.abc import Iterable

import numpy as np

from beckwright.base.quantities import Length, Power, Ratio
from beckwright.equations.electrics import (
    Current,
    Voltage,
    drop_rate_allowed,
    drop_share,
    long_run_share,
    supply_current,
    voltage_drop,
)
from beckwright.job.model import ElectricsWork, Job
from beckwright.stages.electrics.values import CableDrop, Feeder, LightString, Load
from beckwright.stages.supply import Supply
from beckwright.stages.surroundings.plane import distances
from beckwright.tables.electrics import (
    DRAWN_LINE_SLACK,
    DROP_RATES,
    LIGHTING_DROP,
    LIGHTS_POWER_FACTOR,
    LONG_RUN_FROM,
    LONG_RUN_MORE,
    LONG_RUN_MOST,
    OTHER_DROP,
    RISES,
)

MOST = "most by its table"


def feed(job: Job, work: ElectricsWork, supply: Supply, strings: tuple[LightString, ...]) -> Feeder:
    """Work out the supply cable. With three phases each pump is taken on a phase and a neutral of its own."""
    each = job.pumps.together if work.phases > 1 else 1
    pumps = tuple(
        Load(name=name, power=power / each, current=supply_current(power / each, work.voltage, work.power_factor))
        for name, power in _pump_powers(job, supply)
    )
    largest = max(pumps, key=lambda load: load.power)
    others = (*(_lights(string, work) for string in strings), *_other(work))
    current = largest.current + sum(load.current for load in others)
    drawn, length = lengths(work)
    limit, long_run = limit_of(LIGHTING_DROP.amount if strings else OTHER_DROP.amount, length)
    sizes = cable_drops(work.insulation, work.voltage, current, length, limit)
    return Feeder(
        pumps=pumps,
        largest=largest,
        others=others,
        each=each,
        current=current,
        drawn=drawn,
        length=length,
        lights=bool(strings),
        limit=limit,
        long_run=long_run,
        sizes=sizes,
        chosen=next(row for row in sizes if row.size == work.cable),
        rate_most=drop_rate_allowed(limit * work.voltage, current, length),
        smallest=next((row.size for row in sizes if row.within), None),
    )


def lengths(work: ElectricsWork) -> tuple[Length | None, Length]:
    """Length of the line on plan, and of the cable: what was measured, else the line and its slack; both with rises."""
    drawn = float(distances(np.array(work.line))[-1]) if len(work.line) > 1 else None
    if work.length is not None or drawn is None:
        return drawn, (work.length or 0.0) + RISES.amount
    return drawn, drawn * (1 + DRAWN_LINE_SLACK.amount) + RISES.amount


def limit_of(base: Ratio, length: Length) -> tuple[Ratio, bool]:
    """Share that may be lost over a run, and whether its length raised it."""
    if length <= LONG_RUN_FROM.amount:
        return base, False
    longer = long_run_share(base, LONG_RUN_MORE.amount, length, LONG_RUN_FROM.amount)
    return min(longer, base + LONG_RUN_MOST.amount), True


def cable_drops(
    insulation: str, voltage: Voltage, current: Current, length: Length, limit: Ratio
) -> tuple[CableDrop, ...]:
    """Drop along every size of one insulation, smallest first."""
    rows = []
    for (kind, size), rate in DROP_RATES.items():
        if kind == insulation:
            drop = voltage_drop(rate.amount, current, length)
            share = drop_share(drop, voltage)
            rows.append(CableDrop(size=size, rate=rate.amount, drop=drop, share=share, within=share <= limit))
    return tuple(rows)


def _pump_powers(job: Job, supply: Supply) -> Iterable[tuple[str, Power]]:
    """At each named flow it gives, flat out, and the most its maker's table tells: all pumps together."""
    for flow in supply.chosen.flows:
        if flow.duty is not None:
            yield flow.name, flow.duty.watts
    _, flat_out, _ = supply.flat_out
    if flat_out is not None:
        yield "flat out", flat_out.watts
    yield MOST, job.pumps.together * float(job.pumps.chosen.watts.max())


def _lights(string: LightString, work: ElectricsWork) -> Load:
    power = string.transformer.drawn
    return Load(
        name=f"lights at {string.voltage:g} V",
        power=power,
        current=supply_current(power, work.voltage, LIGHTS_POWER_FACTOR.amount),
    )


def _other(work: ElectricsWork) -> tuple[Load, ...]:
    if work.other == 0.0:
        return ()
    return (Load(name="other", power=work.other, current=supply_current(work.other, work.voltage, 1.0)),)
