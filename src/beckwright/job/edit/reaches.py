"""Edits that put a reach into the course, take one out, or change one; length and fall in sum are kept."""

from typing import Any

from pydantic import TypeAdapter

from beckwright.job.convert import reach_lengths, reach_names
from beckwright.job.edit.kinds import AddReach, ChangeReach, TakeReach
from beckwright.job.edit.lengths import REACHES, SAME, falls_more, longer, nearest_run, open_run
from beckwright.job.edit.levels import fall
from beckwright.job.edit.refuse import number_in, refuse_at, sound, whole
from beckwright.job.edit.rewrite import Insert, Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.written.course import CourseWritten, PoolWritten, ReachWritten, RunWritten, StepWritten

REACH: TypeAdapter[RunWritten | StepWritten | PoolWritten] = TypeAdapter(ReachWritten)


def add_reach(edit: AddReach, job: Standing) -> list[Rewrite]:
    """Put a reach after another. One that leaves its length open takes none from its neighbours."""
    course, at = job.course, edit.after + 1
    if edit.after >= 0:
        number_in(edit.after, course.reaches, REACHES, "reach")
    new = edit.reach
    length = 0.0 if isinstance(new, StepWritten) else new.length_m
    after = [*course.reaches[:at], new, *course.reaches[at:]]
    row = {"kind": new.kind, **new.model_dump(exclude_unset=True, exclude_none=True)}
    return [
        *_taken_up(course, at - 0.5, length=-(length or 0.0), fall=-fall(new)),
        Insert(path=REACHES, number=at, held=row),
        *_lights_follow(job, course, after, [*range(at), *range(at + 1, len(after))]),
    ]


def take_reach(edit: TakeReach, job: Standing) -> list[Rewrite]:
    """Take a reach out. Raises ``JobError`` where lights stand under its lip."""
    course = job.course
    at = number_in(edit.reach, course.reaches, REACHES, "reach")
    after = [*course.reaches[:at], *course.reaches[at + 1 :]]
    _unlit(job, reach_names(course)[at])
    return [
        *_taken_up(course, at, length=reach_lengths(course)[at], fall=fall(course.reaches[at])),
        Put(path=(*REACHES, at), held=None),
        *_lights_follow(job, course, after, [*range(at), None, *range(at, len(after))]),
    ]


def change_reach(edit: ChangeReach, job: Standing) -> list[Rewrite]:
    """Change keys of a reach."""
    course = job.course
    at = number_in(edit.reach, course.reaches, REACHES, "reach")
    before = course.reaches[at]
    if edit.keys.get("kind", before.kind) != before.kind:
        remedy = f"Take {reach_names(course)[at]} out and add another"
        refuse_at((*REACHES, at, "kind"), "kind would change", "A reach stays what it is", remedy)
    row = {**job.given["course"]["reaches"][at], **edit.keys}
    held = {key: value for key, value in row.items() if value is not None}
    whole(held, "edit keys")
    new = sound(REACH, held, (*REACHES, at), job.text)
    after = course.model_copy(update={"reaches": [*course.reaches[:at], new, *course.reaches[at + 1 :]]})
    grown = reach_lengths(after)[at] - reach_lengths(course)[at]
    return [
        *[Put(path=(*REACHES, at, key), held=value) for key, value in edit.keys.items()],
        *_taken_up(course, at, length=-grown, fall=fall(before) - fall(new)),
        *_lights_follow(job, course, after.reaches, list(range(len(after.reaches)))),
    ]


def _taken_up(course: CourseWritten, place: float, *, length: float, fall: float) -> list[Rewrite]:
    """Give length, m, and fall, mm, to the nearest run; below 0 it gives them up.

    Length is taken up by a run of open length by itself, unless that is the one at the place.
    """
    changes: list[Rewrite] = []
    resting = open_run(course)
    run = nearest_run(course, place)
    taker = run if resting is None or resting == place else resting
    if (abs(length) > SAME or abs(fall) > SAME) and (run is None or taker is None):
        refuse_at(REACHES, "no other run is left", "A run takes up length and fall", "Put a run into the course first")
    if taker is not None and abs(length) > SAME:
        changes += longer(course, taker, length)
    if run is not None and abs(fall) > SAME:
        changes += falls_more(course, run, fall)
    return changes


def _lights_follow(job: Standing, course: CourseWritten, after: list[Any], moved: list[int | None]) -> list[Rewrite]:
    """Let lights under a lip follow when the lip's name changes, as numbered ones do.

    moved  number of each reach once the edit is made; None for one that is gone
    """
    before = reach_names(course)
    names = reach_names(course.model_copy(update={"reaches": after}))
    now = {name: names[to] for name, to in zip(before, moved, strict=True) if to is not None}
    return [
        Put(path=("lights", place, "lip"), held=now[light["lip"]])
        for place, light in enumerate(job.given.get("lights", ()))
        if "lip" in light and now.get(light["lip"], light["lip"]) != light["lip"]
    ]


def _unlit(job: Standing, name: str) -> None:
    under = [str(light.get("name")) for light in job.given.get("lights", ()) if light.get("lip") == name]
    if under:
        rule, remedy = "A light stands under a lip that is there", "Take these lights out, or give them another place"
        refuse_at(("lights",), f"under {name} there are {', '.join(under)}", rule, remedy)
