"""How the revisions followed one another: which lead to the text that stands, which undo left, which lie beside."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from beckwright.site import Revision

Way = Literal["stands", "before", "ahead", "left", "aside"]
"""The text that stands; one it was made from; one redo leads to; one that undo left behind; one kept beside the line
because two people had changed the same thing."""


def ways(revisions: Sequence[Revision], stands: int) -> dict[int, Way]:
    """Where each revision lies, by its number."""
    known = {each.number: each for each in revisions}
    before, ahead = set(_back(known, stands)), set(_onward(known, stands))

    def way(each: Revision) -> Way:
        if each.number == stands:
            return "stands"
        if each.number in before:
            return "before"
        if each.number in ahead:
            return "ahead"
        return "aside" if each.origin == "aside" else "left"

    return {each.number: way(each) for each in revisions}


def lanes(revisions: Sequence[Revision], stands: int) -> dict[int, int]:
    """A lane for each revision, oldest first: 0 for the line that stands, the others beside it, none over another.

    A lane is free again once the last of its own has been drawn.
    """
    known = {each.number: each for each in revisions}
    line = {*_back(known, stands), stands, *_onward(known, stands)}
    given: dict[int, int] = {}
    ends: dict[int, int] = {}
    last = _last_of_each(revisions, line)
    for each in revisions:
        number = each.number
        if number in line:
            given[number] = 0
            continue
        start = each.parent or number
        if start not in line and ends.get(given[start]) == start:
            given[number] = given[start]
        else:
            given[number] = next(lane for lane in range(1, len(revisions) + 1) if _free(lane, ends, last, start))
        ends[given[number]] = number
    return given


def _free(lane: int, ends: Mapping[int, int], last: Mapping[int, int], start: int) -> bool:
    """Whether a lane can be drawn in from ``start`` on."""
    return lane not in ends or last[ends[lane]] <= start


def _last_of_each(revisions: Sequence[Revision], line: set[int]) -> dict[int, int]:
    """The last revision of the branch each belongs to, so that no other is drawn over it."""
    last = {each.number: each.number for each in revisions}
    for each in reversed(revisions):
        if each.parent is not None and each.number not in line:
            last[each.parent] = max(last[each.parent], last[each.number])
    return last


def beside(revisions: Sequence[Revision], stands: int) -> tuple[int, int]:
    """Two worth looking at side by side: the last named one that does not stand, else the one before; and that one."""
    named = [each.number for each in revisions if each.name and each.number != stands]
    parent = next(each.parent for each in revisions if each.number == stands)
    others = [each.number for each in revisions if each.number != stands]
    other = named[-1] if named else parent or (others[-1] if others else stands)
    return other, stands


def parted(revisions: Sequence[Revision]) -> int | None:
    """The last text kept beside the line that nobody has answered yet by a change of the job; or None."""
    last = revisions[-1]
    return last.number if last.origin == "aside" else None


def _back(known: Mapping[int, Revision], number: int) -> Iterator[int]:
    at = known[number].parent
    while at is not None:
        yield at
        at = known[at].parent


def _onward(known: Mapping[int, Revision], number: int) -> Iterator[int]:
    at = known[number].onward
    while at is not None and at != number:
        yield at
        at = known[at].onward
