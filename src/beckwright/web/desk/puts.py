"""What can be put into the course where a person points: starting values taken from the job, then the edits of it.

A run is parted there; its two parts keep its fall in proportion to their length. Nothing here is a number of our own:
a new step is like the nearest step, a new pool like the nearest pool, and where there is none, as wide as the run.
"""

from collections.abc import Mapping
from itertools import accumulate
from typing import Any, NoReturn, get_args

from annotated_types import Ge

from beckwright.base.errors import JobError, Problem
from beckwright.base.values import value
from beckwright.base.words import headed, metres, number_in, with_unit
from beckwright.job.checks.course import SHORTEST
from beckwright.job.convert import reach_lengths, reach_names
from beckwright.job.edit.lengths import open_run, tidy
from beckwright.job.edit.standing import Standing, standing
from beckwright.job.model import LipKind
from beckwright.job.written.course import CourseWritten, PoolWritten, RunWritten, StepWritten

Told = dict[str, Any]
_DROP = StepWritten.model_fields["drop_mm"].metadata
LEAST_DROP_MM = next(float(str(each.ge)) for each in _DROP if isinstance(each, Ge))
KINDS = ("step", "pool", "sill")
LABELS = {
    "drop_mm": ("drop", "mm"), "lip_width_mm": ("lip wide", "mm"), "lip": ("lip", ""), "length_m": ("long", "m"),
    "width_mm": ("wide", "mm"), "depth_mm": ("deep", "mm"),
}  # fmt: skip
"""What a key is called, and the unit it is written in."""


@value
class Spot:
    """A place on a run of the course.

    number        of the run, from 0
    above, below  m of it upstream and downstream of the place
    """

    course: CourseWritten
    names: list[str]
    number: int
    above: float
    below: float

    @property
    def run(self) -> RunWritten:
        """The run as written. Raises ``JobError`` where the place lies on none."""
        reach = self.course.reaches[self.number]
        if not isinstance(reach, RunWritten):
            _refuse(f"{self.names[self.number]} lies there", "A run gives up length and fall", "Pick a place on a run")
        return reach


def spot(text: str, at: float) -> Spot:
    """Find a place by its chainage, m; at a lip it is the foot. Raises ``JobError``."""
    job: Standing = standing(text)
    course = job.course
    lengths = reach_lengths(course)
    ends = list(accumulate(lengths))
    if not 0 <= at < ends[-1]:
        _refuse(f"{metres(at)} is off the course", f"It runs from 0 to {metres(ends[-1])}", "Pick a place on it")
    number = next(place for place, end in enumerate(ends) if at < end)
    above = at - ends[number] + lengths[number]
    return Spot(course=course, names=reach_names(course), number=number, above=above, below=lengths[number] - above)


def offers(text: str, at: float) -> Told:
    """What may be put in at a chainage, with plain starting values in the units of job.toml. Raises ``JobError``."""
    where = spot(text, at)
    run = where.run
    step, pool = (_nearest(where, kind) for kind in (StepWritten, PoolWritten))
    edge = where.course.edge_above_bed_mm
    values: dict[str, Told] = {
        "step": {
            "drop_mm": _drop(run, step),
            "lip_width_mm": step.lip_width_mm if step else run.width_mm,
            "lip": step.lip if step else standing(text).source.lip,
        },
        "pool": pool.model_dump(include={"length_m", "width_mm", "depth_mm"})
        if pool
        else {"length_m": run.width_mm / 1000, "width_mm": run.width_mm, "depth_mm": edge},
        "sill": {},
    }
    fields = {
        kind: [
            {"key": key, "label": label(key), "unit": LABELS[key][1], "value": held, **_choices(key)}
            for key, held in held_by.items()
        ]
        for kind, held_by in values.items()
    }
    return {"at": round(at, 3), "reach": where.names[where.number], "fields": fields}


def label(key: str) -> str:
    """What a key is called, with the reader's unit."""
    name, unit = LABELS[key]
    return headed(name, unit) if unit else name


