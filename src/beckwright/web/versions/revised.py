"""What the index of the papers tells of the job's revisions: the one that stands, and those a person gave a name."""

from itertools import pairwise

from beckwright.job.model import Title
from beckwright.papers import Change
from beckwright.site import Keeper, Revision
from beckwright.web.versions.tables import told_changes

MOST = 6
"""Things told of one revision; the page of revisions has them all."""
FIRST = "the first that was given a name"
SAME = "nothing but comments"


def changes_told(keeper: Keeper, title: Title) -> tuple[Change, ...]:
    """The revision that stands, then the named ones before it on its own way, newest first, each with what changed.

    None where no revision has a name: nobody has said yet what one set of papers is to be held against.
    """
    stands = keeper.standing().revision
    named = [each for each in _way(keeper, stands) if each.name]
    if not named:
        return ()
    rows = named if named[0].number == stands.number else [stands, *named]
    told = [_what(keeper, new, old) for new, old in pairwise(rows)] + [FIRST]
    first = Change(revision=title.revision, date=title.date, what=told[0])
    rest = (
        Change(revision=each.name, date=each.kept.date().isoformat(), what=what)
        for each, what in zip(rows[1:], told[1:], strict=True)
    )
    return (first, *rest)


def _way(keeper: Keeper, stands: Revision) -> list[Revision]:
    """The revision that stands and those it was made from, newest first."""
    known = {each.number: each for each in keeper.revisions()}
    way: list[Revision] = []
    number: int | None = stands.number
    while number is not None and number in known:
        each = known.pop(number)
        way.append(each)
        number = each.parent
    return way


def _what(keeper: Keeper, new: Revision, old: Revision) -> str:
    told = told_changes(keeper, keeper.version(old.number), keeper.version(new.number))
    more = [f"and {len(told) - MOST} more"] if len(told) > MOST else []
    return "; ".join([*told[:MOST], *more]) or SAME
