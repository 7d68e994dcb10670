"""Cures of lips and pools: a lip raised or narrowed, a pool longer or deeper, one high drop made two."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import metres, opening
from beckwright.cures.bench import Bench, least
from beckwright.cures.finding import change, flow_set, in_mm, listed, mm, named_in, order, put, reach_number, up, whole
from beckwright.cures.values import Order
from beckwright.job.edit import AddReach, Edit, SetLevel
from beckwright.job.model import Pool, Reach, Step
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.job.written.course import PoolWritten, StepWritten
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.water.beds import HIGH
from beckwright.tables.falls import DROP_SPLASHES

_OVER = 0.01
"""A drowned lip is raised this far over the water below it, m."""
_LEAST_POOL = (0.6, 0.1)
"""No pool is dug shorter or shallower, m."""


def drowned(bench: Bench, _: Finding) -> Iterator[Order]:
    """Raise each drowned lip over the water below it."""
    under = [fall for fall, _ in _fallen(bench) if fall.lip.tailwater[HIGH].max() > 0]
    rises = {fall.lip.name: up(float(fall.lip.tailwater[HIGH].max()) + _OVER, 0.005) for fall in under}
    told = ", ".join(f"{name} {mm(rise * 1000)}" for name, rise in rises.items())
    crests = {fall.lip.name: fall.lip.crest for fall in under}
    yield order(
        f"Raise {told}.",
        *(SetLevel(lip=name, level_m=round(crests[name] + rise, 3)) for name, rise in rises.items()),
    )


def wide(bench: Bench, _: Finding) -> Iterator[Order]:
    """Narrow each lip to what it falls into; or widen that to the lip."""
    over = [(fall, sheet) for fall, sheet in _fallen(bench) if fall.lip.width > sheet.width]
    narrowed = {fall.lip.name: whole(float(np.floor(sheet.width * 1000))) for fall, sheet in over}
    told = ", ".join(f"{name} to {mm(width)}" for name, width in narrowed.items())
    each = bench.base.design
    yield order(f"Narrow {told}.", *(change(each, name, lip_width_mm=width) for name, width in narrowed.items()))
    below = [(_below(bench, fall), fall.lip.width) for fall, _ in over]
    edits = [change(each, reach.name, width_mm=in_mm(width)) for reach, width in below if not isinstance(reach, Step)]
    if len(edits) == len(below):
        yield order(f"Widen {listed(reach.name for reach, _ in below)} to the lip above.", *edits)


def longer_pools(bench: Bench, _: Finding) -> Iterator[Order]:
    """Make each pool as long as sheet and jump take up."""
    wanted = {
        reach.name: up(float(sheet.basin.length.max()), 0.05)
        for fall, sheet in _fallen(bench)
        if isinstance(reach := _below(bench, fall), Pool) and float(sheet.basin.length.max()) > reach.length
    }
    told = ", ".join(f"{name} {metres(length)}" for name, length in wanted.items())
    edits = [change(bench.base.design, name, length_m=whole(length)) for name, length in wanted.items()]
    yield order(f"Make {told} long.", *edits)


def deeper_pools(bench: Bench, _: Finding) -> Iterator[Order]:
    """Dig each pool as deep as holds its jump."""
    lacking = {
        reach: up(short, 0.01)
        for fall, sheet in _fallen(bench)
        if (short := float((sheet.basin.tailwater_high - sheet.basin.pool_depth).max())) > 0
        and (reach := _below(bench, fall).name)
        and isinstance(_below(bench, fall), Pool)
    }
    told = ", ".join(f"{name} {mm(short * 1000)}" for name, short in lacking.items())
    each = bench.base.design
    depths = {reach.name: reach.depth for reach in each.job.course.reaches if isinstance(reach, Pool)}
    edits = [change(each, name, depth_mm=in_mm(depths[name] + short)) for name, short in lacking.items()]
    yield order(f"Dig deeper: {told}.", *edits)


def two_drops(bench: Bench, _: Finding) -> Iterator[Order]:
    """Make two drops of each that splashes, with a pool between; all runs keep their fall."""
    high = [each for each in _fallen(bench) if each[0].lip.drop > DROP_SPLASHES.amount]
    edits: list[Edit] = []
    reaches = list(bench.base.given["course"]["reaches"])
    for fall, sheet in sorted(high, key=lambda each: -each[0].lip.chainage):
        at = reach_number(bench.base.design, fall.lip.name)
        step = reaches[at]
        first, second = (whole(part) for part in _halves(step["drop_mm"]))
        pool, between = _pool_under(fall, sheet), {key: step[key] for key in ("lip_width_mm", "lip")}
        edits += [
            put(f"course.reaches.{at + 1}.drop_mm", first),
            AddReach(after=at, reach=pool),
            AddReach(after=at + 1, reach=StepWritten(kind="step", drop_mm=second, **between)),
        ]
        reaches[at + 1 : at + 1] = [pool.model_dump(exclude_unset=True), {"kind": "step", "drop_mm": second, **between}]
    edits += [
        put(f"course.reaches.{place}.fall_mm", reach["fall_mm"])
        for place, reach in enumerate(reaches, 1)
        if reach["kind"] == "run"
    ]
    yield order(f"Make two drops of {listed(fall.lip.name for fall, _ in high)}, with a pool between.", *edits)


def dig_pools(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Dig a pool under each fall that strikes stones it would move."""
    struck = {foot.name for foot in bench.base.design.stability.feet if foot.moves}
    found = [each for each in _fallen(bench) if each[0].lip.name in struck and each[1].below != "pool"]
    edits = [
        AddReach(after=reach_number(bench.base.design, fall.lip.name), reach=_pool_under(fall, sheet))
        for fall, sheet in sorted(found, key=lambda each: -each[0].lip.chainage)
    ]
    yield order(f"Dig a pool under {listed(fall.lip.name for fall, _ in found)}.", *edits)


