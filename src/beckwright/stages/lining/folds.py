"""What cannot be laid flat: pleats on the sides of bends and in the corners of pools, and what bends ask of a sheet."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Lengths
from beckwright.equations.lining import arc_difference, pleats_needed
from beckwright.job.model import Run
from beckwright.stages.course import SetOutCourse
from beckwright.stages.lining.values import (
    LEFT_EDGE,
    LEFT_END,
    RIGHT_EDGE,
    RIGHT_END,
    Bend,
    Fold,
    Rows,
    Side,
    Strip,
)
from beckwright.tables.lining import GORES_FROM, PLEAT_FLAP, PLEAT_TOLD

_BEND_LEAST = np.radians(5.0)


def folds_of(course: SetOutCourse, strip: Strip) -> tuple[Fold, ...]:
    """Pleats of every run and pool, side by side: how many, how deep, and where, spread by what there is to lose."""
    found: list[Fold] = []
    for number, stretch in enumerate(course.stretches):
        here = np.flatnonzero(strip.reach[1:] == number)
        for side, line in (("left", LEFT_EDGE), ("right", RIGHT_EDGE)):
            spare, runs = strip.spare[here, line], isinstance(stretch.reach, Run)
            found.extend(_fold(stretch.reach.name, side, strip, here, spare, runs=runs))  # type: ignore[arg-type]
    return tuple(found)


def _fold(place: str, side: Side, strip: Strip, here: FloatArray, spare: Lengths, *, runs: bool) -> Iterator[Fold]:
    """``runs``: a run's bank. The corners of a pool are under water and are never cut."""
    taken = float(spare.sum())
    if taken < PLEAT_TOLD.amount:
        return
    count = int(np.ceil(pleats_needed(taken, PLEAT_FLAP.amount) - 1e-9))
    so_far, chainage = np.concatenate([[0.0], np.cumsum(spare)]), strip.chainage[np.append(here, here[-1] + 1)]
    shares = (np.arange(count) + 0.5) / count * taken
    at = tuple(float(np.interp(share, so_far, chainage)) for share in shares)
    yield Fold(
        place=place,
        side=side,
        start=float(chainage[0]),
        end=float(chainage[-1]),
        taken_up=taken,
        count=count,
        flap=taken / (2 * count),
        at=at,
        gores=runs and taken > GORES_FROM.amount * float(chainage[-1] - chainage[0]),
    )


def bends_of(rows: Rows) -> tuple[Bend, ...]:
    """Every stretch that turns one way by five degrees or more, and what a straight sheet led round it would ask."""
    turning = np.sign(np.round(rows.turn, 9))
    found: list[Bend] = []
    start = 0
    for end in range(1, len(turning) + 1):
        last = end == len(turning)
        if last or (turning[end] != 0 and turning[start] != 0 and turning[end] != turning[start]):
            found.extend(_bend(rows, start, end))
            start = end
        elif turning[start] == 0:
            start = end
    return tuple(found)


def _bend(rows: Rows, start: int, end: int) -> Iterator[Bend]:
    turn = float(rows.turn[start:end].sum())
    if abs(turn) < _BEND_LEAST:
        return
    girths = rows.beside[start : end + 1, LEFT_END] - rows.beside[start : end + 1, RIGHT_END]
    width = float(girths.max())
    difference = float(arc_difference(abs(turn), width))
    outer = float(rows.lengths[start:end, RIGHT_END if turn > 0 else LEFT_END].sum())
    yield Bend(
        side="left" if turn > 0 else "right",
        start=float(rows.chainage[start]),
        end=float(rows.chainage[end]),
        turn=abs(turn),
        width=width,
        difference=difference,
        strain=difference / max(outer, difference),
    )
