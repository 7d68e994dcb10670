"""Edges against running water: nearly every leak of a built stream is a low edge."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import BoolArray, FloatArray
from beckwright.base.words import chainages, millimetres, number_in, opening, retold, with_unit
from beckwright.stages.course import SetOutCourse
from beckwright.stages.levels import Budget, Freeboard, places, raise_wanted
from beckwright.stages.water import Water
from beckwright.tables.practice import FREEBOARD_FAILS, FREEBOARD_LEAST

_SEEN = 0.5e-3
"""A part of a tolerance below this is not told, m."""

MEND = 1.0
"""Low places no farther apart than this are mended as one, m."""


def edge_findings(
    course: SetOutCourse, waters: tuple[Water, ...], boards: tuple[Freeboard, ...], budget: Budget
) -> Iterator[Finding]:
    """Short freeboard, side by side and place by place, at the flow that leaves least; and banks nobody surveyed."""
    at, board = course.stations, boards[0]
    names = [name for water in waters for name in water.names]
    for side in ("left", "right"):
        settled = np.vstack([getattr(each, f"settled_{side}") for each in boards])
        worst = settled.min(axis=0)
        flow = names[int(np.argmin(settled.min(axis=1)))]
        for start, end in places(worst < board.wanted, at.chainage, MEND):
            here = (at.chainage >= start) & (at.chainage <= end)
            yield _short(side, flow, start, end, worst, here, board, course.settlement)
        yield from _in_doubt(side, flow, course, worst, board, budget)
    for start, end in places(~at.surveyed, at.chainage, MEND):
        yield Finding(
            severity=Severity.CAUTION,
            code="bank-not-surveyed",
            place=f"Banks, {chainages(start, end)}",
            says="The survey does not reach the edge; the level on the line stands in for it.",
            cure=retold("Shoot levels at least [1 m] beyond each edge."),
            source="common practice",
            chainage=(start, end),
        )


def _in_doubt(
    side: str, flow: str, course: SetOutCourse, worst: FloatArray, board: Freeboard, budget: Budget
) -> Iterator[Finding]:
    """Edges high enough as drawn that ordinary work may leave lower than the least: where it may leave them lowest."""
    may, at = getattr(budget, side), course.stations
    doubtful = (worst >= board.wanted) & (worst - may < FREEBOARD_LEAST.amount)
    if not doubtful.any():
        return
    spans = places(doubtful, at.chainage, MEND)
    station = int(np.argmin(np.where(doubtful, worst - may, np.inf)))
    left = float(worst[station] - may[station])
    higher = raise_wanted(FREEBOARD_LEAST.amount - left, course.settlement)
    sinks = float(getattr(budget, f"settling_{side}")[station])
    parts = {"survey": budget.survey, "dig": budget.dig, "stone": budget.stone, "fill": sinks}
    told = ", ".join(f"{name} {millimetres(part)}" for name, part in parts.items() if part >= _SEEN)
    where = (
        chainages(*spans[0])
        if len(spans) == 1
        else f"{len(spans)} places from {number_in(spans[0][0], 'm'):.1f} to {with_unit(spans[-1][1], 'm'):.1f}"
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="freeboard-in-doubt",
        place=f"{opening(side)} edge in doubt, {where}",
        says=f"{millimetres(float(worst[station]))} at {flow}, of which {millimetres(float(may[station]))} may be lost "
        f"({told}): {millimetres(left)} left, and {millimetres(FREEBOARD_LEAST.amount)} is the least.",
        cure=f"Raise it {millimetres(higher, up=True)}, or measure closer.",
        source=f"JCGM 100, 5.1.2; common practice: {FREEBOARD_LEAST.place}",
        chainage=(spans[0][0], spans[-1][1]),
        figure=dotted("tolerance", side),
    )


def _short(
    side: str,
    flow: str,
    start: float,
    end: float,
    worst: FloatArray,
    here: BoolArray,
    board: Freeboard,
    settlement: float,
) -> Finding:
    left = float(worst[here].min())
    fails = left < FREEBOARD_FAILS.amount
    # What is added settles with the fill it stands on.
    raise_by = raise_wanted(board.wanted - left, settlement)
    stands = f"{millimetres(left)} left" if left >= 0 else f"{millimetres(-left)} under water"
    return Finding(
        severity=Severity.FAIL if fails else Severity.CAUTION,
        code="freeboard-short",
        place=f"{opening(side)} edge low, {chainages(start, end)}",
        says=f"{stands} at {flow} once the fill settles; {millimetres(board.wanted)} wanted.",
        cure=f"Raise that edge {millimetres(raise_by, up=True)}.",
        source=f"common practice: {FREEBOARD_LEAST.place}",
        chainage=(start, end),
        figure=dotted("freeboard", flow, side),
    )
