"""Marks: a word the sender makes up for each write, so that one sent twice is taken once."""

from beckwright.base.values import value
from beckwright.site.store import Rows
from beckwright.site.trouble import refused


@value
class Taken:
    """A write that was taken before.

    number  of the row it made, or of the head it left
    theirs  for a conflict, the number of the revision that stood; ``base`` the one it was made from
    """

    number: int
    theirs: int | None
    base: int | None


def taken(rows: Rows, mark: str, act: str, digest: str = "") -> Taken | None:
    """What this mark did before, or None. Raises ``JobError`` where it did something else.

    digest  of what was sent, where the same mark must mean the same words
    """
    row = rows.execute("SELECT act, digest, number, theirs, base FROM mark WHERE mark = ?", (mark,)).fetchone()
    if row is None:
        return None
    if row[:2] != (act, digest):
        found, rule = "its mark was used for another one", "Every write has a mark of its own"
        raise refused(act, found, rule, "Send it with a new mark")
    return Taken(number=row[2], theirs=row[3], base=row[4])


def take(
    rows: Rows,
    mark: str,
    act: str,
    number: int,
    *,
    digest: str = "",
    theirs: int | None = None,
    base: int | None = None,
) -> None:
    """Remember what a mark did."""
    told = "INSERT INTO mark (mark, act, number, digest, theirs, base) VALUES (?, ?, ?, ?, ?, ?)"
    rows.execute(told, (mark, act, number, digest, theirs, base))
