"""Revisions: a tree of texts and their tables that only ever grows, and a head that moves along it."""

from datetime import datetime

from beckwright.base.values import value
from beckwright.site import contents
from beckwright.site.folder import Held
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
    filed     number of the revision the files held before the last move
    """

    turn: int
    revision: int
    filed: int


def head(rows: Rows) -> Head | None:
    """Where the job stands; None before its first revision."""
    row = rows.execute("SELECT turn, revision, filed FROM head").fetchone()
    return None if row is None else Head(turn=row[0], revision=row[1], filed=row[2])


def begin(rows: Rows, held: Held) -> Head:
    """Keep the first text of the job and its tables."""
    first = add(rows, held, parent=None, why="job opened for the first time", origin="first")
    rows.execute("INSERT INTO head (only, turn, revision, filed) VALUES (1, 0, ?, ?)", (first, first))
    return Head(turn=0, revision=first, filed=first)


def add(rows: Rows, held: Held, *, parent: int | None, why: str, origin: Origin) -> int:
    """Keep a text, and which tables it has, kept already; the head stays. Return its number."""
    told = "INSERT INTO revision (parent, kept, why, origin, raw) VALUES (?, ?, ?, ?, ?)"
    number = int(rows.execute(told, (parent, now(), why, origin, held.raw)).lastrowid or 0)
    contents.lay(rows, number, held.tables)
    return number


def move(rows: Rows, old: Head, to: int, *, filed: int) -> Head:
    """Move the head; ``filed`` is the revision the files hold until they are written."""
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


def held(rows: Rows, number: int) -> Held:
    """The bytes of a revision that is there, and its tables."""
    raw: bytes = rows.execute("SELECT raw FROM revision WHERE number = ?", (number,)).fetchone()[0]
    return Held(raw=raw, tables=contents.laid(rows, number))


def version(rows: Rows, number: int) -> Version:
    """A revision with its text and tables. Raises ``JobError`` where there is none."""
    revision, kept = one(rows, number), held(rows, number)
    return Version(revision=revision, text=kept.raw.decode("utf-8-sig"), tables=kept.tables)


def _revision(row: tuple[int, int | None, int | None, str, str, str, Origin]) -> Revision:
    number, parent, onward, kept, why, name, origin = row
    moment = datetime.fromisoformat(kept)
    return Revision(number=number, parent=parent, onward=onward, kept=moment, why=why, name=name, origin=origin)
