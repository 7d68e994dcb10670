"""Stones the water takes with it, stones a fall strikes, beds that hold other than told, and plants that raise it."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import band, chainages, millimetres, opening, share, with_unit
from beckwright.job.model import BedMakeUp
from beckwright.stages.course import SetOutCourse
from beckwright.stages.stones import Blocked, Fix, Foot, RunStones, Stability, has_stones, make_up_of
from beckwright.tables.stones import ISBASH, SIZE_SAFETY


def stone_findings(course: SetOutCourse, stability: Stability, choked: tuple[Blocked, ...]) -> Iterator[Finding]:
    """Findings on the stones, each kind once, with the worst of them and its number."""
    yield from _washed(stability)
    yield from _no_pool(stability)
    yield from _to_fix(stability)
    for bed in course.beds:
        if has_stones(bed):
            yield from _holds(bed)
    yield from _choked(choked)


def _washed(stability: Stability) -> Iterator[Finding]:
    short = [run for run in stability.runs if run.short]
    if not short:
        return
    worst = min(short, key=lambda run: run.have / run.wanted)
    stretch = worst.run.stretch
    names = ", ".join(run.run.run.name for run in short)
    yield Finding(
        severity=Severity.FAIL if worst.washed else Severity.CAUTION,
        code="stones-washed",
        place=f"Stones of {names}",
        says=f"On {worst.run.run.name}, 1 in {1 / stretch.slope:.0f}, the middle stone is {millimetres(worst.have)}; "
        f"at {stability.flow} {_up(float(worst.stays.max()))} just stay and {_up(worst.wanted)} are wanted.",
        cure=f"Lay stones of {_up(worst.wanted)}, {_mass(worst.mass)} each, or bed them in mortar.",
        source=_source(worst),
        chainage=(stretch.start, stretch.end),
        figure=dotted("stones", worst.run.run.name, "wanted"),
    )


def _source(run: RunStones) -> str:
    if run.law == "shields_size":
        return f"Lamb 2008; {SIZE_SAFETY.place}"
    outside = "" if run.tested else "; steeper than any chute tested"
    return f"Robinson 1998, angular rock two stones deep{outside}"


def _no_pool(stability: Stability) -> Iterator[Finding]:
    struck = [foot for foot in stability.feet if foot.moves]
    if not struck:
        return
    worst = max(struck, key=lambda foot: float(foot.wanted.max()))
    low, high = worst.wanted
    yield Finding(
        severity=Severity.CAUTION,
        code="no-pool",
        place=f"No pool under {', '.join(foot.name for foot in struck)}",
        says=f"At {stability.flow} water strikes the bed under {worst.name} at "
        f"{with_unit(worst.velocity, 'm/s'):.1f}: stones of "
        f"{band(low, high, 10, 'mm', scale=1000)} stay, {millimetres(worst.have or 0.0)} lie there.",
        cure=f"Dig a pool, or set stones of {_up(float(high))} in mortar {chainages(*worst.zone)}.",
        source=f"Isbash 1936, {ISBASH.place}",
        chainage=worst.zone,
        figure=dotted("stones", worst.name, "rough"),
    )


def _to_fix(stability: Stability) -> Iterator[Finding]:
    """The list of places, those told above left out."""
    told = {run.run.run.name for run in stability.runs if run.short}
    told |= {_landing(foot) for foot in stability.feet if foot.moves}
    left = [fix for fix in stability.fixes if fix.place not in told]
    if not left:
        return
    worst = max(left, key=lambda fix: fix.wanted[1])
    sizes = (min(fix.wanted[0] for fix in left), worst.wanted[1])
    heaviest = max(fix.mass[1] for fix in left)
    yield Finding(
        severity=Severity.NOTE,
        code="stones-fix",
        place=f"Stones to fix: {'; '.join(map(_where, left))}",
        says=f"At {stability.flow} stones of {band(*sizes, 10, 'mm', scale=1000)} stay there.",
        cure=f"Bed them in mortar, or set stones of up to {_mass(heaviest)}.",
        source=f"Isbash 1936, {ISBASH.place}",
        chainage=worst.span,
    )


def _where(fix: Fix) -> str:
    return f"{fix.place}, {chainages(*fix.span)}"


def _landing(foot: Foot) -> str:
    return f"landing of {foot.name}"


def _holds(bed: BedMakeUp) -> Iterator[Finding]:
    """Voids or clinging water unlike the kind of layer its sizes make: the water in motion hangs on them."""
    kind = make_up_of(bed)
    odd = [
        f"{share(given)} {word} told, {band(row.low, row.high, 1, '%', scale=100)} in {kind.name}"
        for given, row, word in ((bed.voids, kind.voids, "voids"), (bed.retained, kind.retained, "clinging water"))
        if not row.low <= given <= row.high
    ]
    if odd:
        yield Finding(
            severity=Severity.CAUTION,
            code="bed-holds-other",
            place=f"{opening(bed.name)}, {band(*bed.size, 1, 'mm', scale=1000)}",
            says=f"{'; '.join(odd)}.",
            cure="Fill a bucket with the stone, measure the water that goes in and what drains, and write both down.",
            source=f"{kind.voids.place}; {kind.retained.place}",
        )


def _choked(choked: tuple[Blocked, ...]) -> Iterator[Finding]:
    """The run where plants put an edge under water first, if they need no more room than the most that is tabled."""
    reached = [run for run in choked if 0 < run.under <= run.shares[-1]]
    if not reached:
        return
    worst = min(reached, key=lambda run: run.under)
    run = worst.run.run
    open_width = np.ceil((1 - worst.under) * run.width * 100) / 100
    grown = "; ".join(
        f"{share(closed)} of the width closed, {millimetres(rise)} higher"
        for closed, rise in zip(worst.shares, worst.rise, strict=True)
    )
    yield Finding(
        severity=Severity.CAUTION if worst.under <= worst.shares[-2] else Severity.NOTE,
        code="plants-choke",
        place=f"Plants in {run.name}, {chainages(worst.chainage, worst.chainage)}",
        says=f"At {worst.flow}: {grown}. With {share(worst.under)} closed the water stands at the edge.",
        cure=f"Keep {millimetres(open_width)} of the {millimetres(run.width)} open, or raise the edge.",
        source="uniform flow in what is left of the bed, high end",
        chainage=(worst.chainage, worst.chainage),
        figure=dotted("stones", run.name, "blocked", "under"),
    )


def _up(size: float) -> str:
    """A stone size rounded up to the millimetre, from 100 mm up to 10 mm."""
    step = 0.01 if size > 0.1 else 0.001
    return millimetres(float(np.ceil(size / step - 1e-6)) * step, up=True)


def _mass(mass: float) -> str:
    """Mass of one stone, rounded up: grams below a kilogram."""
    return (
        f"{with_unit(np.ceil(mass * 1000), 'g', up=True):.0f}"
        if mass < 1
        else f"{with_unit(np.ceil(mass), 'kg', up=True):.0f}"
    )