def skims(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Run less, or make the lips wider, until the water falls in sheets."""
    each = bench.base.design

    def gone(edits: tuple[Edit, ...]) -> bool:
        tried = bench.tried(edits)
        return tried is not None and all(other.code != finding.code for other in tried.design.findings)

    name = named_in(finding, each.water.names)
    if name is not None:
        was = float(each.water.flows[each.water.names.index(name)])
        step = up(was / 20, 100 * LITRE_PER_HOUR)
        less = least(lambda steps: was > steps * step and gone(flow_set(each, name, was - steps * step).edits), 4)
        if less is not None:
            yield flow_set(each, name, was - less * step)
    lip = named_in(finding, (lip.name for lip in each.water.lips))
    if lip is None:
        return
    width = next(other.width for other in each.water.lips if other.name == lip)

    def wider(steps: int) -> Order:
        made = in_mm(width + 0.05 * steps)
        return order(f"{opening(f'Make {lip}')} {mm(made)} wide.", change(each, lip, lip_width_mm=made))

    found = least(lambda steps: gone(wider(steps).edits), 2)
    if found is not None:
        yield wider(found)


def _fallen(bench: Bench) -> list[tuple[Fall, Sheet]]:
    return [(fall, fall.sheet) for fall in bench.base.design.falls if fall.sheet is not None]


def _below(bench: Bench, fall: Fall) -> Reach:
    reaches = bench.base.design.job.course.reaches
    return reaches[min(reach_number(bench.base.design, fall.lip.name) + 1, len(reaches) - 1)]


def _halves(drop: float) -> tuple[float, float]:
    first = up(drop / 2, 5)
    return first, drop - first


def _pool_under(fall: Fall, sheet: Sheet) -> PoolWritten:
    """A pool that takes sheet and jump of a fall."""
    length = max(up(float(sheet.basin.length.max()), 0.05), _LEAST_POOL[0])
    depth = max(up(float(sheet.basin.tailwater_high.max()), 0.01), _LEAST_POOL[1])
    width = up(max(1.5 * fall.lip.width, sheet.width if sheet.below == "pool" else 0.0), 0.05)
    return PoolWritten(kind="pool", length_m=whole(length), width_mm=in_mm(width), depth_mm=in_mm(depth))
