"""Cures of water that does not show, and of sheets that cling: sills, finer or shallower stone, lips, flow."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import Flow
from beckwright.base.words import metres
from beckwright.cures.bench import Bench, least
from beckwright.cures.finding import change, flow_set, in_mm, listed, mm, named_in, order, put, up, whole
from beckwright.cures.look import Look
from beckwright.cures.values import Order
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.stages.findings.water import CLOSEST_SILLS
from beckwright.stages.water.beds import MIDDLE
from beckwright.stages.water.hidden import open_stone, sill_spacing
from beckwright.stages.water.runs import RunWater
from beckwright.tables.beds import VISIBLE_SHARE_WANTED
from beckwright.tables.practice import SHEET_CLINGS

_HUNDRED = 100 * LITRE_PER_HOUR


def unseen(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Sills as far apart as bring the flow up; that flow larger; or the stones no deeper than the largest of them."""
    each = bench.base.design
    name = named_in(finding, each.water.names)
    if name is None:
        return
    rate = float(each.water.flows[each.water.names.index(name)])
    runs = [run for run in each.water.runs if _missing(bench.base, run, name) > 0]
    sills = [(run, spacing) for run in runs if (spacing := _spacing(run, rate)) >= CLOSEST_SILLS]
    if sills:
        closest = metres(min(spacing for _, spacing in sills))
        told = f"Set sills on {listed(run.run.name for run, _ in sills)}, {closest} apart or more, for {name}."
        yield order(told, *(change(each, run.run.name, sills_m=[*_at(run, spacing)]) for run, spacing in sills))
    needed = max(
        float(run.through[MIDDLE]) * run.run.width * run.run.bed.depth / (1 - VISIBLE_SHARE_WANTED.amount)
        for run in runs
    )
    yield from _more(bench, name, needed)
    beds = {run.run.bed.name: run.run.bed for run in runs if run.run.bed.size[1] < run.run.bed.depth - 0.0005}
    if beds:
        told = ", ".join(f"{bed.name} {mm(bed.size[1] * 1000)}" for bed in beds.values())
        edits = [put(f"beds.{bed.name}.depth_mm", in_mm(bed.size[1])) for bed in beds.values()]
        yield order(f"Lay the stones one deep: {told}.", *edits)


def share_missing(look: Look, _: Finding) -> float:
    """How much is missing of the wanted share, over all runs and flows."""
    return sum(_missing(look, run, name) for run in look.design.water.runs for name in look.design.water.names)


def no_sheet(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Bed the stones flat; or run the smallest flow larger."""
    each = bench.base.design
    loose = {run.run.bed.name: run.run.bed for run in each.water.runs if run.run.bed.laid == "loose"}
    if loose:
        edits = [put(f"beds.{name}.laid", "bedded flat") for name in loose]
        yield order(f"Bed the stones of {listed(loose)} flat.", *edits)
    name = named_in(finding, each.water.names)
    if name is None:
        return
    rate = float(each.water.flows[each.water.names.index(name)])
    step = up(rate / 10, _HUNDRED)

    def works(steps: int) -> bool:
        tried = bench.tried(flow_set(each, name, rate + steps * step).edits)
        return tried is not None and all(other.code != finding.code for other in tried.design.findings)

    found = least(works, 2)
    if found is not None:
        yield flow_set(each, name, rate + found * step)


def clings(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Narrow the lips until the sheet breaks free; or run more."""
    each = bench.base.design
    name = named_in(finding, each.water.names)
    if name is None:
        return
    number = each.water.names.index(name)
    thin = [lip for lip in each.water.lips[1:] if lip.unit_flow[number] < SHEET_CLINGS.high]
    width = whole(float(np.floor(float(each.water.flows[number]) / SHEET_CLINGS.high * 100) * 10))
    yield order(
        f"Narrow {listed(lip.name for lip in thin)} to {mm(width)}.",
        *(change(each, lip.name, lip_width_mm=width) for lip in thin),
    )
    yield from _more(bench, name, SHEET_CLINGS.high * max(lip.width for lip in thin))


def _more(bench: Bench, name: str, needed: Flow) -> Iterator[Order]:
    """More of a flow, as long as it is no more than the largest that was asked for."""
    flow = up(needed, _HUNDRED)
    if flow < float(bench.base.design.water.flows.max()):
        yield flow_set(bench.base.design, name, flow)


def _missing(look: Look, run: RunWater, name: str) -> float:
    water = look.design.water
    shown = float(water.shown[MIDDLE, water.names.index(name), run.stations].min())
    return max(VISIBLE_SHARE_WANTED.amount - shown, 0.0)


def _spacing(run: RunWater, rate: Flow) -> float:
    opened = open_stone(VISIBLE_SHARE_WANTED.amount, rate, float(run.through[MIDDLE]), run.run.width)
    return float(np.floor(sill_spacing(run.run.bed.depth, opened, run.stretch.slope) * 10) / 10)


def _at(run: RunWater, spacing: float) -> list[float | int]:
    """Sills evenly along a run, with those it has, none closer to another than half of the spacing."""
    length, kept = run.stretch.end - run.stretch.start, list(run.run.sills)
    gaps = int(np.ceil(length / spacing - 1e-9))
    even = [round(length * place / gaps, 2) for place in range(1, gaps)]
    fresh = [each for each in even if all(abs(each - other) >= spacing / 2 for other in kept)]
    return [whole(each) for each in sorted([*kept, *fresh])]
