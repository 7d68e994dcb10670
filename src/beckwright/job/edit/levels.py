"""Edits that slide a reach's end along the course, set the crest of a lip, and set the level of the lower end."""

from beckwright.job.convert import reach_names
from beckwright.job.edit.kinds import SetLevel, SetLowerEnd, SlideReach
from beckwright.job.edit.lengths import REACHES, SAME, as_given, falls_more, longer
from beckwright.job.edit.refuse import name_in, number_in, refuse_at
from beckwright.job.edit.rewrite import Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.written.course import CourseWritten, PoolWritten, RunWritten, StepWritten

SOURCE = "source"
"""What the lip of the outlet box is called."""


def slide_reach(edit: SlideReach, job: Standing) -> list[Rewrite]:
    """Slide the end of a reach."""
    course = job.course
    end = number_in(edit.reach, course.reaches, REACHES, "reach")
    above, below = _either_side(course, end)
    if above is None or below is None:
        found = f"the end of {reach_names(course)[end]} has no run or pool {'above' if above is None else 'below'} it"
        remedy = "Move the end of the course's line instead"
        refuse_at((*REACHES, end), found, "What one reach gains in length another gives", remedy)
    return longer(course, above, edit.by_m) + longer(course, below, -edit.by_m)


def _either_side(course: CourseWritten, end: int) -> tuple[int | None, int | None]:
    """The reaches that give and take: at a step the runs on either side, so that its pools keep their size."""
    upward, downward = range(end, -1, -1), range(end + 1, len(course.reaches))
    at_step = any(isinstance(reach, StepWritten) for reach in course.reaches[end : end + 2])
    return _first(course, upward, past_pools=at_step), _first(course, downward, past_pools=at_step)


def _first(course: CourseWritten, places: range, *, past_pools: bool) -> int | None:
    runs = [place for place in places if isinstance(course.reaches[place], RunWritten)]
    long = [place for place in places if isinstance(course.reaches[place], RunWritten | PoolWritten)]
    return next(iter(runs if past_pools and runs else long), None)


def set_level(edit: SetLevel, job: Standing) -> list[Rewrite]:
    """Set the crest of a lip: what falls next above it falls less, and the lip's own drop more, or the reverse."""
    course, names = job.course, reach_names(job.course)
    steps = {names[place]: place for place, reach in enumerate(course.reaches) if isinstance(reach, StepWritten)}
    if edit.lip == SOURCE and SOURCE not in steps:
        return _source_level(edit, job)
    name_in(edit.lip, (SOURCE, *steps), REACHES, "lip")
    step = steps[edit.lip]
    crest = job.source.lip_level_m - sum(fall(reach) for reach in course.reaches[:step]) / 1000
    raised = (as_given(edit.level_m) - crest) * 1000
    if abs(raised) < SAME:
        return []
    above = next((place for place in range(step - 1, -1, -1) if _falls(course, place)), None)
    changes: list[Rewrite] = []
    if above is None:
        changes.append(Put(path=("source", "lip_level_m"), held=as_given(job.source.lip_level_m + raised / 1000)))
    else:
        changes += falls_more(course, above, -raised)
    return changes + falls_more(course, step, raised)


def _source_level(edit: SetLevel, job: Standing) -> list[Rewrite]:
    course = job.course
    raised = (as_given(edit.level_m) - job.source.lip_level_m) * 1000
    below = next((place for place in range(len(course.reaches)) if _falls(course, place)), None)
    changes: list[Rewrite] = [Put(path=("source", "lip_level_m"), held=as_given(edit.level_m))]
    return changes if below is None else changes + falls_more(course, below, raised)


def set_lower_end(edit: SetLowerEnd, job: Standing) -> list[Rewrite]:
    """Set the level of the bed at the lower end: the last fall takes it up, so that every lip and bed above stays.

    ``end_level_m``, where it is written, is the same level told a second time, as a check: it goes along.
    """
    course = job.course
    to = as_given(edit.level_m)
    last = next((place for place in reversed(range(len(course.reaches))) if _falls(course, place)), None)
    if last is None:
        refuse_at(REACHES, "nothing falls along the course", "The last fall takes up the change", "Put a run in first")
    stands = job.source.lip_level_m - sum(fall(reach) for reach in course.reaches) / 1000
    changes: list[Rewrite] = [] if course.end_level_m is None else [Put(path=("course", "end_level_m"), held=to)]
    lowered = (stands - to) * 1000
    return changes if abs(lowered) < SAME else changes + falls_more(course, last, lowered)


def _falls(course: CourseWritten, place: int) -> bool:
    return not isinstance(course.reaches[place], PoolWritten)


def fall(reach: RunWritten | StepWritten | PoolWritten) -> float:
    """Fall of the bed along a reach, mm."""
    if isinstance(reach, RunWritten):
        return reach.fall_mm
    return reach.drop_mm if isinstance(reach, StepWritten) else 0.0
