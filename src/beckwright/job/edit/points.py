"""Edits of the course's line: points moved, added, taken. The reaches keep up with the line's length."""

from itertools import accumulate
from math import dist

from beckwright.job.convert import line_length, reach_lengths
from beckwright.job.edit.hose import TOUCHING, end_goes_along
from beckwright.job.edit.kinds import AddPoint, MovePoint, TakePoint
from beckwright.job.edit.lengths import as_given, longer, open_run
from beckwright.job.edit.refuse import number_in
from beckwright.job.edit.rewrite import Insert, Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.written.course import CourseWritten, RunWritten
from beckwright.job.written.fields import Point

LINE = ("course", "line_m")


def move_point(edit: MovePoint, job: Standing) -> list[Rewrite]:
    """Move a point; where it is the first, a hose that ends in the outlet box goes along."""
    course = job.course
    at = number_in(edit.point, course.line_m, LINE, "point")
    x, y = as_given(edit.x_m), as_given(edit.y_m)
    line = [*course.line_m[:at], (x, y), *course.line_m[at + 1 :]]
    changes: list[Rewrite] = [Put(path=(*LINE, at, 0), held=x), Put(path=(*LINE, at, 1), held=y)]
    if at == 0 and "hose" in job.given:
        box = job.source.box_length_mm / 1000 + TOUCHING
        changes += end_goes_along(
            job.hose, -1, course.line_m[0], (x, y), lambda end: dist(end, course.line_m[0]) <= box
        )
    return changes + _kept_up(course, line, line_length(course.line_m[: at + 1]) / line_length(course.line_m))


def add_point(edit: AddPoint, job: Standing) -> list[Rewrite]:
    """Put a point after another."""
    course = job.course
    at = edit.after + 1
    if edit.after >= 0:
        number_in(edit.after, course.line_m, LINE, "point")
    new = (as_given(edit.x_m), as_given(edit.y_m))
    line = [*course.line_m[:at], new, *course.line_m[at:]]
    share = line_length(line[: at + 1]) / line_length(line)
    return [Insert(path=LINE, number=at, held=list(new)), *_kept_up(course, line, share)]


def take_point(edit: TakePoint, job: Standing) -> list[Rewrite]:
    """Take a point out."""
    course = job.course
    at = number_in(edit.point, course.line_m, LINE, "point")
    line = [*course.line_m[:at], *course.line_m[at + 1 :]]
    share = line_length(course.line_m[: at + 1]) / line_length(course.line_m)
    return [Put(path=(*LINE, at), held=None), *_kept_up(course, line, share)]


def _kept_up(course: CourseWritten, line: list[Point], share: float) -> list[Rewrite]:
    """Let the run that lies at a share of the line take up its change of length: lips elsewhere stay where they are."""
    change = line_length(line) - line_length(course.line_m)
    lengths = reach_lengths(course)
    run = open_run(course)
    run = _run_at(course, lengths, share * sum(lengths)) if run is None else run
    return [] if run is None else longer(course, run, change)


def _run_at(course: CourseWritten, lengths: list[float], chainage: float) -> int | None:
    """The run nearest to a chainage."""
    ends = list(accumulate(lengths))
    away = {
        place: max(end - length - chainage, chainage - end, 0.0)
        for place, (reach, length, end) in enumerate(zip(course.reaches, lengths, ends, strict=True))
        if isinstance(reach, RunWritten)
    }
    return min(away, key=lambda place: away[place], default=None)
