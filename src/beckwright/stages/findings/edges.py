"""Edges against running water: nearly every leak of a built stream is a low edge."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import BoolArray, FloatArray
from beckwright.base.words import chainages, millimetres, opening
from beckwright.stages.course import SetOutCourse
from beckwright.stages.levels import Freeboard, places
from beckwright.stages.water import Water
from beckwright.tables.practice import FREEBOARD_FAILS, FREEBOARD_LEAST

MEND = 1.0
"""Low places no farther apart than this are mended as one, m."""


def edge_findings(course: SetOutCourse, waters: tuple[Water, ...], boards: tuple[Freeboard, ...]) -> Iterator[Finding]:
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
    for start, end in places(~at.surveyed, at.chainage, MEND):
        yield Finding(
            severity=Severity.CAUTION,
            code="bank-not-surveyed",
            place=f"Banks, {chainages(start, end)}",
            says="The survey does not reach the edge; the level on the line stands in for it.",
            cure="Shoot levels at least 1 m beyond each edge.",
            source="common practice",
            chainage=(start, end),
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
    raise_by = np.ceil((board.wanted - left) / (1 - settlement) / 0.005 - 1e-6) * 0.005
    stands = f"{millimetres(left)} left" if left >= 0 else f"{millimetres(-left)} under water"
    return Finding(
        severity=Severity.FAIL if fails else Severity.CAUTION,
        code="freeboard-short",
        place=f"{opening(side)} edge low, {chainages(start, end)}",
        says=f"{stands} at {flow} once the fill settles; {millimetres(board.wanted)} wanted.",
        cure=f"Raise that edge {millimetres(raise_by)}.",
        source=f"common practice: {FREEBOARD_LEAST.place}",
        chainage=(start, end),
        figure=dotted("freeboard", flow, side),
    )
