"""Edits of the hose's line, and of what the hose hangs on."""

from collections.abc import Callable
from math import cos, radians, sin

from beckwright.job.convert import line_length
from beckwright.job.edit.kinds import MoveHosePoint, MoveReservoir
from beckwright.job.edit.lengths import SAME, tidy
from beckwright.job.edit.refuse import number_in, refuse_at
from beckwright.job.edit.rewrite import Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.written.fields import Point
from beckwright.job.written.works import HoseWritten, ReservoirWritten

LINE = ("hose", "line_m")
CENTRE = ("reservoir", "centre_m")
TOUCHING = 0.001
"""How far off something still lies in a place, m: what is written is no finer."""


def move_hose_point(edit: MoveHosePoint, job: Standing) -> list[Rewrite]:
    """Move a point of the hose's line."""
    hose = job.hose
    if hose.line_m is None:
        remedy = "Write hose.line_m first, pump first"
        refuse_at(LINE, "the hose has no line", "Points are moved on a line that is there", remedy)
    at = number_in(edit.point, hose.line_m, LINE, "point")
    return _moved(hose, at, (tidy(edit.x_m), tidy(edit.y_m)))


def move_reservoir(edit: MoveReservoir, job: Standing) -> list[Rewrite]:
    """Move the reservoir; a hose that begins in it goes along."""
    reservoir = job.reservoir
    to = (tidy(edit.x_m), tidy(edit.y_m))
    changes: list[Rewrite] = [Put(path=(*CENTRE, axis), held=to[axis]) for axis in (0, 1)]
    if "hose" in job.given:
        changes += end_goes_along(job.hose, 0, reservoir.centre_m, to, lambda end: _inside(reservoir, end))
    return changes


def end_goes_along(
    hose: HoseWritten, number: int, before: Point, after: Point, there: Callable[[Point], bool]
) -> list[Rewrite]:
    """Shift the hose's first or last point as what it hangs on is shifted, where it lay there.

    number  0 for the pump's end, -1 for the source's
    there   tells whether a point lies at what moves, to 1 mm
    """
    if hose.line_m is None or not there(hose.line_m[number]):
        return []
    x, y = (tidy(end + to - was) for end, was, to in zip(hose.line_m[number], before, after, strict=True))
    return _moved(hose, number % len(hose.line_m), (x, y))


def _moved(hose: HoseWritten, at: int, to: Point) -> list[Rewrite]:
    """The hose is longer than its line in plan by what rises and bends: that difference is kept."""
    before = hose.line_m or []
    after = [*before[:at], to, *before[at + 1 :]]
    changes: list[Rewrite] = [Put(path=(*LINE, at, axis), held=to[axis]) for axis in (0, 1)]
    longer = line_length(after) - line_length(before)
    if abs(longer) > SAME:
        changes.append(Put(path=("hose", "length_m"), held=tidy(hose.length_m + longer)))
    return changes


def _inside(reservoir: ReservoirWritten, point: Point) -> bool:
    turn = radians(reservoir.turned_deg)
    x, y = (held - middle for held, middle in zip(point, reservoir.centre_m, strict=True))
    along, across = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
    return abs(along) <= reservoir.length_m / 2 + TOUCHING and abs(across) <= reservoir.width_m / 2 + TOUCHING