def put_in(text: str, kind: str, at: float, values: Mapping[str, Any]) -> list[Told]:
    """Return the edits that put a step, a pool or a sill in. Raises ``JobError`` where there is no room for it."""
    where = spot(text, at)
    run = where.run
    if kind not in KINDS:
        _refuse(f"a {kind[:40]} was asked for", f"What is put in is one of {', '.join(KINDS)}", "Choose one of these")
    if kind == "sill":
        return [_changed(where, sills_m=sorted([*run.sills_m, tidy(where.above)]))]
    new = {"kind": kind, **values}
    long = _number(values, "length_m") if kind == "pool" else 0.0
    drop = _number(values, "drop_mm") if kind == "step" else 0.0
    left = where.below - long
    if left < SHORTEST:
        found = f"{where.names[where.number]} has {metres(where.below)} left below it"
        rule = f"It takes {metres(long)}, and {with_unit(SHORTEST, 'm'):g} of run stay"
        _refuse(found, rule, "Put it in further up, or make it shorter")
    if drop > run.fall_mm:
        _refuse(
            f"{where.names[where.number]} falls {with_unit(run.fall_mm, 'mm'):g}",
            f"The step would drop {number_in(drop, 'mm'):g}",
            "Let it drop less",
        )
    if where.above < SHORTEST:
        return [{"do": "add reach", "after": where.number - 1, "reach": new}] if _at_head(where) else _too_near(where)
    rest = _rest(where, left, (run.fall_mm - drop) * left / (where.above + left))
    added = [{"do": "add reach", "after": where.number, "reach": each} for each in (rest, new)]
    return [*_parted(where), *added]


def _drop(run: RunWritten, step: StepWritten | None) -> float:
    """Half of what the run falls, or as the nearest step where that is less; the whole where half is no step."""
    half = min(run.fall_mm / 2, step.drop_mm) if step else run.fall_mm / 2
    return half if half >= LEAST_DROP_MM else run.fall_mm


def _rest(where: Spot, left: float, fall: float) -> Told:
    """The lower part of the run: it has no name of its own, and keeps the sills that lie on it."""
    run = where.run
    sills = [tidy(sill - (where.above + where.below - left)) for sill in run.sills_m]
    held: Told = {
        "kind": "run",
        "length_m": tidy(left),
        "fall_mm": tidy(fall),
        "width_mm": run.width_mm,
        "bed": run.bed,
    }
    return held | ({"sills_m": [sill for sill in sills if sill >= 0]} if any(sill >= 0 for sill in sills) else {})


def _parted(where: Spot) -> list[Told]:
    """What the upper part needs before the lower is put in.

    Where another run has its length open that one would give up the length: the upper part gives it first.
    """
    resting, run = open_run(where.course), where.run
    keys: Told = {}
    if resting not in (None, where.number):
        keys["length_m"] = tidy(where.above)
    if any(sill > where.above for sill in run.sills_m):
        keys["sills_m"] = [sill for sill in run.sills_m if sill <= where.above]
    return [_changed(where, **keys)] if keys else []


def _changed(where: Spot, **keys: Any) -> Told:
    return {"do": "change reach", "reach": where.number, "keys": keys}


def _at_head(where: Spot) -> bool:
    """Whether what is put in before the run takes its length and fall from it, and from no run above."""
    return where.number > 0 and not isinstance(where.course.reaches[where.number - 1], RunWritten)


def _too_near(where: Spot) -> NoReturn:
    found = f"{where.names[where.number]} begins {metres(where.above)} above it"
    _refuse(found, f"A run is at least {SHORTEST:g} m long", "Pick a place further down")


def _choices(key: str) -> Told:
    return {"choices": list(get_args(LipKind))} if key == "lip" else {}


def _nearest(where: Spot, kind: type[Any]) -> Any:
    away = {
        abs(place - where.number): reach for place, reach in enumerate(where.course.reaches) if isinstance(reach, kind)
    }
    return away[min(away)] if away else None


def _number(values: Mapping[str, Any], key: str) -> float:
    held = values.get(key)
    if isinstance(held, bool) or not isinstance(held, int | float):
        _refuse(f"{label(key)} is missing", "It is a number", "Write it")
    return float(held)


def _refuse(found: str, rule: str, remedy: str) -> NoReturn:
    raise JobError([Problem(place="course", found=found, rule=rule, remedy=remedy)])
