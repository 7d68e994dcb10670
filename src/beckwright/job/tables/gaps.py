"""Gaps in a table of days: where they are, and how a short one is filled from its neighbours."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.job.tables.columns import Table


@value
class Gap:
    """Days in a row without what every day must have.

    first, last  day numbers
    columns      empty ones; none where the rows themselves are missing
    row          of the first of them, or of the day after them where their rows are missing
    at_an_end    whether it begins or ends the table
    """

    first: int
    last: int
    columns: tuple[str, ...]
    row: int
    at_an_end: bool

    @property
    def length(self) -> int:
        """Days in a row."""
        return self.last - self.first + 1

    def line(self, table: Table) -> int:
        """Line it is told at."""
        return table.lines[self.row]


def holes(days: list[int], cells: dict[str, list[float]], base: Sequence[str]) -> list[Gap]:
    """Give the gaps of rows in order: rows that are missing and rows with an empty cell, joined where they touch.

    A column that is empty throughout makes no gaps: it is told as a whole.
    """
    told = [name for name in base if not np.isnan(cells[name]).all()]
    empty = {
        day: (row, tuple(name for name in told if np.isnan(cells[name][row])))
        for row, day in enumerate(days)
        if any(np.isnan(cells[name][row]) for name in told)
    }
    missing = {
        day: (row + 1, ()) for row, (before, after) in enumerate(pairwise(days)) for day in range(before + 1, after)
    }
    wrong: dict[int, tuple[int, tuple[str, ...]]] = {**empty, **missing}
    found: list[Gap] = []
    for day in sorted(wrong):
        row, columns = wrong[day]
        last = found[-1] if found else None
        ends = day in (days[0], days[-1])
        if last is not None and last.last == day - 1:
            names = tuple(dict.fromkeys((*last.columns, *columns))) if last.columns and columns else ()
            found[-1] = Gap(first=last.first, last=day, columns=names, row=last.row, at_an_end=last.at_an_end or ends)
        else:
            found.append(Gap(first=day, last=day, columns=columns, row=row, at_an_end=ends))
    return found


def fill(
    days: list[int], cells: dict[str, list[float]], base: Sequence[str]
) -> tuple[list[int], dict[str, FloatArray], tuple[int, ...]]:
    """Give every day from the first to the last, what the base lacks taken on a straight line between neighbours.

    Other columns stay nan where they are nan: what was not measured there is estimated by rules that say so.
    """
    whole = list(range(days[0], days[-1] + 1))
    at = np.array(days) - days[0]
    spread = {name: np.full(len(whole), np.nan) for name in cells}
    for name, given in cells.items():
        spread[name][at] = given
    filled: set[int] = set()
    for name in base:
        lacks = np.isnan(spread[name])
        filled.update((np.flatnonzero(lacks) + days[0]).tolist())
        known = np.flatnonzero(~lacks)
        spread[name][lacks] = np.interp(np.flatnonzero(lacks), known, spread[name][known])
    return whole, spread, tuple(sorted(filled))
