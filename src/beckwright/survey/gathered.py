"""What a reader hands over: the points of a file as they stand there, before anything is judged or changed."""

from collections.abc import Callable
from typing import Literal

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.survey.units import Unit
from beckwright.survey.unsure import Question

MOST_POINTS = 500_000
"""Points a survey may have; what reads survey.csv takes no more."""

Progress = Callable[[str], None]
Window = tuple[Length, Length, Length, Length]


def silent(_: str) -> None:
    """Say nothing: the progress of a file nobody waits for."""


@value
class Answers:
    """What the person said about the file. None where nothing was said.

    columns      names of the columns of a point list, in their order
    unit         unit of the plan, and of the levels where ``level_unit`` is None
    decimal      ``point`` or ``comma``
    axes         which of the file's three numbers are x, y and z: ``xyz`` as read, ``yxz`` with x and y changed
    shift        taken off eastings and northings, m; (0, 0) for none
    outliers     ``keep`` or ``leave-out``
    duplicates   ``first``, ``lowest``, ``highest`` or ``middle`` of the levels shot at one place
    layers       layers of a drawing to read
    surface      surface of the file to read
    window       least x and y, greatest x and y of the part to read, in the file's own coordinates
    spacing      distance between points of a thinned scan, m
    points       points at most that a scan is thinned to
    join_lines   join the points of one numbered edge into a breakline
    """

    columns: tuple[str, ...] | None = None
    unit: Unit | None = None
    level_unit: Unit | None = None
    decimal: Literal["point", "comma"] | None = None
    axes: str | None = None
    shift: tuple[Length, Length] | None = None
    outliers: Literal["keep", "leave-out"] | None = None
    duplicates: Literal["first", "lowest", "highest", "middle"] | None = None
    layers: tuple[str, ...] | None = None
    surface: str | None = None
    window: Window | None = None
    spacing: Length | None = None
    points: int = 20_000
    join_lines: bool = False


@value
class PlanLine:
    """A line without levels: no ground, but perhaps a wall or a service. ``points`` (n, 2), in the file's unit."""

    code: str
    points: FloatArray


@value
class Gathered:
    """The points of one file, as they stand there.

    places      (n, 3): easting, northing, level, in the file's unit
    names       (n,) point numbers, empty where there are none
    codes       (n,)
    breaklines  (n,) name of the breakline a point is on, empty for none; its points stand in order, and a closed one
                has its first point again at its end
    lines       (n,) line of the file each point stood on, 0 where the file has no lines
    kind        what the file is, in words
    unit        what the file says it is in; None where it does not say
    thinned     the points are already few and far between: nothing to look for between neighbours
    """

    places: FloatArray
    names: tuple[str, ...]
    codes: tuple[str, ...]
    breaklines: tuple[str, ...]
    lines: tuple[int, ...]
    kind: str
    unit: Unit | None = None
    level_unit: Unit | None = None
    plan_lines: tuple[PlanLine, ...] = ()
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    thinned: bool = False


def nothing(kind: str, questions: tuple[Question, ...], notes: tuple[str, ...] = ()) -> Gathered:
    """Return what is gathered from a file that cannot be read before its questions are answered."""
    empty = np.zeros((0, 3))
    return Gathered(
        places=empty, names=(), codes=(), breaklines=(), lines=(), kind=kind, questions=questions, notes=notes
    )


def refusal(file: str, found: str, rule: str, remedy: str) -> JobError:
    """Return the error of a file that cannot be used for one reason."""
    return JobError([Problem(place=file, found=found, rule=rule, remedy=remedy)])
