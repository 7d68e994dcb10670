"""Cures of planting: another plant, another spacing, pockets drawn back or moved out, the whole pocket planted."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import metres
from beckwright.cures.bench import Bench
from beckwright.cures.finding import in_mm, mm, order, put, up, whole
from beckwright.cures.values import Order
from beckwright.job.edit import Edit
from beckwright.stages.planting import PlacedPocket, Planted
from beckwright.stages.planting.fit import fits
from beckwright.tables.planting import DRY_GAP

_TALLEST = 1.2
"""Plants offered instead are no taller, m."""
_INSTEAD = 3


def another_plant(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Plants that fit the pocket and stand on no list of the place."""
    for placed, planted, key in _told_of(bench, finding):
        others = {other.plant for other in placed.pocket.plants}
        rows = fits(placed.zone, placed.pocket.light, bench.base.works.planting.place, tallest=_TALLEST)
        for row in [row for row in rows if row.name not in others][:_INSTEAD]:
            words = f"Plant {row.name} in pocket {placed.letter} instead of {planted.named.given}."
            spacing = [put(f"{key}.spacing_mm", None)] if planted.spacing is not None else []
            yield order(words, put(f"{key}.plant", row.name), *spacing)


def spelled(bench: Bench, finding: Finding) -> Iterator[Order]:
    """The name of the table that is nearest, where it is on no list."""
    for placed, planted, key in _told_of(bench, finding):
        near = planted.named.near
        if near and not planted.named.near_listed:
            yield order(
                f"Write {near} instead of {planted.named.given} in pocket {placed.letter}.", put(f"{key}.plant", near)
            )


def usual_spacing(bench: Bench, finding: Finding) -> Iterator[Order]:
    """The spacing of the table."""
    for placed, planted, key in _told_of(bench, finding):
        plant = planted.named.plant
        if plant is not None:
            words = f"Set {plant.name} in pocket {placed.letter} {mm(plant.spacing * 1000)} apart, as in the table."
            yield order(words, put(f"{key}.spacing_mm", None))


def whole_pocket(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Give the plants of a pocket the whole of it, each in its proportion."""
    for number, placed in enumerate(bench.base.works.planting.pockets, 1):
        if not finding.place.startswith(f"Pocket {placed.letter}, "):
            continue
        shares = [planted.share for planted in placed.plants]
        grown = [float(np.floor(share / sum(shares) * 1000) / 10) for share in shares]
        grown[-1] = round(100 - sum(grown[:-1]), 1)
        edits = [put(f"pockets.{number}.plants.{at}.share_percent", whole(share)) for at, share in enumerate(grown, 1)]
        yield order(f"Give the plants of pocket {placed.letter} the whole of it.", *edits)


def apart(bench: Bench, finding: Finding) -> Iterator[Order]:
    """End the upper of two pockets where the lower begins."""
    numbered = {placed.letter: (number, placed) for number, placed in enumerate(bench.base.works.planting.pockets, 1)}
    for one, other, _ in bench.base.works.planting.over:
        if finding.place == f"Pockets {one} and {other}":
            (upper, first), (_, second) = sorted(
                (numbered[one], numbered[other]), key=lambda each: each[1].pocket.start
            )
            if first.pocket.start < second.pocket.start:
                ends = second.pocket.start
                words = f"End pocket {first.letter} at {metres(ends)}, where pocket {second.letter} begins."
                yield order(words, put(f"pockets.{upper}.to_m", whole(ends)))


def out_of_water(bench: Bench, _: Finding) -> Iterator[Order]:
    """Move pockets out from the edge of the water."""
    near = {
        placed.letter: up(DRY_GAP.amount - placed.from_water, 0.01)
        for placed in bench.base.works.planting.pockets
        if placed.from_water is not None and placed.reach == 0 and placed.from_water < DRY_GAP.amount - 0.0005
    }
    yield _moved_out(bench, near, "from the water")


def off_the_edge(bench: Bench, _: Finding) -> Iterator[Order]:
    """Move pockets out from the edge of the lining."""
    near = {
        placed.letter: up(DRY_GAP.amount - placed.pocket.gap, 0.01)
        for placed in bench.base.works.planting.pockets
        if not placed.pocket.inside and placed.pocket.gap < DRY_GAP.amount - 1e-9
    }
    yield _moved_out(bench, near, "from the edge")


def drawn_back(bench: Bench, _: Finding) -> Iterator[Order]:
    """Draw pockets back to the edge of the lining as drawn."""
    past = [placed for placed in bench.base.works.planting.pockets if placed.beyond > 0.005]
    backs = {placed.letter: (placed, placed.pocket.width - up(placed.beyond, 0.01)) for placed in past}
    if all(width >= 0.05 for _, width in backs.values()):
        told = ", ".join(f"{letter} to {mm(width * 1000)}" for letter, (_, width) in backs.items())
        edits = [put(f"{_key(bench, letter)}.width_mm", in_mm(width)) for letter, (_, width) in backs.items()]
        yield order(f"Make pockets narrower: {told}.", *edits)


def out_of_channel(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Draw pockets in the channel back until the freeboard wanted still stands."""
    for choked in bench.base.works.planting.choked:
        if choked.keeps <= 0 or f" in {choked.run}," not in finding.place:
            continue
        gaps = {placed.letter: placed.pocket.gap for placed in bench.base.works.planting.pockets}
        reach = float(np.floor(choked.keeps * choked.width * 100) / 100)
        back = {letter: -reach - gaps[letter] for letter in choked.letters if -gaps[letter] > reach}
        if back and choked.left < choked.wanted:
            yield _moved_out(bench, back, "out of the channel")


def _moved_out(bench: Bench, by: dict[str, float], what: str) -> Order:
    gaps = {placed.letter: placed.pocket.gap for placed in bench.base.works.planting.pockets}
    told = ", ".join(f"{letter} {mm(length * 1000)}" for letter, length in by.items())
    edits: list[Edit] = [
        put(f"{_key(bench, letter)}.gap_mm", in_mm(gaps[letter] + length)) for letter, length in by.items()
    ]
    return order(f"Move pockets {what}: {told}.", *edits)


def _key(bench: Bench, letter: str) -> str:
    letters = [placed.letter for placed in bench.base.works.planting.pockets]
    return f"pockets.{letters.index(letter) + 1}"


def _told_of(bench: Bench, finding: Finding) -> Iterator[tuple[PlacedPocket, Planted, str]]:
    """The plant that a finding tells of, with its key."""
    for number, placed in enumerate(bench.base.works.planting.pockets, 1):
        for at, planted in enumerate(placed.plants, 1):
            named = planted.named.plant
            names = {planted.named.given, named.name if named else planted.named.given}
            if any(finding.place.startswith(f"{name} in pocket {placed.letter},") for name in names):
                yield placed, planted, f"pockets.{number}.plants.{at}"
