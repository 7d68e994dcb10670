"""Numbers of a field book: a column in metres or in millimetres, and cells left empty."""

import math

from beckwright.base.errors import Problem
from beckwright.job.tables.columns import Column, Table
from beckwright.job.units import MILLIMETRE

EMPTY = math.nan
"""What the reader of tables gives for an empty cell; it goes no further than this module."""


def in_either(name: str, low: float, high: float) -> tuple[Column, Column]:
    """A length that may stand in a column of metres or of millimetres: ``back`` as ``back_m`` or ``back_mm``."""
    return (
        Column(name=f"{name}_m", low=low, high=high, other=EMPTY),
        Column(name=f"{name}_mm", low=low / MILLIMETRE, high=high / MILLIMETRE, other=EMPTY),
    )


def amounts(table: Table, name: str) -> list[float | None]:
    """The cells of a column in its own unit, None where a cell is empty."""
    return [None if math.isnan(cell) else cell for cell in table.numbers[name]]


def lengths(table: Table, name: str, problems: list[Problem]) -> list[float | None]:
    """The cells of ``in_either`` in metres, None where both are empty; a problem where both are filled."""
    metres, millimetres = amounts(table, f"{name}_m"), amounts(table, f"{name}_mm")
    for line, one, other in zip(table.lines, metres, millimetres, strict=True):
        if one is not None and other is not None:
            found = f"{name}_m and {name}_mm are both filled"
            problems.append(row_problem(table.file, line, found, "One reading stands once", "Empty one of the two"))
    return [
        one if one is not None else other * MILLIMETRE if other is not None else None
        for one, other in zip(metres, millimetres, strict=True)
    ]


def row_problem(file: str, line: int, found: str, rule: str, remedy: str) -> Problem:
    """A problem with one line of a table."""
    return Problem(place=f"{file} line {line}", found=found, rule=rule, remedy=remedy)
