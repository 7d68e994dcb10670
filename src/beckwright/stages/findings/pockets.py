"""Pockets judged: dry gaps, the edge of the lining, tree roots, and what stands in the channel."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length
from beckwright.base.words import chainages, millimetres, share
from beckwright.job.model import Job
from beckwright.stages.planting import Choked, PlacedPocket, Planting
from beckwright.tables.planting import DRY_GAP, WICKS
from beckwright.tables.trees import ROOT_KEPT

_DRAWN: Length = 0.005
"""A pocket this little past the edge of the lining lies on it."""


def pocket_findings(job: Job, pockets: tuple[PlacedPocket, ...]) -> Iterator[Finding]:
    """Findings on where pockets lie, each kind once with all it holds for."""
    yield from _washed(pockets)
    yield from _beyond(job, pockets)
    yield from _touching(pockets)
    yield from _in_roots(pockets)
    off = tuple(placed for placed in pockets if not placed.surveyed)
    if off:
        yield _finding(
            Severity.NOTE,
            "pocket-off-survey",
            off,
            "Part of the ground there was never shot: its slope is read off what was.",
            "Shoot points round it before the plants are ordered.",
            "the survey",
        )


def channel_findings(planting: Planting) -> Iterator[Finding]:
    """Findings on pockets that stand in the channel."""
    for choked in planting.choked:
        yield _choked(choked)
    if planting.in_pools:
        letters = ", ".join(planting.in_pools)
        yield Finding(
            severity=Severity.CAUTION,
            code="plants-in-pool",
            place=f"Pocket {letters}, in a pool",
            says="What plants in a pool do to its water is not worked out.",
            cure="Keep them out of the way from where the water falls in to where it spills.",
            source="outside this model",
        )


def _choked(choked: Choked) -> Finding:
    severity = Severity.FAIL if choked.left < 0 else Severity.CAUTION if choked.left < choked.wanted else Severity.NOTE
    left = f"{millimetres(choked.left)} of freeboard left" if choked.left >= 0 else "an edge goes under"
    open_width = float(np.ceil((1 - choked.keeps) * choked.width * 100 - 1e-6) / 100)
    if severity is Severity.NOTE:
        cure = f"Keep {millimetres(open_width)} of the bed open as they grow: cut back each March."
    elif choked.keeps > 0:
        back = _up((choked.share - choked.keeps) * choked.width)
        cure = f"Draw them back {millimetres(back)}, so that {millimetres(open_width)} of the bed stay open."
    else:
        cure = "Raise the edge first: what is wanted does not stand there even without plants."
    return Finding(
        severity=severity,
        code="plants-in-channel",
        place=f"Pocket {', '.join(choked.letters)} in {choked.run}, {chainages(*choked.span)}",
        says=f"They close {share(choked.share)} of the {millimetres(choked.width)} of bed: at {choked.flow} the water "
        f"stands {millimetres(choked.rise)} higher, {left}, {millimetres(choked.wanted)} wanted.",
        cure=cure,
        source="uniform flow in what is left of the bed over the whole run, high end; leaves and roots slow it further",
        chainage=choked.span,
        figure=dotted("planting", choked.run, "closed"),
    )


def _washed(pockets: tuple[PlacedPocket, ...]) -> Iterator[Finding]:
    """Pockets beside the channel whose soil the largest flow can reach; those in it are judged elsewhere."""
    gaps = {
        placed.letter: placed.from_water
        for placed in pockets
        if placed.from_water is not None and placed.reach == 0 and placed.from_water < DRY_GAP.amount - 0.0005
    }
    if gaps:
        told = ", ".join(f"{letter} {_apart(gap)}" for letter, gap in gaps.items())
        moved = ", ".join(f"{letter} {millimetres(_up(DRY_GAP.amount - gap), up=True)}" for letter, gap in gaps.items())
        yield _finding(
            Severity.CAUTION,
            "pocket-near-water",
            tuple(placed for placed in pockets if placed.letter in gaps),
            f"From the edge of the water at the largest flow: {told}; {millimetres(DRY_GAP.amount)} wanted.",
            f"Move them out: {moved}; or wall them off with stones up to that water.",
            f"{DRY_GAP.grade.value}: {DRY_GAP.place}",
        )


def _apart(gap: Length) -> str:
    return millimetres(gap) if gap > 0 else f"{millimetres(-gap)} in it"


def _beyond(job: Job, pockets: tuple[PlacedPocket, ...]) -> Iterator[Finding]:
    past = tuple(placed for placed in pockets if placed.beyond > _DRAWN)
    if past:
        wider = ", ".join(f"{placed.letter} {millimetres(_up(placed.beyond), up=True)}" for placed in past)
        yield _finding(
            Severity.CAUTION,
            "lining-wider",
            past,
            f"Inside the lining, and yet past its edge as drawn: {wider}.",
            f"Dig a shelf there and cut the lining that much wider on that side, with its "
            f"{millimetres(job.layers.edge_allowance)} over the edge besides; or draw them back as far.",
            "sizes of this job",
        )


def _touching(pockets: tuple[PlacedPocket, ...]) -> Iterator[Finding]:
    near = tuple(placed for placed in pockets if not placed.pocket.inside and placed.pocket.gap < DRY_GAP.amount - 1e-9)
    if near:
        told = ", ".join(f"{placed.letter} {millimetres(placed.pocket.gap)}" for placed in near)
        moved = ", ".join(
            f"{placed.letter} {millimetres(_up(DRY_GAP.amount - placed.pocket.gap), up=True)}" for placed in near
        )
        yield _finding(
            Severity.CAUTION,
            "soil-at-edge",
            near,
            f"Soil from the edge of the lining: {told}; {millimetres(DRY_GAP.amount)} wanted. It draws water about "
            f"{millimetres(WICKS.amount)} over an edge it touches.",
            f"Move them out: {moved}; fill the gap with stones.",
            f"{WICKS.grade.value}: {WICKS.place}",
        )


def _in_roots(pockets: tuple[PlacedPocket, ...]) -> Iterator[Finding]:
    rooted = tuple(placed for placed in pockets if placed.roots)
    if rooted:
        told = "; ".join(f"{placed.letter} of {' and '.join(placed.roots)}" for placed in rooted)
        yield _finding(
            Severity.CAUTION,
            "pocket-in-roots",
            rooted,
            f"Inside root circles: {told}.",
            f"Plant small pots with a hand trowel, raise no soil, cut no root over {millimetres(ROOT_KEPT.amount)}; "
            "ask the tree officer where a tree is protected.",
            "BS 5837:2012 (UK); local rules come first",
        )


def _finding(
    severity: Severity, code: str, pockets: tuple[PlacedPocket, ...], says: str, cure: str, source: str
) -> Finding:
    where = ", ".join(
        f"{placed.letter} {placed.pocket.name} ({chainages(placed.pocket.start, placed.pocket.end)})"
        for placed in pockets
    )
    first = pockets[0]
    return Finding(
        severity=severity,
        code=code,
        place=f"Pocket{'s' * (len(pockets) > 1)} {where}",
        says=says,
        cure=cure,
        source=source,
        chainage=(first.pocket.start, first.pocket.end),
        figure=dotted("planting", first.letter, "ground"),
    )


def _up(length: Length, step: Length = 0.01) -> Length:
    return float(np.ceil(length / step - 1e-6)) * step
