"""Water that does not show where it should, and lips it clings to."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import band, flow, metres, millimetres, opening, share
from beckwright.equations.lips import lip_unit_flow
from beckwright.equations.resistance import rice_riprap_n
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.stages.water.hidden import open_stone, sill_spacing
from beckwright.stages.water.runs import RunWater
from beckwright.tables.beds import SHEET_BREAKS, VISIBLE_SHARE_WANTED
from beckwright.tables.practice import SHEET_CLINGS

CLOSEST_SILLS = 0.5
"""Sills closer than this are not built, m."""


def water_findings(water: Water) -> Iterator[Finding]:
    """Hidden water and broken sheets flow by flow."""
    for number, name in enumerate(water.names):
        yield from _clinging(water, number, name)
    yield from _hidden(water)
    yield from _threads(water)
    yield from _untested(water)


def _hidden(water: Water) -> Iterator[Finding]:
    """One finding for all flows, on the run that shows least; the cure is for the smallest flow that sills can help."""
    wanted = VISIBLE_SHARE_WANTED.amount
    unseen = [
        (number, run)
        for number in range(len(water.names))
        for run in water.runs
        if _least_shown(water, run, number, MIDDLE) < wanted
    ]
    if not unseen:
        return
    flows = list(dict.fromkeys(number for number, _ in unseen))
    runs = list(dict.fromkeys(run.run.name for _, run in unseen))
    largest = flows[-1]
    worst = min(
        (run for number, run in unseen if number == largest), key=lambda run: _least_shown(water, run, largest, MIDDLE)
    )
    shown = ", ".join(_told(water, worst, number) for number in flows)
    cured = next(
        (number for number in flows if _sill_spacing(worst, float(water.flows[number])) >= CLOSEST_SILLS), largest
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="runs-unseen",
        place=f"Water runs unseen on {_listed(runs)}",
        says=f"On {worst.run.name} the stones leave in view: {shown}; {share(wanted)} wanted.",
        cure=f"For {water.names[cured]}: {_bring_up(worst, float(water.flows[cured]))}",
        source="channel with a stone layer: " + VISIBLE_SHARE_WANTED.place,
        chainage=(worst.stretch.start, worst.stretch.end),
        figure=dotted("water", water.names[cured], worst.run.name, "shown"),
    )


def _told(water: Water, run: RunWater, number: int) -> str:
    least, most = (_least_shown(water, run, number, end) for end in (LOW, HIGH))
    return f"{water.names[number]} {band(least, most, 1, '%', scale=100)}"


def _least_shown(water: Water, run: RunWater, number: int, end: int) -> float:
    return float(water.shown[end, number, run.stations].min())


def _bring_up(run: RunWater, rate: float) -> str:
    """Open stone, sill spacing or flow at which the wanted share shows, by the middle law."""
    through, bed = float(run.through[MIDDLE]) * run.run.width, run.run.bed
    cures = [f"Leave {millimetres(_open_stone(run, rate))} of open stone over mortar or fines"]
    spacing = _sill_spacing(run, rate)
    if spacing >= CLOSEST_SILLS:
        cures.append(f"set a sill every {metres(np.floor(spacing * 10) / 10)}")
    cures.append(f"run {flow(through * bed.depth / (1 - VISIBLE_SHARE_WANTED.amount))}")
    return ", or ".join(cures) + "."


def _open_stone(run: RunWater, rate: float) -> float:
    return open_stone(VISIBLE_SHARE_WANTED.amount, rate, float(run.through[MIDDLE]), run.run.width)


def _sill_spacing(run: RunWater, rate: float) -> float:
    return sill_spacing(run.run.bed.depth, _open_stone(run, rate), run.stretch.slope)


def _threads(water: Water) -> Iterator[Finding]:
    """Where water shows and yet no sheet: it threads between the stones along most of a run, by the middle law."""
    threading = [
        (number, run) for number in range(len(water.names)) for run in water.runs if _mostly_threads(water, run, number)
    ]
    if threading:
        flows = list(dict.fromkeys(water.names[number] for number, _ in threading))
        runs = list(dict.fromkeys(run.run.name for _, run in threading))
        yield Finding(
            severity=Severity.NOTE,
            code="no-sheet",
            place=f"{opening(_listed(flows))} on {_listed(runs)}",
            says="No sheet: water runs between the stones, less than "
            f"{SHEET_BREAKS.amount:g} of a stone deep along most of the way.",
            cure="Lay finer stones on top, bed them flat, or run more.",
            source="channel with a stone layer: " + SHEET_BREAKS.place,
            figure=dotted("water", flows[0], runs[0], "depth"),
        )


def _mostly_threads(water: Water, run: RunWater, number: int) -> bool:
    showing = water.depth[MIDDLE, number, run.stations] > 0
    sheets = water.sheet[MIDDLE, number, run.stations]
    return bool(run.run.bed.depth > 0 and showing.any() and (sheets & showing).sum() < showing.sum() / 2)


def _clinging(water: Water, number: int, name: str) -> Iterator[Finding]:
    thin = [lip for lip in water.lips[1:] if lip.unit_flow[number] < SHEET_CLINGS.high]
    if not thin:
        return
    widest = max(thin, key=lambda lip: lip.width)
    low, high = float(widest.head[LOW, number]), float(widest.head[HIGH, number])
    needed = SHEET_CLINGS.high * widest.width
    narrow = float(water.flows[number]) / SHEET_CLINGS.high
    yield Finding(
        severity=Severity.CAUTION,
        code="sheet-clings",
        place=f"{opening(_listed([lip.name for lip in thin]))} at {name}",
        says=f"The sheet splits and clings under the stone: {band(low, high, 1, 'mm', scale=1000)} "
        "of water over the lip.",
        cure=f"Run {flow(needed)} or more, or narrow the lip to {millimetres(np.floor(narrow * 100) / 100)}.",
        source=f"common practice: {SHEET_CLINGS.place}",
        chainage=(widest.chainage, widest.chainage),
        figure=dotted("lip", widest.name, name, "head"),
    )


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _untested(water: Water) -> Iterator[Finding]:
    """Say where the laws are used outside what their sources tested; the bands are our answer to it."""
    outside = []
    heads = np.concatenate([lip.head[MIDDLE] for lip in water.lips])
    least = lip_unit_flow.limits["head"][0]
    if heads.min() < least:
        run_at = band(heads.min(), heads.max(), 1, "mm", scale=1000)
        outside.append(f"lips run at {run_at}, no weir is rated below {millimetres(least)}")
    sizes = [run.law.grain50 for run in water.runs if run.law.names[LOW] == rice_riprap_n.name]
    if sizes and rice_riprap_n.outside(median_size=min(sizes), slope=0.1):
        low, high = rice_riprap_n.limits["median_size"]
        fitted = band(low, high, 1, "mm", scale=1000)
        outside.append(f"the riprap law was fitted on stones of {fitted}, these are {millimetres(min(sizes))}")
    if outside:
        yield Finding(
            severity=Severity.NOTE,
            code="outside-tested-range",
            place="Laws of the water",
            says=opening("; ".join(outside)) + ".",
            cure="Trust the bands, not their middle, and measure at switch-on.",
            source="limits given by the sources",
        )
