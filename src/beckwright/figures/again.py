"""The chain of the work once more, stage by stage, each worked out when it is first asked for.

What ``compose.design`` works out all at once, here only what one figure asks for; and where one number of the job is
changed, only the parts that looked at it. A test holds every stage against ``design``.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any, cast

from beckwright.base.quantities import Length
from beckwright.compose import Design, Works
from beckwright.figures.watched import Looked, Path, Seen
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.earthworks import Groundwork, level_that_balances
from beckwright.stages.falls import Fall, fall_water
from beckwright.stages.ground import Ground
from beckwright.stages.levels import Budget, Freeboard, freeboard, tolerance_budget
from beckwright.stages.reservoir import FilledReservoir, fill_reservoir
from beckwright.stages.setting_out import SettingOut, set_out
from beckwright.stages.stones import Blocked, Stability, blocked, stone_stability
from beckwright.stages.supply import Supply, flat_out_flow, supply_water
from beckwright.stages.surroundings import Surroundings, look_around
from beckwright.stages.water import Water, run_water


class Made:
    """One part as made: its value, and what of the job its making has seen."""

    def __init__(self, held: Any, seen: Seen) -> None:
        self.held, self.seen = held, seen


class Parts:
    """Parts worked out once each, and where they are watched, what each looked at."""

    made: dict[str, Made]
    looked: Looked | None

    def part(self, name: str, make: Callable[[Any], Any]) -> Any:
        """Give back a part, made now if it has not been."""
        made = self.made.get(name)
        if made is not None:
            if self.looked is not None:
                self.looked.now.add(made.seen)
            return made.held
        if self.looked is None:
            made = Made(make(self), Seen(set(), set()))
        else:
            with self.looked.part() as seen:
                made = Made(make(self), seen)
        self.made[name] = made
        return made.held


def _in_parts(kind: type) -> dict[str, property]:
    """Every kept part of a class as one that is kept in ``Parts``."""

    def one(name: str, make: Callable[[Any], Any]) -> property:
        return property(lambda self: self.part(name, make))

    return {name: one(name, held.func) for name, held in vars(kind).items() if isinstance(held, cached_property)}


class _Stages:
    """The stages of ``compose.design``, in its order."""

    job: Job
    ground: Ground

    @cached_property
    def course(self) -> SetOutCourse:
        job = self.job
        return set_out_course(job.course, job.source, job.layers, self.ground, job.site.topsoil)

    @cached_property
    def water(self) -> Water:
        return run_water(self.course, self.job.source, self.job.flows, self.job.water_temperature)

    @cached_property
    def freeboard(self) -> Freeboard:
        return freeboard(self.course, self.water, self.job.course.freeboard_wanted)

    @cached_property
    def budget(self) -> Budget:
        return tolerance_budget(self.job, self.course)

    @cached_property
    def falls(self) -> tuple[Fall, ...]:
        return fall_water(self.course, self.water)

    @cached_property
    def reservoir(self) -> FilledReservoir:
        return fill_reservoir(self.job, self.ground, self.water)

    @cached_property
    def supply(self) -> Supply:
        return supply_water(self.job, self.reservoir)

    @cached_property
    def flat_out(self) -> Water:
        return run_water(self.course, self.job.source, flat_out_flow(self.supply), self.job.water_temperature)

    @cached_property
    def flat_out_freeboard(self) -> Freeboard:
        return freeboard(self.course, self.flat_out, self.job.course.freeboard_wanted)

    @cached_property
    def flat_out_falls(self) -> tuple[Fall, ...]:
        return fall_water(self.course, self.flat_out)

    @cached_property
    def stability(self) -> Stability:
        waters, falls = (self.water, self.flat_out), (self.falls, self.flat_out_falls)
        return stone_stability(self.job, self.course, waters, falls)

    @cached_property
    def plants(self) -> tuple[Blocked, ...]:
        return blocked(self.course, self.water)

    @cached_property
    def surroundings(self) -> Surroundings:
        return look_around(self.job, self.course)


class _Works(Works):
    """What follows from a design; pegs are set without the level that would balance the ground work."""

    near: Length | None

    @cached_property
    def groundwork(self) -> Groundwork:
        each = self.design
        raised = level_that_balances(each.job, each.course, each.ground, each.reservoir.pit, self.dug, self.near)
        return replace(self.dug, raised=raised)

    @cached_property
    def setting_out(self) -> SettingOut:
        each = self.design
        return set_out(each.job, each.course, each.ground, each.surroundings, self.dug)


class _Staged(Parts):
    def __init__(self, job: Job, ground: Ground, made: dict[str, Made], looked: Looked | None) -> None:
        self.job, self.ground, self.made, self.looked = job, ground, made, looked


class _Followed(Parts):
    def __init__(self, designed: Any, made: dict[str, Made], looked: Looked | None, near: Length | None = None) -> None:
        self.design, self.made, self.looked, self.near = designed, made, looked, near


_LazyDesign = type("_LazyDesign", (_Staged,), _in_parts(_Stages))
_LazyWorks = type("_LazyWorks", (_Followed,), {**_in_parts(Works), **_in_parts(_Works)})

Chain = tuple[Design, Works]


def once(job: Job, ground: Ground, looked: Looked | None = None) -> Chain:
    """A design and its works of which nothing is worked out yet. It has no findings."""
    designed = _LazyDesign(job, ground, {}, looked)
    return cast("Chain", (designed, _LazyWorks(designed, {}, looked)))


def once_more(job: Job, before: Chain, path: Path) -> Chain:
    """The same for a job that differs from that of a watched chain by the number at ``path`` alone."""
    was, followed = cast("tuple[_Staged, _Followed]", before)
    designed = _LazyDesign(job, was.ground, _untouched(was.made, path), None)
    dug = followed.made.get("groundwork")
    near = None if dug is None else dug.held.raised
    return cast("Chain", (designed, _LazyWorks(designed, _untouched(followed.made, path), None, near)))


def _untouched(made: Mapping[str, Made], path: Path) -> dict[str, Made]:
    return {name: part for name, part in made.items() if not part.seen.depends(path)}
