"""What setting out has to say for itself: marks, tapes, pegs that cannot stand clear, tall ones."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length
from beckwright.base.words import metres
from beckwright.job.model import Job
from beckwright.stages.setting_out.clear import CLEAR
from beckwright.stages.setting_out.named import named_spots
from beckwright.stages.setting_out.tapes import SHARPEST, TAPE, flatness
from beckwright.stages.setting_out.values import Peg, PitSetOut, SidePeg, Spot

TALL: Length = 1.2
"""A nail farther above the ground wants a stake and a board, not a peg, m (common practice)."""


def setting_out_findings(job: Job, pegs: tuple[Peg, ...], pit: PitSetOut) -> Iterator[Finding]:
    """Findings on marks and pegs."""
    named = list(named_spots(pegs, pit))
    if len(job.site.marks) < 2:
        yield _few_marks(job)
    else:
        yield from _poor(named)
    yield from _not_clear(pegs, pit)
    yield from _over_boundaries(job, pegs)
    yield from _crossed(pegs)
    yield from _tall(pegs, pit)
    yield from _unsurveyed(named)
    if pit.guessed:
        yield _rim_guessed(pit)


def _few_marks(job: Job) -> Finding:
    count = len(job.site.marks)
    return Finding(
        severity=Severity.CAUTION,
        code="marks-too-few",
        place="Setting out",
        says=f"{'One fixed mark is' if count else 'No fixed mark is'} in the job: "
        "no peg can be found again with two tapes.",
        cure="Measure two marks that survive the works, better three, and write them under marks in job.toml.",
        source="common practice",
    )


def _poor(named: list[tuple[str, Spot]]) -> Iterator[Finding]:
    """Pegs whose best two tapes meet too sharp or are too long, told once with the worst."""
    poor = [(name, spot.tapes) for name, spot in named if spot.tapes is not None and not spot.tapes.good]
    if not poor:
        return
    flat = min(flatness(tapes) for _, tapes in poor)
    longest = max(tape.length for _, tapes in poor for tape in (tapes.first, tapes.second))
    says = [f"Tapes meet as flat as {np.degrees(flat):.0f} degrees, {np.degrees(SHARPEST):.0f} wanted."] * (
        flat < SHARPEST
    )
    says += [f"Tapes are as long as {metres(longest)}, {metres(TAPE)} wanted."] * (longest > TAPE)
    yield Finding(
        severity=Severity.CAUTION,
        code="tapes-poor",
        place=f"Setting out, {len(poor)} of {len(named)} spots, first {poor[0][0]}, last {poor[-1][0]}",
        says=" ".join(says),
        cure="Fix another mark nearer to these, or find them by their offsets from pegs already set.",
        source="common practice",
    )


def _not_clear(pegs: tuple[Peg, ...], pit: PitSetOut) -> Iterator[Finding]:
    stuck = [
        f"{peg.number} {side[0].upper()}" for peg in pegs for side in ("left", "right") if not getattr(peg, side).clear
    ]
    stuck += [f"pit {line.name}" for line in pit.pegs if not line.clear]
    if stuck:
        yield Finding(
            severity=Severity.CAUTION,
            code="peg-in-the-dig",
            place=f"Setting out, pegs {', '.join(stuck)}",
            says=f"No place on their line stands {metres(CLEAR)} clear of everything dug.",
            cure="Set them back from a neighbour once that part is dug.",
            source="common practice",
        )


def _over_boundaries(job: Job, pegs: tuple[Peg, ...]) -> Iterator[Finding]:
    """Pegs that would stand on the other side of a boundary."""
    from shapely import LineString

    for boundary in job.site.boundaries:
        if len(boundary.line) < 2:
            continue
        line = LineString(boundary.line)
        over = [
            f"{peg.number} {letter}"
            for peg in pegs
            for letter, side in (("L", peg.left), ("R", peg.right))
            if LineString([peg.spot.at, side.spot.at]).intersects(line)
        ]
        if over:
            yield Finding(
                severity=Severity.CAUTION,
                code="peg-over-boundary",
                place=f"Setting out, pegs {', '.join(over)}",
                says=f"They stand beyond {boundary.name}: what is dug and banked there needs the room up to it.",
                cure="Mark those nails on the boundary itself at the same level, or draw the banks steeper.",
                source="job.toml boundaries",
            )


def _crossed(pegs: tuple[Peg, ...]) -> Iterator[Finding]:
    """Strings that cross on the inside of a bend, where the banks are wider than the bend."""
    crossed = [
        f"{one.number} and {other.number}"
        for one, other in pairwise(pegs)
        if (_ahead(one.left, other.left, one, other) <= 0) or (_ahead(one.right, other.right, one, other) <= 0)
    ]
    if crossed:
        yield Finding(
            severity=Severity.NOTE,
            code="strings-cross",
            place=f"Setting out, strings of pegs {', '.join(crossed[:6])}{' and more' if len(crossed) > 6 else ''}",
            says="They cross on the inside of a bend, where banks and pegs crowd together.",
            cure="Hang one string at a time there and write its number on every peg.",
            source="plan of the pegs",
        )


def _ahead(one: SidePeg, other: SidePeg, here: Peg, following: Peg) -> Length:
    """How far the next side peg stands downstream of this one."""
    step = np.subtract(other.spot.at, one.spot.at)
    return float(step @ np.subtract(following.spot.at, here.spot.at))


def _tall(pegs: tuple[Peg, ...], pit: PitSetOut) -> Iterator[Finding]:
    tall = [
        (f"{peg.number} {side[0].upper()}", stands.out)
        for peg in pegs
        for side, stands in (("left", peg.left), ("right", peg.right))
        if stands.out > TALL
    ]
    tall += [(f"pit {line.name}", line.out) for line in pit.pegs if line.out > TALL]
    if tall:
        name, out = max(tall, key=lambda each: each[1])
        yield Finding(
            severity=Severity.NOTE,
            code="peg-tall",
            place=f"Setting out, {len(tall)} nails",
            says=f"They stand more than {metres(TALL)} above the ground, {name} {metres(out)}.",
            cure="Drive stakes and nail a board across at that level.",
            source="common practice",
        )


def _unsurveyed(named: list[tuple[str, Spot]]) -> Iterator[Finding]:
    off = [name for name, spot in named if not spot.surveyed]
    if off:
        yield Finding(
            severity=Severity.NOTE,
            code="peg-off-survey",
            place=f"Setting out, {', '.join(off[:6])}{' and more' if len(off) > 6 else ''}",
            says="The survey does not reach there: how far these stand out of the ground is a guess.",
            cure="Shoot the ground there.",
            source="survey",
        )


def _rim_guessed(pit: PitSetOut) -> Finding:
    corners = f"corner {pit.guessed[0]}" if len(pit.guessed) == 1 else f"corners {' and '.join(pit.guessed)}"
    return Finding(
        severity=Severity.CAUTION,
        code="pit-rim-off-survey",
        place=f"Pit, {corners}",
        says="The batter leaves the survey before it meets the ground: drawn as if the ground went on level.",
        cure="Shoot the ground there before the digger comes.",
        source="survey",
    )
