"""A figure: one result a person may read, with its unit, its band, its grade, and how it was worked."""

import re

from beckwright.base.published import Equation, Grade
from beckwright.base.values import value


@value
class Input:
    """One number that went into a figure.

    name    parameter of the equation
    amount  SI
    unit    SI unit
    comes   where it came from: a dotted figure name, a key of the job, or a row of a table
    """

    name: str
    amount: float
    unit: str
    comes: str


@value
class Figure:
    """A number of the design that can be followed by hand.

    name      dotted, such as ``supply.flow``
    label     what a builder would call it
    amount    SI value; ``low`` and ``high`` are the ends of its band (equal to it where there is none)
    unit      SI unit
    grade     the weakest grade among the equation and its inputs
    source    source key, or ``job`` for a number the person gave
    equation  the equation whose value at ``inputs`` is ``amount``; None for a number given
    note      how the band was made, or where the working is an implicit one
    """

    name: str
    label: str
    amount: float
    low: float
    high: float
    unit: str
    grade: Grade
    source: str
    equation: Equation | None
    inputs: tuple[Input, ...]
    note: str


def dotted(*parts: str) -> str:
    """A figure's name from words people gave: ``dotted("water", "open day", "run 1")`` is ``water.open_day.run_1``."""
    return ".".join("_".join(re.sub(r"[.,:]", " ", part.lower()).split()) for part in parts)
