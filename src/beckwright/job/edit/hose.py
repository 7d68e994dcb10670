"""Edits of the hose's line, and of what the hose hangs on."""

from collections.abc import Callable
from math import ceil, cos, radians, sin

from beckwright.job.convert import line_length
from beckwright.job.edit.kinds import AddHosePoint, BeginHoseLine, MoveHosePoint, MoveReservoir, TakeHosePoint
from beckwright.job.edit.lengths import SAME, as_given, tidy
from beckwright.job.edit.refuse import number_in, refuse_at
from beckwright.job.edit.rewrite import Insert, Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.written.fields import Point
from beckwright.job.written.works import HoseWritten, ReservoirWritten

LINE = ("hose", "line_m")
CENTRE = ("reservoir", "centre_m")
TOUCHING = 0.001
"""How far off something still lies in a place, m: what is written is no finer."""


LEAST_POINTS = 2
"""Points a line has at least."""


def move_hose_point(edit: MoveHosePoint, job: Standing) -> list[Rewrite]:
    """Move a point of the hose's line."""
    hose = job.hose
    at = number_in(edit.point, _line(hose), LINE, "point")
    return _moved(hose, at, (as_given(edit.x_m), as_given(edit.y_m)))


def add_hose_point(edit: AddHosePoint, job: Standing) -> list[Rewrite]:
    """Put a point after another."""
    hose = job.hose
    line, at = _line(hose), edit.after + 1
    if edit.after >= 0:
        number_in(edit.after, line, LINE, "point")
    new = (as_given(edit.x_m), as_given(edit.y_m))
    return [Insert(path=LINE, number=at, held=list(new)), *_kept_up(hose, [*line[:at], new, *line[at:]])]


def take_hose_point(edit: TakeHosePoint, job: Standing) -> list[Rewrite]:
    """Take a point out, as long as a line is left."""
    hose = job.hose
    line = _line(hose)
    at = number_in(edit.point, line, LINE, "point")
    if len(line) <= LEAST_POINTS:
        found = f"the hose's line has {len(line)} points"
        refuse_at(LINE, found, f"A line has at least {LEAST_POINTS}", "Move the point instead")
    return [Put(path=(*LINE, at), held=None), *_kept_up(hose, [*line[:at], *line[at + 1 :]])]


def begin_hose_line(_: BeginHoseLine, job: Standing) -> list[Rewrite]:
    """Lay a line straight from reservoir to source. The hose's length is the person's number, and stays."""
    hose = job.hose
    if hose.line_m is not None:
        found = f"the hose has a line of {len(hose.line_m)} points"
        refuse_at(LINE, found, "A line is begun where there is none", "Move its points, put some in or take some out")
    line = [job.reservoir.centre_m, job.course.line_m[0]]
    straight = line_length(line)
    if tidy(straight) > hose.length_m:
        found = f"the hose is {hose.length_m:.2f} m long, and straight from reservoir to source it is {straight:.2f} m"
        remedy = f"Write {ceil(straight * 100) / 100:.2f} m or more for hose.length_m"
        refuse_at(("hose", "length_m"), found, "A hose is at least as long as its line in plan", remedy)
    return [Put(path=LINE, held=[list(point) for point in line])]


def move_reservoir(edit: MoveReservoir, job: Standing) -> list[Rewrite]:
    """Move the reservoir; a hose that begins in it goes along."""
    reservoir = job.reservoir
    to = (as_given(edit.x_m), as_given(edit.y_m))
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


def _line(hose: HoseWritten) -> list[Point]:
    """The hose's line. Raises ``JobError`` where it has none."""
    if hose.line_m is None:
        remedy = "Begin its line first, straight from reservoir to source"
        refuse_at(LINE, "the hose has no line", "Points are those of a line that is there", remedy)
    return hose.line_m


def _moved(hose: HoseWritten, at: int, to: Point) -> list[Rewrite]:
    before = hose.line_m or []
    changes: list[Rewrite] = [Put(path=(*LINE, at, axis), held=to[axis]) for axis in (0, 1)]
    return changes + _kept_up(hose, [*before[:at], to, *before[at + 1 :]])


def _kept_up(hose: HoseWritten, after: list[Point]) -> list[Rewrite]:
    """The hose is longer than its line in plan by what rises and bends: that difference is kept."""
    longer = line_length(after) - line_length(hose.line_m or [])
    return [Put(path=("hose", "length_m"), held=tidy(hose.length_m + longer))] if abs(longer) > SAME else []


def _inside(reservoir: ReservoirWritten, point: Point) -> bool:
    turn = radians(reservoir.turned_deg)
    x, y = (held - middle for held, middle in zip(point, reservoir.centre_m, strict=True))
    along, across = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
    return abs(along) <= reservoir.length_m / 2 + TOUCHING and abs(across) <= reservoir.width_m / 2 + TOUCHING
