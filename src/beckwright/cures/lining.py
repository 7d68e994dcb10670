"""Cures of the lining: bonded laps, longer laps, shorter pieces, sheet for the splash, sheet under the box."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import metres, millimetres
from beckwright.cures.bench import Bench
from beckwright.cures.finding import in_mm, mm, order, put, whole
from beckwright.cures.look import Look
from beckwright.cures.values import Order
from beckwright.stages.findings.lining import most_carried
from beckwright.tables.lining import LAP_BONDED
from beckwright.tables.practice import LAP_LOOSE


def bonded(bench: Bench, _: Finding) -> Iterator[Order]:
    """Bond laps that were to lie loose."""
    if bench.base.design.job.lining.join == "loose":
        yield order("Bond the laps instead of laying them loose.", put("lining.join", "bonded"))


def longer_laps(bench: Bench, _: Finding) -> Iterator[Order]:
    """Lap as the trade does."""
    row = LAP_LOOSE if any(not lap.bonded for lap in bench.base.works.lining.laps) else LAP_BONDED
    yield order(f"Lap {millimetres(row.amount)}.", put("layers.lap_mm", in_mm(row.amount)))


def shorter_pieces(bench: Bench, _: Finding) -> Iterator[Order]:
    """Cut pieces that the crew can carry."""
    each, carried = bench.base.design.job, most_carried(bench.base.design.job.force.people)
    heavy = [piece for piece in bench.base.works.lining.pieces if piece.mass > carried]
    if not heavy or heavy[0].roll is None or not all(piece.along for piece in heavy):
        return
    widest = max(piece.strips * (piece.roll or 0.0) for piece in heavy)
    length = float(np.floor(carried / (each.layers.lining_mass * widest) * 10)) / 10
    yield order(
        f"Cut no piece longer than {metres(length)}: more laps, and each can be carried.",
        put("lining.roll_length_m", whole(length)),
    )


def heavier_pieces(look: Look, _: Finding) -> float:
    """Kilograms over what the crew carries, over all pieces."""
    carried, lining = most_carried(look.design.job.force.people), look.works.lining
    return sum(max(mass - carried, 0.0) for mass in (*(piece.mass for piece in lining.pieces), lining.pit.mass))


def for_splash(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Leave more sheet over the edge, all along."""
    splashes, allowance = bench.base.works.lining.splashes, bench.base.design.job.layers.edge_allowance
    windward = finding.code == "splash-to-windward"
    more = max((each.windward - each.reach if windward else each.widened) for each in splashes)
    made = in_mm(allowance + more, 50)
    yield order(f"Leave {mm(made)} of sheet over the edge all along.", put("layers.edge_allowance_mm", made))


def under_box(_: Bench, __: Finding) -> Iterator[Order]:
    """Run the sheet on under the outlet box."""
    yield order("Run the lining on under the outlet box.", put("lining.under_box", value=True))
