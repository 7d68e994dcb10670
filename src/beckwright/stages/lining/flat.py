"""The course laid flat: a curved strip on which no line is shorter than where it lies.

A channel with sides cannot be unrolled: in a bend its floor wants one turn of the sheet and its edges a smaller one.
The strip turns as its two edges ask, and each bit of it is long enough for the line that needs most; what the other
lines have to spare goes into wrinkles and pleats. Part of the turn may be taken up in pleats on the inside as well.
"""

import numpy as np

from beckwright.base.quantities import FloatArray, Lengths, Levels, Points, Ratio
from beckwright.base.values import value
from beckwright.stages.lining.rows import net_area
from beckwright.stages.lining.values import LEFT_END, MIDDLE, RIGHT_END, Rows, Strip


def lay_flat(rows: Rows, water: Levels, gathered: Ratio) -> Strip:
    """Lay the rows out on the flat sheet.

    water     (r,) running water at each row
    gathered  share of a bank's length that pleats may take up
    """
    turn = _turned(rows, gathered)
    beside = (rows.beside[1:] + rows.beside[:-1]) / 2
    run = (rows.lengths + beside * turn[:, None]).max(axis=1)
    steps = run + rows.slack
    heading = np.concatenate([[0.0], np.cumsum(turn)])
    way = heading[:-1] + turn / 2
    middle = np.concatenate(
        [np.zeros((1, 2)), np.cumsum(steps[:, None] * np.stack([np.cos(way), np.sin(way)], axis=1), axis=0)]
    )
    to_left = np.stack([-np.sin(heading), np.cos(heading)], axis=1)
    left, right = (middle + to_left * rows.beside[:, [line]] for line in (LEFT_END, RIGHT_END))
    return Strip(
        chainage=rows.chainage,
        reach=rows.reach,
        along=np.concatenate([[0.0], np.cumsum(steps)]),
        middle=middle,
        heading=heading,
        left=left,
        right=right,
        level=rows.level,
        water=water,
        spare=run[:, None] - beside * turn[:, None] - rows.lengths,
        surface=net_area(rows),
        area=_area(left, right),
    )


def _turned(rows: Rows, gathered: Ratio) -> FloatArray:
    """Turn of the strip between rows: what both edges ask for, less what pleats take up on the inside."""
    in_plan, flat = (
        (across[1:, LEFT_END] + across[:-1, LEFT_END] - across[1:, RIGHT_END] - across[:-1, RIGHT_END]) / 2
        for across in (rows.out, rows.beside)
    )
    wanted = rows.turn * in_plan / flat
    taken: FloatArray = np.sign(wanted) * np.maximum(np.abs(wanted) - gathered * rows.lengths[:, MIDDLE] / flat, 0.0)
    return taken


def _area(left: Points, right: Points) -> float:
    """Area between both sides, quadrilateral by quadrilateral."""
    diagonals = (right[1:] - left[:-1], left[1:] - right[:-1])
    return float(np.abs(diagonals[0][:, 0] * diagonals[1][:, 1] - diagonals[0][:, 1] * diagonals[1][:, 0]).sum() / 2)


@value
class Traced:
    """The strip's two sides at finer places: t rows, and the distance along of each."""

    along: Lengths
    left: Points
    right: Points

    def part(self, start: float, end: float) -> Points:
        """Outline of the strip between two distances, left side down and right side back."""
        here = (self.along >= start - 1e-9) & (self.along <= end + 1e-9)
        return np.concatenate([self.left[here], self.right[here][::-1]])


def trace(strip: Strip, places: Lengths) -> Traced:
    """The strip with rows at ``places`` as well; its outline stays what it was."""
    new = np.setdiff1d(np.asarray(places, dtype=float), strip.along)
    along = np.concatenate([strip.along, new])
    order = np.argsort(along, kind="stable")
    left, right = (
        np.concatenate([side, np.stack([np.interp(new, strip.along, side[:, axis]) for axis in (0, 1)], axis=1)])
        for side in (strip.left, strip.right)
    )
    return Traced(along=along[order], left=left[order], right=right[order])


def read(strip: Strip, amounts: FloatArray, places: FloatArray) -> FloatArray:
    """Amounts of the rows between them, such as levels or chainages."""
    return np.interp(places, strip.along, amounts)
