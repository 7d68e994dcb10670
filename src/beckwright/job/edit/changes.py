"""What changed between two texts of job.toml, in words: key, before, after, with units and the names of things."""

from collections.abc import Iterator, Mapping
from typing import Any

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.job.edit.alike import pairs
from beckwright.job.edit.naming import label, reaches_named, row_name, told, unit_at
from beckwright.job.edit.standing import parsed
from beckwright.job.wording.keylines import Path
from beckwright.job.wording.sentences import dotted


@value
class Change:
    """One thing that differs. ``str()`` gives it as a sentence without its stop.

    key            dotted, lists counted from 1, as it stands in the new text, or in the old for what was taken out
    what           the thing and its property: ``run 2, fall``
    before, after  as written, with units; empty where there was, or is, nothing
    """

    key: str
    what: str
    before: str
    after: str

    def __str__(self) -> str:
        if not self.before:
            return f"{opening(self.what)} added: {self.after}"
        if not self.after:
            return f"{opening(self.what)} taken out: {self.before}"
        return f"{opening(self.what)} from {self.before} to {self.after}"


@value
class Two:
    """What stood and what stands at a path. ``of`` says in words what that is."""

    old: Any
    new: Any
    path: Path
    of: str


def changes(old_text: str, new_text: str) -> tuple[Change, ...]:
    """Return what differs between two texts of job.toml, in the order of the new one. Comments do not count.

    Raises ``JobError`` where one of them is no TOML.
    """
    old, new = parsed(old_text), parsed(new_text)
    return tuple(_within(Two(old=old, new=new, path=(), of=""), (reaches_named(old), reaches_named(new))))


Names = tuple[list[str], list[str]]
"""Names of the reaches, before and after."""


def _within(two: Two, names: Names) -> Iterator[Change]:
    """Yield what differs at and under a path."""
    old, new = two.old, two.new
    if all(isinstance(one, Mapping) or (one is None and two.path) for one in (old, new)):
        old, new = old or {}, new or {}
        for key in [*new, *(key for key in old if key not in new)]:
            yield from _at_key(Two(old=old.get(key), new=new.get(key), path=(*two.path, key), of=two.of), names)
    elif old != new or isinstance(old, bool) != isinstance(new, bool):
        unit = unit_at(two.path)
        yield Change(key=dotted(two.path), what=two.of, before=told(old, unit), after=told(new, unit))


def _at_key(two: Two, names: Names) -> Iterator[Change]:
    """Go on at a key of a section: ``two.of`` is still what the section is called."""
    if _has_rows(two):
        yield from _rows(two, names)
        return
    word = label(str(two.path[-1]))
    of = f"{two.of}, {word}" if two.of else word
    yield from _within(Two(old=two.old, new=two.new, path=two.path, of=of), names)


def _has_rows(two: Two) -> bool:
    """Whether both are lists of sections or of points, or one is and the other is not there."""
    lists = [one for one in (two.old, two.new) if one is not None]
    alike = all(isinstance(one, list) for one in lists)
    return alike and (two.path[-1] == "line_m" or any(isinstance(row, Mapping) for one in lists for row in one))


def _rows(two: Two, names: Names) -> Iterator[Change]:
    old, new = two.old or [], two.new or []
    for before, after in pairs(old, new):
        was, now = (None if before is None else old[before]), (None if after is None else new[after])
        number, known = (before, names[0]) if after is None else (after, names[1])
        place = number or 0
        of = row_name(was if now is None else now, place, two.path, two.of, known)
        pair = Two(old=was, new=now, path=(*two.path, place), of=of)
        if isinstance(was, Mapping) and isinstance(now, Mapping):
            yield from _within(pair, names)
        elif was != now:
            unit = unit_at(two.path)
            yield Change(key=dotted(pair.path), what=of, before=_point(was, unit), after=_point(now, unit))


def _point(row: Any, unit: str) -> str:
    """A row told whole; a point in brackets."""
    return f"({told(row, '')}) {unit}" if isinstance(row, list) else told(row, unit)
