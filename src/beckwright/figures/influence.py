"""Which inputs move a figure most: change each one a little, design again, and look.

No derivative is taken by hand, so no figure can be forgotten and no chain of influence missed.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Annotated, Any, get_args, get_origin

import numpy as np

from beckwright.base.figures import Figure
from beckwright.base.values import value
from beckwright.base.words import share, with_unit
from beckwright.compose import Design
from beckwright.figures import parts_of, parts_of_works
from beckwright.figures.again import once, once_more
from beckwright.figures.watched import Looked, Path, touches, watched
from beckwright.job.model import Job

NUDGE = 0.10
"""Share by which an amount is changed."""
LEVEL_NUDGE = 0.010
"""A level has no meaningful share of itself; it is changed by this much, m."""

_PASSED_OVER = {
    "survey",
    "title",
    "planting.pockets",
    "site.trees",
    "site.services",
    "site.boundaries",
    "course.line",
    "route.line",
    "electrics",
    "site.latitude",
    "weather.days",
    "weather.coldest",
    "weather.warmest",
    "weather.dew_point",
}
"""A share of these means nothing: places, dates, and degrees from the freezing point."""


@value
class Influence:
    """How one input moves a figure.

    key     of the input in the job, in SI names
    change  what was done to it, in words
    before  the figure as designed; ``low`` and ``high`` once the input is lowered and raised
    """

    key: str
    change: str
    before: float
    low: float
    high: float

    @property
    def effect(self) -> float:
        """Largest change of the figure."""
        return max(abs(self.low - self.before), abs(self.high - self.before))


def influences(
    designed: Design,
    name: str,
    *,
    progress: Callable[[int, int], None] | None = None,
    found: Callable[[Influence], None] | None = None,
) -> tuple[Influence, ...]:
    """Every input that moves the figure called ``name``, the strongest first.

    Only inputs are changed that its working reads, and only the parts of the work that have seen one are worked out
    again. ``progress`` is told how many of how many such inputs are done, and may raise to stop; ``found`` is told each
    influence as it is found. Raises KeyError if there is no such figure.
    """
    asked, before, seen = _asked(designed, name)
    inputs = [(path, level) for path, level in _inputs(designed.job) if touches(seen, path)]
    every = []
    for done, (path, level) in enumerate(inputs):
        if progress is not None:
            progress(done, len(inputs))
        one = _moved(designed.job, asked, before, path, level=level)
        if one is not None:
            every.append(one)
            if found is not None:
                found(one)
    return tuple(sorted(every, key=lambda each: -each.effect))


@value
class _Asked:
    """A figure, the part it is told in, and the chain it was told from once, watched."""

    name: str
    part: int
    works: bool
    chain: Any


def _asked(designed: Design, name: str) -> tuple[_Asked, float, set[Path]]:
    """A figure as designed, and the numbers of the job its working read. Raises KeyError."""
    looked = Looked()
    chain = once(watched(_alone(designed.job), looked, _passed_over), designed.ground, looked)
    for works, parts in ((False, parts_of(chain[0])), (True, parts_of_works(chain[1]))):
        for number, part in enumerate(parts):
            with looked.part() as seen:
                amount = _told(part(), name)
            if amount is not None:
                return _Asked(name=name, part=number, works=works, chain=chain), amount, seen.numbers
    raise KeyError(name)


def _told(figures: Iterable[Figure], name: str) -> float | None:
    return next((figure.amount for figure in figures if figure.name == name), None)


def _moved(job: Job, asked: _Asked, before: float, path: Path, *, level: bool) -> Influence | None:
    ends = [_after(job, asked, path, level=level, up=up) for up in (False, True)]
    low, high = (before if end is None else end for end in ends)
    if np.isclose(low, before, rtol=1e-6, atol=1e-12) and np.isclose(high, before, rtol=1e-6, atol=1e-12):
        return None
    change = f"{with_unit(LEVEL_NUDGE * 1000, 'mm'):.0f} lower, higher" if level else f"{share(NUDGE)} less, more"
    return Influence(key=key_of(job, path), change=change, before=before, low=low, high=high)


def key_of(job: Job, path: Path) -> str:
    """A path in words: reaches, beds and fittings by their own names."""
    words: list[str] = []
    held: Any = job
    for part in path:
        held = held[part] if isinstance(part, int) else getattr(held, part)
        words.append(str(getattr(held, "name", part + 1)) if isinstance(part, int) else part.replace("_", " "))
    return ", ".join(words)


def _after(job: Job, asked: _Asked, path: Path, *, level: bool, up: bool) -> float | None:
    """The figure once one input is changed; None where that job cannot be designed or has no such figure."""
    sign = 1 if up else -1

    def nudge(held: Any) -> Any:
        return held + sign * LEVEL_NUDGE if level else held * (1 + sign * NUDGE)

    design, works = once_more(_changed(_alone(job), path, nudge), asked.chain, path)
    try:
        part = (parts_of_works(works) if asked.works else parts_of(design))[asked.part]
        return _told(part(), asked.name)
    except (ArithmeticError, ValueError):
        return None


def _alone(job: Job) -> Job:
    """The job without the pairs it did not choose: no figure depends on them, and they take half the time."""
    return replace(job, pumps=replace(job.pumps, offered=()), route=replace(job.route, offered=()))


def _changed(held: Any, path: Path, nudge: Callable[[Any], Any]) -> Any:
    if not path:
        return nudge(held)
    first, rest = path[0], path[1:]
    if isinstance(first, int):
        return tuple(_changed(each, rest, nudge) if place == first else each for place, each in enumerate(held))
    return replace(held, **{first: _changed(getattr(held, first), rest, nudge)})


def _inputs(job: Job) -> Iterator[tuple[Path, bool]]:
    """Paths of all amounts and levels of a job; tables such as a pump's heads are changed whole."""
    for path, hint, held in _walk(job, ()):
        if (isinstance(held, float) and held != 0.0) or (
            isinstance(held, np.ndarray) and held.ndim == 1 and held.any()
        ):
            yield path, "level" in getattr(hint, "__metadata__", ())


def _passed_over(path: Path) -> bool:
    return ".".join(map(str, path)) in _PASSED_OVER or "offered" in path


def _walk(held: Any, path: Path, hint: Any = None) -> Iterator[tuple[Path, Any, Any]]:
    if _passed_over(path):
        return
    if is_dataclass(held):
        hints = type(held).__annotations__
        for field in fields(held):
            yield from _walk(getattr(held, field.name), (*path, field.name), hints[field.name])
    elif isinstance(held, tuple):
        for place, each in enumerate(held):
            yield from _walk(each, (*path, place), _member(hint, place))
    else:
        yield path, _bare(hint), held


def _member(hint: Any, place: int) -> Any:
    inner = get_args(hint)
    return inner[0] if len(inner) == 2 and inner[1] is Ellipsis else inner[place] if place < len(inner) else None


def _bare(hint: Any) -> Any:
    """The annotated alias itself, out of ``Alias | None``."""
    return next((inner for inner in get_args(hint) if get_origin(inner) is Annotated), hint)
