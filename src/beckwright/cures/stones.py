"""Cures of stones: a bed that stays, and a mass of edge stone that agrees with its courses."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.cures.bench import Bench, least
from beckwright.cures.finding import in_mm, listed, mm, order, put, up
from beckwright.cures.values import Order
from beckwright.job.edit import Edit


def larger(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Lay larger stones on the beds that the water would take, in the proportion of those told."""
    short = [run for run in bench.base.design.stability.runs if run.short]
    beds = {run.run.run.bed.name: run.run.run.bed for run in short}
    ratio = max(run.wanted / run.have for run in short)

    def made(steps: int) -> Order:
        scale, edits, told = ratio * (1 + 0.05 * (steps - 1)), list[Edit](), []
        for name, bed in beds.items():
            sizes = [up(size * scale * 1000, 5) for size in bed.size]
            told.append(f"{name} {mm(sizes[0])} to {mm(sizes[1])}")
            edits += [put(f"beds.{name}.size_mm", [in_mm(size / 1000) for size in sizes])]
            if bed.depth * 1000 < sizes[1]:
                edits += [put(f"beds.{name}.depth_mm", in_mm(sizes[1] / 1000, 5))]
        return order(f"Lay larger stones: {listed(told)}.", *edits)

    def works(steps: int) -> bool:
        tried = bench.tried(made(steps).edits)
        return tried is not None and all(other.code != finding.code for other in tried.design.findings)

    found = least(works, 1)
    if found is not None:
        yield made(found)


def edge_stone(bench: Bench, _: Finding) -> Iterator[Order]:
    """Take the mass that the courses come to."""
    edge = bench.base.works.stonework.edge
    if edge.worked is not None and edge.bank > 0:
        mass = float(np.round(edge.worked / edge.bank))
        yield order(
            f"Count {mass:.0f} kg of edge stone a metre of bank, as the courses come to.",
            put("materials.edge_stone_kg_m", int(mass)),
        )
