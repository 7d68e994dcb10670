"""A job that tells which of its numbers are read: what no working has looked at cannot move its result."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, NamedTuple

from beckwright.job.model import Job

Path = tuple[str | int, ...]


class Seen(NamedTuple):
    """Numbers read, and sections handed out: who has a section may keep it in a result, with all it holds."""

    numbers: set[Path]
    sections: set[Path]

    def add(self, other: "Seen") -> None:
        """Count what another has seen to this one."""
        self.numbers.update(other.numbers)
        self.sections.update(other.sections)

    def depends(self, path: Path) -> bool:
        """Whether a result may hold, or stand on, what is at ``path``."""
        return touches(self.numbers, path) or touches(self.sections, path)


class Looked:
    """What is read of a job, gathered part by part: what one part reads, so does the part that asked for it."""

    def __init__(self) -> None:
        self._open = [Seen(set(), set())]

    @property
    def now(self) -> Seen:
        """What the part being made has read so far."""
        return self._open[-1]

    @contextmanager
    def part(self) -> Iterator[Seen]:
        """Gather apart what one part reads, and count it to the part around it too."""
        seen = Seen(set(), set())
        self._open.append(seen)
        try:
            yield seen
        finally:
            self._open.pop()
            self.now.add(seen)


def touches(seen: set[Path], path: Path) -> bool:
    """Whether a path, or anything it lies in, was looked at."""
    return any(path[:length] in seen for length in range(1, len(path) + 1))


def watched(job: Job, looked: Looked, untold: Callable[[Path], bool]) -> Job:
    """Copy a job so that ``looked`` is told of all that is read of it, but for sections ``untold`` holds for."""
    made: Job = _copy(job, (), looked, untold)
    return made


def _copy(held: Any, path: Path, looked: Looked, untold: Callable[[Path], bool]) -> Any:
    if path and untold(path):
        return held
    if is_dataclass(held):
        kind: Any = type(held)
        made: Any = object.__new__(_watching(kind))
        for field in fields(held):
            inner = _copy(getattr(held, field.name), (*path, field.name), looked, untold)
            object.__setattr__(made, field.name, inner)
        object.__setattr__(made, "_path", path)
        object.__setattr__(made, "_looked", looked)
        return made
    if isinstance(held, tuple) and any(map(is_dataclass, held)):
        return tuple(_copy(each, (*path, place), looked, untold) for place, each in enumerate(held))
    return held


@cache
def _watching(kind: type) -> type:
    names = frozenset(field.name for field in fields(kind))

    def read(self: Any, name: str) -> Any:
        held = object.__getattribute__(self, name)
        if name in names:
            try:
                path, looked = object.__getattribute__(self, "_path"), object.__getattribute__(self, "_looked")
            except AttributeError:
                # Made by ``replace`` from a watched one, which read every field of it.
                return held
            section = is_dataclass(held) or (isinstance(held, tuple) and any(map(is_dataclass, held)))
            (looked.now.sections if section else looked.now.numbers).add((*path, name))
        return held

    return type(kind.__name__, (kind,), {"__slots__": ("_looked", "_path"), "__getattribute__": read})
