"""Whether two changes made from one revision touch different things, so that both can stand.

A list is one thing: its numbers mean nothing once something was put in or taken out. The points of the course are the
exception, for two people drag them at once: as long as a side only moved points, a number means the same point to both.

The reaches are no bar then, though they change length as a point moves. The edits are made again on the other side's
text, not the texts laid over each other: "move point" measures the line as it finds it there, so that the run at the
point takes up just what this point adds, and the reaches still add up to the line. Two points in one run both count.

It would not be right for neighbours: the stretch between them was drawn by both, each with the other's end where it no
longer is. Nor where the other side did more to the reaches than their lengths, or to a hose that both would shift, or
where ours writes points in another way than by moving them: then one is shown and the other is kept beside it.
"""

from collections.abc import Mapping, Sequence
from itertools import takewhile
from typing import Any

from beckwright.job.edit import changes
from beckwright.job.edit.standing import parsed
from beckwright.site import Conflict

LINE, REACHES = "course.line_m", "course.reaches"


def apart(conflict: Conflict, edits: Sequence[Mapping[str, Any]]) -> bool:
    """Whether ``edits``, which made our side, can be made on theirs."""
    sides = (conflict.ours.text, conflict.theirs.text)
    ours, theirs = ({change.key for change in changes(conflict.base.text, side)} for side in sides)
    both = {_thing(key) for key in ours} & {_thing(key) for key in theirs}
    if LINE not in both:
        return not both
    moved = all(edit.get("do") == "move point" for edit in edits)
    return moved and both <= {LINE, REACHES} and _lengths_only(theirs) and _points_apart(conflict)


def _points_apart(conflict: Conflict) -> bool:
    """Whether both sides have the points they began with, and moved none that is the other's or next to it."""
    base, ours, theirs = (
        parsed(side.text)["course"]["line_m"] for side in (conflict.base, conflict.ours, conflict.theirs)
    )
    if not len(base) == len(ours) == len(theirs):
        return False
    mine, other = ({at for at, point in enumerate(base) if side[at] != point} for side in (ours, theirs))
    return all(abs(one - two) > 1 for one in mine for two in other)


def _lengths_only(keys: set[str]) -> bool:
    """Whether of the reaches nothing but lengths changed."""
    return all(key.endswith(".length_m") for key in keys if _thing(key) == REACHES)


def _thing(key: str) -> str:
    """A dotted key up to its first number."""
    return ".".join(takewhile(lambda part: not part.isdigit(), key.split(".")))
