"""A rill or a bubbling stone added to the same reservoir, and whether the sum still works."""

from collections.abc import Iterator

import numpy as np

from beckwright.base import words
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import FloatArray, Flow, Length, Lengths, Ratio
from beckwright.base.values import value
from beckwright.care.normal import Normal
from beckwright.compose import Design
from beckwright.stages.supply import curve_of, speed_for
from beckwright.tables.care import ADDED_STORED
from beckwright.tables.practice import CLOSE_TO_DRY

SUMS = "the reservoir's volumes by level, the film of this job's start and stop"


@value
class Second:
    """What a second feature does to the reservoir and the pump. Dips from the lid, the highest water first.

    stored    (3,) water in motion it adds
    running   (3,) dip while both run; ``alone`` (3,) without it
    lowest    (3,) dip at the start of both
    over      (3,) volume over the overflow at a stop of both, if it was filled up to the rest level while both ran
    flow      both together; head the pump must give at that
    gives     head the pumps give at full speed at that flow; None beyond the end of their table
    speed     share of full speed wanted; above 1 they cannot
    """

    stored: FloatArray
    alone: Lengths
    running: Lengths
    lowest: Lengths
    over: FloatArray
    flow: Flow
    head: Length
    gives: Length | None
    speed: Ratio


def second_feature(design: Design, normal: Normal, flow: Flow, lift: Length, stored: tuple[float, float]) -> Second:
    """Add a feature.

    flow    it takes
    lift    from the running level to where its water comes out, with what its own hose loses
    stored  water in motion it holds while it runs: least and most; one number given twice is taken with a band
    Both hang on one pump, the weaker of the two throttled; a pump of its own is judged by the levels alone.
    """
    pit = normal.pit
    low, high = stored
    band = np.array([low, (low + high) / 2, high])
    if low == high:
        band = low * np.array([ADDED_STORED.low, ADDED_STORED.amount, ADDED_STORED.high])
    full = pit.held(pit.rested)
    running = np.array([pit.level_of(full - each) for each in (normal.lent + band).tolist()])
    starts = [
        pit.level_of(pit.held(pit.cover - dip) - more) for dip, more in zip(normal.lowest.tolist(), band, strict=True)
    ]
    pump, together = design.job.pumps.chosen, design.job.pumps.together
    curve = curve_of(pump)
    number = design.water.number(normal.flow)
    own = design.supply.chosen.flows[number]
    both = normal.rate + flow
    head = max(lift, lift if own.duty is None else own.duty.head)
    each = both / together
    room = pit.held(pit.overflow) - full
    return Second(
        stored=band,
        alone=normal.running,
        running=np.sort(pit.cover - running),
        lowest=np.sort(pit.cover - np.array(starts)),
        over=np.maximum(normal.lent + band - room, 0.0),
        flow=both,
        head=head,
        gives=curve.head(each) if each <= curve.flows[-1] else None,
        speed=speed_for(curve, each, head),
    )


def second_findings(second: Second, normal: Normal) -> Iterator[Finding]:
    """What a second feature has to say."""
    yield from _dry(second, normal)
    yield from _stops(second, normal)
    yield from _pump(second)


def _dry(second: Second, normal: Normal) -> Iterator[Finding]:
    low, high = (float(normal.least - end) for end in (second.lowest[-1], second.lowest[0]))
    if low >= CLOSE_TO_DRY.amount:
        return
    severity = Severity.FAIL if high < 0 else Severity.CAUTION
    lend, wanted = normal.useful, normal.lent + second.stored
    more = float(wanted[-1]) - lend + normal.pit.plan * CLOSE_TO_DRY.amount * normal.pit.holdings[0].voids
    yield Finding(
        severity=severity,
        code="second-runs-dry",
        place="Reservoir, both running",
        says=f"Both together take {words.band(float(wanted[0]), float(wanted[-1]), 5, 'L', scale=1000)} "
        "out of it; between rest "
        f"and the pump's least lie {words.litres(lend)}. At the start "
        f"{words.millimetres(CLOSE_TO_DRY.amount)} should be left "
        "over its least.",
        cure=f"Make the reservoir {words.litres(max(more, 0.0))} "
        "larger, start one after the other, or run one at a time.",
        source=SUMS,
    )


def _stops(second: Second, normal: Normal) -> Iterator[Finding]:
    if second.over[-1] <= 0:
        return
    over, alone = (
        words.band(float(band[0]), float(band[-1]), 5, "L", scale=1000)
        for band in (second.over, np.maximum(second.over - second.stored, 0.0))
    )
    lower = normal.down(float(second.over[-1]))
    room = lower < normal.least - normal.rested
    floated = (
        f", or set it {words.millimetres(lower, up=True)} lower and see that a start still has water enough"
        if room
        else ""
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="second-overflows",
        place="Reservoir at a stop",
        says=f"If it is filled up to the rest level while both run, {over} go over the overflow at every stop; alone "
        f"{alone}.",
        cure=f"Keep the feed shut while they run{floated}.",
        source=SUMS,
    )


def _pump(second: Second) -> Iterator[Finding]:
    if second.speed <= 1.0:
        return
    gives = "its table ends before" if second.gives is None else f"it gives {words.metres(second.gives)} there"
    yield Finding(
        severity=Severity.FAIL,
        code="second-pump-short",
        place="Pump for both",
        says=f"Both want {words.flow(second.flow)} at {words.metres(second.head)} of head; {gives}.",
        cure="Give the second a pump of its own in the same chamber, or choose a larger one for both.",
        source="the pump's table, straight between its rows",
    )
