"""Ground work inside root circles that the line alone does not tell: the pit's sides, heaps, topsoil stripped."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Area
from beckwright.base.words import metres, millimetres, with_unit
from beckwright.job.model import Job, Tree
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.roots import (
    HeapInside,
    PitInside,
    heaps_inside,
    pit_inside,
    root_work,
    stripped_inside,
)
from beckwright.stages.earthworks.values import Groundwork
from beckwright.stages.surroundings import RootCircle, radius_of
from beckwright.tables.trees import ROOT_KEPT

TOLD: Area = 0.05
"""Areas are told to a tenth of a square metre: less than half of that is not told."""

SOURCE = "BS 5837:2012 {}, recalled (UK); local rules come first"


def pit_side_findings(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    """Each root circle that the pit's sides come up in."""
    for tree in job.site.trees:
        pit = pit_inside(tree.at, radius_of(tree), groundwork)
        if pit.plan >= TOLD:
            yield _pit_sides(tree, pit)


def _pit_sides(tree: Tree, pit: PitInside) -> Finding:
    ask = "Ask the tree officer before any work. " if tree.protected else ""
    upright = "" if pit.floor else ", or have that side supported upright by whoever is competent to"
    return Finding(
        severity=Severity.FAIL if tree.protected else Severity.CAUTION,
        code="pit-sides-in-roots",
        place=f"Reservoir pit inside the {tree.species}'s root circle ({tree.name}, {metres(radius_of(tree))})",
        says=f"Its sides come out of the ground {metres(pit.into)} inside, {_square(pit.plan)} of the pit with them.",
        cure=f"{ask}Move the pit {metres(pit.into, up=True)} away{upright}. Otherwise dig there by hand as an "
        f"arboriculturist says, and cut no root over {millimetres(ROOT_KEPT.amount)}.",
        source=SOURCE.format("4.6.1 and 7.2"),
        figure=dotted("trees", tree.name, "root_radius"),
    )


def heap_findings(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    """Heaps over roots, all told at once: whoever moves one moves the next."""
    met = [(tree, heaps_inside(tree.at, radius_of(tree), groundwork)) for tree in job.site.trees]
    over = [(tree, heaps) for tree, heaps in met if heaps]
    if not over:
        return
    worst = max((each for _, heaps in over for each in heaps), key=lambda each: each.into)
    loose = sum({each.heap.name: each.heap.loose for _, heaps in over for each in heaps}.values())
    yield Finding(
        severity=Severity.FAIL if any(tree.protected for tree, _ in over) else Severity.CAUTION,
        code="heaps-over-roots",
        place=f"Heaps inside root circles: {', '.join(_of_tree(tree, heaps) for tree, heaps in over)}",
        says=f"The farthest lies {metres(worst.into)} inside. No soil is heaped over roots.",
        cure=f"Heap {with_unit(loose, 'm³'):.1f} outside the circles, or cart it away as it is dug.",
        source=SOURCE.format("6.2"),
        figure=dotted("earthworks", "heaps", worst.heap.name, "radius"),
    )


def _of_tree(tree: Tree, heaps: tuple[HeapInside, ...]) -> str:
    return f"{tree.species} {tree.name} ({', '.join(each.heap.name for each in heaps)})"


def strip_findings(
    job: Job, course: SetOutCourse, circles: tuple[RootCircle, ...], groundwork: Groundwork
) -> Iterator[Finding]:
    """Topsoil that the quantities strip inside root circles, where none is stripped; what is only banked over stays."""
    rows = [root_work(circle, groundwork, course) for circle in circles]
    rows = [row for row in rows if row.strip_plan >= TOLD]
    if not rows or job.site.topsoil <= 0:
        return
    all_of = stripped_inside([row.circle for row in rows], groundwork, course)
    kept = with_unit(all_of.banked * job.site.topsoil, "m³")
    stays = f"Leave it on under the banks: {kept:,.1f} less to strip, and as much less fill. "
    told = ", ".join(f"{row.circle.tree.species} {row.circle.tree.name} ({_square(row.strip_plan)})" for row in rows)
    yield Finding(
        severity=Severity.CAUTION,
        code="strip-over-roots",
        place=f"Topsoil inside root circles: {told}",
        says=f"The quantities strip it all: {_square(all_of.dug)} that are dug, {_square(all_of.banked)} that are "
        "banked over. No topsoil is stripped there.",
        cure=f"{stays if all_of.banked >= TOLD else ''}Where it is dug, lift it by hand with the dig.",
        source=SOURCE.format("7.2"),
    )


def _square(area: Area) -> str:
    return f"{with_unit(area, 'm²'):,.1f}"
