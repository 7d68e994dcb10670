"""Cures of the dig: sides, banks, heaps, a step shifted into the cut, the course at another level, another machine."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import metres
from beckwright.cures.bench import Bench, clearly, least
from beckwright.cures.finding import in_mm, mm, order, put, reach_number, up, whole
from beckwright.cures.look import Look
from beckwright.cures.values import Order
from beckwright.job.edit import SlideReach
from beckwright.tables.practice import BANK_SLOPE
from beckwright.tables.site import WAY_CLEARANCE
from beckwright.tables.soils import STANDS

_COMPETENT = "Someone competent looks at it before each shift and after rain"
_SLIDES = (0.25, -0.25, 0.5, -0.5, 1.0, -1.0, 1.5, -1.5)
"""How far a step is tried downstream and upstream, m: the nearest place that is in the cut."""


def batter(bench: Bench, _: Finding) -> Iterator[Order]:
    """Dig the sides as flat as the soil is told to stand; never a word that this is enough."""
    stands, pit = STANDS[bench.base.design.job.site.soil], bench.base.works.dug.pit
    if pit.batter < stands.amount - 1e-9:
        words = f"Batter the sides of the pit 1 up to {stands.amount:g} out. {_COMPETENT}."
        yield order(words, put("earthworks.batter", whole(stands.amount)))


def bank(bench: Bench, _: Finding) -> Iterator[Order]:
    """Slope the banks as planted soil wants it."""
    words = f"Slope the banks 1 down to {BANK_SLOPE.amount:g} out."
    yield order(words, put("earthworks.bank_slope", whole(BANK_SLOPE.amount)))


def heaps(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Heap it higher, as high as a heap is let be; or let a place be found for a heap that was wished elsewhere."""
    each = bench.base.design
    for number, row in enumerate(bench.base.given.get("heaps", []), 1):
        if finding.place.lower().startswith(f"{row['name'].lower()} at"):
            yield order(f"Let a clear place be found for {row['name']}.", put(f"heaps.{number}", None))
    was = each.job.earthworks.heap_height

    def made(steps: int) -> Order:
        height = was + 0.25 * steps
        return order(
            f"Heap it {metres(height)} high instead of {metres(was)}.", put("earthworks.heap_height_mm", in_mm(height))
        )

    def works(steps: int) -> bool:
        tried = bench.tried(made(steps).edits)
        return tried is not None and clearly(heaps_near(bench.base, finding), heaps_near(tried, finding))

    found = least(works, 1)
    if found is not None and was + 0.25 * found <= _HIGHEST:
        yield made(found)


_HIGHEST = 2.0
"""Nobody is told to heap soil higher, m (common practice, no source)."""


def heaps_near(look: Look, _: Finding) -> float:
    """Metres by which heaps lie too near something."""
    return float(sum(max(-heap.clear, 0.0) for heap in look.works.dug.heaps))


def lip_into_cut(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Slide each step to the nearest place that is in the cut."""
    each = bench.base.design
    for name in (lip.name for lip in each.water.lips):
        if finding.figure != "earthworks.lips." + name.replace(" ", "_") + ".fill":
            continue
        step = reach_number(each, name)
        for by in _SLIDES:
            edit = SlideReach(reach=step - 1, by_m=by)
            tried = bench.tried([edit]) if step > 0 else None
            if tried is not None and on_fill(tried, finding) < on_fill(bench.base, finding):
                way = "downstream" if by > 0 else "upstream"
                yield order(f"Slide {name} {metres(abs(by))} {way}, off the made ground.", edit)
                return


def on_fill(look: Look, _: Finding) -> float:
    """How many lips stand on more made ground than they should."""
    from beckwright.tables.soils import LIP_ON_FILL

    return float(sum(lip.fill > LIP_ON_FILL.amount for lip in look.works.dug.settling.lips))


def balance(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Raise or lower the whole course until no subsoil leaves the site or comes to it."""
    shift = bench.base.works.groundwork.raised
    if shift is None or abs(shift) < 0.0005 or not finding.figure.endswith(".subsoil.left"):
        return
    verb = "Raise" if shift > 0 else "Lower"
    given = bench.base.given
    edits = [put("source.lip_level_m", whole(given["source"]["lip_level_m"] + shift))]
    if given["course"].get("end_level_m") is not None:
        edits.append(put("course.end_level_m", whole(given["course"]["end_level_m"] + shift)))
    yield order(f"{verb} source and course by {mm(abs(shift) * 1000)}, with all their lips.", *edits)


def subsoil_moved(look: Look, _: Finding) -> float:
    """Subsoil that leaves the site or comes to it, m3."""
    return abs(look.works.dug.balances[-1].left)


def narrower_machine(bench: Bench, _: Finding) -> Iterator[Order]:
    """Hire a machine that comes through with room on both sides."""
    access = bench.base.design.surroundings.access
    width = float(np.floor((access.width - 2 * WAY_CLEARANCE.amount) * 100) / 100)
    yield order(
        f"Hire a digger no wider than {metres(width)}; ask what it reaches and lifts.",
        put("earthworks.digger_width_mm", in_mm(width)),
    )


def longer_reach(bench: Bench, _: Finding) -> Iterator[Order]:
    """Hire a machine that reaches across from one side, or from both."""
    access = bench.base.design.surroundings.access
    for reach in (max(part.both for part in access.reaches), max(part.one_side for part in access.reaches)):
        if access.reach is not None and reach > access.reach:
            made = up(reach, 0.1)
            yield order(
                f"Hire a digger that reaches {metres(made)}; ask how wide it is.",
                put("earthworks.digger_reach_m", whole(made)),
            )


def reach_lacking(look: Look, _: Finding) -> float:
    """Metres of reach that are lacking over all parts."""
    access: Any = look.design.surroundings.access
    reach = access.reach or 0.0
    return float(sum(max(part.one_side - reach, 0.0) + max(part.both - reach, 0.0) for part in access.reaches))
