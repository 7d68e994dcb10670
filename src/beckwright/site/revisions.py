"""Revisions: a tree of texts that only ever grows, and a head that moves along it."""

from datetime import datetime

from beckwright.base.values import value
from beckwright.site.store import Rows, now
from beckwright.site.trouble import refused
from beckwright.site.values import Origin, Revision, Version

_COLUMNS = "number, parent, onward, kept, why, name, origin"
_ALL = f"SELECT {_COLUMNS} FROM revision ORDER BY number"  # noqa: S608 - the columns are ours
_ONE = f"SELECT {_COLUMNS} FROM revision WHERE number = ?"  # noqa: S608 - the columns are ours

_LARGEST = 2**63 - 1
"""The largest number the database can be asked for."""


@value
class Head:
    """Where the job stands.

    turn      counts the moves of the head
    revision  number of the text that stands
    filed     number of the text job.toml held before the last move
    """

    turn: int
    revision: int
    filed: int


def head(rows: Rows) -> Head | None:
    """Where the job stands; None before its first revision."""
    row = rows.execute("SELECT turn, revision, filed FROM head").fetchone()
    return None if row is None else Head(turn=row[0], revision=row[1], filed=row[2])


def begin(rows: Rows, raw: bytes) -> Head:
    """Keep the first text of the job."""
    first = add(rows, raw, parent=None, why="job opened for the first time", origin="first")
    rows.execute("INSERT INTO head (only, turn, revision, filed) VALUES (1, 0, ?, ?)", (first, first))
    return Head(turn=0, revision=first, filed=first)


def add(rows: Rows, raw: bytes, *, parent: int | None, why: str, origin: Origin) -> int:
    """Keep a text; the head stays. Return its number."""
    told = "INSERT INTO revision (parent, kept, why, origin, raw) VALUES (?, ?, ?, ?, ?)"
    number = rows.execute(told, (parent, now(), why, origin, raw)).lastrowid
    return int(number or 0)


def move(rows: Rows, old: Head, to: int, *, filed: int) -> Head:
    """Move the head; ``filed`` is the text job.toml holds until it is written."""
    new = Head(turn=old.turn + 1, revision=to, filed=filed)
    rows.execute("UPDATE head SET turn = ?, revision = ?, filed = ?", (new.turn, new.revision, new.filed))
    return new


def lead_on(rows: Rows, parent: int, child: int) -> None:
    """Let redo go from ``parent`` to ``child``."""
    rows.execute("UPDATE revision SET onward = ? WHERE number = ?", (child, parent))


def call(rows: Rows, number: int, name: str) -> None:
    """Give a revision a name."""
    rows.execute("UPDATE revision SET name = ? WHERE number = ?", (name, number))


def listed(rows: Rows) -> tuple[Revision, ...]:
    """All revisions, oldest first."""
    return tuple(map(_revision, rows.execute(_ALL)))


def one(rows: Rows, number: int) -> Revision:
    """A revision by its number. Raises ``JobError`` where there is none."""
    row = rows.execute(_ONE, (number,)).fetchone() if abs(number) <= _LARGEST else None
    if row is None:
        last = rows.execute("SELECT max(number) FROM revision").fetchone()[0]
        found, rule = f"there is no revision {number}", f"This job has revisions 1 to {last}"
        raise refused("revision", found, rule, "Choose one of them")
    return _revision(row)


def raw_of(rows: Rows, number: int) -> bytes:
    """The bytes of a revision that is there."""
    raw: bytes = rows.execute("SELECT raw FROM revision WHERE number = ?", (number,)).fetchone()[0]
    return raw


def version(rows: Rows, number: int) -> Version:
    """A revision with its text. Raises ``JobError`` where there is none."""
    return Version(revision=one(rows, number), text=raw_of(rows, number).decode("utf-8-sig"))


def _revision(row: tuple[int, int | None, int | None, str, str, str, Origin]) -> Revision:
    number, parent, onward, kept, why, name, origin = row
    moment = datetime.fromisoformat(kept)
    return Revision(number=number, parent=parent, onward=onward, kept=moment, why=why, name=name, origin=origin)
